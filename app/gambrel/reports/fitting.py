"""Making words fit their place: first smaller, then on more lines, and only then cut short.

Words that had to be cut end with an ellipsis and say so, so that no name is lost in silence.
"""

from __future__ import annotations

import re
from typing import NamedTuple
from unicodedata import normalize

from gambrel.reports.fonts import width_of

ELLIPSIS = "\N{HORIZONTAL ELLIPSIS}"

_UNPRINTABLE = re.compile(r"[\x00-\x1f\x7f-\x9f\N{LINE SEPARATOR}\N{PARAGRAPH SEPARATOR} ]+")
_INVISIBLE = re.compile(
    "[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufe00-\ufe0f\ufeff]"
)
"""Soft hyphens, joiners, marks of direction and of style: a paper would draw them as boxes."""

_SHRINK_STEP = 0.94


class Fitted(NamedTuple):
    """Lines of text with the size at which they fit; ``cut`` when words are missing."""

    lines: tuple[str, ...]
    size: float
    cut: bool = False


def clean(words: str) -> str:
    """Names as one line: tabs, line ends and control characters become single spaces.

    Letters and their accents become one character where there is such a one.
    """
    if not words.isascii():
        words = normalize("NFC", _INVISIBLE.sub("", words))
    return _UNPRINTABLE.sub(" ", words).strip()


def fit_line(words: str, font: str, size: float, width: float, least: float) -> Fitted:
    """One line within a width (points), at the size given or smaller, never under ``least``."""
    words = clean(words)
    natural = width_of(words, font, size)
    if natural <= width:
        return Fitted((words,), size)
    shrunk = max(size * width / natural * 0.999, min(least, size))
    if width_of(words, font, shrunk) <= width:
        return Fitted((words,), shrunk)
    return Fitted((_cut(words, font, shrunk, width),), shrunk, cut=True)


def fit_lines(words: str, font: str, size: float, width: float, least: float, most: int) -> Fitted:
    """Up to ``most`` lines within a width; a smaller size is tried before anything is cut."""
    words = clean(words)
    while True:
        lines = wrap(words, font, size, width)
        if len(lines) <= most:
            return Fitted(tuple(lines), size)
        if size * _SHRINK_STEP < least:
            break
        size *= _SHRINK_STEP
    rest = " ".join(lines[most - 1 :])
    return Fitted((*lines[: most - 1], _cut(rest, font, size, width)), size, cut=True)


def wrap(words: str, font: str, size: float, width: float) -> list[str]:
    """Break a text into lines at its spaces, and a word that is too long within itself."""
    lines: list[str] = []
    line = ""
    for word in words.split(" "):
        longer = f"{line} {word}" if line else word
        if width_of(longer, font, size) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while width_of(line, font, size) > width and len(line) > 1:
            head = _head(line, font, size, width)
            lines.append(head)
            line = line[len(head) :]
    return [*lines, line] if line or not lines else lines


def _head(word: str, font: str, size: float, width: float) -> str:
    """As much of a word as fits, one character at least."""
    low, high = 1, len(word)
    while low < high:
        middle = (low + high + 1) // 2
        if width_of(word[:middle], font, size) <= width:
            low = middle
        else:
            high = middle - 1
    return word[:low]


def _cut(words: str, font: str, size: float, width: float) -> str:
    room = width - width_of(ELLIPSIS, font, size)
    if width_of(words, font, size) <= room:
        return words + ELLIPSIS
    return _head(words, font, size, room).rstrip() + ELLIPSIS
