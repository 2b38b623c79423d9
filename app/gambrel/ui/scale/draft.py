"""A scale's setting while somebody is changing it: texts that may not be right yet. No Qt."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from enum import StrEnum
from typing import TypeVar

from gambrel.domain.bench.scale_pattern import ALL_ENDS, LineEnd, ScaleWords, Unit
from gambrel.domain.bench.scale_setting import (
    SHAPES,
    Asking,
    Parity,
    ScaleKind,
    ScaleSetting,
    with_shape,
)
from gambrel.domain.refusals import Refusal

IN_LINE = "in-line"
"""The unit's choice where every line names its own."""

ENDS = {"any": ALL_ENDS, "cr-lf": (LineEnd.CR, LineEnd.LF), "etx": (LineEnd.ETX,)}
"""Sets of line ends to choose from."""

E = TypeVar("E", bound=StrEnum)


@dataclass(frozen=True, slots=True)
class Draft:
    """The form's fields as texts; `setting_of` makes a setting of them, or says why not."""

    kind: str
    port: str
    baud: str
    data_bits: str
    parity: str
    stop_bits: str
    asking: str
    command: str
    zero: str
    every_ms: str
    pattern: str
    unit: str
    steady: str
    unsteady: str
    overload: str
    gross: str
    net: str
    ends: str


WORDS = ("steady", "unsteady", "overload", "gross", "net")


def draft_of(setting: ScaleSetting) -> Draft:
    """The form as it stands for a setting."""
    ends = next((key for key, ends in ENDS.items() if set(ends) == set(setting.ends)), "any")
    return Draft(
        kind=setting.kind.value,
        port=setting.port,
        baud=str(setting.baud),
        data_bits=str(setting.data_bits),
        parity=setting.parity.value,
        stop_bits=str(setting.stop_bits),
        asking=setting.asking.value,
        command=setting.command,
        zero=setting.zero,
        every_ms=str(setting.every_ms),
        pattern=setting.pattern,
        unit=setting.unit.value if setting.unit else IN_LINE,
        ends=ends,
        **{name: " ".join(getattr(setting.words, name)) for name in WORDS},
    )


def setting_of(draft: Draft) -> ScaleSetting:
    """The setting that the form describes.

    Raises:
        Refusal: What is filled in cannot be; the sentence says what to change.
    """
    words = {name: tuple(getattr(draft, name).split()) for name in WORDS}
    return ScaleSetting(
        kind=_one(ScaleKind, draft.kind),
        port=draft.port.strip(),
        baud=_number(draft.baud),
        data_bits=_number(draft.data_bits),
        parity=_one(Parity, draft.parity),
        stop_bits=_number(draft.stop_bits),
        asking=_one(Asking, draft.asking),
        command=draft.command,
        zero=draft.zero,
        every_ms=_number(draft.every_ms),
        pattern=draft.pattern,
        unit=None if draft.unit == IN_LINE else _one(Unit, draft.unit),
        words=ScaleWords(**words),
        ends=ENDS.get(draft.ends, ALL_ENDS),
    )


def changed(draft: Draft, name: str, value: str) -> Draft:
    """The form after one change; choosing a shape writes its pattern.

    Raises:
        KeyError: There is no such field.
    """
    if name == "shape":
        return _with_shape(draft, value)
    if name not in {each.name for each in fields(Draft)}:
        raise KeyError(name)
    return replace(draft, **{name: value})


def _with_shape(draft: Draft, key: str) -> Draft:
    unit = None if draft.unit == IN_LINE else _one(Unit, draft.unit)
    shaped = with_shape(ScaleSetting(unit=unit), key)
    return replace(draft, pattern=shaped.pattern, unit=shaped.unit or IN_LINE)


def shape_of(draft: Draft) -> str:
    """The key of the shape whose pattern stands in the form; empty for a pattern of the shop's."""
    return next((shape.key for shape in SHAPES if shape.pattern == draft.pattern), "")


def _one(kind: type[E], value: str) -> E:
    try:
        return kind(value)
    except ValueError as error:
        raise Refusal("One of the choices is not known. Choose one of those shown.") from error


def _number(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 7):
        raise Refusal(f"{text!r} is no whole number. Choose one of those shown.")
    return int(text)
