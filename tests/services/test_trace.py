"""Traces of a book in which people really worked: keys of the bench, lots, labels, voids."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlalchemy import event

from gambrel.cli.trace_text import WIDTH, trace_lines
from gambrel.domain.refusals import Refusal
from gambrel.domain.review.trace import Trace
from gambrel.domain.review.trace_keys import SubjectKind
from gambrel.domain.trade.around import Origin, OriginOf
from gambrel.domain.trade.keys import lot_of
from gambrel.domain.trade.records import Input, Source, Stage, StageKind
from gambrel.services import bench, tub
from gambrel.services.labels import Wish
from gambrel.services.printing.documents import Choice, Labels
from gambrel.services.printing.queue import To
from gambrel.services.printing.sending import print_document
from gambrel.services.trace import trace_word
from gambrel.services.trace_report import trace_json
from gambrel.services.tub import Added, Portion
from gambrel.storage.book import Book, open_book
from tests.blend_shop import Pieces, fill_tub, finish, weigh
from tests.block_shop import Hand
from tests.services.printing.shop import Clock, KeepingPrinters, go_on


@dataclass(frozen=True)
class Shop:
    """A book with two broken bodies, a burger blend of both, and labels of some of it."""

    book: Book
    pieces: Pieces
    blend: str
    burgers: str
    wrong: str


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def shop(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Shop]:
    if request.param == "sqlite":
        with open_book(str(tmp_path_factory.mktemp("trace") / "book.gambrel")) as book:
            yield filled(book)
        return
    cluster = request.getfixturevalue("pg_cluster")
    with cluster.fresh_database() as url, open_book(url) as book:
        yield filled(book)


def filled(book: Book) -> Shop:
    hand = Hand()
    pieces = fill_tub(book, hand)
    with book.transaction() as work:
        [diced] = (cut for cut in work.cuts() if cut.key == "diced")
        work.keep(replace(diced, plu="310"))
        work.put(Origin(OriginOf.SUPPLIER, "longbarn", "Ireland", "Ireland", "Ireland", "DEMO-7"))
    last = date(2027, 1, 31)
    blend = tub.start_blend(
        book,
        [Portion(pieces.old_70, 6000), Portion(pieces.lean_90, 3000)],
        [Added("Rusk", 1000, 320, "R-77", last)],
        hand.act(),
    ).key
    burgers = weigh(book, hand, blend, "diced", 5000)
    wrong = weigh(book, hand, blend, "diced", 4800)
    print_labels(book, hand, burgers, wrong)
    bench.void_piece(book, wrong, "weighed with the box", hand.act())
    weigh(book, hand, blend, "diced", 4600)
    finish(book, hand, blend)
    tub.write_off(book, burgers, 500, "fell on the floor", hand.act())
    cancelled = tub.start_blend(book, [Portion(pieces.new_70, 1000)], [], hand.act()).key
    with book.transaction() as work:
        work.cancel_stage(cancelled, hand.now + timedelta(seconds=1), "Ana", "wrong trim")
    return Shop(book, pieces, blend, burgers, wrong)


def print_labels(book: Book, hand: Hand, *pieces: str) -> None:
    wishes = tuple(Wish(piece) for piece in pieces)
    document = Labels(wishes).make(book, Choice("label-58x60"), hand.now, go_on)
    print_document(book, document, To("Labels"), hand.act(), KeepingPrinters(), go_on, Clock())


def only(shop: Shop, word: str) -> Trace:
    [found] = trace_word(shop.book, word).traces
    return found


def test_a_supplier_s_docket_leads_to_the_tray_and_the_tray_back_to_it(shop: Shop) -> None:
    forward = only(shop, " l-0612 ")
    assert forward.subject.kind is SubjectKind.SUPPLIER_REF
    assert forward.subject.bodies == ("HQ-17",)
    ends = {each.piece.key: each for each in forward.forward.ends}
    assert shop.burgers in ends
    assert ends[shop.pieces.rump].share_percent == 100
    # 6 of 10 kg; of 5000 g, 500 g were written off.
    assert ends[shop.burgers].share_percent == 60
    assert (ends[shop.burgers].left_g, ends[shop.burgers].traced_left_g) == (4500, 2700)
    assert ends[shop.burgers].traced_off_g == 300
    assert forward.balance.difference_g == 0
    back = only(shop, shop.burgers).back
    assert {fate.body.key for fate in back.bodies} == {"HQ-17", "FQ-09"}
    assert {piece.key for piece in back.pieces} == {shop.pieces.old_70, shop.pieces.lean_90}
    assert [row.key for row in back.added] == ["Rusk"]


def test_a_bad_lot_of_rusk_is_found_with_the_labels_that_went_out(shop: Shop) -> None:
    sheet = trace_word(shop.book, "r-77")
    [found] = sheet.traces
    assert [each.stage.key for each in found.forward.stages] == [shop.blend]
    told = trace_json(sheet)["found"][0]
    by_piece = {row["piece"]: row for row in told["forward"]["pieces"]}
    [label] = by_piece[shop.burgers]["printed"]
    assert [each.subject.name for each in trace_word(shop.book, label["lot"]).traces] == [
        shop.blend
    ]
    assert (label["state"], label["lot"], label["printer"]) == (
        "printed",
        lot_of(shop.blend),
        "Labels",
    )
    [gone] = told["forward"]["taken_back"]
    assert (gone["piece"], gone["reason"]) == (shop.wrong, "weighed with the box")
    assert [row["net_g"] for row in gone["printed"]] == [4800]
    assert told["back"]["ingredients"] == [
        {
            "ingredient": "Rusk", "name": "Rusk", "stage": shop.blend, "weight_g": 1000,
            "lot": "R-77", "use_by": "2027-01-31",
        }
    ]  # fmt: skip


def test_a_label_is_found_by_lot_and_by_the_number_in_its_code(shop: Shop) -> None:
    [job] = trace_word(shop.book, shop.burgers).printed[shop.burgers]
    assert job.item is not None
    assert only(shop, job.item.lot).subject.kind is SubjectKind.STAGE
    assert only(shop, f"lot {job.item.lot.upper()}").subject.name == shop.blend
    number = only(shop, job.item.number)
    assert (number.subject.kind, number.subject.pieces) == (
        *(SubjectKind.LABEL_NUMBER,), (shop.burgers,),
    )  # fmt: skip


def test_an_abattoir_and_a_day_of_receipt_lead_to_their_bodies(shop: Shop) -> None:
    assert only(shop, "demo-7").subject.bodies == ("HQ-17", "FQ-09")
    assert only(shop, "2026-11-15").subject.bodies == ("HQ-17",)


def test_days_of_use_are_those_of_the_label(shop: Shop) -> None:
    sheet = trace_word(shop.book, shop.blend)
    [line] = sheet.printed[shop.burgers]
    assert line.item is not None
    assert sheet.use_by[shop.burgers] == line.item.use_by


def test_a_setting_that_cannot_be_read_does_not_stand_in_a_recall_s_way(tmp_path: Path) -> None:
    with open_book(str(tmp_path / "book.gambrel")) as book:
        fill_tub(book, Hand())
        with book.transaction() as work:
            work.set_setting("body_days", "beef=many")
        sheet = trace_word(book, "HQ-17")
    assert sheet.traces[0].forward.pieces
    [note] = sheet.notes
    assert note.startswith("the limits of bodies are left out: 'beef=many' is not a limit")


@pytest.mark.parametrize("kind", ["docket", "blend", "burgers", "wrong", "lot"])
def test_every_line_stays_within_eighty_columns_and_breaks_no_key(shop: Shop, kind: str) -> None:
    words = {
        "docket": "L-0612", "blend": shop.blend, "burgers": shop.burgers, "wrong": shop.wrong,
        "lot": "R-77",
    }  # fmt: skip
    sheet = trace_word(shop.book, words[kind])
    lines = list(trace_lines(sheet))
    assert max(map(len, lines)) <= WIDTH
    text = "\n".join(lines)
    [found] = sheet.traces
    for each in found.forward.pieces:
        assert each.piece.key in text
    for gone in found.forward.taken_back:
        assert f"{gone.piece.key}" in text
        assert "weighed with the box" in text
    assert "difference" in text


def test_what_was_cancelled_says_so(shop: Shop) -> None:
    with shop.book.reading() as work:
        [cancelled] = work.cancelled_stages()
    with pytest.raises(Refusal, match="was cancelled: what it took was never taken"):
        trace_word(shop.book, cancelled)


def test_a_cut_is_no_lot(shop: Shop) -> None:
    with pytest.raises(Refusal) as no:
        trace_word(shop.book, "Diced beef")
    assert "Diced beef is a cut, not a lot" in str(no.value)
    assert shop.blend in str(no.value)
    with pytest.raises(Refusal, match=r"None of it stands in this book\.$"):
        trace_word(shop.book, "shin")


def test_what_is_not_known_is_asked_for_with_a_guess(shop: Shop) -> None:
    with pytest.raises(Refusal, match=r"called 'HQ-71'; did you mean 'HQ-17'\? Type the lot"):
        trace_word(shop.book, "HQ-71")
    with pytest.raises(Refusal, match=r"called 'zz'\. Type the lot"):
        trace_word(shop.book, "zz")


def test_a_book_without_a_shop_says_so(tmp_path: Path) -> None:
    with open_book(str(tmp_path / "book.gambrel")) as book, pytest.raises(Refusal, match="no shop"):
        trace_word(book, "HQ-17")


def names_in(value: object) -> set[str]:
    """All keys of a JSON value."""
    if isinstance(value, list):
        return set().union(*map(names_in, value))
    return set(value).union(*map(names_in, value.values())) if isinstance(value, dict) else set()


def test_the_json_can_be_written_and_has_one_form(shop: Shop) -> None:
    for word, kind in (("HQ-17", "body"), (shop.blend, "stage"), ("R-77", "ingredient_lot")):
        told = trace_json(trace_word(shop.book, word))
        assert json.loads(json.dumps(told)) == told
        assert told["key"] == word
        [found] = told["found"]
        assert list(found) == ["kind", "name", "of", "title", "back", "forward", "balance"]
        assert (found["kind"], found["name"]) == (kind, word)
        for name in names_in(told):
            assert f'"{name}"' in (trace_json.__doc__ or ""), name
        balance = found["balance"]
        assert balance["at_end_g"] == sum(balance["at_end"].values())
        left = sum(row["traced_left_g"] for row in found["forward"]["pieces"])
        assert (left, balance["difference_g"]) == (balance["at_end_g"], 0)
        for row in found["forward"]["pieces"]:
            assert re.fullmatch(r"\d+\.\d\d", row["share_percent"])
            assert row["net_g"] == row["taken_g"] + row["written_off_g"] + row["left_g"]


def test_the_number_of_queries_does_not_grow_with_the_pieces(shop: Shop) -> None:
    def asked(word: str) -> int:
        count = 0

        def seen(*_: object) -> None:
            nonlocal count
            count += 1

        engine = shop.book._engine
        event.listen(engine, "before_cursor_execute", seen)
        try:
            trace_word(shop.book, word)
        finally:
            event.remove(engine, "before_cursor_execute", seen)
        return count

    assert asked("HQ-17") == asked(shop.burgers) == asked("longbarn") <= 30


def test_a_book_with_rows_that_cannot_be_is_traced_with_a_warning(tmp_path: Path) -> None:
    with open_book(str(tmp_path / "book.gambrel")) as book:
        hand = Hand()
        pieces = fill_tub(book, hand)
        with book.transaction() as work:
            late = Stage("S9", StageKind.BLEND, hand.now, None, "Ana")
            work.add([late, Input("S9", Source.PIECE, pieces.lean_90, 9_999)])
        sheet = trace_word(book, "FQ-09")
    [found] = sheet.traces
    assert "S9" in [each.stage.key for each in found.forward.stages]
    assert found.balance.difference_g == 0
    [note] = sheet.notes
    assert note.startswith("1 row of this book cannot be as written")
