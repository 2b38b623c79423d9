"""The shop's tubs: their names, empty weights and order, as the block offers them."""

from __future__ import annotations

from collections.abc import Callable

from gambrel.domain.bench.tub_edits import tubs_in
from gambrel.domain.bench.tubs import USUAL_TUBS, Tub, tubs_text
from gambrel.services.bench.looking import TUBS
from gambrel.services.books import Book
from gambrel.services.settings import Change, change_setting, read_setting

Edit = Callable[[tuple[Tub, ...]], tuple[Tub, ...]]


def shop_tubs(book: Book) -> tuple[Tub, ...]:
    """The tubs in their order; what a new book starts with where the shop has set none.

    Raises:
        Refusal: What is kept cannot be read.
    """
    return tubs_in(read_setting(book, TUBS))


def change_tubs(book: Book, edit: Edit) -> Change:
    """Change the tubs by one of `gambrel.domain.bench.tub_edits`.

    Raises:
        Refusal: The edit refuses, or what is kept cannot be read.
    """
    return change_setting(book, TUBS, lambda before: tubs_text(edit(tubs_in(before))))


def usual_tubs(book: Book) -> Change:
    """Begin again with the usual tubs, for a list that cannot be read."""
    return change_setting(book, TUBS, lambda _before: tubs_text(USUAL_TUBS))
