"""What the Cabinet says, without a window."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from gambrel.domain.costing.methods import Method
from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.cabinet import Cabinet
from gambrel.domain.prices.dropping import if_dropped
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.laying_out import cabinet_of
from gambrel.domain.prices.limits import Limit, SolveRules
from gambrel.domain.prices.purchase import Purchase
from gambrel.domain.prices.whole_set import propose_for
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PriceChange,
    Source,
    Stage,
    StageKind,
    Trade,
)
from gambrel.services.words import formats_for
from gambrel.ui.cabinet.price_state import LOSS_BY_WEIGHT, price_state
from gambrel.ui.cabinet.solve_state import (
    endings_of,
    limit_state,
    limit_texts,
    purchase_words,
    solve_state,
    typed_limit,
)
from gambrel.ui.cabinet.state import chips_of, footer_of, rows_of
from gambrel.ui.cabinet.tickets_state import changed_this_week
from tests.trades import CUTS, START, a_shop

NOW = START + timedelta(days=1)


def trade(**changes: object) -> Trade:
    """One body of $100.00, all of it broken: 4 kg of rump and 6 kg of shin."""
    parts: dict[str, object] = {
        "shop": a_shop(work_per_hour=0),
        "cuts": CUTS,
        "bodies": (Body("HQ-1", "beef", "hindquarter", "F", START, 10_000, 1_000),),
        "stages": (Stage("S1", StageKind.BREAK, START, START + timedelta(hours=1)),),
        "inputs": (Input("S1", Source.BODY, "HQ-1"),),
        "pieces": (
            Piece("P1", "S1", "rump", 4_000, 0, START + timedelta(minutes=10)),
            Piece("P2", "S1", "shin", 6_000, 0, START + timedelta(minutes=20)),
        ),
    }
    return Trade(**(parts | changes))  # type: ignore[arg-type]  # names are checked by Trade


def by_weight(**changes: object) -> Cabinet:
    return cabinet_of(trade(**changes), NOW, Method.WEIGHT)


def test_a_row_says_its_figures_worked_by_hand() -> None:
    # By weight a kilo costs 100.00 / 10 = 10.00, and rump 0.48 of finishing more.
    found = by_weight()
    row = next(row for row in rows_of(found, formats_for(found.shop)) if row.key == "rump")
    assert (row.kilos, row.cost, row.price) == ("4.00 kg", "$10.48", "$26.99")
    assert row.margin == formats_for(found.shop).percent(Decimal(2699 - 1048) / 2699)
    assert (row.word, row.meaning) == ("fine", "fine")


def test_a_price_that_never_changed_is_a_level_line() -> None:
    found = by_weight()
    row = next(row for row in rows_of(found, formats_for(found.shop)) if row.key == "rump")
    assert row.history == (2699, 2699)


def test_the_warning_that_the_trade_needs_stands_only_at_a_loss_by_weight() -> None:
    found = by_weight()
    line, formats = found.line("shin"), formats_for(found.shop)
    assert line is not None
    body = next(iter(found.holding("shin")))
    assert price_state(found, line, 999, body, formats).warning == LOSS_BY_WEIGHT
    assert price_state(found, line, 1499, body, formats).warning == ""
    by_value = cabinet_of(trade(), NOW, Method.NRV)
    dear = by_value.line("shin")
    assert dear is not None
    assert "below what it costs" in price_state(by_value, dear, 100, body, formats).warning


def test_the_effect_names_the_body_and_what_would_be() -> None:
    found = by_weight()
    line, formats = found.line("rump"), formats_for(found.shop)
    assert line is not None
    said = price_state(found, line, 2999, next(iter(found.holding("rump"))), formats)
    # Today 4 × 26.99 + 6 × 14.99 = 197.90; then 209.90. Cost 100.00 + 4 × 0.48 + 6 × 0.30.
    cost = Decimal(10_372)
    before = formats.percent((Decimal(19_790) - cost) / 19_790)
    after = formats.percent((Decimal(20_990) - cost) / 20_990)
    assert said.body_name == "of Hindquarter 1"
    assert said.body.margin == f"{before} → {after}"
    assert "+$12.00" in said.body.more
    assert "points" in said.body.more
    assert said.can_set
    assert not price_state(found, line, None, None, formats).can_set


def test_a_target_out_of_reach_says_by_how_much_and_what_would_meet_it() -> None:
    found = by_weight()
    pins = dict(found.prices)
    rules = SolveRules(limits={cut: Limit(held=True) for cut in pins})
    proposal = propose_for(found, found.basket("HQ-1"), Decimal("0.60"), rules)
    said = solve_state(found, proposal, rules, (), formats_for(found.shop))
    # Needed 103.72 / 0.4 = 259.30, and 197.90 come in; 197.90 × 0.4 = 79.16 would do.
    assert "$61.40 is missing" in said.doubt
    assert "$79.16 instead of $103.72" in said.doubt
    assert said.changes == 0
    assert all(row.held and "held" in row.caption for row in said.rows)


def test_only_filters_that_show_something_are_offered() -> None:
    keys = [chip.key for chip in chips_of(by_weight())]
    assert keys[:2] == ["all", "beef"]
    assert "below cost" not in keys
    cheap = tuple(PriceChange(cut, 500, START) for cut in ("rump", "shin"))
    assert "below cost" in [chip.key for chip in chips_of(by_weight(prices=cheap))]


def test_open_work_is_said_to_be_left_out() -> None:
    assert "open" not in footer_of(by_weight())
    still = (Stage("S1", StageKind.BREAK, START),)
    found = by_weight(stages=still)
    assert "Open work is left out." in footer_of(found)
    assert all(not line.grams for line in found.lines)
    assert footer_of(replace(found, left_out=3)).endswith("Open work is left out (3).")


def test_new_prices_of_the_week_do_not_name_old_or_coming_ones() -> None:
    prices = (
        PriceChange("rump", 2799, START + timedelta(hours=2)),
        PriceChange("shin", 1399, START - timedelta(days=9)),
        PriceChange("mince", 1299, NOW + timedelta(hours=2)),
    )
    assert changed_this_week(by_weight(prices=prices)) == {"rump"}


@pytest.mark.parametrize("currency", [Currency("AUD", 2), Currency("JPY", 0), Currency("KWD", 3)])
def test_every_currency_has_endings_and_may_have_none(currency: Currency) -> None:
    offered = dict(endings_of(currency))
    assert offered["Any price"] == Endings()
    assert len(offered) >= 2


def test_the_week_begins_when_the_shop_s_does() -> None:
    late = datetime(2026, 11, 30, tzinfo=UTC)
    assert (
        changed_this_week(
            cabinet_of(trade(prices=(PriceChange("rump", 2799, START),)), late, Method.WEIGHT)
        )
        == frozenset()
    )


def two_bodies() -> Trade:
    """By weight shin (6 kg at 9.00) costs 10.30 and loses; rump (4 kg) does not."""
    return trade(prices=(PriceChange("shin", 900, START - timedelta(hours=1)),))


def test_the_warning_says_in_money_what_dropping_the_cut_would_do() -> None:
    found, formats = cabinet_of(two_bodies(), NOW, Method.WEIGHT), formats_for(a_shop())
    line = found.line("shin")
    assert line is not None
    said = if_dropped(two_bodies(), "shin", NOW)
    body = next(iter(found.holding("shin")))
    warning = price_state(found, line, None, body, formats, said).warning
    # 6 kg bring in 54.00 and cost 1.80 to finish; the rump would carry all of 100.00.
    assert warning.startswith(LOSS_BY_WEIGHT)
    assert "would have earned $52.20 less in four weeks" in warning
    assert "would carry $60.00 more: Rump $10.48 → $25.48 a kilo" in warning
    assert "show a loss" not in warning.removeprefix(LOSS_BY_WEIGHT)


def test_what_does_not_pay_its_own_finishing_is_said_to_be_better_dropped() -> None:
    cheap = trade(prices=(PriceChange("shin", 20, START - timedelta(hours=1)),))
    found, formats = cabinet_of(cheap, NOW, Method.WEIGHT), formats_for(a_shop())
    line = found.line("shin")
    assert line is not None
    warning = price_state(found, line, None, None, formats, if_dropped(cheap, "shin", NOW)).warning
    # 6 kg at 0.20 bring in 1.20; their finishing costs 1.80.
    assert "without it the shop would be $0.60 better off" in warning


def test_an_effect_is_told_in_points_and_in_money_for_cut_body_and_week() -> None:
    found, formats = by_weight(), formats_for(a_shop())
    line = found.line("rump")
    assert line is not None
    said = price_state(found, line, 2999, next(iter(found.holding("rump"))), formats)
    # 29.99 instead of 26.99: (29.99 - 10.48) / 29.99 is 65.1 %, before it was 61.2 %.
    assert said.this_cut.margin == "61.2\u202f% → 65.1\u202f%"
    assert said.this_cut.more == "+3.9\xa0points · +$3.00 a kilo"
    assert said.body.more == "+3.0\xa0points · +$12.00"
    assert said.week.more == said.body.more
    same = price_state(found, line, None, None, formats)
    assert (same.this_cut.margin, same.this_cut.more) == ("61.2\u202f%", "")


@pytest.mark.parametrize(
    ("typed", "fault", "doubt"),
    [(0, "above zero", ""), (10**12, "decimal point", ""), (100, "", "far from today")],
)
def test_a_price_that_cannot_be_or_is_a_slip_is_told_beside_the_field(
    typed: int, fault: str, doubt: str
) -> None:
    found, formats = by_weight(), formats_for(a_shop())
    line = found.line("rump")
    assert line is not None
    said = price_state(found, line, typed, None, formats)
    assert fault in said.fault
    assert doubt in said.doubt
    assert said.can_set is (not fault)


def test_bounds_that_decide_a_price_are_named_in_its_line() -> None:
    found, formats = by_weight(), formats_for(a_shop())
    rules = SolveRules(
        limits={"rump": Limit(ceiling=2000), "shin": Limit(floor=100, sold=Decimal("0.9"))}
    )
    proposal = propose_for(found, found.basket("HQ-1"), Decimal("0.40"), rules)
    rows = {row.key: row for row in solve_state(found, proposal, rules, (), formats).rows}
    assert "at its ceiling" in rows["rump"].caption
    assert "90\u202f% sold" in rows["shin"].caption
    left = solve_state(found, proposal, rules, {"rump"}, formats)
    assert not next(row for row in left.rows if row.key == "rump").taken
    assert left.changes == 1
    assert "All of it" in left.summary


def test_a_purchase_is_told_beside_what_was_paid_and_its_absence_too() -> None:
    formats = formats_for(a_shop())
    told = purchase_words(Purchase(Decimal(980), 85), formats)
    assert told == "Bought at $8.95 a kilo instead of $9.80 it would be met."
    assert "No purchase price would do it" in purchase_words(None, formats)


def test_typed_bounds_are_read_back_and_an_empty_field_is_no_bound() -> None:
    currency = Currency("AUD", 2)
    limit = Limit(held=True, floor=2500, ceiling=2999, sold=Decimal("0.955"))
    texts = limit_texts(limit, currency)
    assert texts == {"floor": "25.00", "ceiling": "29.99", "sold": "95.5"}
    assert typed_limit(texts, currency, held=True) == limit
    assert typed_limit(dict.fromkeys(texts, ""), currency, held=False) == Limit()


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        ({"floor": "30", "ceiling": "20", "sold": ""}, "stands above its ceiling"),
        ({"floor": "0", "ceiling": "", "sold": ""}, "floor of nothing"),
        ({"floor": "", "ceiling": "", "sold": "0"}, "share sold"),
        ({"floor": "", "ceiling": "", "sold": "100.5"}, "share sold"),
    ],
)
def test_bounds_that_cannot_be_are_told_beside_them(texts: dict[str, str], said: str) -> None:
    found, formats = by_weight(), formats_for(a_shop())
    state = limit_state(found, "rump", texts, Limit(), formats, held=False)
    assert said in state.fault
    assert not state.can_keep
    good = limit_state(found, "rump", {**texts, **SOUND}, Limit(), formats, held=False)
    assert (good.fault, good.can_keep) == ("", True)


SOUND = {"floor": "20", "ceiling": "30", "sold": "95"}
