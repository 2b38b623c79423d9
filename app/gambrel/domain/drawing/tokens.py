"""The design tokens: colours by role, sizes, spaces.

Plain values, so that the style sheet, the charts and the papers read the same ones.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, is_dataclass
from typing import TYPE_CHECKING, Any, TypeVar, get_type_hints

from gambrel.domain.drawing.contrast import channels
from gambrel.domain.trade.strict_toml import exact_table, text_in, toml_table

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

    Table = TypeVar("Table", bound=DataclassInstance)
else:
    Table = TypeVar("Table")

WHAT = "the design tokens"
LARGEST_SIZE = 1000
"""Pixels; a token above it is a slip of the finger."""


@dataclass(frozen=True, slots=True)
class TypeSizes:
    """The font family and text sizes in logical pixels."""

    family: str
    body: int
    label: int
    heading: int
    figure: int
    key: int
    live: int
    live_large: int


@dataclass(frozen=True, slots=True)
class Spaces:
    """Gaps in logical pixels, all multiples of `grid`."""

    grid: int
    tight: int
    small: int
    gap: int
    wide: int


@dataclass(frozen=True, slots=True)
class Targets:
    """The least width and height, in logical pixels, of what a finger must hit."""

    key: int
    block: int
    elsewhere: int


@dataclass(frozen=True, slots=True)
class Radii:
    """Corner radii in logical pixels."""

    small: int
    control: int
    card: int


@dataclass(frozen=True, slots=True)
class Lines:
    """Line widths in logical pixels."""

    rule: int
    edge: int
    strong: int


@dataclass(frozen=True, slots=True)
class KindColours:
    """How one kind of cut is drawn in a picture: its fill and the text upon it, ``#RRGGBB``."""

    fill: str
    text: str


@dataclass(frozen=True, slots=True)
class Kinds:
    """Picture colours for what became of the meat."""

    tray: KindColours
    trim: KindColours
    byproduct: KindColours
    waste: KindColours
    loss: KindColours


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours by role, ``#RRGGBB``, for light or dark."""

    paper: str
    card: str
    ink: str
    soft_ink: str
    rule: str
    edge: str
    accent: str
    on_accent: str
    chosen: str
    weighed: str
    fine: str
    fine_tint: str
    watch: str
    watch_tint: str
    stop: str
    stop_tint: str
    info: str
    info_tint: str
    kinds: Kinds


@dataclass(frozen=True, slots=True)
class Tokens:
    """Everything that the look is made of."""

    type: TypeSizes
    space: Spaces
    target: Targets
    radius: Radii
    line: Lines
    light: Theme
    dark: Theme


def read_tokens(text: str) -> Tokens:
    """Read the tokens from TOML text; colours come back in capitals.

    Raises:
        ValueError: The text is not TOML, or a token is missing, unknown, or not a colour or size;
            the message names the token and its place.
    """
    return _read(Tokens, toml_table(text, WHAT), WHAT)


def _read(kind: type[Table], table: object, place: str) -> Table:
    """Fill one dataclass from one TOML table."""
    names = [field.name for field in fields(kind)]
    exact = exact_table(table, names, place)
    hints = get_type_hints(kind)
    return kind(**{name: _value(hints[name], exact[name], f"{place}, {name}") for name in names})


def _value(kind: type[Any], value: object, place: str) -> object:
    if is_dataclass(kind):
        return _read(kind, value, place)
    if kind is int:
        return _size(value, place)
    return text_in(value, place) if place.endswith(", family") else _colour(value, place)


def _size(value: object, place: str) -> int:
    if type(value) is not int or not 1 <= value <= LARGEST_SIZE:
        raise ValueError(
            f"In {place} there should be whole pixels from 1 to {LARGEST_SIZE}, not {value!r}."
        )
    return value


def _colour(value: object, place: str) -> str:
    try:
        channels(value)
    except ValueError as error:
        raise ValueError(f"In {place} there should be a colour: {error}") from error
    return str(value).upper()
