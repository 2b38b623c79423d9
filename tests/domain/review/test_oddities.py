from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.review.oddities import CLOCKS, DOCKET_OFF, oddities
from gambrel.domain.review.whole import review
from gambrel.domain.trade.catalogue import Supplier
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Body, Reweigh, Source, Trade, Void
from tests.trades import AUD, HOUR, START, Bench, a_shop, random_trades

FORMATS = Formats(AUD, "$")
FARM = (Supplier("farm", "A farm"),)


def body(key: str, **changes: object) -> Body:
    plain = Body(key, "beef", "hindquarter", "farm", START, 82_400, 980)
    return replace(plain, **changes)  # type: ignore[arg-type]  # names are checked by Body


def trade(*bodies: Body, reweighs: tuple[Reweigh, ...] = ()) -> Trade:
    return Trade(a_shop(), FARM, bodies=bodies, reweighs=reweighs)


def told(odd: Trade) -> list[str]:
    """The notes of a trade that could have happened all the same."""
    assert review(odd) == []
    return [
        each.sentence.replace("\N{NARROW NO-BREAK SPACE}", " ") for each in oddities(odd, FORMATS)
    ]


@pytest.mark.parametrize("docket_g", [None, 82_400, 86_736, 78_477])
def test_a_docket_near_the_scale_is_not_odd(docket_g: int | None) -> None:
    """82.4 is 95 % of 86.737 and 105 % of 78.476."""
    assert told(trade(body("HQ-1", docket_g=docket_g))) == []


@pytest.mark.parametrize("docket_g", [86_740, 78_470])
def test_a_docket_far_from_the_scale_is_told(docket_g: int) -> None:
    [said] = told(trade(body("HQ-1", docket_g=docket_g)))
    assert said == (
        f"HQ-1 (A farm) weighed 82.400 kg and its docket says {docket_g / 1000:.3f} kg, 5.0 % off; "
        "one of the two may be wrong"
    )


def test_lambs_of_one_docket_are_not_one_lamb() -> None:
    lambs = (body(f"L-{n}", supplier_ref="T-418", received_g=24_000 + n) for n in range(5))
    assert told(trade(*lambs)) == []


@pytest.mark.parametrize(
    ("changes", "odd"),
    [
        ({}, True),
        ({"received_g": 82_000}, False),
        ({"received_g": 82_000, "docket_g": 82_600}, True),
        ({"received_g": 82_000, "received_at": START + 30 * HOUR}, True),
        ({"supplier_ref": "F-2"}, False),
        ({"supplier_ref": ""}, False),
        ({"portion": "forequarter"}, False),
        ({"supplier": ""}, False),
    ],
)
def test_one_body_received_twice_is_told(changes: dict[str, object], odd: bool) -> None:
    first = body("HQ-1", supplier_ref="F-1", docket_g=82_600)
    second = body("HQ-2", **({"supplier_ref": "F-1", "received_at": START + HOUR} | changes))
    said = told(trade(first, second))
    assert bool(said) is odd
    if odd:
        assert said[0].startswith("HQ-2 (A farm) came on docket F-1, as HQ-1 did on Mon 16 Nov")


def test_cartons_of_one_docket_may_weigh_the_same() -> None:
    cartons = (body(f"C-{n}", supplier_ref="F-1", portion="carton") for n in range(3))
    assert told(trade(*cartons)) == []


def reweighed(*weights: int) -> Trade:
    rows = tuple(Reweigh("HQ-1", START + n * HOUR, grams) for n, grams in enumerate(weights, 1))
    return trade(body("HQ-1"), reweighs=rows)


def test_drying_and_the_steps_of_a_scale_are_not_odd() -> None:
    assert told(reweighed(82_000, 82_200, 81_000)) == []


def test_meat_that_gains_on_the_rail_is_told() -> None:
    [said] = told(reweighed(80_000, 81_000, 79_000))
    assert said == (
        "HQ-1 weighed 81.000 kg on Mon 16 Nov 2026 at 19:00 and 80.000 kg on Mon 16 Nov 2026 at "
        "18:00; meat does not gain on the rail, so one of the two may be wrong"
    )
    assert "83.000 kg" in told(reweighed(83_000))[0]


def broken(*late: timedelta) -> Trade:
    """A finished break, with a piece weighed so long after its end for each of `late`."""
    bench = Bench()
    stage = bench.stage((Source.BODY, bench.body(80_000, 980), None))
    end = bench.stages[-1].finished_at
    assert end is not None
    for after in late:
        key = bench.piece(stage, "rump", 4_000)
        [index] = [n for n, piece in enumerate(bench.pieces) if piece.key == key]
        bench.pieces[index] = bench.pieces[index]._replace(weighed_at=end + after)
    return replace(bench.trade(), suppliers=FARM)


def test_pieces_within_what_clocks_differ_are_not_odd() -> None:
    assert told(broken(-HOUR / 4, CLOCKS)) == []


def test_pieces_weighed_after_the_end_are_told_in_one_sentence() -> None:
    [one] = told(broken(2 * CLOCKS))
    assert "P1 (Rump) was weighed after it, the first on " in one
    [three] = told(broken(3 * CLOCKS, 2 * CLOCKS, HOUR, -CLOCKS))
    assert "P2 (Rump) and 2 more were weighed after it" in three


def test_a_piece_taken_back_is_not_held_against_a_stage() -> None:
    odd = broken(HOUR)
    assert told(replace(odd, voids=(Void("P1", odd.pieces[0].weighed_at),))) == []


@given(random_trades(), st.integers(1, 200_000))
def test_any_trade_can_be_looked_at_and_dockets_are_told_at_their_limit(
    any_trade: Trade, docket_g: int
) -> None:
    bodies = tuple(replace(each, docket_g=docket_g) for each in any_trade.bodies)
    said = oddities(replace(any_trade, bodies=bodies), FORMATS)
    about = {each.row for each in said if "docket says" in each.sentence}
    far = {(b.key,) for b in bodies if abs(b.received_g - docket_g) > DOCKET_OFF * docket_g}
    assert about == far
    for each in said:
        assert not each.sentence.endswith(".")


def test_the_first_midnight_of_a_clock_is_written_as_its_own_day() -> None:
    late = datetime.fromisoformat("2026-11-21T02:30:00+11:00")
    first = body("HQ-1", supplier_ref="F-1", received_at=late)
    second = body("HQ-2", supplier_ref="F-1", received_at=late + HOUR)
    [said] = told(trade(first, second))
    assert "on Sat 21 Nov 2026 at 02:30" in said
