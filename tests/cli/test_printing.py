"""``gambrel prints``: the log and the queue without a window."""

from __future__ import annotations

import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from gambrel.services.books import open_book
from gambrel.services.labels import Wish
from gambrel.services.printing.documents import Choice, DaySheet, Labels, Tickets
from gambrel.services.printing.queue import To
from gambrel.services.printing.sending import print_document, save_document
from tests.cli.conftest import Gambrel
from tests.services.printing.shop import FRIDAY, Clock, KeepingPrinters, an_act, go_on


@pytest.fixture(scope="module")
def printed(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book in which tickets were printed, a sheet saved a day later, and labels failed."""
    folder = tmp_path_factory.mktemp("printed")
    place = Path(shutil.copy(loaded, folder / "b.gambrel"))
    saturday = FRIDAY + timedelta(days=1)
    with open_book(str(place)) as book:
        tickets = Tickets(("rump", "mince")).make(book, Choice("a4-15"), FRIDAY, go_on)
        printers = KeepingPrinters()
        print_document(book, tickets, To("Office", 2), an_act(1), printers, go_on, Clock())
        sheet = DaySheet(FRIDAY.date()).make(book, Choice("a4"), saturday, go_on)
        save_document(book, sheet, folder / "day.pdf", an_act(2, saturday, person=""))
        labels = Labels((Wish("P1"),)).make(book, Choice("label-58x60"), saturday, go_on)
        failing = KeepingPrinters(refusal="No paper. Put some in.")
        act = an_act(3, saturday + timedelta(minutes=1))
        print_document(book, labels, To("Labels"), act, failing, go_on, Clock())
    return place


def test_the_log_and_what_waits_as_tables(gambrel: Gambrel, printed: Path) -> None:
    said = gambrel("prints", "--book", printed)
    assert (said.status, said.err) == (0, "")
    head, *lines = said.out.split("\nPrinted and saved\n")[1].splitlines()
    assert head.split() == [
        *("day", "at", "what", "price/kg", "net", "kg", "price", "paper", "on", "by")
    ]
    assert lines[0].split()[:3] == ["2026-11-21", "13:00", "Daily"]
    assert lines[1].split() == [
        *("2026-11-20", "13:00", "rump", "27.99", "-", "-", "a4-15", "Office", "Ana")
    ]
    assert "No paper. Put some in." in said.out


def test_the_json_has_prices_in_decimals_and_days_of_the_shop(
    gambrel: Gambrel, printed: Path
) -> None:
    told = gambrel("prints", "--json", "--book", printed).json
    assert told["currency"] == "AUD"
    sheet, rump, mince = told["printed"]
    assert (sheet["kind"], sheet["state"], sheet["printer"], sheet["by"]) == (
        *("sheet", "saved"), None, None,
    )  # fmt: skip
    assert (rump["cut"], rump["price_per_kg"], rump["copies"]) == ("rump", "27.99", 2)
    assert (mince["cut"], mince["price_per_kg"], mince["number"][:2]) == ("mince", "13.99", "20")
    assert rump["at"] == "2026-11-20T13:00:00+11:00"
    (waiting,) = told["waiting"]
    assert (waiting["state"], waiting["cuts"]) == ("failed", ["rump"])


def test_a_day_and_cuts_narrow_it(gambrel: Gambrel, printed: Path) -> None:
    friday = gambrel("prints", "--day", "2026-11-20", "--json", "--book", printed).json
    assert [row["cut"] for row in friday["printed"]] == ["rump", "mince"]
    mince = gambrel("prints", "--cut", "mince", "--json", "--book", printed).json
    assert [row["cut"] for row in mince["printed"]] == ["mince"]
    refused = gambrel("prints", "--cut", "ham", "--book", printed)
    assert (refused.status, refused.out) == (1, "")
    assert "no cut ham" in refused.err


def test_a_book_without_prints_says_so_in_an_empty_table(gambrel: Gambrel, loaded: Path) -> None:
    said = gambrel("prints", "--book", loaded)
    assert said.status == 0
    assert "Waiting" not in said.out


def test_wrong_usage(gambrel: Gambrel, loaded: Path) -> None:
    assert gambrel("prints", "--day", "yesterday", "--book", loaded).status == 2
