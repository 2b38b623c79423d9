"""Starting a blend, and working unsold trays back; weighing and finishing are the bench's own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from gambrel.domain.bench.recipes import ingredient_cost
from gambrel.domain.bench.trim import FreePiece, Portion, take_chosen
from gambrel.domain.numbers.mass import HEAVIEST_G
from gambrel.domain.numbers.money import DEAREST_MINOR
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Ingredient, IngredientLot
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import near_day
from gambrel.domain.trade.keys import LONGEST_KEY, fits_key
from gambrel.domain.trade.records import Input, Source, Stage, StageKind, Trade
from gambrel.services.bench.act import Act
from gambrel.services.tub.standing import read_stock

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work


@dataclass(frozen=True, slots=True)
class Added:
    """Something bought in that goes into a blend.

    ``key`` is an ingredient's, or a name that is written down nowhere (then ``cost`` must be
    given). ``cost`` is minor units for all of it; None takes the ingredient's price per kilo.
    """

    key: str
    grams: int
    cost: int | None = None
    lot: str = ""
    use_by: date | None = None


def start_blend(book: Book, portions: Sequence[Portion], added: Sequence[Added], act: Act) -> Stage:
    """Take trim, trays that are worked back, and ingredients into a blend.

    The same act sent again changes nothing and gives the same blend.

    Raises:
        Refusal: More is asked than stands free, something is past its last day, or an ingredient
            cannot be.
    """
    return _start(book, StageKind.BLEND, portions, added, act)


def work_back(book: Book, portions: Sequence[Portion], act: Act) -> Stage:
    """Take unsold trays apart, as work of its own, to be weighed in again as trim.

    What comes of it keeps the earliest of their last days: working back makes nothing fresher. To
    mince them at once, give them to `start_blend`.

    Raises:
        Refusal: A piece is no tray any more, is past its use-by, or less of it is left.
    """
    return _start(book, StageKind.TRIMOUT, portions, (), act)


def _start(
    book: Book, kind: StageKind, portions: Sequence[Portion], added: Sequence[Added], act: Act
) -> Stage:
    with book.transaction() as work:
        sent_before = work.stage(act.key)
        if sent_before is not None:
            return sent_before
        stock = read_stock(work, act.now)
        rows = stock.trays if kind is StageKind.TRIMOUT else (*stock.trim, *stock.trays)
        free = [piece for row in rows for piece in row.pieces]
        taken = take_chosen(free, portions)
        inputs, lots = _added(work, stock.trade, act, added)
        stage = Stage(act.key, kind, _begins(free, taken, act.now), person=act.person)
        inputs += [Input(act.key, Source.PIECE, part.piece, part.grams) for part in taken]
        work.add([stage, *inputs])
        work.note(lots)
    return stage


def _begins(free: Iterable[FreePiece], taken: Iterable[Portion], now: datetime) -> datetime:
    """Not before the last of its pieces was weighed: two stations' clocks never quite agree."""
    keys = {part.piece for part in taken}
    return max(now, *(row.piece.weighed_at for row in free if row.piece.key in keys))


def _added(
    work: Work, trade: Trade, act: Act, added: Sequence[Added]
) -> tuple[list[Input], list[IngredientLot]]:
    known = {each.key: each for each in work.every(Ingredient)}
    today = business_day(act.now, trade.shop)
    inputs: list[Input] = []
    lots: list[IngredientLot] = []
    for row in added:
        key = row.key.strip()
        name = known[key].name if key in known else key
        _refuse_if_unfit(row, name, today)
        if any(other.key == key for other in inputs):
            raise Refusal(f"{name} is added twice. Put the weights of one blend together.")
        inputs.append(Input(act.key, Source.INGREDIENT, key, row.grams, _cost(row, known.get(key))))
        if row.lot.strip():
            lots.append(IngredientLot(act.key, key, row.lot.strip(), row.use_by))
        elif row.use_by is not None:
            raise Refusal(f"{name} has a date but no lot. Type the lot that stands on its pack.")
    return inputs, lots


def _refuse_if_unfit(row: Added, name: str, today: date) -> None:
    if not name:
        raise Refusal("An ingredient needs a name. Choose one, or type it.")
    if not (fits_key(row.key.strip()) and fits_key(row.lot.strip())):
        raise Refusal(
            f"A name and a lot have at most {LONGEST_KEY} plain letters. Shorten those of "
            f"{name[:40]!r}."
        )
    if not 0 < row.grams <= HEAVIEST_G:
        raise Refusal(f"{name} has no weight yet. Type what goes into the blend, in kilos.")
    if row.cost is not None and not 0 <= row.cost <= DEAREST_MINOR:
        raise Refusal(f"What {name} costs cannot be. Type zero or more.")
    if row.use_by is not None and row.use_by < today:
        raise Refusal(f"{name} is past its use-by of {near_day(row.use_by)}. Take another lot.")


def _cost(row: Added, ingredient: Ingredient | None) -> int:
    if row.cost is not None:
        return row.cost
    if ingredient is None:
        raise Refusal(f"{row.key} has no price yet. Type what it costs, or write it down first.")
    return ingredient_cost(ingredient, row.grams)
