"""What the shop keeps about solving, and the purchase price that would do, on the demo shop."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

import pytest

from gambrel.domain.costing.methods import Method
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.laying_out import SPECIES, cabinet_of
from gambrel.domain.prices.limits import Limit, SolveRules
from gambrel.domain.prices.whole_set import propose_for
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Trade
from gambrel.services.books import Book, open_book
from gambrel.services.cabinet import cabinet
from gambrel.services.settings import keep_setting
from gambrel.services.solve_rules import (
    SOLVE_RULES,
    keep_rules,
    purchase_for,
    purchase_in,
    solve_rules,
)

SATURDAY = datetime(2026, 11, 21, 3, tzinfo=UTC)
TARGET = Decimal("0.55")


@pytest.fixture(scope="module")
def book(demo_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    copied = shutil.copy(demo_file, tmp_path_factory.mktemp("rules") / "demo.gambrel")
    with open_book(str(copied)) as opened:
        yield opened


@pytest.fixture(scope="module")
def trade(book: Book) -> Trade:
    with book.reading() as work:
        return work.trade()


def test_rules_are_kept_in_the_book(book: Book) -> None:
    assert solve_rules(book) is None
    rules = SolveRules(Endings(100, (99,)), {"rump": Limit(floor=2500, sold=Decimal("0.95"))})
    keep_rules(book, rules)
    assert solve_rules(book) == rules
    keep_setting(book, SOLVE_RULES, '{"endings": 1}')
    with pytest.raises(Refusal, match="Set them again on the Solve panel"):
        solve_rules(book)


@pytest.mark.parametrize("key", ["HQ-16", f"{SPECIES}lamb", ""])
def test_a_purchase_that_is_named_meets_the_target_and_a_dearer_one_does_not(
    book: Book, trade: Trade, key: str
) -> None:
    found = cabinet(book, SATURDAY)
    rules = SolveRules(limits={cut: Limit(ceiling=price) for cut, price in found.prices.items()})
    proposal = propose_for(found, found.basket(key), TARGET, rules)
    assert proposal.shortfall > 0
    purchase = purchase_for(book, key, proposal.affordable_cost, SATURDAY, found.method)
    assert purchase is not None
    assert purchase.lowered > 0
    species = key.removeprefix(SPECIES)
    for lowered, enough in ((purchase.lowered, True), (purchase.lowered - 1, False)):
        bodies = tuple(
            replace(body, price=max(body.price - lowered, 0))
            if key in ("", body.key) or body.species == species
            else body
            for body in trade.bodies
        )
        again = cabinet_of(replace(trade, bodies=bodies), SATURDAY, Method.NRV)
        solved = propose_for(again, again.basket(key), TARGET, rules)
        assert (solved.shortfall <= 0) is enough


def test_no_purchase_price_makes_up_for_prices_below_the_work(trade: Trade) -> None:
    assert purchase_in(trade, "HQ-16", 1, SATURDAY, Method.NRV) is None
