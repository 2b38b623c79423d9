"""The cabinet's services on a real book: the demo shop, invented like all of its figures."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.prices.cabinet import LineState
from gambrel.domain.prices.effects import effect_of, price_doubt
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.laying_out import cabinet_of
from gambrel.domain.prices.limits import Limit, SolveRules
from gambrel.domain.prices.whole_set import propose_for
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import CutKind
from gambrel.services.books import Book, open_book
from gambrel.services.cabinet import (
    CABINET_ORDER,
    cabinet,
    costs_by_method,
    dropped,
    keep_order,
    set_price,
    take,
)
from gambrel.services.price_acts import undo
from gambrel.services.settings import keep_setting
from gambrel.services.tickets import print_tickets
from gambrel.services.words import formats_for
from tests.trades import CUTS, a_shop

SATURDAY = datetime(2026, 11, 21, 3, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


@pytest.fixture
def book(demo_file: Path, tmp_path: Path) -> Iterator[Book]:
    copied = shutil.copy(demo_file, tmp_path / "demo.gambrel")
    with open_book(str(copied)) as opened:
        yield opened


def price(book: Book, cut: str, now: datetime) -> int:
    return cabinet(book, now).prices[cut]


def test_every_line_is_the_roll_up_s_own_money(book: Book) -> None:
    with book.reading() as work:
        trade = work.trade()
    costing = roll_up(trade, Method.NRV)
    done = {stage.stage.key for stage in costing.stages if not stage.stage.is_open}
    rump = [p for p in costing.pieces if p.piece.cut == "rump" and p.piece.stage in done]
    line = cabinet(book, SATURDAY).line("rump")
    assert line is not None
    assert line.grams == sum(part.rest_g for part in rump)
    assert line.cost == per_kilo(sum(part.rest_cost for part in rump), line.grams)
    assert line.price == 2799
    assert line.margin == (2799 - line.cost) / 2799


def test_only_what_is_for_sale_has_a_line(book: Book) -> None:
    found = cabinet(book, SATURDAY)
    assert {line.cut.kind for line in found.lines} == {CutKind.TRAY, CutKind.TRIM}
    assert all(line.price is not None or line.grams for line in found.lines)


def test_states_follow_cost_and_target(book: Book) -> None:
    found = cabinet(book, SATURDAY, Method.WEIGHT)
    for line in found.lines:
        if line.state is LineState.BELOW_COST:
            assert line.cost is not None
            assert line.price is not None
            assert line.price < line.cost
        if line.state is LineState.FINE:
            assert line.margin is not None
            assert line.margin >= found.target
    assert {LineState.BELOW_COST, LineState.THIN, LineState.FINE} <= {
        line.state for line in found.lines
    }


def test_a_stage_that_is_open_is_left_out(book: Book) -> None:
    with book.reading() as work:
        trade = work.trade()
    still_open = {stage.key for stage in trade.stages if stage.is_open}
    found = cabinet(book, SATURDAY)
    assert found.left_out == len(still_open) > 0
    on_block = {row.key for row in trade.inputs if row.stage in still_open}
    assert not on_block & {basket.key for basket in found.bodies}


def test_a_price_set_is_in_force_from_now_on_and_no_sooner(book: Book) -> None:
    set_price(book, "rump", 2999, SATURDAY)
    assert price(book, "rump", SATURDAY) == 2999
    assert price(book, "rump", SATURDAY - MINUTE) == 2799


def test_undo_brings_the_price_back_and_forgets_nothing(book: Book) -> None:
    made = set_price(book, "rump", 2999, SATURDAY)
    undo(book, made, SATURDAY + MINUTE)
    later = cabinet(book, SATURDAY + MINUTE)
    line = later.line("rump")
    assert line is not None
    assert [amount for _since, amount in line.history] == [2799, 2999, 2799]
    assert line.price == 2799


def test_undo_within_the_same_moment_still_wins(book: Book) -> None:
    made = set_price(book, "rump", 2999, SATURDAY)
    undo(book, made, SATURDAY)
    assert price(book, "rump", SATURDAY + MINUTE) == 2799


def test_undo_is_refused_when_somebody_set_it_again(book: Book) -> None:
    made = set_price(book, "rump", 2999, SATURDAY)
    set_price(book, "rump", 3099, SATURDAY + MINUTE)
    with pytest.raises(Refusal, match="changed meanwhile"):
        undo(book, made, SATURDAY + 2 * MINUTE)
    assert price(book, "rump", SATURDAY + 3 * MINUTE) == 3099


@pytest.mark.parametrize("absurd", [0, -1, 10**12])
def test_an_absurd_price_is_refused_and_changes_nothing(book: Book, absurd: int) -> None:
    with pytest.raises(Refusal, match="Rump"):
        set_price(book, "rump", absurd, SATURDAY)
    assert price(book, "rump", SATURDAY) == 2799


@pytest.mark.parametrize("cut", ["no-such-cut", "beef-bone"])
def test_what_is_not_for_sale_gets_no_price(book: Book, cut: str) -> None:
    with pytest.raises(Refusal):
        set_price(book, cut, 1000, SATURDAY)


def test_a_slip_of_the_decimal_point_is_doubted(book: Book) -> None:
    found = cabinet(book, SATURDAY)
    line, formats = found.line("rump"), formats_for(found.shop)
    assert line is not None
    assert "times what Rump costs" in price_doubt(line, 27990, formats)
    assert "far from today" in price_doubt(line, 280, formats)
    assert price_doubt(line, 2899, formats) == ""


def test_the_effect_of_today_s_price_is_nothing_and_a_dearer_one_earns_more(book: Book) -> None:
    found = cabinet(book, SATURDAY)
    holds = next(b.key for b in found.bodies if any(row.cut.key == "rump" for row in b.lines))
    same, dearer = (effect_of(found, "rump", amount, holds) for amount in (2799, 3099))
    for change in (same.cut, same.body, same.week):
        assert change.points == 0
        assert change.money == 0
    for change in (dearer.cut, dearer.body, dearer.week):
        assert change.points is not None
        assert change.points > 0
        assert change.money > 0


def test_a_proposal_taken_makes_the_body_earn_its_margin_and_is_undone_in_one_act(
    book: Book,
) -> None:
    found = cabinet(book, SATURDAY)
    basket = found.basket("HQ-16")
    proposal = propose_for(found, basket, Decimal("0.38"), SolveRules(Endings(100, (99,))))
    assert cabinet(book, SATURDAY).prices == found.prices, "a proposal changes nothing"
    made = take(book, proposal, SATURDAY)
    after = cabinet(book, SATURDAY)
    margin = after.basket("HQ-16").margin(after.prices, after.tax)
    assert margin is not None
    assert margin >= Decimal("0.38")
    assert all(change.price % 100 == 99 for change in made.changes)
    undo(book, made, SATURDAY + MINUTE)
    assert cabinet(book, SATURDAY + MINUTE).prices == found.prices


def test_a_pin_holds_and_one_line_may_be_taken_alone(book: Book) -> None:
    found = cabinet(book, SATURDAY)
    basket = found.basket("HQ-16")
    first, second = (line.cut.key for line in basket.lines[:2])
    rules = SolveRules(limits={first: Limit(held=True)})
    proposal = propose_for(found, basket, Decimal("0.45"), rules)
    assert next(line for line in proposal.lines if line.cut == first).price == found.prices[first]
    taken = take(book, proposal, SATURDAY, {second})
    assert [change.cut for change in taken.changes] == [second]


def test_a_proposal_grown_old_is_refused_whole(book: Book) -> None:
    found = cabinet(book, SATURDAY)
    proposal = propose_for(found, found.basket("HQ-16"), Decimal("0.38"), SolveRules())
    cut = proposal.lines[-1].cut
    set_price(book, cut, proposal.lines[-1].today + 100, SATURDAY)
    before = cabinet(book, SATURDAY).prices
    with pytest.raises(Refusal, match="changed meanwhile"):
        take(book, proposal, SATURDAY + MINUTE)
    assert cabinet(book, SATURDAY + 2 * MINUTE).prices == before


def test_a_cut_weighed_without_a_price_turns_the_sharing_to_weight_and_says_so(book: Book) -> None:
    from dataclasses import replace

    with book.reading() as work:
        trade = work.trade()
    bare = tuple(replace(cut, price=None) if cut.key == "rump" else cut for cut in trade.cuts)
    found = cabinet_of(replace(trade, cuts=bare), SATURDAY, Method.NRV)
    assert found.method is Method.WEIGHT
    assert "Rump" in found.note
    line = found.line("rump")
    assert line is not None
    assert line.state is LineState.NO_PRICE


def test_an_empty_trade_has_an_empty_cabinet() -> None:
    from gambrel.domain.trade.records import Trade

    found = cabinet_of(Trade(a_shop()), SATURDAY, Method.NRV)
    assert (found.lines, found.bodies, found.week.lines) == ((), (), ())
    priced = cabinet_of(Trade(a_shop(), cuts=CUTS), SATURDAY, Method.NRV)
    assert {line.state for line in priced.lines} == {LineState.NOT_CUT}
    with pytest.raises(Refusal, match="nothing for sale"):
        propose_for(priced, priced.week, Decimal("0.3"), SolveRules())


def test_lines_follow_the_order_of_the_trays(book: Book) -> None:
    first = [line.cut.key for line in cabinet(book, SATURDAY).lines]
    assert "shin" in first[1:]
    keep_order(book, ["shin", *(key for key in reversed(first) if key != "shin")])
    again = [line.cut.key for line in cabinet(book, SATURDAY).lines]
    assert again == ["shin", *(key for key in reversed(first) if key != "shin")]
    keep_setting(book, CABINET_ORDER, "[1]")
    spoilt = cabinet(book, SATURDAY)
    assert "Arrange them again" in spoilt.note
    assert [line.cut.key for line in spoilt.lines] == first


def test_costs_stand_side_by_side_and_are_the_lines_own(book: Book) -> None:
    side = costs_by_method(book, SATURDAY)
    assert list(side) == list(Method)
    for method, costs in side.items():
        assert costs is not None
        lines = cabinet(book, SATURDAY, method).lines
        own = {line.cut.key: line.cost for line in lines if line.cost is not None}
        assert costs == own
    assert side[Method.WEIGHT] != side[Method.NRV]


def test_without_a_cut_the_shop_would_have_earned_what_the_sums_say(book: Book) -> None:
    found = cabinet(book, SATURDAY, Method.WEIGHT)
    lost = [line for line in found.lines if line.state is LineState.BELOW_COST]
    assert lost
    for line in lost:
        said = dropped(book, line.cut.key, SATURDAY, Method.WEIGHT)
        assert line.price is not None
        assert said.takings == found.tax.net(line.price * line.grams / Decimal(1000)).quantize(
            Decimal(1), ROUND_HALF_UP
        )
        assert said.loss > 0


def test_tickets_come_in_the_order_of_the_trays(book: Book) -> None:
    plain = [ticket.cut for ticket in print_tickets(book, None, "a4-24", SATURDAY).tickets]
    keep_order(book, list(reversed(plain)))
    again = print_tickets(book, None, "a4-24", SATURDAY).tickets
    assert [ticket.cut for ticket in again] == list(reversed(plain))
    keep_setting(book, CABINET_ORDER, "nonsense")
    spoilt = print_tickets(book, None, "a4-24", SATURDAY).tickets
    assert [ticket.cut for ticket in spoilt] == plain
