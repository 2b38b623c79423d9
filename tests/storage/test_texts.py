"""What the book takes as a text is what the plain files can hold: one rule, asked in both."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from typing import Any

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.rows import TABLES
from gambrel.domain.trade.texts import refuse_unfit
from gambrel.services.folder.beside_forms import BESIDE
from gambrel.services.folder.cells import Terms
from gambrel.services.folder.forms import FORMS, Form
from gambrel.storage.book import Book
from gambrel.storage.work import Work
from tests.storage.beside_samples import DONE, KEPT, LINES, RECIPE
from tests.storage.samples import SHOP, TRADE

TERMS = Terms(SHOP)
UNFIT = ("x" * 101, "x" * 2_001, "un\u200bseen", "no\0text")
FIT = ("", "x" * 100, "Ana", "Grass-fed, dry-aged; hung 21 days")


def rows_with_forms() -> Iterator[tuple[Form, Any]]:
    for table in TABLES:
        for record in getattr(TRADE, table, ()):
            yield FORMS[table], record
    for record in (*KEPT, RECIPE, *LINES, *DONE):
        if type(record) in BESIDE:
            yield BESIDE[type(record)], record


def text_fields(record: Any) -> list[str]:
    names = record._fields if hasattr(record, "_fields") else [each.name for each in fields(record)]
    return [name for name in names if type(getattr(record, name)) is str]


def with_text(record: Any, field: str, text: str) -> Any:
    change = {field: text}
    return record._replace(**change) if hasattr(record, "_fields") else replace(record, **change)


def loads(form: Form, record: Any) -> bool:
    """Whether what is written of a record would be read again."""
    for column, text in zip(form.columns, form.cells(TERMS, record), strict=True):
        if "\0" in text:  # told of the line before its cells are read
            return False
        try:
            if text:
                column.cell.read(TERMS, text)
        except ValueError:
            return False
    return True


def test_the_book_refuses_a_text_exactly_where_the_plain_files_do() -> None:
    looked_at = set()
    for form, record in rows_with_forms():
        for field in text_fields(record):
            if (type(record).__name__, field) == ("Person", "pin"):
                continue  # stays in the book
            for text in (*UNFIT, *FIT):
                changed = with_text(record, field, text)
                try:
                    refuse_unfit([changed])
                except Refusal:
                    taken = False
                else:
                    taken = True
                looked_at.add((form.table, field))
                assert taken == loads(form, changed), (form.table, field, text[:20], len(text))
    assert len(looked_at) > 40


def test_nothing_of_an_act_is_kept_where_one_text_does_not_fit(book: Book) -> None:
    supplier, other = TRADE.suppliers
    with book.transaction() as work:
        work.set_shop(SHOP)
    with pytest.raises(Refusal) as refused, book.transaction() as work:
        work.add([supplier, replace(other, contact="x" * 2_001)])
    assert str(refused.value) == "The contact is longer than 2000 letters. Shorten it."
    with book.reading() as work:
        assert work.suppliers() == []


@pytest.mark.parametrize(
    ("name", "value", "sentence"),
    [
        ("x" * 101, "", "The name is longer than 100 letters. Shorten it."),
        ("tubs", "x" * 600_001, "The setting is longer than 600000 letters. Shorten it."),
        ("tubs", "a\0b", "The setting has an unseen character in it. Type it again."),
    ],
)
def test_a_setting_that_could_not_be_loaded_is_refused(
    book: Book, name: str, value: str, sentence: str
) -> None:
    with pytest.raises(Refusal) as refused, book.transaction() as work:
        work.set_setting(name, value)
    assert str(refused.value) == sentence


def test_a_lone_half_of_a_character_is_refused_and_not_a_fault(book: Book) -> None:
    with pytest.raises(Refusal, match="unseen character"), book.transaction() as work:
        work.set_shop(replace(SHOP, name="half \ud83d of one"))


def test_every_way_into_the_book_asks(book: Book) -> None:
    long = "x" * 101
    line = replace(TRADE.lists[0], list=long)
    ways: list[Callable[[Work], None]] = [
        lambda work: work.add([replace(TRADE.cuts[0], species=long)]),
        lambda work: work.keep(replace(TRADE.cuts[0], species=long)),
        lambda work: work.put_list((long, "beef", "hindquarter"), [line]),
        lambda work: work.put(with_text(KEPT[0], "name", long)),
        lambda work: work.put_recipe(RECIPE, [replace(LINES[0], cut=long)]),
        lambda work: work.note([with_text(DONE[0], "lot", long)]),
    ]
    with book.transaction() as work:
        work.set_shop(SHOP)
    for way in ways:
        with pytest.raises(Refusal, match="is longer than 100 letters"), book.transaction() as work:
            way(work)
