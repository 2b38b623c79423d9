"""The catalogue as the shop changes it: cuts with what labels say of them, added, changed, retired.

A cut is typed as the texts of its row in the plain files, and is read by the same columns and
reviewed by the same rules as a folder that is loaded.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gambrel.domain.bench.allergens import checked_allergens
from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Problem, Refusal, RowsRefused
from gambrel.domain.review.whole import review
from gambrel.domain.trade.around import CutLabel, Recipe, RecipeLine
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.domain.trade.cut_edits import fair_name, refuse_if_recosted
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.retired import RETIRED, read_retired, retired_text
from gambrel.services.folder.beside_forms import BESIDE
from gambrel.services.folder.cells import Terms
from gambrel.services.folder.forms import FORMS, Form
from gambrel.services.settings import CHANGED_SINCE, Change, change_in

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

CUT_FORM, LABEL_FORM = FORMS["cuts"], BESIDE[CutLabel]

CAPTIONS = {
    "cut": "Key",
    "name": "Name",
    "species": "Species",
    "kind": "Kind",
    "price_per_kg": "First price",
    "finish_per_kg": "Finishing cost",
    "credit_per_kg": "Credit",
    "shelf_life_days": "Shelf life",
    "plu": "PLU",
    "unece": "UNECE code",
    "ingredients": "Ingredients",
    "allergens": "Allergens",
    "storage": "Storage",
    "cooking": "Cooking",
    "norm_percent": "Norm",
}
"""What people call the columns of a cut and its label, and of a cutting list."""


@dataclass(frozen=True, slots=True)
class Card:
    """A cut, and what labels say of it."""

    cut: Cut
    label: CutLabel


@dataclass(frozen=True, slots=True)
class Entry:
    """A cut of the catalogue with what hangs on it.

    ``pieces`` counts those that stand; ``named`` says whether anything in the book names the cut,
    so that it can only be retired; ``lists`` are those it stands on.
    """

    card: Card
    pieces: int
    lists: tuple[str, ...]
    named: bool
    retired: bool


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Every cut by its key."""

    shop: Shop
    entries: Mapping[str, Entry]

    @property
    def currency(self) -> Currency:
        """The book's."""
        return self.shop.currency


@dataclass(frozen=True, slots=True)
class CardChange:
    """A card before an act and after it; None where there was or is none."""

    before: Card | None
    after: Card | None


def catalogue(book: Book) -> Catalogue:
    """The catalogue as it is now.

    Raises:
        Refusal: The book has no shop yet.
    """
    with book.reading() as work:
        shop, cuts, lines = shop_of(work), work.cuts(), work.lists()
        labels = {label.cut: label for label in work.every(CutLabel)}
        pieces, named = work.pieces_by_cut(), work.cuts_named()
        retired = read_retired(work.setting(RETIRED))
    lists: dict[str, list[str]] = {}
    for line in lines:
        lists.setdefault(line.cut, []).append(line.list)
    return Catalogue(
        shop,
        {
            cut.key: Entry(
                Card(cut, labels.get(cut.key, CutLabel(cut.key))),
                pieces.get(cut.key, 0),
                tuple(dict.fromkeys(lists.get(cut.key, ()))),
                cut.key in named,
                cut.key in retired,
            )
            for cut in cuts
        },
    )


def shop_of(work: Work) -> Shop:
    """The shop of the book.

    Raises:
        Refusal: It has none yet.
    """
    shop = work.shop()
    if shop is None:
        raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
    return shop


# --- Between a card and what is typed ---


def texts_of(card: Card, shop: Shop) -> dict[str, str]:
    """A card as the texts of its row in the plain files, by their columns."""
    terms = Terms(shop)
    cells = dict(zip(CUT_FORM.header, CUT_FORM.cells(terms, card.cut), strict=True))
    return cells | dict(zip(LABEL_FORM.header, LABEL_FORM.cells(terms, card.label), strict=True))


def card_of(texts: Mapping[str, str], shop: Shop) -> Card:
    """The card that typed texts stand for; a text that is left out is empty.

    Raises:
        RowsRefused: Everything that cannot be read, a sentence each.
    """
    terms, said = Terms(shop), list[str]()
    values = {
        form.table: list(_values(form, texts, terms, said)) for form in (CUT_FORM, LABEL_FORM)
    }
    if said:
        raise RowsRefused(tuple(dict.fromkeys(said)))
    cut, label = CUT_FORM.make(values["cuts"]), LABEL_FORM.make(values["labels"])
    assert isinstance(cut, Cut)
    assert isinstance(label, CutLabel)
    return Card(cut, label)


def _values(
    form: Form, texts: Mapping[str, str], terms: Terms, said: list[str]
) -> Iterator[object]:  # fmt: skip
    for column in form.columns:
        try:
            yield column.value(terms, texts.get(column.name, ""))
        except ValueError as error:
            said.append(f"{CAPTIONS[column.name]}: {error}.")


# --- Acts ---


def add_card(book: Book, card: Card) -> CardChange:
    """Take a new cut into the catalogue.

    Raises:
        Refusal: The key is taken, or the cut cannot be.
    """
    return _swap(book, None, card)


def change_card(book: Book, old: Card, new: Card) -> CardChange:
    """Change a cut that was seen as ``old``.

    Raises:
        Refusal: Another station has changed it since, or it cannot be so.
    """
    return _swap(book, old, new)


def remove_card(book: Book, card: Card) -> CardChange:
    """Take a cut out of the catalogue that nothing names.

    Raises:
        Refusal: Something names it, or another station has changed it since.
    """
    return _swap(book, card, None)


def take_back_card(book: Book, change: CardChange) -> None:
    """Let a card stand as it stood before an act.

    Raises:
        Refusal: Somebody has changed it since, or it was used meanwhile.
    """
    _swap(book, change.after, change.before, back=True)


CHANGED = "Another station has changed {0} since. It stands here as it is now: look at it again."


def _swap(
    book: Book, old: Card | None, new: Card | None, *, back: bool = False
) -> CardChange:  # fmt: skip
    """Let ``new`` stand where ``old`` stands; None is no card. ``back`` puts it as it stood."""
    known = old or new
    assert known is not None
    with book.transaction() as work:
        trade = Trade(shop_of(work), cuts=tuple(work.cuts()))
        now = _card_in(work, trade.cuts, known.cut.key)
        if old is None and now is not None:
            raise Refusal(
                f"The key {known.cut.key} is {now.cut.name}'s. Give this cut another key."
            )
        if now != old:
            raise Refusal(CHANGED_SINCE if back else CHANGED.format(known.cut.name))
        if new is None:
            _refuse_if_named(work, known.cut)
            work.drop(known.label)
            work.drop(known.cut)
            return CardChange(old, None)
        new = new if back else _fair(new, old, trade.cuts)
        if old is not None:
            refuse_if_recosted(old.cut, new.cut, work.pieces_by_cut().get(new.cut.key, 0))
        refuse_new_problems(trade, replace(trade, cuts=(*_others(trade.cuts, new), new.cut)))
        _write(work, new)
    return CardChange(old, new)


def _card_in(work: Work, cuts: Iterable[Cut], key: str) -> Card | None:
    cut = next((cut for cut in cuts if cut.key == key), None)
    if cut is None:
        return None
    return Card(cut, next(iter(work.every(CutLabel, cut=key)), CutLabel(key)))


def _others(cuts: Iterable[Cut], card: Card) -> list[Cut]:
    return [cut for cut in cuts if cut.key != card.cut.key]


def _fair(card: Card, old: Card | None, cuts: Iterable[Cut]) -> Card:
    """The card as it is kept; a name that was loaded so may stay as it is."""
    cut, label = card.cut, card.label
    if old is None or old.cut.name != cut.name:
        same = [each.name for each in _others(cuts, card) if each.species == cut.species]
        name = fair_name(cut.name, "A cut", same, f"among the cuts of {cut.species}")
        cut = replace(cut, name=name)
    lines = {
        field: " ".join(getattr(label, field).split())
        for field in ("ingredients", "storage", "cooking")
    }
    allergens = checked_allergens(label.allergens)
    return Card(cut, replace(label, cut=cut.key, allergens=allergens, **lines))


def refuse_new_problems(before: Trade, after: Trade) -> None:
    """Refuse what a review of the book would find wrong after a change and not before it.

    Raises:
        RowsRefused: The reviews' own sentences.
    """
    known = set(review(before))
    found = [problem for problem in review(after) if problem not in known]
    if found:
        raise RowsRefused([_sentence(problem) for problem in found])


def _sentence(problem: Problem) -> str:
    caption = CAPTIONS.get(problem.column, problem.column.replace("_", " ").capitalize())
    return f"{caption}: {problem.message}."


def _write(work: Work, card: Card) -> None:
    work.keep(card.cut)
    if card.label == CutLabel(card.cut.key):
        work.drop(card.label)
    else:
        work.keep(card.label)


def _refuse_if_named(work: Work, cut: Cut) -> None:
    uses = work.uses_of_cut(cut.key)
    if uses:
        raise Refusal(
            f"{cut.name} is named in the book ({', '.join(uses)}), so it stays in the record. "
            "Retire it instead."
        )


# --- Retiring ---


def retire_cut(book: Book, cut: str) -> Change:
    """Offer a cut no more: not at the block, not for a list. What was weighed keeps it.

    Raises:
        Refusal: There is no such cut, or lists or recipes have it still.
    """
    with book.transaction() as work:
        _refuse_if_listed(work, _known(work, cut))
        return change_in(
            work, RETIRED, lambda kept: retired_text(read_retired(kept) | {cut})
        )  # fmt: skip


def bring_back_cut(book: Book, cut: str) -> Change:
    """Offer a retired cut again.

    Raises:
        Refusal: There is no such cut.
    """
    with book.transaction() as work:
        _known(work, cut)
        return change_in(work, RETIRED, lambda kept: retired_text(read_retired(kept) - {cut}))


def _known(work: Work, key: str) -> Cut:
    found = next((cut for cut in work.cuts() if cut.key == key), None)
    if found is None:
        raise Refusal(f"There is no cut {key!r} any more. Look at the list again.")
    return found


def _refuse_if_listed(work: Work, cut: Cut) -> None:
    lists = dict.fromkeys(line.list for line in work.lists() if line.cut == cut.key)
    if lists:
        raise Refusal(
            f"{cut.name} stands on {', '.join(lists)}. Take it off there first, under Lists."
        )
    used = {line.recipe for line in work.every(RecipeLine, cut=cut.key)}
    named = [row.name for row in work.every(Recipe) if row.key in used or row.product == cut.key]
    if named:
        raise Refusal(
            f"The recipe of {', '.join(named)} needs {cut.name}. Change it in the Tub first."
        )
