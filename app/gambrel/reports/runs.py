"""Words of two weights on lines: plain and bold within one paragraph, none of them ever lost."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from gambrel.reports.fitting import clean
from gambrel.reports.fonts import BOLD, REGULAR, em_width

Run = tuple[str, bool]
"""Words, and whether they are bold."""

Line = tuple[Run, ...]


@lru_cache(maxsize=4096)
def wrap_runs(runs: tuple[Run, ...], ems: float) -> tuple[Line, ...]:
    """Break a paragraph into lines.

    Args:
        runs: The paragraph. Words break at spaces, and within themselves only where one is longer
            than a line.
        ems: A line's width over the type size.
    """
    lines: list[Line] = []
    line: list[Run] = []
    used = 0.0
    space = max(em_width(" ", font) for font in (REGULAR, BOLD))
    for word in _words(runs):
        width = _width(word)
        if line and used + space + width > ems:
            lines.append(_joined(line))
            line, used = [], 0.0
        if line:
            line.append((" ", False))
            used += space
        *whole, rest = _broken(word, ems) if width > ems else [word]
        lines.extend(whole)
        line.extend(rest)
        used += _width(rest)
    return (*lines, _joined(line)) if line else tuple(lines)


@lru_cache(maxsize=4096)
def widest(runs: tuple[Run, ...]) -> float:
    """How wide the longest word of a paragraph is, over the type size."""
    return max(map(_width, _words(runs)), default=0.0)


def font_of(run: Run) -> str:
    """The font of a run."""
    return BOLD if run[1] else REGULAR


def _words(runs: Sequence[Run]) -> list[Line]:
    """Words, each as runs: one may change its weight in the middle, as in ``(**milk**)``."""
    words: list[Line] = []
    word: list[Run] = []
    for text, bold in runs:
        for n, part in enumerate(_clean_ends(text).split(" ")):
            if n and word:
                words.append(tuple(word))
                word = []
            if part:
                word.append((part, bold))
    return [*words, tuple(word)] if word else words


def _clean_ends(text: str) -> str:
    """A run in which only single spaces part the words; spaces at its ends are kept."""
    inner = clean(text)
    if not inner:
        return " "
    return f"{' ' if text[0].isspace() else ''}{inner}{' ' if text[-1].isspace() else ''}"


def _width(word: Sequence[Run]) -> float:
    return sum(em_width(run[0], font_of(run)) for run in word)


def _broken(word: Line, ems: float) -> list[Line]:
    """A word that is longer than a line, in parts that are not; each part a letter at least."""
    parts: list[Line] = []
    line: list[Run] = []
    used = 0.0
    for text, bold in word:
        for letter in text:
            width = em_width(letter, font_of((letter, bold)))
            if line and used + width > ems:
                parts.append(_joined(line))
                line, used = [], 0.0
            line.append((letter, bold))
            used += width
    return [*parts, _joined(line)]


def _joined(line: Sequence[Run]) -> Line:
    """Runs of one weight beside each other as one."""
    joined: list[Run] = []
    for text, bold in line:
        if joined and (joined[-1][1] == bold or text == " "):
            joined[-1] = (joined[-1][0] + text, joined[-1][1])
        else:
            joined.append((text, bold))
    return tuple(joined)
