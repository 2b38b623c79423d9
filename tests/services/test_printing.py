"""Papers from a real book: the demo shop on SQLite."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from io import BytesIO

import openpyxl
import pytest

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.clock import day_begins
from gambrel.domain.trade.records import PriceChange
from gambrel.services.books import Book, open_book
from gambrel.services.day import day_pdf
from gambrel.services.folder.load import load_folder
from gambrel.services.tickets import paper_names, print_tickets, tickets_pdf
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
    assert "Cook through." in text
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
    assert printed.cut_short == ()
    assert text_of(printed.pdf).count("per kg") == text_of(printed.pdf).count("Keep refrigerated.")


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
