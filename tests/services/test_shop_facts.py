"""The facts of the shop: set one by one by the file's own rules, and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.around import Ingredient
from gambrel.domain.trade.catalogue import Cut, CutKind, Shop
from gambrel.services.books import Book, open_book
from gambrel.services.cost_report import cost_book
from gambrel.services.currencies import currencies_like
from gambrel.services.folder.load import load_folder
from gambrel.services.settings import keep_setting
from gambrel.services.shop_facts import (
    TITLES,
    make_shop,
    read_fact,
    refused_fact,
    set_fact,
    shop_facts,
    take_fact_back,
    zones_like,
)
from gambrel.services.solve_rules import SOLVE_RULES
from tests.small_shop import write_shop

VALUES: dict[str, str | bool] = {
    "name": "Test bench",
    "currency": "AUD",
    "time_zone": "Australia/Melbourne",
    "day_starts": "04:00",
    "week_starts": "monday",
    "work_per_hour": "37.50",
    "tax_percent": "0",
    "prices_include_tax": False,
    "target_margin_percent": "38",
}


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "shop.gambrel")) as opened:
        yield opened


@pytest.fixture
def book(empty: Book) -> Book:
    """A shop that has bought and sold nothing yet."""
    make_shop(empty, VALUES)
    return empty


def shop_of(book: Book) -> Shop:
    return shop_facts(book).shop


def test_a_new_shop_has_just_the_facts_that_were_given(book: Book) -> None:
    assert shop_facts(book).values == VALUES
    assert list(shop_facts(book).values) == list(TITLES)
    assert not shop_facts(book).fixed_currency
    with pytest.raises(Refusal, match="has a shop by now"):
        make_shop(book, VALUES)


def test_a_shop_with_facts_missing_is_refused_by_each_of_them(empty: Book) -> None:
    with pytest.raises(RowsRefused) as caught:
        make_shop(empty, {"name": " ", "currency": "AUS", "week_starts": "monday"})
    said = caught.value.sentences
    assert [sentence.partition(":")[0] for sentence in said] == [
        "Name",
        "Currency",
        "Time zone",
        "Day starts",
        "Work per hour",
        "Tax",
        "Prices include tax",
        "Target margin",
    ]
    assert said[1].startswith("Currency: 'AUS' is not a currency, expected an ISO 4217 code")
    with empty.reading() as work:
        assert work.shop() is None


@pytest.mark.parametrize(
    ("name", "value", "field", "after"),
    [
        ("name", "  The other shop ", "name", "The other shop"),
        ("time_zone", "Europe/Dublin", "time_zone", "Europe/Dublin"),
        ("week_starts", "sunday", "week_starts", 6),
        ("work_per_hour", "41.20", "work_per_hour", 4120),
        ("tax_percent", "13.5", "tax_percent", Decimal("13.5")),
        ("prices_include_tax", True, "prices_include_tax", True),
        ("target_margin_percent", "42", "target_margin_percent", Decimal(42)),
    ],
)
def test_each_fact_is_set_and_taken_back_alone(
    book: Book, name: str, value: str | bool, field: str, after: object
) -> None:
    before = shop_of(book)
    change = set_fact(book, name, value)
    assert getattr(shop_of(book), field) == after
    other = set_fact(book, "day_starts", "05:30")
    take_fact_back(book, change)
    assert getattr(shop_of(book), field) == getattr(before, field)
    assert f"{shop_of(book).day_starts:%H:%M}" == "05:30"  # what was changed since stays
    take_fact_back(book, other)
    assert shop_of(book) == before


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("name", "", "Name: '' is not a text, expected one such as"),
        ("name", "x" * 2001, "Name: 2001 characters are too many"),
        ("time_zone", "Australia/Melborne", "did you mean 'Australia/Melbourne'?"),
        ("day_starts", "24:00", "Day starts: '24:00' is not a time of day"),
        ("work_per_hour", "-1", "Work per hour: '-1' is negative, expected zero or more."),
        ("work_per_hour", "1.234", "has too many decimals; expected AUD such as 12.50."),
        ("tax_percent", "101", "Tax: '101' is not such a per cent, expected 0 to 100, such as"),
        ("target_margin_percent", "100", "expected a margin below 100 per cent."),
        ("currency", "AUS", "Currency: 'AUS' is not a currency"),
    ],
)
def test_what_cannot_be_is_refused_by_the_files_rules(
    book: Book, name: str, value: str, said: str
) -> None:
    before = shop_of(book)
    with pytest.raises(Refusal) as caught:
        set_fact(book, name, value)
    assert said in str(caught.value)
    assert "quotes" not in str(caught.value)
    assert shop_of(book) == before


def test_what_another_station_changed_since_is_not_undone(book: Book) -> None:
    mine = set_fact(book, "tax_percent", "10")
    set_fact(book, "tax_percent", "15")
    with pytest.raises(Refusal, match="Another station"):
        take_fact_back(book, mine)
    assert shop_of(book).tax_percent == 15


def test_the_currency_changes_only_while_no_money_is_in_the_book(book: Book) -> None:
    change = set_fact(book, "currency", "EUR")
    assert shop_of(book).currency.code == "EUR"
    with book.transaction() as work:
        work.add([Cut("rump", "Rump", "beef", CutKind.TRAY, price=None)])
    assert not shop_facts(book).fixed_currency
    with book.transaction() as work:
        work.put(Ingredient("salt", "Salt", 120))
    assert shop_facts(book).fixed_currency
    with pytest.raises(Refusal, match="amounts in EUR, so its currency stays"):
        set_fact(book, "currency", "AUD")
    with pytest.raises(Refusal, match="amounts in EUR"):
        take_fact_back(book, change)
    assert shop_of(book).currency.code == "EUR"


def test_each_kind_of_amount_fixes_the_currency(book: Book) -> None:
    for cut in (
        Cut("a", "A", "beef", CutKind.TRAY, price=100),
        Cut("b", "B", "beef", CutKind.TRAY, finish=10),
        Cut("c", "C", "beef", CutKind.BYPRODUCT, credit=-15),
    ):
        with book.transaction() as work:
            work.keep(cut)
        assert shop_facts(book).fixed_currency, cut
        with book.transaction() as work:
            work.drop(cut)
        assert not shop_facts(book).fixed_currency, cut
    keep_setting(book, SOLVE_RULES, "{}")
    assert shop_facts(book).fixed_currency


def test_bodies_alone_fix_the_currency(empty: Book, tmp_path: Path) -> None:
    bare = "cut,name,species,kind\nrump,Rump,beef,tray\nbone,Bone,beef,byproduct\n"
    gone = dict.fromkeys(("stages", "pieces", "inputs", "voids", "prices", "writeoffs"))
    load_folder(empty, write_shop(tmp_path / "in", cuts=bare, **gone))
    assert shop_facts(empty).fixed_currency


def test_a_currency_without_decimals_wants_a_whole_rate_first(book: Book) -> None:
    with pytest.raises(Refusal) as caught:
        set_fact(book, "currency", "JPY")
    assert str(caught.value).endswith("Change Work per hour first, then Currency.")
    set_fact(book, "work_per_hour", "3700")
    change = set_fact(book, "currency", "JPY")
    assert shop_of(book).work_per_hour == 3700
    take_fact_back(book, change)
    assert shop_facts(book).values["work_per_hour"] == "3700.00"


def test_a_fact_is_looked_at_while_others_are_missing() -> None:
    assert refused_fact({"tax_percent": "10"}, "tax_percent") == ""
    assert refused_fact({"tax_percent": "x"}, "tax_percent").startswith("Tax: 'x'")
    assert refused_fact({}, "tax_percent") == ""
    assert read_fact(VALUES, "name", "New").name == "New"


def test_the_past_is_costed_at_todays_rate(empty: Book, tmp_path: Path) -> None:
    """Not how it should be for ever, but how it is: what the screen says before a change."""
    load_folder(empty, write_shop(tmp_path / "in"))
    assert {cost.stage.key: cost.work for cost in cost_book(empty).stages} == {
        "S1": 1406,  # 22.5 minutes at 37.50
        "S2": 625,
    }
    set_fact(empty, "work_per_hour", "75.00")
    assert {cost.stage.key: cost.work for cost in cost_book(empty).stages} == {
        "S1": 2813,
        "S2": 1250,
    }


def test_zones_are_found_by_their_place() -> None:
    assert zones_like("dublin", 3) == ["Europe/Dublin"]
    assert zones_like("new york", 1) == ["America/New_York"]
    assert zones_like("Australia/Melbourne", 3) == ["Australia/Melbourne"]
    assert zones_like("gmt", 40)[-1].startswith(("Etc/", "GMT"))
    assert zones_like(" ", 3) == []
    assert zones_like("nowhere at all", 3) == []


def test_currencies_are_found_by_code_and_by_name() -> None:
    assert currencies_like("nz", 3) == [("NZD", "New Zealand Dollar")]
    assert ("AUD", "Australian Dollar") in currencies_like("australian", 3)
    assert len(currencies_like("dollar", 4)) == 4
    assert currencies_like("", 3) == []


def test_a_book_without_a_shop_has_no_facts(empty: Book) -> None:
    with pytest.raises(Refusal, match="no shop yet"):
        shop_facts(empty)
