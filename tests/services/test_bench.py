from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from gambrel.domain.bench.tubs import NO_TUB, Tub
from gambrel.domain.costing.takes import settle
from gambrel.domain.refusals import Refusal
from gambrel.services import bench
from gambrel.services.bench.keeping import read_kept
from gambrel.services.people import add_person, retire_person
from gambrel.services.rail import reweigh
from gambrel.services.tub import write_off
from gambrel.storage.book import Book, open_book
from tests.block_shop import NOW, Hand, fill


@pytest.fixture(params=["sqlite", "postgresql"])
def book(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Book]:
    place = str(tmp_path / "book.gambrel")
    if request.param == "postgresql":
        place = request.getfixturevalue("pg_book")
    with open_book(place) as opened:
        fill(opened)
        yield opened


@pytest.fixture
def hand() -> Hand:
    return Hand()


def started(book: Book, hand: Hand, body: str = "HQ-17") -> str:
    return bench.start_break(book, body, "", hand.act()).key


def weigh(book: Book, hand: Hand, stage: str, cut: str = "rump", gross: int = 4506) -> str:
    return bench.weigh_in(book, stage, cut, bench.Weighing(gross, 120), hand.act()).key


def test_a_body_goes_on_the_block_at_its_last_weight_and_is_gone_on_with(
    book: Book, hand: Hand
) -> None:
    stage = started(book, hand)
    assert bench.look(book, stage).on_block.input_g == 82_400
    assert started(book, hand) == stage
    waits = bench.waiting(book)
    assert (waits[0].stage, waits[0].body) == (stage, "HQ-17")
    assert [row.body for row in waits[1:]] == ["LAMB-26", "FQ-09"]


def test_a_weighing_is_in_the_book_and_the_look_without_reading_is_the_look_with(
    book: Book, hand: Hand
) -> None:
    stage = started(book, hand)
    before = bench.look(book, stage)
    piece = bench.weigh_in(book, stage, "rump", bench.Weighing(4506, 120), hand.act())
    assert (piece.net_g, piece.person, piece.station) == (4386, "Ana", "block-1")
    after = bench.look(book, stage)
    assert after == before.with_piece(piece)
    void = bench.undo_last(book, stage, hand.act())
    assert bench.look(book, stage) == after.with_void(void)
    assert void.reason == bench.UNDONE


def test_the_same_act_sent_again_weighs_nothing_twice(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    act = hand.act()
    first = bench.weigh_in(book, stage, "rump", bench.Weighing(4506, 120), act)
    assert bench.weigh_in(book, stage, "rump", bench.Weighing(4506, 120), act) == first
    assert len(bench.look(book, stage).on_block.pieces) == 1


@pytest.mark.parametrize(
    ("gross", "tare", "said"),
    [
        (0, 0, "no weight yet"),
        (120, 120, "not more than the tub"),
        (100, 120, "not more than the tub"),
        (4_386_000, 0, "more than any piece"),
        (500, -1, "less than nothing"),
    ],
)
def test_absurd_weights_are_refused_in_words(
    book: Book, hand: Hand, gross: int, tare: int, said: str
) -> None:
    stage = started(book, hand)
    with pytest.raises(Refusal, match=said):
        bench.weigh_in(book, stage, "rump", bench.Weighing(gross, tare), hand.act())
    assert bench.look(book, stage).on_block.pieces == ()


def test_unknown_cuts_stages_and_bodies_are_refused(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    with pytest.raises(Refusal, match="no cut 'wing'"):
        weigh(book, hand, stage, "wing")
    with pytest.raises(Refusal, match="not in the book"):
        weigh(book, hand, "nothing")
    with pytest.raises(Refusal, match="no body HQ-99"):
        started(book, hand, "HQ-99")
    with pytest.raises(Refusal, match="no list 'Lamb'"):
        bench.start_break(book, "FQ-09", "Lamb", hand.act())


def test_a_void_needs_a_reason_and_works_once(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    piece = weigh(book, hand, stage)
    with pytest.raises(Refusal, match="Say why"):
        bench.void_piece(book, piece, " ", hand.act())
    bench.void_piece(book, piece, bench.VOID_REASONS[0], hand.act())
    with pytest.raises(Refusal, match="taken back before"):
        bench.void_piece(book, piece, bench.VOID_REASONS[0], hand.act())
    with pytest.raises(Refusal, match="nothing to undo"):
        bench.undo_last(book, stage, hand.act())


def test_what_a_later_stage_took_cannot_be_taken_back(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    piece = weigh(book, hand, stage)
    further = bench.start_trimout(book, piece, None, hand.act()).key
    look = bench.look(book, further)
    assert (look.title, look.on_block.input_g) == ("Rump", 4386)
    with pytest.raises(Refusal, match="gone on"):
        bench.undo_last(book, stage, hand.act())
    assert bench.look(book, stage).on_block.pieces[0].held
    with pytest.raises(Refusal, match="Nothing is left"):
        bench.start_trimout(book, piece, None, hand.act())
    bench.put_back(book, further, "changed my mind", hand.act())
    bench.undo_last(book, stage, hand.act())


def test_part_of_a_piece_can_be_cut_further(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    piece = weigh(book, hand, stage)
    with pytest.raises(Refusal, match=r"Only 4\.386 kg"):
        bench.start_trimout(book, piece, 4387, hand.act())
    first = bench.start_trimout(book, piece, 1000, hand.act()).key
    rest = bench.start_trimout(book, piece, None, hand.act()).key
    assert bench.look(book, first).on_block.input_g == 1000
    assert bench.look(book, rest).on_block.input_g == 3386


def test_clocks_that_differ_take_nothing_twice(book: Book, hand: Hand) -> None:
    """One station is ten minutes ahead; what it did counts as done for the other."""
    piece = weigh(book, hand, started(book, hand))
    ahead = Hand(hand.now + timedelta(minutes=10), station="block-2")
    write_off(book, piece, 300, "dropped or dirty", ahead.act())
    bench.start_trimout(book, piece, 1000, ahead.act())
    rest = bench.start_trimout(book, piece, None, hand.act()).key
    assert bench.look(book, rest).on_block.input_g == 4386 - 1300
    reweigh(book, "LAMB-26", 23_000, ahead.act().now)
    lamb = started(book, hand, "LAMB-26")
    assert bench.look(book, lamb).on_block.input_g == 23_000
    with book.reading() as work:
        assert settle(work.trade()).problems == []


def test_finish_closes_and_reopen_opens_again(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    with pytest.raises(Refusal, match="Nothing has been weighed"):
        bench.finish(book, stage, Decimal(5), hand.act())
    piece = weigh(book, hand, stage)
    with pytest.raises(Refusal, match="cannot be"):
        bench.finish(book, stage, Decimal(-1), hand.act())
    done = bench.finish(book, stage, Decimal(21), hand.act())
    assert (done.is_open, done.minutes) == (False, Decimal(21))
    for act in (
        lambda: weigh(book, hand, stage),
        lambda: bench.undo_last(book, stage, hand.act()),
        lambda: bench.void_piece(book, piece, "wrong tub", hand.act()),
    ):
        with pytest.raises(Refusal, match="finished"):
            act()
    assert bench.reopen(book, stage, "more came off", hand.act()).is_open
    weigh(book, hand, stage)


def test_the_reckoning_adds_up_and_a_missing_price_elsewhere_does_not_stop_it(
    book: Book, hand: Hand
) -> None:
    stage = started(book, hand)
    weigh(book, hand, stage, "rump", 40_120)
    weigh(book, hand, stage, "bone", 41_120)
    bench.finish(book, stage, Decimal(60), hand.act())
    found = bench.reckon(book, stage)
    assert (found.unexplained_g, found.unexplained) == (1400, Decimal(1400) / 82_400)
    bought = 84_400 * 1005 // 1000 + 600
    assert found.cost.input_cost == bought
    assert found.unexplained_money == round(bought * 1400 / 82_400)
    shared = sum(line.cost for line in found.lines)
    # Rump bears everything but the bone's credit, and its own finishing.
    assert shared == bought + 3750 - 410 + 1200
    assert found.usual is None


def test_an_earlier_share_of_the_same_body_is_not_on_this_block(book: Book, hand: Hand) -> None:
    from gambrel.domain.trade.records import Input, Source, Stage, StageKind

    early = Stage("EARLY", StageKind.BREAK, NOW - timedelta(hours=1), NOW - timedelta(minutes=30))
    with book.transaction() as work:
        work.add([early, Input("EARLY", Source.BODY, "HQ-17", 20_000)])
    assert bench.look(book, started(book, hand)).on_block.input_g == 62_400


def test_the_list_can_be_changed_while_the_body_is_on_the_block(book: Book, hand: Hand) -> None:
    stage = bench.start_break(book, "HQ-17", "Round whole", hand.act()).key
    assert bench.lists_for(book, "beef", "hindquarter") == ("Round trimmed", "Round whole")
    weigh(book, hand, stage, "knuckle")
    bench.change_list(book, stage, "Round trimmed", hand.act())
    block = bench.look(book, stage).on_block
    assert block.stage.list == "Round trimmed"
    assert block.cut("diced") in block.cuts
    assert block.cut("knuckle").norm_g is None  # type: ignore[union-attr]  # it was weighed
    with pytest.raises(Refusal, match="no list 'Lamb'"):
        bench.change_list(book, stage, "Lamb", hand.act())


def test_put_back_hangs_the_body_again(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    weigh(book, hand, stage)
    with pytest.raises(Refusal, match="Take them back first"):
        bench.put_back(book, stage, "wrong body", hand.act())
    bench.undo_last(book, stage, hand.act())
    bench.put_back(book, stage, "wrong body", hand.act())
    assert [row.body for row in bench.waiting(book)] == ["HQ-17", "LAMB-26", "FQ-09"]


def test_what_a_station_holds_is_kept_for_that_station(book: Book) -> None:
    kept = bench.Kept("S1", "rump", "tray", "Ana", "Bela", {"rump": "tray"})
    bench.keep(book, "block-1", kept)
    assert bench.kept(book, "block-1") == kept
    assert bench.kept(book, "block-2") == bench.Kept()


@pytest.mark.parametrize("text", ["", "[]", "{", '{"stage": 7, "tub_of": [1]}', "null"])
def test_what_cannot_be_read_counts_as_nothing_kept(text: str) -> None:
    assert read_kept(text) == bench.Kept()


def test_tubs_are_the_shops_own_and_bad_ones_are_refused(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    bench.set_tubs(book, [Tub("blue tub", 700)])
    assert bench.look(book, stage).tubs == (NO_TUB, Tub("blue tub", 700))
    for bad in (Tub("", 1), Tub("anvil", 90_000), Tub("minus", -1)):
        with pytest.raises(Refusal):
            bench.set_tubs(book, [bad])


def test_people_are_those_who_weighed_lately(book: Book, hand: Hand) -> None:
    stage = started(book, hand)
    hand.person = "Joss"
    weigh(book, hand, stage)
    assert bench.people(book, hand.now) == ("Joss", "Ana")
    assert bench.people(book, hand.now + timedelta(days=90)) == ()


def test_the_team_is_offered_before_other_names_and_who_left_it_is_not(
    book: Book, hand: Hand
) -> None:
    stage = started(book, hand)
    hand.person = "Joss"
    weigh(book, hand, stage)
    for name in ("Mira", "Ana", "Bela"):
        add_person(book, name)
    assert bench.people(book, hand.now) == ("Ana", "Bela", "Mira", "Joss")
    retire_person(book, "Ana")
    assert bench.people(book, hand.now) == ("Bela", "Mira", "Joss")


class AtTheBlock(RuleBasedStateMachine):
    """Weigh, undo, void, finish, reopen in any order: the book agrees with a list of grams."""

    def __init__(self) -> None:
        super().__init__()
        import tempfile

        self._folder = tempfile.TemporaryDirectory()
        self.book = open_book(f"{self._folder.name}/book.gambrel")
        fill(self.book)
        self.hand = Hand()
        self.stage = started(self.book, self.hand)
        self.standing: dict[str, int] = {}
        self.taken_back = 0
        self.open = True

    def teardown(self) -> None:
        self.book.close()
        self._folder.cleanup()

    @rule(gross=st.integers(1, 30_000), tare=st.sampled_from([0, 120, 1450]))
    def weigh(self, gross: int, tare: int) -> None:
        weight = bench.Weighing(gross, tare)
        if self.open and gross > tare:
            piece = bench.weigh_in(self.book, self.stage, "rump", weight, self.hand.act())
            self.standing[piece.key] = gross - tare
        else:
            with pytest.raises(Refusal):
                bench.weigh_in(self.book, self.stage, "rump", weight, self.hand.act())

    @rule()
    def undo(self) -> None:
        if self.open and self.standing:
            void = bench.undo_last(self.book, self.stage, self.hand.act())
            assert void.piece == list(self.standing)[-1]
            del self.standing[void.piece]
            self.taken_back += 1
        else:
            with pytest.raises(Refusal):
                bench.undo_last(self.book, self.stage, self.hand.act())

    @precondition(lambda self: self.open and self.standing)
    @rule(data=st.data())
    def void(self, data: st.DataObject) -> None:
        key = data.draw(st.sampled_from(sorted(self.standing)))
        bench.void_piece(self.book, key, "wrong tub", self.hand.act())
        del self.standing[key]
        self.taken_back += 1

    @rule()
    def finish(self) -> None:
        if self.open and self.standing:
            bench.finish(self.book, self.stage, Decimal(3), self.hand.act())
            self.open = False
        else:
            with pytest.raises(Refusal):
                bench.finish(self.book, self.stage, Decimal(3), self.hand.act())

    @precondition(lambda self: not self.open)
    @rule()
    def reopen(self) -> None:
        bench.reopen(self.book, self.stage, "again", self.hand.act())
        self.open = True

    @invariant()
    def every_gram_is_there(self) -> None:
        block = bench.look(self.book, self.stage).on_block
        assert {row.piece.key: row.piece.net_g for row in block.standing} == self.standing
        assert len(block.pieces) == len(self.standing) + self.taken_back
        assert block.output_g == sum(self.standing.values())
        assert block.left_g == 82_400 - block.output_g
        assert block.stage.is_open is self.open


TestAtTheBlock = AtTheBlock.TestCase
TestAtTheBlock.settings = settings(max_examples=8, stateful_step_count=20, deadline=None)
