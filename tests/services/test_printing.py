"""Papers from a real book: the demo shop on SQLite."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from io import BytesIO

import openpyxl
import pytest

from gambrel.domain.bench.legal import COUNTRY_SETTING
from gambrel.domain.numbers.money import extend
from gambrel.domain.prices.body_limits import BODY_DAYS_SETTING
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Origin, OriginOf
from gambrel.domain.trade.clock import day_begins
from gambrel.domain.trade.records import PriceChange
from gambrel.reports.papers import label_sheet
from gambrel.services.books import Book, open_book
from gambrel.services.day import day_pdf
from gambrel.services.folder.load import load_folder
from gambrel.services.labels import Wish, label_paper_names, pieces_ready, print_labels
from gambrel.services.settings import keep_setting
from gambrel.services.tickets import Per, TicketPrint, paper_names, print_tickets, tickets_pdf
from gambrel.services.week import week_csv, week_pdf, week_xlsx
from tests.demo_book import open_demo
from tests.reports.reading import text_of
from tests.small_shop import replaced, write_shop

NOW = datetime(2026, 11, 21, 2, tzinfo=UTC)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    with open_demo(tmp_path_factory.mktemp("papers") / "demo.gambrel") as demo:
        yield demo


def test_a_day_is_printed_from_the_book(book: Book) -> None:
    pdf = day_pdf(book, date(2026, 11, 18))
    text = text_of(pdf)
    assert pdf.startswith(b"%PDF-")
    assert "Wed 18 Nov 2026" in text
    assert "HQ-16" in text
    assert day_pdf(book, date(2026, 11, 18)) == pdf
    assert "Nothing was received" in text_of(day_pdf(book, date(1999, 12, 31)))


def test_a_week_is_printed_in_three_forms(book: Book) -> None:
    assert "16 Nov – 22 Nov 2026" in text_of(week_pdf(book, "2026-W47"))
    sheets = openpyxl.load_workbook(BytesIO(week_xlsx(book, "2026-W47")))
    assert sheets.sheetnames[:2] == ["Week beside last week", "Cuts"]
    files = week_csv(book, "2026-W47")
    assert files["week.csv"].splitlines()[1].startswith("2026-W47,2026-11-16,")
    bought = files["week.csv"].splitlines()[1].split(",")[4]
    assert f"${float(bought):,.2f}" in text_of(week_pdf(book, "2026-W47"))


@pytest.mark.parametrize("make", [week_pdf, week_xlsx, week_csv])
@pytest.mark.parametrize("name", ["2026-W54", "last week", "2026-47", ""])
def test_a_week_that_does_not_exist_is_refused(book: Book, make: object, name: str) -> None:
    assert callable(make)
    with pytest.raises(Refusal, match="expected for example 2026-W47"):
        make(book, name)


def test_tickets_are_printed_at_the_moments_prices(book: Book) -> None:
    text = text_of(tickets_pdf(book, ["lamb-rack", "beef-mince"], "card-a6", NOW))
    assert "Lamb rack $33.99 per kg" in text
    assert "Beef mince $15.49 per kg" in text
    assert "Cook right through until the juices run clear." in text, "the cut's own line"
    with book.reading() as work:
        shop = work.shop()
    assert shop is not None
    later = day_begins(date(2026, 11, 23), shop)
    assert "$37.99 per kg" in text_of(tickets_pdf(book, ["lamb-rack"], "card-a6", later))


def test_a_price_change_in_the_book_is_on_the_next_ticket(book: Book) -> None:
    with book.transaction() as work:
        work.add([PriceChange("shin", 1777, NOW)])
    assert "$17.77 per kg" in text_of(tickets_pdf(book, ["shin"], "a4-8", NOW))


@pytest.mark.parametrize("paper", paper_names())
def test_all_cuts_go_on_every_paper(book: Book, paper: str) -> None:
    printed = print_tickets(book, None, paper, NOW)
    text = text_of(printed.pdf)
    assert text.count("per kg") == len(printed.tickets)
    for each in printed.tickets:
        assert each.name in text
        assert all(caution in text for caution in each.cautions)
    with book.reading() as work:
        suppliers = {supplier.name for supplier in work.trade().suppliers}
    # On the smallest paper a supplier may give way to a long caution, and that is told.
    assert set(printed.cut_short) <= (suppliers if paper == "a4-24" else set())


def test_tickets_of_a_country_with_rules_ask_for_what_is_not_written_down(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    with open_demo(tmp_path_factory.mktemp("rules") / "demo.gambrel") as book:
        keep_setting(book, COUNTRY_SETTING, "IE")
        irish = Origin(OriginOf.SUPPLIER, "", "Ireland", "Ireland", "Ireland")
        with book.transaction() as work:
            for supplier in ("northfold", "hollowgate"):
                work.put(replace(irish, key=supplier))
        with pytest.raises(Refusal, match=r"origin of Rump is not known .*the abattoir's number"):
            print_tickets(book, ["rump"], "card-a6", NOW)
        with book.transaction() as work:
            for supplier in ("northfold", "hollowgate"):
                work.put(
                    Origin(
                        OriginOf.SUPPLIER, supplier, "Ireland", "Ireland", "Ireland", "IE 303 EC"
                    )
                )
        printed = print_tickets(book, ["rump"], "card-a6", NOW)
        assert "Origin: Ireland. Slaughtered in: Ireland, IE 303 EC." in text_of(printed.pdf)


def test_a_ticket_may_have_a_second_price_and_no_bars(book: Book) -> None:
    how = TicketPrint(per=Per.HUNDRED_GRAMS, barcode=False)
    printed = print_tickets(book, ["rump"], "a4-8", NOW, how)
    (ticket,) = printed.tickets
    assert ticket.number == ""
    assert "per 100 g" in text_of(printed.pdf)
    with pytest.raises(Refusal, match="not a PNG or JPEG"):
        print_tickets(book, ["rump"], "a4-8", NOW, TicketPrint(logo=b"no picture"))


# Tray labels


def test_every_piece_that_is_ready_is_labelled(book: Book) -> None:
    ready = pieces_ready(book, NOW)
    assert len(ready) > 50
    wishes = [Wish(packed.piece.key) for packed in ready]
    printed = print_labels(book, wishes, "label-58x60", NOW)
    assert printed.pages == len(printed.labels) == len(ready)
    assert printed.cut_short == ()
    today = date(2026, 11, 21)
    for packed, label in zip(ready, printed.labels, strict=True):
        assert label.grams == packed.left_g
        assert label.price == extend(label.per_kilo, label.grams)
        assert label.use_by >= today
    assert text_of(printed.pdf).count("Use by") == len(ready)


def test_no_label_lasts_longer_than_the_shops_limit_for_a_body(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    with open_demo(tmp_path_factory.mktemp("limits") / "demo.gambrel") as book:
        free = {packed.piece.key: packed.use_by for packed in pieces_ready(book, NOW)}
        keep_setting(book, BODY_DAYS_SETTING, "beef=12, lamb=9")
        held = {packed.piece.key: packed.use_by for packed in pieces_ready(book, NOW)}
        assert held.keys() < free.keys(), "some are past their body's day"
        assert all(day <= free[key] for key, day in held.items())
        assert any(day < free[key] for key, day in held.items())
        keep_setting(book, BODY_DAYS_SETTING, "beef=soon")
        with pytest.raises(Refusal, match="'beef=soon' is not a limit in days"):
            pieces_ready(book, NOW)


def test_what_is_wrong_with_labels_is_said_and_nothing_is_made(book: Book) -> None:
    for wishes, paper, says in (
        ([Wish("P-9999")], "label-58x60", "no piece 'P-9999'"),
        ([Wish("P-1001")], "label-58x60", "No labels were made"),
        ([], "label-58x60", "No piece was chosen"),
        ([Wish("P-1001")], "label-5x5", "expected 30 to 210 mm"),
        ([Wish("P-1001")], "card", "no label paper 'card'"),
    ):
        with pytest.raises(Refusal, match=says):
            print_labels(book, wishes, paper, NOW)
    assert all(label_sheet(name).name == name for name in label_paper_names())


@pytest.mark.parametrize("paper", ["a4-9", "", "A4-8"])
def test_an_unknown_paper_is_named_with_what_exists(book: Book, paper: str) -> None:
    with pytest.raises(Refusal, match=r"no paper .*; choose one of a4-8, a4-15, a4-24, card-a6"):
        tickets_pdf(book, None, paper, NOW)


def test_a_cut_without_a_price_is_refused_by_name(book: Book) -> None:
    with pytest.raises(Refusal, match="Suet has no price; give it one or leave it out"):
        tickets_pdf(book, ["rump", "beef-suet"], "a4-8", NOW)


def test_an_empty_book_says_what_to_do(tmp_path: object) -> None:
    with open_book(f"{tmp_path}/empty.gambrel") as empty:
        makers: list[Callable[[], bytes]] = [
            lambda: day_pdf(empty, date(2026, 11, 18)),
            lambda: week_pdf(empty, "2026-W47"),
            lambda: tickets_pdf(empty, None, "a4-8", NOW),
        ]
        for make in makers:
            with pytest.raises(Refusal, match="no shop in it yet"):
                make()


def test_a_missing_price_stops_a_sheet_by_the_cuts_name(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    place = tmp_path_factory.mktemp("unpriced")
    cuts = replaced("cuts.csv", "Mince,beef,tray,13.99", "Mince,beef,tray,")
    with open_book(str(place / "b.gambrel")) as book:
        load_folder(book, write_shop(place / "in", cuts=cuts))
        with pytest.raises(Refusal, match="no price for Mince"):
            day_pdf(book, date(2026, 11, 18))
        # Its ticket is left out, the others are printed.
        text = text_of(tickets_pdf(book, None, "a4-8", NOW))
        assert "Rump" in text
        assert "Mince" not in text


def test_names_of_papers_are_told_without_the_library_that_draws() -> None:
    program = (
        "import sys\n"
        "from gambrel.services.tickets import paper_names\n"
        "import gambrel.services.day, gambrel.services.week\n"
        "print(*paper_names(), 'reportlab' in sys.modules, 'xlsxwriter' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == [*paper_names(), "False", "False"]
