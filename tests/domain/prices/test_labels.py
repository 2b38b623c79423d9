"""Tray labels: what they say, to the gram and the cent, and what is never labelled."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import ean

from gambrel.domain.numbers.money import extend
from gambrel.domain.prices.codes import price_check_digit
from gambrel.domain.prices.labels import (
    Beside,
    LabelRules,
    TrayCode,
    TrayLabel,
    Wish,
    make_labels,
)
from gambrel.domain.prices.tickets import COOK_THROUGH, KEEP_COLD
from gambrel.domain.refusals import Refusal
from gambrel.domain.review.trace_keys import Known, subjects_named
from gambrel.domain.trade.around import CutLabel, IngredientLot, Origin, OriginOf
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.keys import new_key
from gambrel.domain.trade.records import Source, StageKind, WriteOff
from tests.trades import CUTS, Bench

BODY, PIECE = Source.BODY, Source.PIECE
LIVES = {"rump": 5, "mince-trim": 4, "mince": 2, "shin": 4}
LASTING = tuple(replace(cut, shelf_life_days=LIVES.get(cut.key)) for cut in CUTS)
PLAIN, NOTHING = LabelRules(), Beside()


def broken(grams: int = 1_234) -> tuple[Bench, str]:
    """A body whose rump was weighed, in a shop whose cuts have shelf lives."""
    bench = Bench(cuts=LASTING)
    stage = bench.stage((BODY, bench.body(80_000, 1000), None))
    return bench, bench.piece(stage, "rump", grams, tare=40)


def only(
    bench: Bench, piece: str, rules: LabelRules = PLAIN, beside: Beside = NOTHING
) -> TrayLabel:
    (label,) = make_labels(bench.trade(), beside, [Wish(piece)], bench.now, rules)
    return label


def test_a_label_says_weight_price_days_and_lot() -> None:
    bench, piece = broken(1_234)
    label = only(bench, piece)
    today = business_day(bench.now, bench.shop)
    assert (label.name, label.grams, label.per_kilo) == ("Rump", 1_234, 2699)
    assert label.price == 3331, "26.99 x 1.234 is 33.305 66"
    assert (label.packed_on, label.use_by) == (today, today + timedelta(days=5))
    assert (label.lot, label.storage, label.cooking) == ("B1", KEEP_COLD, "")


@given(grams=st.integers(20, 30_000))
def test_the_number_holds_the_price_and_both_check_digits(grams: int) -> None:
    bench, piece = broken(grams)
    label = only(bench, piece)
    assert label.price == extend(2699, grams)
    assert ean.is_valid(label.number)
    assert label.number[:6] == "220101"
    assert label.number[7:12] == f"{label.price:05d}"
    assert label.number[6] == str(price_check_digit(label.number[7:12]))
    heavy = only(bench, piece, LabelRules(code=TrayCode.WEIGHT))
    assert ean.is_valid(heavy.number)
    assert heavy.number[:6] == "230101"
    assert heavy.number[7:12] == f"{grams:05d}"


def test_a_split_is_labelled_by_tray_and_packed_today() -> None:
    bench, piece = broken(1_500)
    bench.now += timedelta(days=2)
    wishes = [Wish(piece, (500, 480, 520))]
    labels = make_labels(bench.trade(), NOTHING, wishes, bench.now, PLAIN)
    assert [label.grams for label in labels] == [500, 480, 520]
    assert [label.price for label in labels] == [extend(2699, g) for g in (500, 480, 520)]
    today = business_day(bench.now, bench.shop)
    assert {label.packed_on for label in labels} == {today}
    assert {label.use_by for label in labels} == {today + timedelta(days=3)}, "not a day longer"


@given(
    grams=st.integers(1_000, 20_000),
    cuts=st.lists(st.integers(0, 20_000), max_size=6),
)
def test_the_trays_of_a_split_weigh_what_was_weighed(grams: int, cuts: list[int]) -> None:
    bench, piece = broken(grams)
    edges = sorted({0, grams, *(at for at in cuts if at < grams)})
    trays = tuple(right - left for left, right in pairwise(edges))
    if any(extend(2699, tray) == 0 for tray in trays):
        return
    labels = make_labels(bench.trade(), NOTHING, [Wish(piece, trays)], bench.now, PLAIN)
    assert sum(label.grams for label in labels) == grams
    assert all(label.price == extend(2699, label.grams) for label in labels)
    with pytest.raises(Refusal, match="weigh"):
        make_labels(bench.trade(), NOTHING, [Wish(piece, (*trays, 1))], bench.now, PLAIN)


def test_what_was_used_or_thrown_away_is_not_labelled() -> None:
    bench, piece = broken(1_500)
    used = bench.stage((PIECE, piece, 600), kind=StageKind.TRIMOUT)
    bench.piece(used, "shin", 590)
    assert only(bench, piece).grams == 900
    trade = replace(
        bench.trade(), writeoffs=(WriteOff(piece, 900, bench.now - timedelta(minutes=1)),)
    )
    with pytest.raises(Refusal, match="nothing is left of piece P1"):
        make_labels(trade, NOTHING, [Wish(piece)], bench.now, PLAIN)


def minced(*, salted: bool = False) -> tuple[Bench, str]:
    """Mince of two bodies' trim, three days after they were broken."""
    bench = Bench(cuts=LASTING)
    trims = []
    for _ in range(2):
        stage = bench.stage((BODY, bench.body(80_000, 1000), None))
        trims.append(bench.piece(stage, "mince-trim", 5_000))
    bench.now += timedelta(days=3)
    blend = bench.stage(*((PIECE, trim, None) for trim in trims), kind=StageKind.BLEND)
    if salted:
        bench.ingredient(blend, "salt", 100, 50)
    return bench, bench.piece(blend, "mince", 800)


def test_mince_lasts_no_longer_than_its_trim_and_its_lot_is_the_blend() -> None:
    bench, piece = minced()
    label = only(bench, piece)
    trim = business_day(bench.pieces[0].weighed_at, bench.shop) + timedelta(days=4)
    assert label.use_by == trim
    assert trim < business_day(bench.now, bench.shop) + timedelta(days=2)
    assert label.lot == "S3"
    assert label.cooking == COOK_THROUGH


def test_a_body_and_an_ingredient_may_have_a_day_of_their_own() -> None:
    bench, piece = minced()
    today = business_day(bench.now, bench.shop)
    assert only(bench, piece, LabelRules(bodies={"B2": today})).use_by == today
    lots = Beside(lots=[IngredientLot("S3", "crumb", "L1", today)])
    assert only(bench, piece, beside=lots).use_by == today


def test_nothing_past_its_day_is_labelled() -> None:
    bench, piece = broken()
    bench.now += timedelta(days=5)
    assert only(bench, piece).use_by == business_day(bench.now, bench.shop)
    bench.now += timedelta(days=1)
    with pytest.raises(Refusal, match=r"P1 of Rump was to be used by 2026-11-21; do not sell it"):
        only(bench, piece)


def test_the_cuts_own_lines_come_first() -> None:
    bench, piece = broken()
    text = CutLabel("rump", "Beef, mustard", "mustard", "Keep at 5 C or less", " Rest it well! ")
    label = only(bench, piece, beside=Beside([text]))
    assert (label.storage, label.cooking) == ("Keep at 5 C or less.", "Rest it well!")
    assert ("mustard", True) in label.ingredients


IRISH = Origin(
    OriginOf.SUPPLIER, "farm", "Ireland", "Ireland", "Ireland", "IE 303 EC", "Ireland", "IE 411"
)


def test_an_origin_is_the_bodys_own_or_its_suppliers_and_wanted_by_law() -> None:
    bench, piece = broken()
    irish = LabelRules(country="IE")
    with pytest.raises(Refusal, match=r"origin of Rump is not known \(B1: .*slaughtered"):
        only(bench, piece, irish)
    assert only(bench, piece).origin == (), "no rule in this country, and nothing is known"
    label = only(bench, piece, irish, Beside(origins=[IRISH]))
    assert label.origin[0] == "Origin: Ireland"
    own = replace(IRISH, kind=OriginOf.BODY, key="B1", born="France")
    label = only(bench, piece, irish, Beside(origins=[own, IRISH]))
    assert label.origin[0] == "Born in: France"


def test_plain_mince_says_where_it_was_prepared_and_a_preparation_need_not() -> None:
    irish = LabelRules(country="IE")
    bench, piece = minced()
    assert only(bench, piece, irish, Beside(origins=[IRISH])).origin[0] == "Prepared in: Ireland"
    bench, piece = minced(salted=True)
    assert only(bench, piece, irish).origin == ()


def test_a_code_with_lot_and_days() -> None:
    bench, piece = broken(1_234)
    label = only(bench, piece, LabelRules(code=TrayCode.QR))
    assert label.number == ""
    assert [part.ai for part in label.elements] == ["01", "13", "17", "10"]
    assert label.elements[-1].value == "B1"
    linear = only(bench, piece, LabelRules(code=TrayCode.GS1_128))
    assert [part.ai for part in linear.elements] == ["01", "3103", "17", "10"]
    assert linear.elements[1].value == "001234"


@pytest.mark.parametrize("code", [TrayCode.GS1_128, TrayCode.QR])
def test_a_blend_made_at_the_bench_has_a_lot_that_its_code_holds(code: TrayCode) -> None:
    bench, piece = minced()
    made = new_key(bench.now, bytes(8))
    bench.stages = [replace(s, key=made) if s.key == "S3" else s for s in bench.stages]
    bench.inputs = [row._replace(stage=made) if row.stage == "S3" else row for row in bench.inputs]
    bench.pieces = [row._replace(stage=made) if row.stage == "S3" else row for row in bench.pieces]
    label = only(bench, piece, LabelRules(code=code))
    assert label.lot == made[:13]
    assert (label.elements[-1].ai, label.elements[-1].value) == ("10", label.lot)
    (found,) = subjects_named(label.lot, bench.trade(), Known())
    assert found.stages == (made,)


def test_without_a_code_nothing_is_asked_of_the_plu() -> None:
    bench, piece = broken()
    bench.cuts = tuple(replace(cut, plu="") for cut in bench.cuts)
    label = only(bench, piece, LabelRules(code=TrayCode.NONE))
    assert (label.number, label.elements) == ("", ())
    with pytest.raises(Refusal, match="Rump has no PLU"):
        only(bench, piece)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"price": None}, "Rump has no price"),
        ({"price": 0}, "price of nothing"),
        ({"shelf_life_days": None}, "no shelf life"),
        ({"plu": "12345"}, "PLU of Rump has more than the 4 digits that this code holds"),
        ({"plu": "1x"}, "Rump has no PLU"),
        ({"price": 9_999_999}, "price of 1,234 g of Rump has more than the 5 digits"),
    ],
)
def test_what_cannot_be_right_is_refused(change: dict[str, object], says: str) -> None:
    bench, piece = broken()
    bench.cuts = tuple(
        replace(cut, **change) if cut.key == "rump" else cut  # type: ignore[arg-type]  # by name
        for cut in bench.cuts
    )
    with pytest.raises(Refusal, match=says):
        only(bench, piece)


def test_a_weight_that_its_code_does_not_hold_is_refused_and_other_codes_go_on() -> None:
    bench, piece = broken(30_000)
    bench.pieces[0] = bench.pieces[0]._replace(gross_g=100_000, tare_g=0)
    with pytest.raises(Refusal, match="weight of 100,000 g of Rump has more than the 5 digits"):
        only(bench, piece, LabelRules(code=TrayCode.WEIGHT))
    assert ("3103", "100000") in [
        (each.ai, each.value)
        for each in only(bench, piece, LabelRules(code=TrayCode.GS1_128)).elements
    ]


def test_a_lot_with_brackets_goes_in_no_qr_code_that_writes_fields_in_brackets() -> None:
    bench, piece = broken()
    key = "B(17)991231"
    bench.bodies[0] = replace(bench.bodies[0], key=key)
    bench.inputs[0] = bench.inputs[0]._replace(key=key)
    with pytest.raises(Refusal, match="brackets of the lot"):
        only(bench, piece, LabelRules(code=TrayCode.QR))
    assert only(bench, piece, LabelRules(code=TrayCode.GS1_128)).lot == key


def test_all_that_is_wrong_is_said_at_once_and_nothing_is_made() -> None:
    bench, piece = broken()
    bench.void(piece)
    wishes = [Wish(piece), Wish("P9"), Wish("P10")]
    with pytest.raises(Refusal) as said:
        make_labels(bench.trade(), NOTHING, wishes, bench.now, PLAIN)
    assert str(said.value).startswith("No labels were made: piece P1 was taken back")
    assert "'P9'" in str(said.value)
    assert "'P10'" in str(said.value)
    for nothing in ([], [Wish("P1"), Wish("P1")]):
        with pytest.raises(Refusal):
            make_labels(bench.trade(), NOTHING, nothing, bench.now, PLAIN)


def test_a_crumb_that_comes_to_no_money_is_refused() -> None:
    bench, piece = broken(1_000)
    bench.cuts = tuple(replace(cut, price=1) for cut in bench.cuts)
    with pytest.raises(Refusal, match="come to no money"):
        make_labels(bench.trade(), NOTHING, [Wish(piece, (400, 600))], bench.now, PLAIN)


def test_days_are_the_shops_business_days() -> None:
    """The bench's shop starts its day at 04:00 in Melbourne."""
    bench, piece = broken()
    late = bench.pieces[0].weighed_at.replace(hour=16, minute=30)  # 03:30 the next morning
    bench.pieces[0] = bench.pieces[0]._replace(weighed_at=late)
    bench.now = late
    assert only(bench, piece).packed_on == date(2026, 11, 16)
