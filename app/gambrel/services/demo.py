"""The invented shop as a fresh book, and the papers that show what the program makes of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import date, datetime, timedelta
from importlib.resources import as_file, files
from pathlib import Path

from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day, week_of
from gambrel.domain.trade.records import Trade
from gambrel.services.books import Book, open_book
from gambrel.services.folder.load import load_folder
from gambrel.services.papers import save_whole

DAYS = 3
"""As many days as have a sheet in the demo: those with the most pieces."""

PAPERS = 2
"""On so many papers the demo's tickets are shown, the largest sheet and the first card."""

LABELLED = 12
"""Of so many pieces, those weighed last, the demo shows tray labels."""

A_WHILE = timedelta(minutes=20)


def make_demo_book(folder: Path) -> Book:
    """Load the invented shop into a new book in a folder that is there."""
    book = open_book(str(folder / "demo.gambrel"))
    with as_file(files("gambrel.demo_data")) as data:
        load_folder(book, data)
    return book


def going_on(last: datetime, clock: Callable[[], datetime]) -> Callable[[], datetime]:
    """A clock that begins a while after a demo's last act and goes on as another one does."""
    began = clock()
    return lambda: last + A_WHILE + (clock() - began)


def write_demo_papers(book: Book, folder: Path, now: datetime) -> list[Path]:
    """Write sheets of the busiest days, the last week in every form, shelf tickets and tray labels.

    Args:
        book: A demo book.
        folder: Where the files go.
        now: What tickets and labels take for now (aware).
    Returns:
        The files, in the order in which they were written.
    """
    from gambrel.services.day import day_pdf
    from gambrel.services.tickets import paper_names, tickets_pdf
    from gambrel.services.week import week_csv, week_pdf, week_xlsx

    with book.reading() as work:
        trade = work.trade()
    contents: dict[str, bytes] = {}
    for day in busiest_days(trade):
        contents[f"day-{day}.pdf"] = day_pdf(book, day)
    week = last_week(trade)
    contents[f"week-{week}.pdf"] = week_pdf(book, week)
    contents[f"week-{week}.xlsx"] = week_xlsx(book, week)
    for name, text in week_csv(book, week).items():
        contents[f"week-{week}/{name}"] = text.encode()
    for paper in two_papers(paper_names()):
        contents[f"tickets-{paper}.pdf"] = tickets_pdf(book, None, paper, now)
    contents.update(_labels(book, now))
    for name, content in contents.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        save_whole(folder / name, content)
    return [folder / name for name in contents]


def _labels(book: Book, now: datetime) -> dict[str, bytes]:
    """Tray labels of what was weighed last: a few with their price in the bars, a few with a QR."""
    from gambrel.services.labels import LabelPrint, TrayCode, Wish, pieces_ready, print_labels

    wishes = [Wish(packed.piece.key) for packed in pieces_ready(book, now)[-LABELLED:]]
    if not wishes:
        return {}
    made = {}
    for paper, code in (("label-58x60", TrayCode.PRICE), ("label-80x50", TrayCode.QR)):
        printed = print_labels(book, wishes, paper, now, LabelPrint(code=code))
        made[f"labels-{paper.removeprefix('label-')}.pdf"] = printed.pdf
    return made


def busiest_days(trade: Trade) -> list[date]:
    """The days with the most pieces, in their order."""
    counts = _pieces_by_day(trade)
    return sorted(sorted(counts, key=lambda day: (-counts[day], day))[:DAYS])


def last_week(trade: Trade) -> str:
    """The name of the last week in which pieces were weighed."""
    shop: Shop = trade.shop
    return week_of(max(_pieces_by_day(trade)), shop).name


def _pieces_by_day(trade: Trade) -> Counter[date]:
    return Counter(business_day(piece.weighed_at, trade.shop) for piece in trade.standing)


def two_papers(names: tuple[str, ...]) -> list[str]:
    """A sheet to cut and a card, where there are both."""
    sheets = [name for name in names if name.startswith("a4")]
    others = [name for name in names if not name.startswith("a4")]
    return (sheets[:1] + others[:1])[:PAPERS]
