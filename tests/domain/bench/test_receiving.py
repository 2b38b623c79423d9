"""A body at the door: docket, scale and thermometer."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.receiving import (
    WARMEST_CARCASE,
    Delivery,
    body_of,
    claims,
    docket_claim,
    last_bought,
    next_key,
)
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Body, PricedOn
from tests.trades import AUD, a_shop

NOW = datetime(2026, 11, 20, 20, tzinfo=UTC)
"""07:00 on 21 November at the shop."""

FORMATS = Formats(AUD, "$")
DELIVERY = Delivery(
    body="FQ-09",
    species="beef",
    portion="forequarter",
    supplier="farm",
    received_g=72_400,
    price=795,
    docket_g=72_500,
    killed_on=date(2026, 11, 18),
    temperature=Decimal("4.5"),
)


def said(**changes: object) -> list[str]:
    changed = replace(DELIVERY, **changes)  # type: ignore[arg-type]  # names are checked
    return [claim.sentence for claim in claims(changed, FORMATS)]


def test_nothing_is_off_where_docket_scale_and_thermometer_agree() -> None:
    assert said() == []
    assert said(docket_g=None, temperature=None, priced_on=PricedOn.RECEIVED) == []


def test_short_weight_paid_by_the_docket_is_money_to_claim() -> None:
    short = replace(DELIVERY, docket_g=75_400)
    (claim,) = claims(short, FORMATS)
    assert claim.money == 2_385
    assert claim.sentence == (
        "It weighs 3.000 kg (4.0\u202f%) less than the docket says: $23.85 to claim at $7.95 a "
        "kilo."
    )


def test_short_weight_paid_by_the_scale_is_told_and_is_no_money() -> None:
    (claim,) = claims(replace(DELIVERY, docket_g=75_400, priced_on=PricedOn.RECEIVED), FORMATS)
    assert claim.money == 0
    assert "You pay for what was weighed" in claim.sentence


def test_more_than_the_docket_asks_to_weigh_again() -> None:
    (sentence,) = said(docket_g=70_000)
    assert "2.400 kg (3.4\u202f%) more" in sentence
    assert "weigh again" in sentence


@pytest.mark.parametrize(
    ("docket", "received", "off"),
    [
        (75_400, 75_200, False),  # 200 g
        (75_400, 75_023, False),  # half a per cent
        (75_400, 75_022, True),
        (20_000, 19_800, False),
        (20_000, 19_799, True),
    ],
)
def test_scales_may_differ_by_half_a_per_cent_or_200_g(
    docket: int, received: int, off: bool
) -> None:
    assert bool(said(docket_g=docket, received_g=received)) == off


def test_the_limit_is_seven_degrees_in_the_core() -> None:
    """Regulation (EC) 853/2004; reference table legal-limits.csv, "Carcases and cuts"."""
    assert Decimal(7) == WARMEST_CARCASE
    assert said(temperature=Decimal(7)) == []
    (sentence,) = said(temperature=Decimal("7.1"))
    assert "7.1 °C" in sentence
    assert "local code" in sentence
    assert claims(replace(DELIVERY, temperature=Decimal(6)), FORMATS, Decimal(5))


@given(st.integers(1, 400_000), st.integers(1, 400_000), st.integers(0, 10_000))
def test_a_claim_is_never_more_than_the_missing_grams_cost(
    docket: int, received: int, price: int
) -> None:
    claim = docket_claim(
        replace(DELIVERY, docket_g=docket, received_g=received, price=price), FORMATS
    )
    if claim is not None:
        assert 0 <= claim.money <= max(docket - received, 0) * price / 1000 + 1


def test_a_delivery_makes_a_body_of_this_moment() -> None:
    body = body_of(replace(DELIVERY, body=" FQ-09 ", other_cost=600), a_shop(), NOW)
    assert (body.key, body.received_at, body.received_g) == ("FQ-09", NOW, 72_400)
    assert body.bought == 72_500 * 795 // 1000 + 600 + 1  # 576.375 rounds half up


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"body": "  "}, "has no name"),
        ({"received_g": 0}, "weighed weight is missing"),
        ({"received_g": 10_000_001}, "too large"),
        ({"docket_g": 0}, "docket weight is missing"),
        ({"docket_g": None}, "paid by the docket's weight"),
        ({"price": -1}, "below zero"),
        ({"other_cost": -1}, "below zero"),
        ({"killed_on": date(2026, 11, 22)}, "later than today"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(changes: dict[str, object], sentence: str) -> None:
    changed = replace(DELIVERY, **changes)  # type: ignore[arg-type]  # names are checked
    with pytest.raises(Refusal, match=sentence):
        body_of(changed, a_shop(), NOW)


def test_slaughtered_today_by_the_shops_clock_is_fine() -> None:
    body = body_of(replace(DELIVERY, killed_on=date(2026, 11, 21)), a_shop(), NOW)
    assert body.killed_on == date(2026, 11, 21)


def bodies(*keys: str, portion: str = "forequarter", supplier: str = "farm") -> list[Body]:
    return [
        Body(key, "beef", portion, supplier, NOW.replace(minute=n), 70_000, 700 + n)
        for n, key in enumerate(keys)
    ]


@pytest.mark.parametrize(
    ("keys", "wanted"),
    [
        ((), "FQ-01"),
        (("FQ-07", "FQ-08"), "FQ-09"),
        (("FQ-09",), "FQ-10"),
        (("F099",), "F100"),
        (("17",), "18"),
        (("front",), "FQ-01"),
        (("FQ-07", "front"), "FQ-08"),
    ],
)
def test_the_next_name_counts_on_from_the_last(keys: tuple[str, ...], wanted: str) -> None:
    assert next_key(bodies(*keys), "beef", "forequarter") == wanted


def test_a_name_that_is_taken_is_passed_over() -> None:
    rows = bodies("FQ-07") + bodies("FQ-08", "FQ-09", portion="side")
    assert next_key(rows, "beef", "forequarter") == "FQ-10"


def test_a_whole_animal_is_named_by_its_species() -> None:
    assert next_key([], "lamb", "whole") == "LAMB-01"


@given(st.lists(st.text(max_size=12), max_size=8), st.sampled_from(["side", "whole", "odd"]))
def test_the_next_name_is_always_new(keys: list[str], portion: str) -> None:
    rows = bodies(*keys, portion=portion)
    assert next_key(rows, "beef", portion) not in {row.key for row in rows}


def test_the_last_body_of_that_portion_and_supplier_gives_its_price() -> None:
    rows = bodies("FQ-07", "FQ-08") + bodies("HQ-01", portion="hindquarter")
    found = last_bought(rows, "farm", "beef", "forequarter")
    assert found is not None
    assert found.key == "FQ-08"
    assert last_bought(rows, "other", "beef", "forequarter") is None
