"""What a book holds beside its trade: people, recipes, labels and what was printed.

None of it bears on a cost. Weights are grams, money is minor units, rates are per kilogram.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class Person:
    """Someone who works at a station. ``pin`` is a salted hash, empty where none is wanted."""

    name: str
    pin: str = ""
    active: bool = True


@dataclass(frozen=True, slots=True)
class CutLabel:
    """What a label says about a cut beside its weight and price; lines of text, empty for none.

    ``ingredients`` is the list as printed, ``allergens`` the words of it that are set in bold,
    parted by commas.
    """

    cut: str
    ingredients: str = ""
    allergens: str = ""
    storage: str = ""
    cooking: str = ""


class OriginOf(StrEnum):
    """What an origin is known of."""

    SUPPLIER = "supplier"
    BODY = "body"


@dataclass(frozen=True, slots=True)
class Origin:
    """Where animals were born, reared, slaughtered and cut: countries by name, plants by number.

    A supplier's holds for all its bodies that have none of their own.
    """

    kind: OriginOf
    key: str
    born: str = ""
    reared: str = ""
    slaughtered: str = ""
    abattoir: str = ""
    cut_in: str = ""
    plant: str = ""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """Something bought in for blends. ``allergens`` are words parted by commas."""

    key: str
    name: str
    price: int
    allergens: str = ""


@dataclass(frozen=True, slots=True)
class IngredientLot:
    """Which lot of an ingredient a stage used."""

    stage: str
    key: str
    lot: str
    use_by: date | None = None


@dataclass(frozen=True, slots=True)
class CutLean:
    """The lean that a class of trim is sorted to, in per cent."""

    cut: str
    percent: Decimal


@dataclass(frozen=True, slots=True)
class PieceLean:
    """The lean of one piece as it was measured, in per cent; the newest counts."""

    piece: str
    at: datetime
    percent: Decimal
    person: str = ""


@dataclass(frozen=True, slots=True)
class Recipe:
    """A blend that the shop makes again. ``lean_*`` are per cent of the meat, None for any."""

    key: str
    name: str
    product: str
    lean_least: Decimal | None = None
    lean_most: Decimal | None = None
    minutes_per_kg: Decimal = Decimal(0)
    note: str = ""


@dataclass(frozen=True, slots=True)
class RecipeLine:
    """One line of a recipe: grams of a trim cut, or of an ingredient, in a kilogram of batch."""

    recipe: str
    position: int
    grams_per_kg: int
    cut: str = ""
    ingredient: str = ""


@dataclass(frozen=True, slots=True)
class PriceWithdrawn:
    """A price that was to come into force and will not; ``since`` names it."""

    cut: str
    since: datetime
    at: datetime
    person: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class WriteOffWithdrawn:
    """A write-off that was taken back; ``piece``, ``written_off_at`` and ``why`` name it."""

    piece: str
    written_off_at: datetime
    why: str
    at: datetime
    person: str = ""


class PrintKind(StrEnum):
    """What a print job is of."""

    TICKET = "ticket"
    LABEL = "label"
    SHEET = "sheet"


@dataclass(frozen=True, slots=True)
class PrintJob:
    """Something sent to a printer, or saved as a file where ``printer`` is empty."""

    key: str
    kind: PrintKind
    title: str
    paper: str
    printer: str
    copies: int
    at: datetime
    person: str = ""
    station: str = ""


class PrintStep(StrEnum):
    """What can happen to a print job."""

    QUEUED = "queued"
    PRINTED = "printed"
    FAILED = "failed"
    CANCELLED = "cancelled"


@dataclass(frozen=True, slots=True)
class PrintEvent:
    """One thing that happened to a print job; ``number`` counts from one within the job."""

    job: str
    number: int
    kind: PrintStep
    at: datetime
    reason: str = ""


@dataclass(frozen=True, slots=True)
class PrintedItem:
    """One ticket or label of a job: what it said. ``price`` is per kilogram, ``amount`` the sum."""

    job: str
    position: int
    cut: str
    price: int | None = None
    piece: str = ""
    grams: int | None = None
    amount: int | None = None
    lot: str = ""
    use_by: date | None = None
    number: str = ""


@dataclass(frozen=True, slots=True)
class Setting:
    """A small text that a shop keeps under a name: a limit, an order, a choice."""

    name: str
    value: str

    @property
    def of_the_shop(self) -> bool:
        """Whether it is the shop's, and not one station's own (``scale:bench-1``)."""
        return self.name.partition(":")[0] not in STATION_SETTINGS


STATION_SETTINGS = frozenset(
    {"backup-folder", "backup-last", "block", "dark", "place", "printer", "scale"}
)
"""First words of the names under which a station keeps what is its own.

Of the last backup too: another book made of the plain files has never been backed up.
"""

Beside = (
    Person
    | Ingredient
    | IngredientLot
    | CutLean
    | PieceLean
    | Recipe
    | RecipeLine
    | CutLabel
    | Origin
    | Setting
)
"""What a book's plain-file form tells beside its trade."""
