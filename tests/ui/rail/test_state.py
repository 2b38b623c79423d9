"""The rail's texts, without Qt."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest

from gambrel.domain.bench.rail import HangingBody, hanging
from gambrel.domain.bench.steady import LiveWeight, WeightState
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Supplier
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Body, PricedOn, Source
from gambrel.services.rail import Door, Rail
from gambrel.ui.rail.receive_state import (
    Entry,
    changed,
    delivery_of,
    describe_entry,
    portion_name,
    stepped,
)
from gambrel.ui.rail.state import LIFTING, describe, describe_reweigh
from tests.trades import AUD, START, Bench, a_shop

FORMATS = Formats(AUD, "$")
TODAY = date(2026, 11, 21)
NOW = datetime(2026, 11, 21, 3, tzinfo=UTC)


def a_row(**changes: object) -> HangingBody:
    bench = Bench()
    body = bench.body(80_000, 1000)
    bench.reweigh(body, 78_000)
    (row,) = hanging(bench.trade(), bench.now + timedelta(days=6), {"beef": 21})
    return replace(row, **changes)  # type: ignore[arg-type]  # names are checked


def a_rail(*rows: HangingBody, now: datetime = NOW, note: str = "") -> Rail:
    notes = {"B1": note} if note else {}
    return Rail(a_shop(), rows, notes, now, timedelta(hours=1))


def test_a_card_says_all_of_a_body() -> None:
    state = describe(a_rail(a_row()), FORMATS)
    (card,) = state.cards
    assert (card.title, card.under) == ("Hindquarter 1", "farm · B1")
    assert (card.weight, card.weight_caption) == ("78.00", "hangs")
    assert card.cost == "$10.26"
    assert card.when == "day 6 · break by 7 Dec"
    assert card.hang == "2.00 kg hang loss (2.5\u202f%)"
    assert (card.mark, card.mark_text) == ("fine", "15 days left")
    assert state.summary == "1 body hangs · 78.0 kg · $800.00"
    for text in (card.title, card.under, "78.00 kg hangs", card.mark_text, card.hang):
        assert text in card.spoken


@pytest.mark.parametrize(
    ("days", "mark", "text"),
    [
        (3, "fine", "3 days left"),
        (2, "watch", "2 days left"),
        (1, "watch", "1 day left"),
        (0, "stop", "break today"),
        (-1, "stop", "1 day over"),
        (-4, "stop", "4 days over"),
        (None, "info", "no limit set"),
    ],
)
def test_the_mark_tells_how_long_there_is(days: int | None, mark: str, text: str) -> None:
    by = None if days is None else TODAY
    (card,) = describe(a_rail(a_row(days_left=days, break_by=by)), FORMATS).cards
    assert (card.mark, card.mark_text) == (mark, text)


def test_a_body_on_the_block_goes_on_and_is_not_weighed_again() -> None:
    bench = Bench()
    body = bench.body(80_000, 1000)
    bench.stage((Source.BODY, body, None), still_open=True)
    rows = tuple(hanging(bench.trade(), bench.now))
    state = describe(a_rail(*rows, now=bench.now), FORMATS)
    (card,) = state.cards
    assert (card.act, card.can_reweigh, card.on_block) == ("Go on", False, True)
    assert (card.weight, card.weight_caption, card.cost) == ("80.00", "still on the block", "")
    assert card.mark_text == "on the block"
    assert card.when == "day 0 · on the block since 19:00"
    assert state.summary == ""


def test_the_day_is_told_with_the_time_once_it_is_another() -> None:
    bench = Bench()
    bench.stage((Source.BODY, bench.body(80_000, 1000), None), still_open=True)
    rows = tuple(hanging(bench.trade(), bench.now))
    (card,) = describe(a_rail(*rows, now=bench.now + timedelta(days=1)), FORMATS).cards
    assert card.when.startswith("day 0 · on the block since ")
    assert card.when.endswith(", 19:00")


def test_of_a_body_that_is_partly_on_the_block_both_weights_are_told() -> None:
    bench = Bench()
    bench.stage((Source.BODY, bench.body(80_000, 1000), 30_000), still_open=True)
    rows = tuple(hanging(bench.trade(), bench.now))
    (card,) = describe(a_rail(*rows, now=bench.now), FORMATS).cards
    assert (card.weight, card.weight_caption) == ("50.00", "hangs")
    assert card.when == "day 0 · 30.00 kg on the block since 19:00"


@pytest.mark.parametrize(
    ("minutes", "mark", "text"),
    [
        (0, "info", "on the block"),
        (59, "info", "on the block"),
        (60, "watch", "1\u00a0h\u00a000 off the rail"),
        (60 * 49, "watch", "2 days off the rail"),
    ],
)
def test_a_body_too_long_out_of_the_cold_is_marked(minutes: int, mark: str, text: str) -> None:
    bench = Bench()
    bench.stage((Source.BODY, bench.body(80_000, 1000), None), still_open=True)
    rows = tuple(hanging(bench.trade(), bench.now))
    assert rows[0].stage is not None
    now = rows[0].stage.started_at + timedelta(minutes=minutes)
    (card,) = describe(a_rail(*rows, now=now), FORMATS).cards
    assert (card.mark, card.mark_text) == (mark, text)


def test_a_scale_that_answers_weighs_again_without_typing() -> None:
    row = a_row()
    steady = LiveWeight(WeightState.STEADY, "", 77_400)
    state = describe_reweigh(row, "", FORMATS, steady)
    assert (state.typed, state.grams, state.keep) == ("77.400", 77_400, "Keep 77.40 kg")
    running = describe_reweigh(row, "", FORMATS, LiveWeight(WeightState.UNSTEADY, "", 77_400))
    assert (running.can_keep, running.keep) == (False, "Unsteady")
    typed = describe_reweigh(row, "70", FORMATS, steady)
    assert typed.grams == 70_000


def test_what_was_off_is_kept_on_the_card() -> None:
    (card,) = describe(a_rail(a_row(), note="Too warm.\nToo light."), FORMATS).cards
    assert card.claim == "Too warm. Too light."


def test_a_docket_that_was_never_noted_is_worked_out() -> None:
    row = a_row()
    short = replace(row, body=replace(row.body, docket_g=82_000, priced_on=PricedOn.DOCKET))
    (card,) = describe(a_rail(short), FORMATS).cards
    assert "$20.00 to claim" in card.claim


@pytest.mark.parametrize(
    ("typed", "keep", "doubt"),
    [
        ("", "Type the weight", False),
        ("0", "Type the weight", False),
        ("77.", "Keep 77.00 kg", False),
        ("77.5", "Keep 77.50 kg", False),
        ("7.75", "Keep 7.75 kg", True),
        ("9999.999", "Keep 10,000.00 kg", True),
    ],
)
def test_weighing_again_says_what_is_kept(typed: str, keep: str, doubt: bool) -> None:
    state = describe_reweigh(a_row(), typed, FORMATS)
    assert state.keep == keep
    assert state.can_keep == (keep != "Type the weight")
    assert bool(state.doubt) == doubt
    assert state.caution == LIFTING


def test_the_difference_to_the_last_weighing_is_told_with_its_sign() -> None:
    assert describe_reweigh(a_row(), "77.5", FORMATS).difference == "−0.500 kg"
    assert describe_reweigh(a_row(), "78.1", FORMATS).difference == "+0.100 kg"


def test_nobody_is_warned_of_a_light_body() -> None:
    assert describe_reweigh(a_row(weight_g=24_000), "23", FORMATS).caution == ""


# --- The form at the door ---


def a_door() -> Door:
    before = Body(
        "FQ-09", "beef", "forequarter", "hill", START, 72_400, 795, PricedOn.DOCKET, 75_400, 600
    )
    return Door(
        shop=a_shop(),
        suppliers=(Supplier("farm", "A farm"), Supplier("hill", "A hill")),
        portions=(("beef", "forequarter"), ("lamb", "whole")),
        bodies=(before,),
        warmest=Decimal(7),
    )


def filled(**fields: str) -> Entry:
    entry, at = Entry(), a_door()
    for name, text in fields.items():
        entry = changed(entry, name, text, at)
    return entry


WHOLE = {"portion": "beef/forequarter", "supplier": "hill", "docket": "75.4", "received": "72.4"}


def test_portion_and_supplier_bring_the_next_name_and_the_last_price() -> None:
    entry = filled(portion="beef/forequarter", supplier="hill")
    assert (entry.body, entry.price, entry.other) == ("FQ-10", "7.95", "6.00")
    assert entry.priced_on is PricedOn.DOCKET
    assert filled(portion="lamb/whole", supplier="farm").body == "LAMB-01"


def test_a_filled_form_says_what_is_off_and_what_it_takes_in() -> None:
    state = describe_entry(filled(**WHOLE, temperature="8.5"), a_door(), FORMATS, START)
    assert state.can_receive
    assert state.act == "Take in FQ-10 · 72.40 kg"
    assert len(state.claims) == 2
    assert state.caution == LIFTING
    assert [choice.key for choice in state.portions if choice.chosen] == ["beef/forequarter"]
    assert [choice.key for choice in state.suppliers if choice.chosen] == ["hill"]


@pytest.mark.parametrize(
    ("changes", "missing"),
    [
        ({"portion": None}, "Choose what came."),
        ({"supplier": None}, "Choose who it came from."),
        ({"docket": ""}, "Type the docket weight"),
        ({"received": ""}, "Weigh it"),
        ({"price": ""}, "Type the price"),
        ({"body": " "}, "Give the body a name"),
        ({"received": "0."}, "not a weight yet"),
        ({"docket": "0"}, "not a weight yet"),
    ],
)
def test_the_form_says_what_is_missing_first(changes: dict[str, str | None], missing: str) -> None:
    fields = WHOLE | changes
    entry = filled(**{name: text for name, text in fields.items() if text is not None})
    state = describe_entry(entry, a_door(), FORMATS, START)
    assert missing in state.missing
    assert not state.can_receive
    assert state.claims == ()


def test_paid_by_the_scale_the_docket_may_be_left_out() -> None:
    entry = filled(**(WHOLE | {"docket": "", "priced_on": "received"}))
    delivery = delivery_of(entry, AUD)
    assert (delivery.docket_g, delivery.priced_on) == (None, PricedOn.RECEIVED)


def test_a_mark_that_waits_for_its_decimals_is_no_mistake() -> None:
    delivery = delivery_of(filled(**WHOLE, price="8.", temperature="5."), AUD)
    assert delivery.price == 800
    assert delivery.temperature == Decimal(5)


def test_money_keeps_to_the_currencys_decimals() -> None:
    with pytest.raises(Refusal, match="Type it in AUD"):
        delivery_of(filled(**WHOLE, price="7.955"), AUD)


def test_the_day_of_slaughter_steps_from_yesterday_and_never_past_today() -> None:
    entry = stepped(Entry(), -1, TODAY)
    assert entry.killed_on == date(2026, 11, 20)
    assert stepped(entry, -1, TODAY).killed_on == date(2026, 11, 19)
    for _ in range(3):
        entry = stepped(entry, 1, TODAY)
    assert entry.killed_on == TODAY


@pytest.mark.parametrize(
    ("portion", "name"),
    [
        (("beef", "side"), "Beef side"),
        (("lamb", "whole"), "Lamb"),
        (("pork", "carton"), "Pork carton"),
    ],
)
def test_portions_are_said_as_in_the_shop(portion: tuple[str, str], name: str) -> None:
    assert portion_name(*portion) == name
