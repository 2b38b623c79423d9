"""Tray labels as plain values: what each says, and what is refused.

A tray's price is its net weight at the price per kilo, to the nearest minor unit, a half away from
zero (``extend``); no cash rounding, which belongs to the till. Weights for sale need a verified
instrument, and what must stand on a label is for the local food code to say.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from gambrel.domain.numbers.money import extend
from gambrel.domain.prices import elements
from gambrel.domain.prices.codes import SHELF_NUMBER, TRAY_PRICE, TRAY_WEIGHT, in_store_number
from gambrel.domain.prices.ingredients import Run, ingredient_runs
from gambrel.domain.prices.label_source import LabelSource, Packed
from gambrel.domain.prices.tickets import COOK_THROUGH, KEEP_COLD, as_sentence
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLabel, IngredientLot, Origin
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import Trade

VERIFIED = (
    "A weight that goods are sold by comes from an instrument that is verified for trade; "
    "the local office for weights and measures says which."
)
"""Said wherever tray labels are made (references, section 7: laws on net weight; OIML R 76)."""


class TrayCode(StrEnum):
    """What a tray's code carries."""

    PRICE = "price"
    WEIGHT = "weight"
    GS1_128 = "gs1"
    QR = "qr"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Wish:
    """A piece to be labelled: all that is left of it, or the trays into which it was split."""

    piece: str
    trays: tuple[int, ...] = ()
    """Net grams of each tray; empty for one tray with all that is left."""


@dataclass(frozen=True, slots=True)
class LabelRules:
    """What a shop wants of its labels.

    ``country`` is an ISO 3166 code, by which origin rules are chosen; ``bodies`` are the last days
    on which whole bodies may be used, where the shop keeps such a limit.
    """

    country: str = ""
    code: TrayCode = TrayCode.PRICE
    bodies: Mapping[str, date] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Beside:
    """What the book holds beside its trade that a label needs."""

    cuts: Sequence[CutLabel] = ()
    origins: Sequence[Origin] = ()
    lots: Iterable[IngredientLot] = ()


@dataclass(frozen=True, slots=True)
class TrayLabel:
    """What one label says. Grams are net; ``price`` is minor units, ``per_kilo`` per kilogram.

    ``number`` is an EAN-13 with a price or a weight in it, ``elements`` what a GS1-128 or a QR
    code says; at most one of both is there.
    """

    piece: str
    cut: str
    name: str
    grams: int
    per_kilo: int
    price: int
    packed_on: date
    use_by: date
    lot: str
    origin: tuple[str, ...]
    ingredients: tuple[Run, ...]
    storage: str
    cooking: str
    code: TrayCode
    number: str = ""
    elements: tuple[elements.Element, ...] = ()


def make_labels(
    trade: Trade, beside: Beside, wishes: Sequence[Wish], now: datetime, rules: LabelRules
) -> list[TrayLabel]:
    """A label for every tray of the pieces that are wished for, in their order.

    Args:
        trade: A whole book.
        beside: Label texts, origins and lots of ingredients.
        wishes: Pieces, each once.
        now: Whose prices; and no tray past its day is labelled.
        rules: The shop's.
    Raises:
        Refusal: Nothing is made: a piece is unknown, taken back, used up or past its day, its cut
            has no price, no shelf life or no number for the code, a rule wants an origin that
            nobody has written down, or trays weigh more than what is left. All are named.
    """
    if not wishes:
        raise Refusal("No piece was chosen; name at least one.")
    twice = [key for key, times in Counter(wish.piece for wish in wishes).items() if times > 1]
    if twice:
        raise Refusal(f"Pieces are named twice: {', '.join(twice)}; name each once.")
    source = LabelSource(trade, beside.cuts, beside.origins, beside.lots, rules.bodies)
    made: list[TrayLabel] = []
    refused: list[str] = []
    for wish in wishes:
        try:
            made.extend(_trays(source, wish, now, rules))
        except Refusal as refusal:
            refused.append(str(refusal))
    if refused:
        raise Refusal(f"No labels were made: {'; '.join(dict.fromkeys(refused))}.")
    return made


def ready_for_labels(
    trade: Trade, beside: Beside, now: datetime, rules: LabelRules
) -> list[Packed]:
    """The pieces that can be labelled as they are, in the order in which they were weighed.

    That is what is left of tray cuts, within its days, with a price, and with the origin and the
    number that the rules want.
    """
    source = LabelSource(trade, beside.cuts, beside.origins, beside.lots, rules.bodies)
    trays = {cut.key for cut in trade.cuts if cut.kind is CutKind.TRAY}
    found: list[Packed] = []
    for piece in trade.standing:
        if piece.cut not in trays:
            continue
        try:
            list(_trays(source, Wish(piece.key), now, rules))
        except Refusal:
            continue
        found.append(source.packed(piece.key, (), now))
    return found


def _trays(
    source: LabelSource, wish: Wish, now: datetime, rules: LabelRules
) -> Iterable[TrayLabel]:
    found = source.packed(wish.piece, wish.trays, now)
    per_kilo = source.price(found, now)
    origin = source.origin(found, rules.country)
    storage, cooking = _cautions(source, found)
    for grams in wish.trays or (found.left_g,):
        price = extend(per_kilo, grams)
        if not price:
            raise Refusal(f"{grams} g of {found.cut.name} come to no money; weigh it again")
        number, parts = _codes(found, grams, price, rules.code)
        yield TrayLabel(
            piece=found.piece.key,
            cut=found.cut.key,
            name=found.cut.name,
            grams=grams,
            per_kilo=per_kilo,
            price=price,
            packed_on=found.packed_on,
            use_by=found.use_by,
            lot=found.lot,
            origin=origin,
            ingredients=ingredient_runs(found.text.ingredients, found.text.allergens),
            storage=storage,
            cooking=cooking,
            code=rules.code,
            number=number,
            elements=parts,
        )


def _cautions(source: LabelSource, found: Packed) -> tuple[str, str]:
    """The cut's own lines, or the short cautions that shelf tickets have."""
    cooking = as_sentence(found.text.cooking)
    if not cooking and source.is_minced(found):
        cooking = COOK_THROUGH
    return as_sentence(found.text.storage) or KEEP_COLD, cooking


def _codes(
    found: Packed, grams: int, price: int, code: TrayCode
) -> tuple[str, tuple[elements.Element, ...]]:
    plu, name = found.cut.plu, found.cut.name
    if code is TrayCode.NONE:
        return "", ()
    if not (plu.isascii() and plu.isdigit()):
        raise Refusal(
            f"{name} has no PLU that fits in a code; give it a number of up to four digits, "
            "or print without a code"
        )
    _see_that_it_fits(found, grams, price, code)
    try:
        if code is TrayCode.PRICE:
            return in_store_number(TRAY_PRICE, item=int(plu), price=price), ()
        if code is TrayCode.WEIGHT:
            return in_store_number(TRAY_WEIGHT, item=int(plu), grams=grams), ()
        item = elements.number_of(in_store_number(SHELF_NUMBER, item=int(plu)))
        return "", _elements(found, item, grams, code)
    except ValueError as error:
        raise Refusal(
            f"the code of {name} cannot be made ({error}); choose another code or print without"
        ) from error


def _see_that_it_fits(found: Packed, grams: int, price: int, code: TrayCode) -> None:
    """Refuse a number that is longer than its place in the code."""
    plu, name = found.cut.plu.lstrip("0"), found.cut.name
    layout = {TrayCode.PRICE: TRAY_PRICE, TrayCode.WEIGHT: TRAY_WEIGHT}.get(code, SHELF_NUMBER)
    for place, digits, what in (
        ("I", plu, f"the PLU of {name}"),
        ("P", str(price), f"the price of {grams:,} g of {name}"),
        ("W", str(grams), f"the weight of {grams:,} g of {name}"),
    ):
        if (most := layout.count(place)) and len(digits) > most:
            raise Refusal(
                f"{what} has more than the {most} digits that this code holds; choose another "
                "code or print without"
            )


def _elements(
    found: Packed, item: elements.Element, grams: int, code: TrayCode
) -> tuple[elements.Element, ...]:
    """A GS1-128 with the weight, or a QR code that is the same for every tray of a lot.

    The lot stands last, so that nothing has to part it from what follows.
    """
    last_day, lot = elements.use_by(found.use_by), elements.lot(found.lot)
    if code is TrayCode.GS1_128:
        return item, elements.net_weight(grams), last_day, lot
    if set(found.lot) & set("()"):
        raise ValueError(f"in a QR code the brackets of the lot {found.lot!r} would begin a field")
    return item, elements.packed(found.packed_on), last_day, lot
