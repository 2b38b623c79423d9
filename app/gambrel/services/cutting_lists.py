"""The cutting lists as the shop changes them, and what its bodies really yielded by them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.usual import UsualYields, usual_yields
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.domain.trade.cut_edits import fair_name
from gambrel.domain.trade.list_edits import Lines, ListKey, as_list, lists_in
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.retired import RETIRED, read_retired
from gambrel.services.catalogue import refuse_new_problems, shop_of
from gambrel.services.folder.cells import Terms
from gambrel.services.folder.forms import FORMS
from gambrel.services.settings import CHANGED_SINCE

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work


@dataclass(frozen=True, slots=True)
class CuttingLists:
    """Every list with its lines, the cuts by their keys, and what bodies there have been.

    ``portions`` are pairs of species and portion, of bodies and of lists.
    """

    shop: Shop
    lists: Mapping[ListKey, Lines]
    cuts: Mapping[str, Cut]
    retired: frozenset[str]
    portions: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class LinesChange:
    """A list's lines before an act and after it; none where there was or is no such list."""

    key: ListKey
    before: Lines
    after: Lines


def cutting_lists(book: Book) -> CuttingLists:
    """The lists as they are now.

    Raises:
        Refusal: The book has no shop yet.
    """
    with book.reading() as work:
        shop, lines = shop_of(work), work.lists()
        cuts = {cut.key: cut for cut in work.cuts()}
        retired = read_retired(work.setting(RETIRED))
        bought = work.portions()
    lists = lists_in(lines)
    portions = dict.fromkeys([*bought, *((key.species, key.portion) for key in lists)])
    return CuttingLists(shop, lists, cuts, retired, tuple(portions))


def yields_by(book: Book, key: ListKey) -> UsualYields:
    """What the last bodies cut by a list really yielded.

    Reads the whole book: call it off the window's thread.
    """
    with book.reading() as work:
        trade = work.trade()
    return usual_yields(trade, key.name, key.species, key.portion)


def change_lines(book: Book, key: ListKey, old: Lines, new: Lines) -> LinesChange:
    """Let a list that was seen with the lines ``old`` have others; none takes it out of the book.

    Raises:
        Refusal: Another station has changed it since, bodies were cut by what would be gone, or
            the lines cannot be.
    """
    return _swap(book, LinesChange(key, old, new))


def copy_list(book: Book, key: ListKey, name: str) -> LinesChange:
    """Make a list of the same cuts and norms for the same portion, under another name.

    Raises:
        Refusal: There is no such list, or the name cannot be.
    """
    with book.reading() as work:
        lists = lists_in(work.lists())
        shop = shop_of(work)
    if key not in lists:
        raise Refusal(f"There is no list {key.name} any more. Look at the lists again.")
    made = new_list(lists, replace_name(key, name), shop)
    return _swap(book, LinesChange(made, (), as_list(lists[key], made)))


def replace_name(key: ListKey, name: str) -> ListKey:
    """The key of a list for the same portion."""
    return key._replace(name=name)


def new_list(lists: Mapping[ListKey, Lines], key: ListKey, shop: Shop) -> ListKey:
    """The key of a list that is not there yet, as it would be kept.

    Raises:
        Refusal: A part of it is missing or cannot be, or the portion has a list of that name.
    """
    same = [each.name for each in lists if each[1:] == key[1:]]
    name = fair_name(key.name, "A list", same, f"for {key.species} {key.portion}")
    terms = Terms(shop)
    found = []
    for column, text in zip(FORMS["cutting_lists"].columns, (name, *key[1:]), strict=False):
        try:
            found.append(column.value(terms, text))
        except ValueError as error:
            raise Refusal(f"{column.name.capitalize()}: {error}.") from None
    return ListKey(*found)


def read_norm(text: str, shop: Shop) -> Decimal | None:
    """A norm in per cent as it was typed; None for an empty text.

    Raises:
        Refusal: It is no number.
    """
    column = next(each for each in FORMS["cutting_lists"].columns if each.name == "norm_percent")
    try:
        found = column.value(Terms(shop), text)
    except ValueError as error:
        raise Refusal(f"Norm: {error}.") from None
    assert found is None or isinstance(found, Decimal)
    return found


def take_back_lines(book: Book, change: LinesChange) -> None:
    """Let a list stand as it stood before an act.

    Raises:
        Refusal: Somebody has changed it since, or cut by it meanwhile.
    """
    _swap(book, LinesChange(change.key, change.after, change.before), CHANGED_SINCE)


CHANGED = "Another station has changed {0} since. It stands here as it is now: look at it again."


def _swap(book: Book, change: LinesChange, since: str = CHANGED) -> LinesChange:
    key, old, new = change.key, change.before, change.after
    with book.transaction() as work:
        lines = work.lists()
        if lists_in(lines).get(key, ()) != old:
            raise Refusal(since.format(key.name))
        if not new:
            _refuse_if_cut_by(work, key)
        rest = [line for line in lines if (line.list, line.species, line.portion) != key]
        trade = Trade(shop_of(work), cuts=tuple(work.cuts()), lists=tuple(lines))
        refuse_new_problems(trade, replace(trade, lists=(*rest, *new)))
        work.put_list(key, new)
    return change


def _refuse_if_cut_by(work: Work, key: ListKey) -> None:
    """A list by which bodies were cut stays, so that their stages name one that there is."""
    trade = work.trade()
    others = lists_in(work.lists())
    if any(each.name == key.name for each in others if each != key):
        return
    count = sum(stage.list == key.name for stage in trade.stages)
    if count:
        bodies = "1 body was" if count == 1 else f"{count} bodies were"
        raise Refusal(
            f"{bodies} cut by {key.name}, so it stays in the book with at least one cut. "
            "Copy it under another name and cut by that one."
        )
