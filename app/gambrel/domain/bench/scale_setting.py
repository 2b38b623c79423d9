"""How one station's scale is reached and read. Kept as a text, read back strictly."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property
from typing import TypeVar

from gambrel.domain.bench.scale_pattern import ALL_ENDS, LineEnd, ScalePattern, ScaleWords, Unit
from gambrel.domain.refusals import Refusal

SPEEDS = (1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200)
SLOWEST_ASK_MS, QUICKEST_ASK_MS = 5000, 50
ENQ = "\x05"


class ScaleKind(StrEnum):
    """How the weight comes in."""

    NONE = "none"
    SERIAL = "serial"
    TYPED = "typed"


class Parity(StrEnum):
    """The parity bit, by the letter that is customary for it."""

    NONE = "N"
    EVEN = "E"
    ODD = "O"


class Asking(StrEnum):
    """Whether the scale sends by itself, is asked again and again, or at a tap."""

    SENDS = "sends"
    ASKED = "asked"
    TAP = "tap"


@dataclass(frozen=True, slots=True)
class Shape:
    """A general shape of a line, to begin from."""

    key: str
    name: str
    pattern: str


SHAPES = (
    Shape(
        "any",
        "Flag or not, gross or net or not, number, unit",
        "[{flag},][{mode},]{sign}{number}{unit}",
    ),
    Shape("flag-mode", "Flag, gross or net, number, unit", "{flag},{mode},{sign}{number}{unit}"),
    Shape("flag-first", "Flag, number, unit", "{flag}[,]{sign}{number}{unit}"),
    Shape("flag-last", "Number, unit, flag", "{sign}{number}{unit}[,]{flag}"),
    Shape("plain", "Number and unit only", "{sign}{number}{unit}"),
    Shape("bare", "Number only", "{sign}{number}"),
)
"""Shapes that lines commonly have (common practice, no source)."""


@dataclass(frozen=True)
class ScaleSetting:
    r"""Everything about one station's scale; what cannot be is refused in a sentence.

    Attributes:
        kind: How the weight comes in.
        port: The serial port's name, as the machine has it.
        baud: Symbols a second.
        data_bits: 7 or 8.
        parity: The parity bit.
        stop_bits: 1 or 2.
        asking: Who begins.
        command: What asks for a weight, with ``\r``, ``\n`` and ``\xNN`` for control characters.
        zero: What sets the scale to zero, written as ``command`` is; empty where nothing does.
        every_ms: How often a scale that is asked is asked.
        pattern: How a line is read.
        unit: The unit of a line that names none; None where every line has its own.
        words: The scale's words.
        ends: What ends a line.
    """

    kind: ScaleKind = ScaleKind.NONE
    port: str = ""
    baud: int = 9600
    data_bits: int = 8
    parity: Parity = Parity.NONE
    stop_bits: int = 1
    asking: Asking = Asking.SENDS
    command: str = ""
    zero: str = ""
    every_ms: int = 200
    pattern: str = SHAPES[0].pattern
    unit: Unit | None = None
    words: ScaleWords = field(default_factory=ScaleWords)
    ends: tuple[LineEnd, ...] = ALL_ENDS

    def __post_init__(self) -> None:
        if self.baud not in SPEEDS:
            known = ", ".join(map(str, SPEEDS))
            raise Refusal(f"{self.baud} is no speed of a serial line. Choose one of {known}.")
        if self.data_bits not in (7, 8) or self.stop_bits not in (1, 2):
            raise Refusal("A serial line has 7 or 8 data bits and 1 or 2 stop bits. Choose those.")
        if not QUICKEST_ASK_MS <= self.every_ms <= SLOWEST_ASK_MS:
            raise Refusal(
                f"Asking every {self.every_ms} ms is not possible. Choose from {QUICKEST_ASK_MS} "
                f"to {SLOWEST_ASK_MS} ms."
            )
        if len(self.port) > 200 or not self.port.isprintable():
            raise Refusal("That is no name of a port. Choose one of those shown.")
        if self.kind is ScaleKind.SERIAL and not self.port:
            raise Refusal("No port is chosen. Plug the scale in and choose its port.")
        asked = command_bytes(self.command)
        _ = command_bytes(self.zero)
        if self.kind is ScaleKind.SERIAL and self.asking is not Asking.SENDS and not asked:
            raise Refusal(
                "A scale that is asked needs a command. Its papers say which, as W\\r\\n."
            )
        _ = self.line  # refused here rather than at the bench

    @cached_property
    def line(self) -> ScalePattern:
        """The pattern, compiled."""
        return ScalePattern(self.pattern, self.unit, self.words, self.ends)

    @property
    def asks(self) -> bytes:
        """What asks for a weight; empty where the scale sends by itself."""
        return b"" if self.asking is Asking.SENDS else command_bytes(self.command)

    @property
    def zeroes(self) -> bytes:
        """What sets the scale to zero; empty where nothing does."""
        return command_bytes(self.zero) if self.kind is ScaleKind.SERIAL else b""

    @property
    def line_settings(self) -> str:
        """Speed, bits, parity and stop bits as they are customarily written, ``9600 8N1``."""
        return f"{self.baud} {self.data_bits}{self.parity.value}{self.stop_bits}"


_ESCAPE = re.compile(r"\\(?:x(?P<hex>[0-9A-Fa-f]{2})|(?P<one>[rn\\]))")


def command_bytes(text: str) -> bytes:
    """A command as it goes down the line.

    Raises:
        Refusal: A backslash that begins nothing known, a character beyond ASCII, or too long.
    """
    if len(text) > 40 or not text.isascii():
        raise Refusal("A command is at most 40 plain letters. Control characters are \\x05, \\r.")
    if "\\" in _ESCAPE.sub("", text):
        raise Refusal("A backslash stands alone in the command. Write \\r, \\n, \\\\ or \\x05.")

    def one(match: re.Match[str]) -> str:
        if match["hex"]:
            return chr(int(match["hex"], 16))
        return {"r": "\r", "n": "\n", "\\": "\\"}[match["one"]]

    return _ESCAPE.sub(one, text).encode("latin-1")


NO_SCALE = ScaleSetting()
"""A station without a scale: the weight is typed."""


def setting_text(setting: ScaleSetting) -> str:
    """The setting as it is kept."""
    words = {name: list(getattr(setting.words, name)) for name in _WORDS}
    kept = {name: getattr(setting, name) for name in _PLAIN}
    unit = setting.unit.value if setting.unit else ""
    ends = [end.name for end in setting.ends]
    return json.dumps({**kept, "unit": unit, "words": words, "ends": ends}, sort_keys=True)


_PLAIN = (
    "kind",
    "port",
    "baud",
    "data_bits",
    "parity",
    "stop_bits",
    "asking",
    "command",
    "zero",
    "every_ms",
    "pattern",
)
_WORDS = ("steady", "unsteady", "overload", "gross", "net")
_NUMBERS = ("baud", "data_bits", "stop_bits", "every_ms")

E = TypeVar("E", bound=StrEnum)


def read_setting_text(text: str) -> ScaleSetting:
    """Read back what `setting_text` wrote.

    Raises:
        Refusal: It is anything else: a name missing or unknown, a value that cannot be.
    """
    try:
        found = json.loads(text)
    except (json.JSONDecodeError, RecursionError) as error:
        raise Refusal(_SPOILT) from error
    if isinstance(found, dict):
        found.setdefault("zero", "")  # kept before a scale could be set to zero
    if not isinstance(found, dict) or set(found) != {*_PLAIN, "unit", "words", "ends"}:
        raise Refusal(_SPOILT)
    for name in _PLAIN:
        if type(found[name]) is not (int if name in _NUMBERS else str):
            raise Refusal(_SPOILT)
    return ScaleSetting(
        kind=_one(ScaleKind, found["kind"]),
        port=found["port"],
        baud=found["baud"],
        data_bits=found["data_bits"],
        parity=_one(Parity, found["parity"]),
        stop_bits=found["stop_bits"],
        asking=_one(Asking, found["asking"]),
        command=found["command"],
        zero=found["zero"],
        every_ms=found["every_ms"],
        pattern=found["pattern"],
        unit=_one(Unit, found["unit"]) if found["unit"] != "" else None,
        words=_words(found["words"]),
        ends=tuple(_end(name) for name in _list(found["ends"])),
    )


_SPOILT = (
    "What was kept about this station's scale cannot be read. Set the scale up again under Setup, "
    "Scale; until then type the weights."
)


def _one(kind: type[E], value: object) -> E:
    try:
        return kind(str(value))
    except ValueError as error:
        raise Refusal(_SPOILT) from error


def _list(value: object) -> list[str]:
    if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
        raise Refusal(_SPOILT)
    return value


def _end(name: str) -> LineEnd:
    if name not in LineEnd.__members__:
        raise Refusal(_SPOILT)
    return LineEnd[name]


def _words(value: object) -> ScaleWords:
    if not isinstance(value, dict) or set(value) != set(_WORDS):
        raise Refusal(_SPOILT)
    return ScaleWords(**{name: tuple(_list(value[name])) for name in _WORDS})


def with_shape(setting: ScaleSetting, key: str) -> ScaleSetting:
    """The setting with a shape of line from `SHAPES`; a bare number is taken as kilograms.

    Raises:
        Refusal: There is no such shape.
    """
    shape = next((shape for shape in SHAPES if shape.key == key), None)
    if shape is None:
        raise Refusal("There is no such shape of a line. Choose one of those shown.")
    unit = setting.unit
    if "{unit}" not in shape.pattern and unit is None:
        unit = Unit.KILOGRAM
    return replace(setting, pattern=shape.pattern, unit=unit)
