"""What a shop sets up: limits, country and tubs, on a real book; every act can be taken back."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from gambrel.domain.bench.shop_limits import HANG, TRIM_AGE, WARMEST
from gambrel.domain.bench.tub_edits import added, removed
from gambrel.domain.bench.tubs import USUAL_TUBS, Tub
from gambrel.domain.prices.body_limits import BODY_DAYS_SETTING, read_body_days
from gambrel.domain.refusals import Refusal
from gambrel.services.bench.looking import TUBS
from gambrel.services.books import Book, open_book
from gambrel.services.settings import keep_setting, read_setting, take_back
from gambrel.services.shop_limits import (
    BODY_DAYS,
    Own,
    country_name,
    own_limits,
    set_country,
    set_limit,
)
from gambrel.services.tub import tub_limits
from gambrel.services.tubs import change_tubs, shop_tubs, usual_tubs


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "shop.gambrel")) as opened:
        yield opened


def test_a_limit_is_set_taken_back_and_set_to_the_usual(book: Book) -> None:
    assert own_limits(book) == Own({})
    first = set_limit(book, WARMEST, "5")
    second = set_limit(book, WARMEST, "4.5")
    assert own_limits(book).numbers == {WARMEST.setting: Decimal("4.5")}
    take_back(book, second)
    assert own_limits(book).numbers == {WARMEST.setting: Decimal(5)}
    take_back(book, first)
    assert own_limits(book) == Own({})
    set_limit(book, TRIM_AGE, "1")
    assert tub_limits(book).age_days == 1
    set_limit(book, TRIM_AGE, "")
    assert tub_limits(book).age_days == 3


def test_a_limit_that_cannot_be_changes_nothing(book: Book) -> None:
    set_limit(book, HANG["beef"], "14")
    for wrong in ("0", "366", "1.5", "many"):
        with pytest.raises(Refusal):
            set_limit(book, HANG["beef"], wrong)
    assert own_limits(book).numbers == {HANG["beef"].setting: Decimal(14)}


def test_what_another_station_changed_since_is_not_undone(book: Book) -> None:
    mine = set_limit(book, WARMEST, "5")
    set_limit(book, WARMEST, "4")
    with pytest.raises(Refusal, match="Another station"):
        take_back(book, mine)
    assert own_limits(book).numbers == {WARMEST.setting: Decimal(4)}


def test_days_of_a_species_are_kept_together_and_taken_back(book: Book) -> None:
    keep_setting(book, BODY_DAYS_SETTING, "beef=35,venison=9")
    lamb = set_limit(book, BODY_DAYS["lamb"], "14")
    kept = read_setting(book, BODY_DAYS_SETTING)
    assert read_body_days(kept) == {"beef": 35, "venison": 9, "lamb": 14}
    assert own_limits(book).value(BODY_DAYS["lamb"]) == 14
    for none in ("0", ""):
        gone = set_limit(book, BODY_DAYS["beef"], none)
        assert read_body_days(read_setting(book, BODY_DAYS_SETTING)) == {"venison": 9, "lamb": 14}
        assert own_limits(book).value(BODY_DAYS["beef"]) == 0
        take_back(book, gone)
    take_back(book, lamb)
    assert own_limits(book).numbers == {BODY_DAYS["beef"].setting: 35}
    with pytest.raises(Refusal, match="0 for no limit"):
        set_limit(book, BODY_DAYS["beef"], "1000")


def test_days_that_cannot_be_read_are_begun_again(book: Book) -> None:
    keep_setting(book, BODY_DAYS_SETTING, "beef: 35")
    assert own_limits(book) == Own({})
    set_limit(book, BODY_DAYS["beef"], "30")
    assert read_setting(book, BODY_DAYS_SETTING) == "beef=30"


def test_a_country_is_one_that_there_is(book: Book) -> None:
    change = set_country(book, " ie ")
    assert own_limits(book).country == "IE"
    assert tub_limits(book).country == "IE"
    for wrong in ("XX", "EU", "ZZ", "YU", "Eire", "1E"):
        with pytest.raises(Refusal, match="such as IE"):
            set_country(book, wrong)
    assert own_limits(book).country == "IE"
    take_back(book, change)
    assert own_limits(book).country == ""


def test_a_country_is_told_by_its_name() -> None:
    assert country_name("IE") == "Ireland"
    assert country_name("XX") == ""


def test_tubs_are_changed_and_taken_back(book: Book) -> None:
    assert shop_tubs(book) == USUAL_TUBS
    change = change_tubs(book, lambda tubs: added(tubs, "blue tub", 700))
    assert shop_tubs(book)[-1] == Tub("blue tub", 700)
    other = change_tubs(book, lambda tubs: removed(tubs, "tray"))
    with pytest.raises(Refusal, match="Another station"):
        take_back(book, change)
    take_back(book, other)
    take_back(book, change)
    assert shop_tubs(book) == USUAL_TUBS


def test_a_list_of_tubs_that_cannot_be_read_is_begun_again(book: Book) -> None:
    keep_setting(book, TUBS, "?")
    with pytest.raises(Refusal, match="cannot be read"):
        shop_tubs(book)
    with pytest.raises(Refusal, match="cannot be read"):
        change_tubs(book, lambda tubs: removed(tubs, "tray"))
    assert read_setting(book, TUBS) == "?"
    usual_tubs(book)
    assert shop_tubs(book) == USUAL_TUBS
