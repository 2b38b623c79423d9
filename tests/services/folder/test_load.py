# ruff: noqa: E501 - a table reads best with a case on each line
from __future__ import annotations

from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.records import Source, Trade
from gambrel.services.books import Book
from gambrel.services.folder import sheet
from gambrel.services.folder.load import check_folder, load_folder
from tests.small_shop import FILES, replaced, write_shop

ROWS = {
    "suppliers": 1, "cuts": 4, "cutting_lists": 2, "bodies": 1, "reweighs": 1, "stages": 2,
    "pieces": 5, "inputs": 3, "voids": 1, "prices": 1, "writeoffs": 1,
}  # fmt: skip


def held(book: Book) -> Trade | None:
    with book.reading() as work:
        return work.trade() if work.shop() is not None else None


def refused(book: Book, folder: Path) -> tuple[str, ...]:
    """What a load says no with; the book must be as it was."""
    before = held(book)
    with pytest.raises(RowsRefused) as caught:
        load_folder(book, folder)
    assert held(book) == before
    return caught.value.sentences


def test_a_good_folder_is_in_and_loading_it_again_adds_nothing(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")
    first = load_folder(book, folder)
    assert first.added == ROWS
    before = held(book)
    again = load_folder(book, folder)
    assert (again.added, again.same) == ({}, ROWS)
    assert held(book) == before


def edit(name: str, old: str, new: str) -> dict[str, str]:
    return {name.partition(".")[0]: replaced(name, old, new)}


P1 = "P1,S1,rump,4.506,0.120,2026-11-18T08:10:00+11:00,Ana,1"

BAD = [
    (edit("pieces.csv", "P1,S1,rump,4.506", "P1,S1,rump,-4.506"), "pieces.csv:2: gross_kg: ", "negative"),
    (edit("pieces.csv", "P1,S1,rump,4.506,0.120", "P1,S1,rump,0,0"), "pieces.csv:2: gross_kg: ", "zero"),
    (edit("pieces.csv", "P1,S1,rump,4.506", "P1,S1,rump,NaN"), "pieces.csv:2: gross_kg: ", "not a weight"),
    (edit("pieces.csv", "P1,S1,rump,4.506", "P1,S1,rump,Infinity"), "pieces.csv:2: gross_kg: ", "not a weight"),
    (edit("pieces.csv", "P1,S1,rump,4.506", "P1,S1,rump,1e9"), "pieces.csv:2: gross_kg: ", "not a weight"),
    (edit("pieces.csv", "P1,S1,rump,4.506", "P1,S1,rump,99999999"), "pieces.csv:2: gross_kg: ", "at most 10000"),
    (edit("pieces.csv", "P1,S1,rump,4.506", "P1,S1,rump,4.5061"), "pieces.csv:2: gross_kg: ", "kilograms such as"),
    (edit("pieces.csv", "P1,S1,rump,4.506", "P1,S1,rump,"), "pieces.csv:2: gross_kg: ", "nothing is given"),
    (edit("pieces.csv", "4.506,0.120,2026-11-18T08:10", "4.506,4.600,2026-11-18T08:10"), "pieces.csv:2: tare_kg: ", "less than the gross"),
    (edit("pieces.csv", P1, f"{P1}\nP1,S2,rump,4.506,0.120,2026-11-18T08:10:00+11:00,Ana,1"), "pieces.csv:3: piece: ", "one stage"),
    (edit("pieces.csv", "P3,S1", "P1,S1"), "pieces.csv:4: piece: ", "already on line 2"),
    (edit("pieces.csv", "P3,S1,bone", "P3,S1,bne"), "pieces.csv:4: cut: ", "did you mean 'bone'"),
    (edit("pieces.csv", "P3,S1", "P3,S7"), "pieces.csv:4: stage: ", "no stage 'S7'"),
    (edit("pieces.csv", "P3,S1", '"P\n3",S1'), "pieces.csv:4: piece: ", "unseen character"),
    (edit("pieces.csv", "P3,S1", f"{'P' * 200},S1"), "pieces.csv:4: piece: ", "too many"),
    (edit("pieces.csv", P1, f"{P1},more"), "pieces.csv:2: station: ", "9 cells, expected 8"),
    (edit("pieces.csv", P1, "P1,S1,rump"), "pieces.csv:2: gross_kg: ", "3 cells, expected 8"),
    (edit("pieces.csv", "2026-11-18T08:10:00+11:00", "yesterday"), "pieces.csv:2: weighed_at: ", "not a time"),
    (edit("pieces.csv", "2026-11-18T08:10:00+11:00", "2026-11-31T08:10:00+11:00"), "pieces.csv:2: weighed_at: ", "not a time"),
    (edit("pieces.csv", "2026-11-18T08:10:00+11:00", "0001-01-01T08:10"), "pieces.csv:2: weighed_at: ", "out of our time"),
    (edit("pieces.csv", "2026-11-18T08:10:00+11:00", "2026-10-04T02:30:00"), "pieces.csv:2: weighed_at: ", "did not exist"),
    (edit("pieces.csv", "gross_kg", "gros_kg"), "pieces.csv:1: gros_kg: ", "did you mean 'gross_kg'"),
    (edit("pieces.csv", "gross_kg", "gros_kg"), "pieces.csv:1: gross_kg: ", "missing"),
    (edit("pieces.csv", "person,station", "person,person"), "pieces.csv:1: person: ", "twice"),
    (edit("pieces.csv", "person,station", "person,"), "pieces.csv:1: ", "has no name"),
    ({"pieces": FILES["pieces.csv"].replace(",", ";")}, "pieces.csv:1: piece;stage", "expected commas"),
    ({"pieces": ""}, "pieces.csv:1: ", "the file is empty, expected a header: piece,"),
    ({"pieces": "\n\n"}, "pieces.csv:1: ", "the file is empty"),
    ({"pieces": FILES["pieces.csv"].replace("\n", "\r")}, "pieces.csv:1: ", "line ends"),
    (edit("pieces.csv", "P3,S1", "P\0,S1"), "pieces.csv:4: ", "NUL"),
    (edit("pieces.csv", "P3,S1", '"P3,S1'), "pieces.csv:4: ", "quote"),
    (edit("pieces.csv", "P3,S1", "P" * 1_100_000 + ",S1"), "pieces.csv:4: ", "1000000 bytes"),
    (edit("pieces.csv", "P3,S1", '"' + "P\n" * 600_000), "pieces.csv:4: ", "longer than 1000000"),
    (edit("pieces.csv", "P3,S1", "P" * 1_100_000 + ",S1"), "pieces.csv:4: ", "longer than 1000000"),
    (edit("stages.csv", "2026-11-18T09:00", "2026-11-18T07:00"), "stages.csv:2: finished_at: ", "before it started"),
    (edit("stages.csv", "S1,break", "S1,brake"), "stages.csv:2: kind: ", "did you mean 'break'"),
    (edit("stages.csv", "22.5", "1e400"), "stages.csv:2: minutes: ", "not a number"),
    (edit("stages.csv", "22.5,Hind", "22.5,Hund"), "stages.csv:2: list: ", "did you mean 'Hind'"),
    (edit("inputs.csv", "S2,,P2,,10,", "S2,,P2,,60.001,"), "inputs.csv:3: kg: ", "only 60.000 kg is left"),
    (edit("inputs.csv", "S2,,P2,,10,", "S2,,P9,,10,"), "inputs.csv:3: piece: ", "no piece 'P9'"),
    (edit("inputs.csv", "S2,,P2,,10,", "S2,,P4,,4,"), "inputs.csv:3: piece: ", "taken back"),
    (edit("inputs.csv", "S2,,P2,,10,", "S2,HQ-1,P2,,10,"), "inputs.csv:3: piece: ", "body and piece are both named"),
    (edit("inputs.csv", "S2,,P2,,10,", "S2,,,,10,"), "inputs.csv:3: body: ", "nothing is named"),
    (edit("inputs.csv", "S2,,P2,,10,", "S2,,P2,,10,5.00"), "inputs.csv:3: cost: ", "ingredients only"),
    (edit("inputs.csv", "salt,0.1", "salt,"), "inputs.csv:4: kg: ", "ingredient weighs"),
    (edit("inputs.csv", "salt,0.1,0.40", "salt,0.1,"), "inputs.csv:4: cost: ", "write 0 if it was free"),
    ({"inputs": "stage,ingredient,kg\nS2,salt,0.1\n"}, "inputs.csv:2: cost: ", "what the ingredient cost"),
    (edit("inputs.csv", "S1,HQ-1,,,,", "S1,HQ-1,,,,\nS1,,P5,,1,"), "inputs.csv:3: piece: ", "circle"),
    (edit("bodies.csv", "82.6,82.4", "82.6,0"), "bodies.csv:2: received_kg: ", "more than zero"),
    (edit("bodies.csv", "9.80", "9.801"), "bodies.csv:2: price_per_kg: ", "decimals"),
    (edit("bodies.csv", "9.80", "1e3"), "bodies.csv:2: price_per_kg: ", "not an amount"),
    (edit("bodies.csv", "9.80", "-9.80"), "bodies.csv:2: price_per_kg: ", "negative"),
    (edit("bodies.csv", "9.80", "99999999999999"), "bodies.csv:2: price_per_kg: ", "more than any shop"),
    (edit("bodies.csv", "2026-11-14", "2026-11-17"), "bodies.csv:2: killed_on: ", "after the body came"),
    (edit("bodies.csv", "2026-11-14", "14/11/2026"), "bodies.csv:2: killed_on: ", "not a date"),
    (edit("bodies.csv", "2026-11-14", "2026-02-30"), "bodies.csv:2: killed_on: ", "expected one of the calendar"),
    (edit("bodies.csv", ",farm,", ",firm,"), "bodies.csv:2: supplier: ", "did you mean 'farm'"),
    (edit("reweighs.csv", "2026-11-18", "2026-11-15"), "reweighs.csv:2: weighed_at: ", "not been received"),
    (edit("cuts.csv", "byproduct", "biproduct"), "cuts.csv:5: kind: ", "did you mean 'byproduct'"),
    (edit("cuts.csv", ",4,101", ",4.5,101"), "cuts.csv:2: shelf_life_days: ", "whole number"),
    (edit("cuts.csv", "2,103", "2,101"), "cuts.csv:4: plu: ", "also the number of 'rump'"),
    (edit("cutting_lists.csv", "18", "98"), "cutting_lists.csv:3: norm_percent: ", "add up to 106.5"),
    (edit("voids.csv", "P4", "P44"), "voids.csv:2: piece: ", "no piece"),
    (edit("writeoffs.csv", "0.2", "9"), "writeoffs.csv:2: kg: ", "is left"),
    (edit("prices.csv", "27.99", "x"), "prices.csv:2: price_per_kg: ", "AUD such as"),
    (edit("shop.toml", '"37.50"', "37.5"), "shop.toml:6: work_per_hour: ", "floating-point"),
    (edit("shop.toml", '"AUD"', '"AUS"'), "shop.toml:2: currency: ", "ISO 4217"),
    (edit("shop.toml", "Australia/Melbourne", "Australia/Melborne"), "shop.toml:3: time_zone: ", "did you mean 'Australia/Melbourne'"),
    (edit("shop.toml", "Australia/Melbourne", "../../etc/passwd"), "shop.toml:3: time_zone: ", "IANA"),
    (edit("shop.toml", '"04:00"', '"24:00"'), "shop.toml:4: day_starts: ", "hours and minutes"),
    (edit("shop.toml", '"monday"', '"mon"'), "shop.toml:5: week_starts: ", "expected a name"),
    (edit("shop.toml", "= false", '= "no"'), "shop.toml:8: prices_include_tax: ", "true or false"),
    (edit("shop.toml", '"38"', '"100"'), "shop.toml:9: target_margin_percent: ", "below 100"),
    (edit("shop.toml", "tax_percent = ", "tax_pct = "), "shop.toml:7: tax_pct: ", "did you mean 'tax_percent'"),
    (edit("shop.toml", "tax_percent = ", "tax_pct = "), "shop.toml: tax_percent: ", "missing"),
    (edit("shop.toml", 'currency = "AUD"', "currency = AUD"), "shop.toml:2: ", "not TOML"),
    ({"shop": None}, "shop.toml: ", "the book has no shop yet"),
    ({"suppliers": None}, "bodies.csv:2: supplier: ", "no supplier 'farm'"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "place", "says"), BAD)
def test_a_bad_folder_is_refused_by_place_and_the_book_is_as_it_was(
    book: Book, tmp_path: Path, changes: dict[str, str | None], place: str, says: str
) -> None:
    sentences = refused(book, write_shop(tmp_path / "in", **changes))
    assert any(s.startswith(place) and says in s for s in sentences), sentences
    assert len(sentences) <= 2, "what hangs on a bad row is not refused as well"


def test_all_bad_rows_are_named_at_once(book: Book, tmp_path: Path) -> None:
    pieces = replaced("pieces.csv", "P1,S1,rump,4.506", "P1,S1,rump,-1").replace("P3,S1", "P3,S9")
    folder = write_shop(
        tmp_path / "in",
        pieces=pieces,
        inputs=replaced("inputs.csv", "S2,,P2,,10,", "S2,,P2,,61,"),
        stages=replaced("stages.csv", "S1,break", "S1,brake"),
        prices=replaced("prices.csv", "rump", "ramp"),
    )
    places = [sentence.partition(": ")[0] for sentence in refused(book, folder)]
    assert places == [
        "stages.csv:2",
        "pieces.csv:2",
        "pieces.csv:4",
        "inputs.csv:3",
        "prices.csv:2",
    ]


def test_broken_utf_8_is_named_with_its_line(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")
    text = (folder / "suppliers.csv").read_bytes()
    (folder / "suppliers.csv").write_bytes(text + b"x,caf\xe9,\ny,na\xefve,\n")
    sentences = refused(book, folder)
    assert [s.partition(": ")[0] for s in sentences] == ["suppliers.csv:3", "suppliers.csv:4"]
    assert all("not UTF-8" in sentence for sentence in sentences)


def test_utf_16_and_a_spoilt_shop_file_are_told_apart(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")
    (folder / "cuts.csv").write_bytes(FILES["cuts.csv"].encode("utf-16"))
    (folder / "shop.toml").write_bytes(FILES["shop.toml"].encode() + b'x = "\xff"\n')
    sentences = refused(book, folder)
    assert sentences[0].startswith("shop.toml:10: this is not UTF-8")
    assert sentences[1].startswith("cuts.csv:1: this is UTF-16, expected UTF-8")
    assert len(sentences) == 2


def test_a_bom_and_windows_line_ends_are_accepted(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")
    for name, text in FILES.items():
        (folder / name).write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert load_folder(book, folder).added == ROWS


def test_a_file_of_a_gigabyte_is_refused_before_it_is_read(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")
    with (folder / "pieces.csv").open("ab") as file:
        file.truncate(1_000_000_000)
    sentences = refused(book, folder)
    assert (
        "pieces.csv: the file has 1,000 MB and was not read, expected at most 200 MB"
        in sentences[0]
    )


def test_the_largest_file_is_a_limit_that_can_be_met(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = write_shop(tmp_path / "in")
    monkeypatch.setattr(sheet, "LARGEST_FILE", max(len(text) for text in FILES.values()))
    assert load_folder(book, folder).added == ROWS


def test_a_folder_in_the_place_of_a_file_is_refused(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in", prices=None)
    (folder / "prices.csv").mkdir()
    assert "prices.csv: this is not a plain file" in refused(book, folder)[0]


@pytest.mark.parametrize("name", ["missing", "file", "empty"])
def test_what_is_no_folder_of_ours_is_refused(book: Book, tmp_path: Path, name: str) -> None:
    (tmp_path / "file").touch()
    (tmp_path / "empty").mkdir()
    with pytest.raises(Refusal, match=r"There is no folder|is a file|holds none of"):
        load_folder(book, tmp_path / name)
    assert held(book) is None


def test_a_misspelt_file_is_refused_and_a_strange_one_is_told(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")
    (folder / "expected.csv").touch()
    assert load_folder(book, folder).ignored == ("expected.csv",)
    (folder / "pieces.csv").rename(folder / "peices.csv")
    assert "expected pieces.csv" in refused(book, folder)[0]


def test_columns_may_stand_in_any_order_and_be_left_out(book: Book, tmp_path: Path) -> None:
    folder = write_shop(
        tmp_path / "in",
        pieces="cut,piece,weighed_at,gross_kg,stage\nrump,P1,2026-11-18 08:10,4.5,S1\n",
        inputs="kg,body,stage\n,HQ-1,S1\n",
        voids=None,
        writeoffs=None,
        reweighs=None,
        prices=None,
        cutting_lists=None,
        stages="stage,kind,started_at\nS1,break,2026-11-18T08:00+11:00\nS2,blend,2026-11-19\n",
    )
    load_folder(book, folder)
    trade = held(book)
    assert trade is not None
    [piece] = trade.pieces
    assert (piece.tare_g, piece.person) == (0, "")
    assert piece.weighed_at.isoformat() == "2026-11-17T21:10:00+00:00"
    assert trade.stages[1].started_at.isoformat() == "2026-11-18T17:00:00+00:00"


def test_an_ingredient_may_be_free_and_then_says_so(book: Book, tmp_path: Path) -> None:
    free = replaced("inputs.csv", "salt,0.1,0.40", "salt,0.1,0")
    load_folder(book, write_shop(tmp_path / "in", inputs=free))
    trade = held(book)
    assert trade is not None
    assert [row.cost for row in trade.inputs if row.source is Source.INGREDIENT] == [0]


def test_of_two_moments_with_one_wall_time_the_earlier_is_meant(book: Book, tmp_path: Path) -> None:
    pieces = replaced("pieces.csv", "2026-11-19T08:40:00+11:00", "2027-04-04T02:30:00")
    load_folder(book, write_shop(tmp_path / "in", pieces=pieces))
    trade = held(book)
    assert trade is not None
    assert trade.pieces[-1].weighed_at.isoformat() == "2027-04-03T15:30:00+00:00"


def test_a_later_folder_may_hold_only_what_is_new(book: Book, tmp_path: Path) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    more = tmp_path / "more"
    more.mkdir()
    (more / "pieces.csv").write_text(
        "piece,stage,cut,gross_kg,weighed_at\nP6,S2,mince,1.5,2026-11-19T08:50:00+11:00\n"
    )
    assert load_folder(book, more).added == {"pieces": 1}


def test_a_row_with_other_content_is_refused_with_what_differs(book: Book, tmp_path: Path) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    other = write_shop(
        tmp_path / "other", pieces=replaced("pieces.csv", "P3,S1,bone,15.000", "P3,S1,trim,14.000")
    )
    [sentence] = refused(book, other)
    assert sentence.startswith("pieces.csv:4: cut: 'P3' is in the book with other content")
    assert "cut is trim here and bone in the book" in sentence
    assert "gross_kg is 14.000 here and 15.000 in the book" in sentence


def test_two_currencies_are_refused(book: Book, tmp_path: Path) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    other = write_shop(tmp_path / "other", shop=FILES["shop.toml"].replace("AUD", "EUR"))
    [sentence] = refused(book, other)
    assert sentence.startswith('shop.toml: currency: "EUR" is given, but the book has "AUD"')


def test_an_open_stage_is_finished_by_a_later_folder(book: Book, tmp_path: Path) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    stages = replaced(
        "stages.csv", "08:00:00+11:00,,Joss,10,", "08:00:00+11:00,2026-11-19T09:00,Joss,40,"
    )
    result = load_folder(book, write_shop(tmp_path / "other", stages=stages))
    assert (result.finished, result.added) == (1, {})
    trade = held(book)
    assert trade is not None
    assert trade.stages[1].minutes == 40
    assert not trade.stages[1].is_open
    sentences = refused(book, tmp_path / "in")
    assert "finished_at is empty here" in sentences[0]


def test_a_folder_that_spoils_rows_of_the_book_names_them(book: Book, tmp_path: Path) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    more = tmp_path / "more"
    more.mkdir()
    (more / "voids.csv").write_text("piece,voided_at\nP2,2026-11-18T12:00\n")
    [sentence] = refused(book, more)
    assert sentence.startswith("inputs.csv: piece: piece P2 was taken back")
    assert "in the book" in sentence


def test_a_folder_is_checked_without_a_book(tmp_path: Path) -> None:
    check_folder(write_shop(tmp_path / "in"))
    with pytest.raises(RowsRefused):
        check_folder(write_shop(tmp_path / "bad", pieces=""))


def test_currencies_without_decimals_have_none(book: Book, tmp_path: Path) -> None:
    shop = FILES["shop.toml"].replace("AUD", "JPY").replace("37.50", "3750")
    cuts = "cut,name,species,kind,price_per_kg\nrump,Rump,beef,tray,2699\n"
    folder = tmp_path / "in"
    folder.mkdir()
    (folder / "shop.toml").write_text(shop)
    (folder / "cuts.csv").write_text(cuts)
    load_folder(book, folder)
    trade = held(book)
    assert trade is not None
    assert trade.cuts[0].price == 2699
    (folder / "cuts.csv").write_text(f"{cuts}trim,Trim,beef,trim,8.9\n")
    assert "expected JPY such as 12" in refused(book, folder)[0]


def test_the_key_of_a_cancelled_stage_is_taken(book: Book, tmp_path: Path) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    more = tmp_path / "more"
    more.mkdir()
    (more / "stages.csv").write_text("stage,kind,started_at\nS3,blend,2026-11-20T08:00\n")
    load_folder(book, more)
    trade = held(book)
    assert trade is not None
    with book.transaction() as work:
        work.cancel_stage("S3", trade.stages[-1].started_at, "Ana", "wrong piece")
    [sentence] = refused(book, more)
    assert sentence.startswith("stages.csv:2: stage: 'S3' was cancelled in the book")
