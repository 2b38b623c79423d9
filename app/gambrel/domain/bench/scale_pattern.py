"""The pattern of a scale's line, written by the shop and compiled so that it can never run away.

A pattern is the line itself with these fields in the place of what changes:

- ``{flag}``: one of the shop's words for steady, unsteady or overload
- ``{mode}``: one of its words for gross or net
- ``{sign}``: a plus or a minus, or neither
- ``{number}``: digits, with a point or a comma before the decimals where there are any
- ``{unit}``: g, kg, lb or oz, in capitals or not
- ``{skip}``: anything up to the next blank, comma or semicolon
- ``[ ]`` round a part that may be missing

Anything else stands for itself, and blanks never matter. It becomes a regular expression with the
groups ``st``, ``mode``, ``sign``, ``val`` and ``unit``. Every part of it is possessive, so that a
line is read in one go however odd it is; a free expression could hang on one (``re`` knows no time
limit), which is why a shop cannot write one.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field, fields
from enum import StrEnum
from functools import cached_property

from gambrel.domain.refusals import Refusal

LONGEST_PATTERN = 120
LONGEST_LINE = 256
"""Bytes of a line, its end aside; what is longer is no weight."""

MOST_WORDS = 8
_BLANKS = r"[ \t]*+"
_TOKEN = re.compile(r"\{(?P<field>[^{}]*)\}|(?P<text>[^{}])|(?P<lost>[{}])", re.DOTALL)
_PRINTABLE = re.compile(r"[!-~]{1,12}")
_NUMBER = r"(?P<val>\d{1,9}+(?:[.,]\d{1,6}+)?+)"


class Unit(StrEnum):
    """The units that a scale may show."""

    GRAM = "g"
    KILOGRAM = "kg"
    POUND = "lb"
    OUNCE = "oz"


class LineEnd(StrEnum):
    """The control characters that may end a line (ECMA-48, ISO 646)."""

    CR = "\r"
    LF = "\n"
    ETX = "\x03"


ALL_ENDS = (LineEnd.CR, LineEnd.LF, LineEnd.ETX)


@dataclass(frozen=True, slots=True)
class ScaleWords:
    """What the scale writes for what; each group may hold several words, or none."""

    steady: tuple[str, ...] = ("ST",)
    unsteady: tuple[str, ...] = ("US",)
    overload: tuple[str, ...] = ("OL",)
    gross: tuple[str, ...] = ("GS",)
    net: tuple[str, ...] = ("NT",)

    def __post_init__(self) -> None:
        for each in fields(self):
            group = getattr(self, each.name)
            if len(group) > MOST_WORDS:
                raise Refusal(f"More than {MOST_WORDS} words for {each.name}. Keep those it sends.")
            for word in group:
                if _PRINTABLE.fullmatch(word) is None or "," in word or ";" in word:
                    raise Refusal(
                        f"{word!r} cannot be a word for {each.name}. Use up to twelve letters, "
                        "digits or marks without blanks and commas."
                    )
        for groups in ((self.steady, self.unsteady, self.overload), (self.gross, self.net)):
            counted = Counter(word for group in groups for word in set(group))
            twice = next((word for word, count in counted.items() if count > 1), None)
            if twice is not None:
                raise Refusal(f"{twice!r} stands for two things. Let each word mean one.")

    @property
    def flags(self) -> tuple[str, ...]:
        """All that may stand in the place of ``{flag}``."""
        return self.steady + self.unsteady + self.overload

    @property
    def modes(self) -> tuple[str, ...]:
        """All that may stand in the place of ``{mode}``."""
        return self.gross + self.net


@dataclass(frozen=True)
class ScalePattern:
    """A pattern that can be used; making one that cannot is refused in a sentence.

    Attributes:
        text: The pattern.
        unit: The unit of a line that names none; None where every line names its own.
        words: What the scale writes for steady and so on.
        ends: What ends a line; several may, and a line between two of them that is empty is none.
    """

    text: str
    unit: Unit | None = None
    words: ScaleWords = field(default_factory=ScaleWords)
    ends: tuple[LineEnd, ...] = ALL_ENDS

    def __post_init__(self) -> None:
        if not self.ends:
            raise Refusal("Nothing would end a line. Choose CR, LF or ETX.")
        _check(self)
        for whole in (True, False):
            if self.regex.fullmatch(self._sample(whole=whole)) is None:
                raise Refusal(
                    "No line could ever fit this pattern, because one part takes what the next "
                    "one needs. Leave {skip} out, or put a comma between the parts."
                )

    @cached_property
    def regex(self) -> re.Pattern[str]:
        """The compiled expression, for the whole of a line."""
        made = [_part(self, kind, value) for kind, value in _tokens(self.text)]
        return re.compile(_BLANKS + _BLANKS.join(made) + _BLANKS, re.ASCII)

    @property
    def has_flag(self) -> bool:
        """Whether a line says by itself that it is steady."""
        return "{flag}" in self.text

    def _sample(self, *, whole: bool) -> str:
        """A line that the pattern should fit, with or without what may be missing."""
        text = self.text if whole else re.sub(r"\[[^\]]*\]", "", self.text)
        stand_ins = {
            "flag": next(iter(self.words.flags), ""),
            "mode": next(iter(self.words.modes), ""),
            "sign": "+",
            "number": "1.234",
            "unit": "kg",
            "skip": "x",
        }
        parts = (stand_ins[v] if k == "field" else v for k, v in _tokens(text) if v not in "[]")
        return "".join(parts)


FIELDS = ("flag", "mode", "sign", "number", "unit", "skip")


def _tokens(text: str) -> list[tuple[str, str]]:
    """Pairs of kind ("field", "text", "lost") and value, blanks left out."""
    found = ((m.lastgroup or "", m[m.lastgroup or 0]) for m in _TOKEN.finditer(text))
    return [(kind, value) for kind, value in found if kind == "field" or not value.isspace()]


def _check(pattern: ScalePattern) -> None:
    """Refuse what cannot be understood, what says too little, and what says a thing twice."""
    text = pattern.text
    if len(text) > LONGEST_PATTERN:
        raise Refusal(f"The pattern is longer than {LONGEST_PATTERN} characters. Shorten it.")
    if not text.isascii() or not text.isprintable():
        raise Refusal("The pattern holds a character that no scale sends. Write plain letters.")
    tokens = _tokens(text)
    if any(kind == "lost" for kind, _ in tokens):
        raise Refusal("A brace stands alone in the pattern. Write fields like {number}.")
    unknown = next((v for k, v in tokens if k == "field" and v not in FIELDS), None)
    if unknown is not None:
        raise Refusal(f"The pattern has no field {{{unknown}}}. Use {{{'}, {'.join(FIELDS)}}}.")
    _check_counts(pattern, Counter(v for k, v in tokens if k == "field"))
    _check_brackets(text)
    always = "".join(re.split(r"\[[^\]]*\]", text))
    if "{number}" not in always:
        raise Refusal("The number may never be missing. Take {number} out of the brackets [ ].")
    if pattern.unit is None and "{unit}" not in always:
        raise Refusal("A line may come without its unit. Say in which unit it is then.")


def _check_counts(pattern: ScalePattern, counted: Counter[str]) -> None:
    if not counted["number"]:
        raise Refusal("The pattern has no number. Put {number} where the weight stands.")
    twice = next((name for name, n in counted.items() if n > 1 and name != "skip"), None)
    if twice is not None:
        raise Refusal(f"{{{twice}}} stands in the pattern twice. Leave one out.")
    if counted["flag"] and not pattern.words.steady:
        raise Refusal("The pattern has a {flag}, but no word means steady. Add that word.")
    if counted["mode"] and not pattern.words.modes:
        raise Refusal("The pattern has a {mode}, but no word means gross or net. Add those words.")


def _check_brackets(text: str) -> None:
    deep = 0
    for mark in text:
        deep += {"[": 1, "]": -1}.get(mark, 0)
        if not 0 <= deep <= 1:
            break
    if deep:
        raise Refusal("The brackets [ ] of the pattern do not pair, or stand one in another.")
    if re.search(r"\[\s*\]", text):
        raise Refusal("Two brackets [ ] of the pattern hold nothing. Take them out.")


def _part(pattern: ScalePattern, kind: str, value: str) -> str:
    """The expression of one token; blanks are put between them by the caller."""
    if kind == "text":
        return {"[": "(?:", "]": ")?+"}.get(value) or re.escape(value)
    words = {"flag": pattern.words.flags, "mode": pattern.words.modes}.get(value, ())
    if words:
        longest_first = sorted(words, key=lambda word: (-len(word), word))
        name = "st" if value == "flag" else "mode"
        return f"(?P<{name}>(?>{'|'.join(map(re.escape, longest_first))}))"
    plain = {
        "sign": "(?P<sign>[+-]?+)",
        "number": _NUMBER,
        "unit": "(?P<unit>(?>(?i:kg|lb|oz|g)))",
        "skip": r"[^ \t,;]++",
    }
    return plain[value]
