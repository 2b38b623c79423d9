from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest

from gambrel.domain.bench.shop_limits import BLEND_STEP, TRIM_AGE
from gambrel.domain.bench.trim import Mark
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Ingredient, IngredientLot
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.records import Source, StageKind
from gambrel.services import bench, tub
from gambrel.services.shop_limits import set_country, set_limit
from gambrel.services.tub import Added, Portion
from gambrel.storage.book import Book
from tests.blend_shop import DAY, Pieces, finish, weigh
from tests.block_shop import Hand


def free(book: Book, hand: Hand) -> dict[str, int]:
    stock = tub.standing_trim(book, hand.now)
    rows = [row for found in (*stock.trim, *stock.trays) for row in found.pieces]
    return {row.piece.key: row.free_g for row in rows}


def test_trim_stands_oldest_first_with_its_lean_and_last_day(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    stock = tub.standing_trim(book, hand.now)
    fat = stock.of_cut("trim-70")
    assert fat is not None
    assert [row.piece.key for row in fat.pieces] == [pieces.old_70, pieces.new_70]
    assert (fat.free_g, fat.lean_percent, fat.mark) == (14_000, Decimal(70), Mark.FINE)
    assert [row.days for row in fat.pieces] == [1, 0]
    today = business_day(hand.now, stock.trade.shop)
    # Four days of shelf life, but the shop lets trim stand for three.
    assert fat.pieces[0].use_by == today + timedelta(days=3)
    assert fat.pieces[0].last_day == today + timedelta(days=2)
    assert {row.cut.key for row in stock.trays} == {"diced", "rump"}


def test_no_trim_outlasts_the_body_that_the_shop_has_set_a_limit_for(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    with book.transaction() as work:
        work.set_setting("body_days", "beef=8")
    fat = tub.standing_trim(book, hand.now).of_cut("trim-70")
    assert fat is not None
    # HQ-17 came a week ago. FQ-09 came three days ago, so its trim's own four days end first.
    assert [row.use_by for row in fat.pieces] == [
        fat.pieces[0].today + timedelta(days=1),
        fat.pieces[0].today + timedelta(days=4),
    ]


def test_the_shop_sets_how_long_trim_may_stand(book: Book, hand: Hand, pieces: Pieces) -> None:
    assert tub.tub_limits(book) == tub.Limits(3, 10, "")
    set_limit(book, TRIM_AGE, "0")
    set_limit(book, BLEND_STEP, "100")
    set_country(book, "ie")
    assert tub.tub_limits(book) == tub.Limits(0, 100, "IE")
    fat = tub.standing_trim(book, hand.now).of_cut("trim-70")
    assert fat is not None
    assert [row.mark for row in fat.pieces] == [Mark.STOP, Mark.WATCH]


def test_what_was_kept_as_a_limit_and_cannot_be_read_counts_as_not_set(book: Book) -> None:
    with book.transaction() as work:
        work.set_setting("trim-age-days", "three")
        work.set_setting("blend-step-g", "0")
        work.set_setting("country", "Éire")
    assert tub.tub_limits(book) == tub.Limits()


def test_a_blend_takes_trim_and_ingredients_and_keeps_their_lots(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    day = business_day(hand.now, tub.standing_trim(book, hand.now).trade.shop) + timedelta(days=30)
    added = [Added("Rusk", 1500, lot="R-7", use_by=day), Added("Ice", 500), Added("rind", 250, 90)]
    taken = [Portion(pieces.old_70, 8000), Portion(pieces.new_70, 2000)]
    act = hand.act()
    stage = tub.start_blend(book, taken, added, act)
    assert (stage.kind, stage.is_open, stage.person) == (StageKind.BLEND, True, "Ana")
    assert tub.start_blend(book, taken, added, act) == stage  # sent again
    with book.reading() as work:
        trade = work.trade()
        lots = work.every(IngredientLot)
    rows = {row.key: (row.grams, row.cost) for row in trade.inputs if row.stage == stage.key}
    assert rows == {
        pieces.old_70: (8000, 0),
        pieces.new_70: (2000, 0),
        "Rusk": (1500, 480),
        "Ice": (500, 50),
        "rind": (250, 90),
    }
    assert lots == [IngredientLot(stage.key, "Rusk", "R-7", day)]
    left = free(book, hand)
    assert pieces.old_70 not in left
    assert left[pieces.new_70] == 4000
    assert roll_up(trade).totals.difference == 0


@pytest.mark.parametrize(
    ("added", "said"),
    [
        ([Added("", 100, 1)], "needs a name"),
        ([Added("Rusk", 0)], "Rusk has no weight"),
        ([Added("Rusk", 100, -1)], "Rusk costs cannot be"),
        ([Added("rind", 100)], "rind has no price yet"),
        ([Added("Rusk", 100), Added("Rusk", 100)], "Rusk is added twice"),
        ([Added("r" * 101, 100, 1)], "at most 100 plain letters"),
        ([Added("Rusk", 100, lot="R\n7")], "Shorten those of 'Rusk'"),
    ],
)
def test_an_ingredient_that_cannot_be_is_refused_and_nothing_is_taken(
    book: Book, hand: Hand, pieces: Pieces, added: list[Added], said: str
) -> None:
    before = free(book, hand)
    with pytest.raises(Refusal, match=said):
        tub.start_blend(book, [Portion(pieces.old_70, 1000)], added, hand.act())
    assert free(book, hand) == before
    assert tub.open_blends(book) == []


def test_an_ingredients_dates_are_held(book: Book, hand: Hand, pieces: Pieces) -> None:
    today = business_day(hand.now, tub.standing_trim(book, hand.now).trade.shop)
    part = [Portion(pieces.old_70, 1000)]
    late = Added("Rusk", 100, lot="R-1", use_by=today - timedelta(days=1))
    with pytest.raises(Refusal, match="past its use-by"):
        tub.start_blend(book, part, [late], hand.act())
    with pytest.raises(Refusal, match="a date but no lot"):
        tub.start_blend(book, part, [Added("Rusk", 100, use_by=today)], hand.act())
    stage = tub.start_blend(book, part, [Added("Rusk", 100, lot="R-1", use_by=today)], hand.act())
    assert tub.blend_facts(book, stage.key).use_by == today


def test_a_blend_takes_no_more_than_stands_free(book: Book, hand: Hand, pieces: Pieces) -> None:
    tub.start_blend(book, [Portion(pieces.old_70, 5000)], [], hand.act())
    with pytest.raises(Refusal, match=r"4\.000 kg .* of which 3\.000 kg is left"):
        tub.start_blend(book, [Portion(pieces.old_70, 4000)], [], hand.act())
    with pytest.raises(Refusal, match="Nothing is chosen"):
        tub.start_blend(book, [], [Added("Rusk", 100)], hand.act())
    with pytest.raises(Refusal, match="does not stand free"):
        tub.start_blend(book, [Portion("nothing", 1)], [], hand.act())
    hand.now += 3 * DAY
    with pytest.raises(Refusal, match="past the shop's limit"):
        tub.start_blend(book, [Portion(pieces.old_70, 1000)], [], hand.act())


def test_a_station_whose_clock_is_behind_cannot_take_what_went_later(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    behind = hand.act()
    hand.now += timedelta(minutes=5)
    bench.start_trimout(book, pieces.diced, None, hand.act())
    slow = Hand(behind.now, station="tub-2")
    with pytest.raises(Refusal, match="does not stand free"):
        tub.start_blend(book, [Portion(pieces.diced, 1000)], [], slow.act())
    bench.start_trimout(book, pieces.rump, 4000, hand.act())
    # A kilo is left, so a kilo may still be taken, whichever came first.
    assert tub.start_blend(book, [Portion(pieces.rump, 1000)], [], slow.act()).is_open


def test_a_blend_is_weighed_out_taken_back_and_finished_like_any_stage(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    stage = tub.start_blend(book, [Portion(pieces.old_70, 8000)], [], hand.act()).key
    look = bench.look(book, stage)
    assert (look.on_block.input_g, look.on_block.left_g) == (8000, 8000)
    weigh(book, hand, stage, "diced", 5000)
    weigh(book, hand, stage, "corned", 2900)
    bench.undo_last(book, stage, hand.act())
    [row] = tub.open_blends(book)
    assert (row.names, row.input_g, row.output_g) == (("Beef trim 70",), 8000, 5000)
    with pytest.raises(Refusal, match="Pieces have been weighed"):
        bench.put_back(book, stage, "changed my mind", hand.act())
    weigh(book, hand, stage, "corned", 2900)
    finish(book, hand, stage)
    assert tub.open_blends(book) == []


def test_a_start_is_taken_back_whole_and_its_trim_stands_free_again(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    before = free(book, hand)
    added = [Added("Rusk", 1500, lot="R-7")]
    stage = tub.start_blend(book, [Portion(pieces.old_70, 8000)], added, hand.act()).key
    bench.put_back(book, stage, "wrong tub", hand.act())
    assert free(book, hand) == before
    with pytest.raises(Refusal, match="not in the book"):
        tub.blend_cost(book, stage)


def test_trays_are_worked_back_to_trim_that_is_no_fresher(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    hand.now += 3 * DAY
    stage = tub.work_back(book, [Portion(pieces.diced, 3000)], hand.act())
    assert stage.kind is StageKind.TRIMOUT
    trim = weigh(book, hand, stage.key, "trim-90", 2900)
    finish(book, hand, stage.key, 5)
    found = tub.standing_trim(book, hand.now).of_cut("trim-90")
    assert found is not None
    row = next(row for row in found.pieces if row.piece.key == trim)
    # The diced beef ends today, and so does what was made of it, though trim keeps for four days.
    assert (row.days, row.use_by, row.mark) == (0, row.today, Mark.WATCH)
    hand.now += DAY
    with pytest.raises(Refusal, match=r"use-by of .*Write it off"):
        tub.start_blend(book, [Portion(trim, 100)], [], hand.act())


def test_a_tray_past_its_use_by_goes_nowhere(book: Book, hand: Hand, pieces: Pieces) -> None:
    hand.now += 4 * DAY
    tray = [Portion(pieces.diced, 100)]
    said = r"past its use-by of .*Write it off; do not blend"
    with pytest.raises(Refusal, match=said):
        tub.work_back(book, tray, hand.act())
    with pytest.raises(Refusal, match=said):
        tub.start_blend(book, tray, [], hand.act())
    # Rump keeps for five days; the shop's limit for trim does not bind a tray.
    assert tub.work_back(book, [Portion(pieces.rump, 100)], hand.act()).is_open


def test_only_trays_are_worked_back(book: Book, hand: Hand, pieces: Pieces) -> None:
    with pytest.raises(Refusal, match="does not stand free"):
        tub.work_back(book, [Portion(pieces.old_70, 100)], hand.act())


def test_a_blend_knows_what_is_in_it(book: Book, hand: Hand, pieces: Pieces) -> None:
    first = tub.start_blend(
        book,
        [Portion(pieces.old_70, 3000), Portion(pieces.lean_90, 1000)],
        [Added("Rusk", 400, lot="R-7"), Added("rind", 100, 5)],
        hand.act(),
    )
    facts = tub.blend_facts(book, first.key)
    assert (facts.lean, facts.allergens, facts.unknown) == (Decimal(75), ("wheat",), ("rind",))
    assert (facts.bodies, facts.species) == (("FQ-09", "HQ-17"), ("beef",))
    assert {(row.name, row.lot) for row in facts.added} == {("Rusk", "R-7"), ("rind", "")}
    assert facts.use_by == min(row.use_by for row in facts.taken if row.use_by)
    tub.measure_lean(book, pieces.old_70, Decimal(66), hand.act())
    assert tub.blend_facts(book, first.key).lean == Decimal(72)
    # What is worked back brings its crumb along.
    crumbed = weigh(book, hand, first.key, "diced", 4400)
    finish(book, hand, first.key)
    again = tub.start_blend(book, [Portion(crumbed, 1000)], [], hand.act())
    facts = tub.blend_facts(book, again.key)
    assert (facts.allergens, facts.unknown, facts.lean) == (("wheat",), ("rind",), None)
    assert facts.bodies == ("FQ-09", "HQ-17")


def test_a_blend_costs_its_inputs_its_ingredients_and_its_work(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    taken = [Portion(pieces.old_70, 8000), Portion(pieces.lean_90, 2000)]
    stage = tub.start_blend(book, taken, [Added("Rusk", 1000)], hand.act()).key
    weigh(book, hand, stage, "diced", 8000)
    weigh(book, hand, stage, "corned", 2900)
    finish(book, hand, stage, 30)
    cost = tub.blend_cost(book, stage)
    assert [(row.source, row.name, row.grams) for row in cost.inputs] == [
        (Source.PIECE, "Beef trim 70", 8000),
        (Source.PIECE, "Beef trim 90", 2000),
        (Source.INGREDIENT, "Rusk", 1000),
    ]
    assert (cost.inputs[2].cost, cost.work, cost.is_open) == (320, 1875, False)
    assert cost.joint == sum(row.cost for row in cost.inputs) + cost.work - cost.credit
    assert cost.cost_per_kilo == Decimal(cost.joint * 1000) / 10_900
    # Finishing is 55 and 45 a kilo: the products bear the joint cost and each its own finishing.
    assert sum(row.cost for row in cost.products) == cost.joint + 440 + 131
    assert {row.cut.key for row in cost.products} == {"diced", "corned"}
    # What the trim cost here is what the roll-up passes on: its share by grams.
    with book.reading() as work:
        costing = roll_up(work.trade())
    trim = {row.piece.key: row for row in costing.pieces}
    assert cost.inputs[0].cost == trim[pieces.old_70].cost
    assert abs(cost.inputs[1].cost - trim[pieces.lean_90].cost * 2000 / 5003) < 1


def test_without_a_price_a_blend_is_costed_by_weight_and_says_so(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    stage = tub.start_blend(book, [Portion(pieces.old_70, 8000)], [], hand.act()).key
    with book.transaction() as work:
        work.add([Cut("mince", "Mince", "beef", CutKind.TRAY)])
    weigh(book, hand, stage, "mince", 7900)
    cost = tub.blend_cost(book, stage)
    assert "by weight: no price for Mince" in cost.note
    assert cost.products[0].cost == cost.joint


def test_ingredients_are_written_down_with_their_allergens(book: Book) -> None:
    rusk = tub.save_ingredient(book, Ingredient("", " Pinhead  rusk ", 320, "wheat,milk"))
    assert rusk == Ingredient("Pinhead rusk", "Pinhead rusk", 320, "wheat, milk")
    dearer = tub.save_ingredient(book, Ingredient(rusk.key, "Rusk, pinhead", 340, "wheat"))
    assert tub.ingredients(book) == [dearer]
    for wrong, said in [
        (Ingredient("", "Pinhead rusk", 1), "written down already"),
        (Ingredient("", " ", 1), "needs a name"),
        (Ingredient("", "Salt", -1), "zero or more"),
        (Ingredient("", "Spice", 1, "musterd"), "Did you mean 'mustard'"),
    ]:
        with pytest.raises(Refusal, match=said):
            tub.save_ingredient(book, wrong)


def test_lean_is_set_for_trim_and_measured_for_what_stands(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    tub.set_lean(book, "fat", Decimal("5.25"))
    for cut, percent in [("rump", "90"), ("wing", "90"), ("trim-70", "101"), ("trim-70", "70.001")]:
        with pytest.raises(Refusal):
            tub.set_lean(book, cut, Decimal(percent))
    with pytest.raises(Refusal, match="cannot be"):
        tub.set_lean(book, "trim-70", Decimal("NaN"))
    with pytest.raises(Refusal, match="does not stand"):
        tub.measure_lean(book, "nothing", Decimal(70), hand.act())
    tub.measure_lean(book, pieces.old_70, Decimal("71.5"), hand.act())
    tub.measure_lean(book, pieces.old_70, Decimal("72.5"), hand.act())
    found = tub.standing_trim(book, hand.now).of_cut("trim-70")
    assert found is not None
    assert [row.lean for row in found.pieces] == [(Decimal("72.5"), True), (Decimal(70), False)]
