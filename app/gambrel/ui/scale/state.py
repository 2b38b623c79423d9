"""What the scale's page shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gambrel.domain.bench.scale_bytes import hexed, named
from gambrel.domain.bench.scale_line import Reading
from gambrel.domain.bench.scale_setting import SHAPES, SPEEDS, Asking, ScaleKind, ScaleSetting
from gambrel.domain.bench.steady import MEANINGS, LiveWeight
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.ui.scale.draft import IN_LINE, Draft, setting_of, shape_of
from gambrel.ui.widgets.choice import Choice

VERIFIED = (
    "Weights that goods are sold by need a verified instrument. This page verifies nothing: follow "
    "your local codes for weights and measures."
)
STREAM = 72
"""So many of the last bytes stand on the page."""

_CHOICES: Mapping[str, Sequence[tuple[str, str]]] = {
    "kind": (
        (ScaleKind.NONE, "No scale"),
        (ScaleKind.SERIAL, "On a serial port"),
        (ScaleKind.TYPED, "Types like a keyboard"),
    ),
    "baud": tuple((str(speed), str(speed)) for speed in SPEEDS),
    "data_bits": (("7", "7 bits"), ("8", "8 bits")),
    "parity": (("N", "No parity"), ("E", "Even"), ("O", "Odd")),
    "stop_bits": (("1", "1 stop"), ("2", "2 stop")),
    "asking": (
        (Asking.SENDS, "Sends by itself"),
        (Asking.ASKED, "Is asked again and again"),
        (Asking.TAP, "Is asked at a tap"),
    ),
    "every_ms": (
        ("100", "10 a second"),
        ("200", "5 a second"),
        ("500", "2 a second"),
        ("1000", "1 a second"),
    ),
    "unit": (
        (IN_LINE, "Sent"),
        ("g", "g"),
        ("kg", "kg"),
        ("lb", "lb"),
        ("oz", "oz"),
    ),
    "ends": (("any", "Any of them"), ("cr-lf", "CR or LF"), ("etx", "ETX")),
}


@dataclass(frozen=True, slots=True)
class FormState:
    """The form. ``problem`` says what is wrong with it; empty where nothing is."""

    choices: Mapping[str, tuple[Choice, ...]]
    texts: Mapping[str, str]
    serial: bool
    any_scale: bool
    asks: bool
    asks_often: bool
    problem: str
    told: str
    can_keep: bool
    can_leave: bool


def describe_form(
    draft: Draft,
    kept: ScaleSetting | None,
    ports: Sequence[tuple[str, str]],
    trouble: str = "",
) -> FormState:
    """The form's texts.

    Args:
        draft: What is filled in.
        kept: What the station keeps; None where that cannot be read.
        ports: The ports of this machine, each with what the system says about it.
        trouble: What else was refused, said while nothing in the form is wrong.
    """
    problem, setting = "", None
    try:
        setting = setting_of(draft)
    except Refusal as refusal:
        problem = str(refusal)
    serial = draft.kind == ScaleKind.SERIAL
    asks = draft.asking != Asking.SENDS
    new = setting is not None and setting != kept
    return FormState(
        choices={**_plain_choices(draft), **_found_choices(draft, ports)},
        texts={name: getattr(draft, name) for name in _TEXTS},
        serial=serial,
        any_scale=draft.kind != ScaleKind.NONE,
        asks=serial and asks,
        asks_often=serial and draft.asking == Asking.ASKED,
        problem=problem or trouble,
        told=_told(problem or trouble, new=new),
        can_keep=new,
        can_leave=bool(problem) or new,
    )


_TEXTS = (
    "port", "command", "zero", "pattern", "steady", "unsteady", "overload", "gross", "net",
)  # fmt: skip


def _told(problem: str, *, new: bool) -> str:
    if problem:
        return ""
    return "Tried now, not kept yet." if new else "Kept for this station."


def _plain_choices(draft: Draft) -> dict[str, tuple[Choice, ...]]:
    return {
        name: tuple(Choice(str(key), text, str(key) == getattr(draft, name)) for key, text in pairs)
        for name, pairs in _CHOICES.items()
    }


def _found_choices(draft: Draft, ports: Sequence[tuple[str, str]]) -> dict[str, tuple[Choice, ...]]:
    shape = shape_of(draft)
    return {
        "found_port": tuple(Choice(name, name, name == draft.port) for name, _ in ports),
        "shape": tuple(Choice(each.key, each.name, each.key == shape) for each in SHAPES),
    }


@dataclass(frozen=True, slots=True)
class LiveState:
    """The weight as this page shows it."""

    figure: str
    about: str
    meaning: str
    word: str
    sentence: str
    can_ask: bool


def describe_live(live: LiveWeight, formats: Formats, *, asked_by_tap: bool) -> LiveState:
    """The live weight's texts; where no number may be shown there is a dash."""
    parts = (f"sent in {live.unit}" if live.unit else "", "net of its own tare" if live.net else "")
    shown = live.grams is not None
    return LiveState(
        figure=formats.kg(live.grams) if shown else DASH,
        about=", ".join(part for part in parts if part) if shown else "",
        meaning=MEANINGS[live.state],
        word=live.state.value,
        sentence=live.sentence,
        can_ask=asked_by_tap,
    )


@dataclass(frozen=True, slots=True)
class LineState:
    """One line: as it came, in hex, and what was understood."""

    text: str
    hex: str
    words: str
    good: bool


@dataclass(frozen=True, slots=True)
class HeardState:
    """What came down the line; the newest line first."""

    stream: str
    counts: str
    lines: tuple[LineState, ...]


def describe_heard(
    stream: bytes, lines: Sequence[Reading], good: int, bad: int, total: int
) -> HeardState:
    """What came, named and in hex."""
    if not total:
        return HeardState("", "Nothing has come yet.", ())
    counts = f"{total:,} bytes · {good:,} lines understood · {bad:,} not understood"
    newest = tuple(
        LineState(named(line.raw), hexed(line.raw), line.words, line.understood)
        for line in reversed(lines)
    )
    return HeardState(named(stream[-STREAM:]), counts, newest)
