from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from gambrel.domain.bench.lean import Prefer, Target
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.refusals import Refusal
from gambrel.services import bench, tub
from gambrel.services.tub import Portion
from gambrel.storage.book import Book
from tests.blend_shop import DAY, Pieces, weigh
from tests.block_shop import Hand

pytestmark = pytest.mark.parametrize("book", ["sqlite"], indirect=True)
"""What a plan reads is written by services that are tested on both databases."""


def target(grams: int, least: str, most: str | None = None, step: int = 10) -> Target:
    return Target(grams, Decimal(least), Decimal(most or least), step)


def test_the_sources_are_the_classes_at_their_cost(book: Book, hand: Hand, pieces: Pieces) -> None:
    stock = tub.standing_trim(book, hand.now)
    fat, lean = tub.lean_stock(stock)
    assert (fat.source.key, fat.source.lean, fat.source.most_g) == (
        "trim-70",
        Decimal(70),
        14_000,
    )
    assert (lean.source.name, lean.source.most_g, lean.source.hours) == ("Beef trim 90", 5003, 1)
    assert fat.source.hours == 25
    rates = {row.piece.key: row.cost_per_kilo for row in roll_up(stock.trade).pieces}
    mean = (8 * rates[pieces.old_70] + 6 * rates[pieces.new_70]) / 14
    assert abs(fat.source.price - mean) <= Decimal("0.5")


def test_two_trims_to_one_lean_go_by_the_square_and_take_the_oldest(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    sources = tub.lean_stock(tub.standing_trim(book, hand.now))
    plan = tub.plan_lean(sources, target(12_000, "75"))
    assert plan.mix.grams == (9000, 3000)
    assert plan.portions == (
        Portion(pieces.old_70, 8000),
        Portion(pieces.new_70, 1000),
        Portion(pieces.lean_90, 3000),
    )
    stage = tub.start_blend(book, plan.portions, [], hand.act())
    assert tub.blend_facts(book, stage.key).lean == 75


def test_what_was_measured_is_a_source_of_its_own(book: Book, hand: Hand, pieces: Pieces) -> None:
    tub.measure_lean(book, pieces.old_70, Decimal("64.5"), hand.act())
    sources = tub.lean_stock(tub.standing_trim(book, hand.now))
    assert [row.source.name for row in sources] == [
        "Beef trim 70 (measured 64.5 %)",
        "Beef trim 70 (class 70 %)",
        "Beef trim 90",
    ]
    assert len({row.source.key for row in sources}) == 3
    wanted = replace(target(15_000, "74", "76"), prefer=Prefer.OLDEST)
    plan = tub.plan_lean(sources, wanted)
    assert plan.mix.reaches(wanted)
    assert sum(part.grams for part in plan.portions) == plan.mix.total_g
    # As much as can be of what has stood for a day: the rest must bring the lean to 74.
    most = max(
        g
        for g in range(0, 8001, 10)
        if any(
            Decimal("64.5") * g + 70 * (15_000 - g - lean) + 90 * lean >= 74 * 15_000
            for lean in (*range(0, 5001, 10),)
            if 0 <= 15_000 - g - lean <= 6000
        )
    )
    assert plan.mix.grams[0] >= most
    assert plan.portions[0].piece == pieces.old_70


def test_bounds_are_held_and_what_holds_a_target_is_said(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    fat, lean = tub.lean_stock(tub.standing_trim(book, hand.now))
    held = replace(lean, source=replace(lean.source, least_g=5003))
    wanted = target(12_000, "76", "80")
    plan = tub.plan_lean([fat, held], wanted)
    assert (plan.mix.grams[1], plan.mix.reaches(wanted)) == (5003, True)
    with pytest.raises(Refusal, match=r"8\.10 short of 85 %\. All 5\.003 kg of Beef trim 90 is in"):
        tub.plan_lean([fat, lean], target(14_500, "85", "88"))


def test_trim_of_unknown_lean_or_past_its_day_is_no_source(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    stage = bench.start_break(book, "LAMB-26", "", hand.act()).key
    with book.transaction() as work:
        cuts = {cut.key: cut for cut in work.cuts()}
        work.add([replace(cuts["trim-70"], key="lamb-trim", name="Lamb trim", species="lamb")])
    weigh(book, hand, stage, "lamb-trim", 1000)
    stock = tub.standing_trim(book, hand.now)
    with pytest.raises(Refusal, match="lean of Lamb trim is not known"):
        tub.lean_stock(stock)
    assert len(tub.lean_stock(stock, ["trim-70", "trim-90"])) == 2
    hand.now += 3 * DAY
    stock = tub.standing_trim(book, hand.now)
    assert [row.source.most_g for row in tub.lean_stock(stock, ["trim-70"])] == [6000]
