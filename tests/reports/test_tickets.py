"""Shelf tickets: read back, decoded as a scanner would, and measured."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.codes import in_store_number
from gambrel.domain.prices.tickets import COOK_THROUGH, KEEP_COLD, Ticket, Was, make_tickets
from gambrel.domain.prices.unit_price import Per, UnitPrice
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Trade
from gambrel.reports.fonts import CAP_HEIGHT, register_fonts
from gambrel.reports.look import MM
from gambrel.reports.papers import PAPERS, Paper, Placing, paper_names
from gambrel.reports.sheet_pages import Stopped
from gambrel.reports.ticket_words import LEAST_SMALL
from gambrel.reports.tickets import draw_tickets, price_size
from tests.reports.reading import (
    Box,
    assert_fonts_inside,
    boxes_of,
    ean13_on,
    outside,
    pages_of,
    rasters,
    text_of,
)

NOW = datetime(2026, 11, 21, 2, tzinfo=UTC)
AUD = Formats(Currency("AUD", 2), "$")
POUNDS = Formats(Currency("GBP", 2), "£")
YEN, DINAR = Formats(Currency("JPY", 0), "¥"), Formats(Currency("KWD", 3), "KWD")
TWO_METRES_MM = 2000 / 200
"""A two-hundredth of the distance (source: the FAA's pages on visual displays)."""

papers = pytest.mark.parametrize("paper", PAPERS.values(), ids=paper_names())

LONG = "Slow-roasted dry-aged grass-fed rolled beef brisket with rosemary and garlic"
SUPPLIER = "The Very Long Name of a Supplier of Fine Meats and Sons Limited"


def ticket(item: int = 101, **changes: object) -> Ticket:
    made = Ticket(
        cut="rump",
        name="Rump steak",
        price=3299,
        number=in_store_number("20IIIII00000C", item=item),
        supplier="Northfold Farm",
        cautions=(KEEP_COLD,),
    )
    return replace(made, **changes)  # type: ignore[arg-type]  # names are checked by Ticket


@pytest.fixture(scope="module")
def demo_tickets(demo: Trade) -> list[Ticket]:
    return make_tickets(demo, None, NOW)


# What they say


@papers
def test_every_ticket_says_its_piece(paper: Paper, demo_tickets: list[Ticket]) -> None:
    plain = [replace(each, was=None) for each in demo_tickets]
    assert plain != demo_tickets, "one of them is a special; see below"
    pdf, cut_short, _ = draw_tickets(plain, paper, AUD, shop="Shop")
    assert cut_short == ()
    assert_fonts_inside(pdf)
    text = text_of(pdf)
    for each in demo_tickets:
        assert each.name in text
        assert f"{AUD.money(each.price)} per kg" in text
        assert f"{each.number[0]} {each.number[1:7]} {each.number[7:]}" in text
    assert text.count(COOK_THROUGH) == sum(COOK_THROUGH in each.cautions for each in demo_tickets)
    assert text.count(KEEP_COLD) == len(demo_tickets)
    assert text.count("Supplied by") == sum(bool(each.supplier) for each in demo_tickets)


@papers
def test_a_special_says_what_it_was_struck_out_and_until_when(paper: Paper) -> None:
    special = ticket(price=2799, was=Was(3299, date(2026, 11, 22)), supplier="")
    pdf = draw_tickets([special], paper, AUD, shop="Shop").pdf
    assert "$27.99 per kg Special, was $32.99 until 22 Nov Keep" in text_of(pdf)
    (_, boxes), *_ = boxes_of(pdf)
    # A line through the old price, and through no other words.
    letters = [box for box in boxes if len(box.what) == 1]
    at = "".join(box.what for box in letters).index("$32.99")
    was = letters[at : at + len("$32.99")]
    left, right, height = was[0].left, was[-1].right, was[0].bottom - was[0].top
    (struck,) = [
        box
        for box in boxes
        if box.what == "line" and abs(box.left - left) < 0.5 and abs(box.right - right) < 0.5
    ]
    assert was[0].top + height * 0.3 < struck.top < was[0].bottom - height * 0.3
    unknown = draw_tickets([ticket(was=Was(None, None))], paper, AUD, shop="Shop").pdf
    assert "was" not in text_of(unknown)
    assert "Special" in text_of(unknown)


@papers
@pytest.mark.parametrize(
    ("second", "formats", "says"),
    [
        (UnitPrice(Per.HUNDRED_GRAMS, Decimal(330)), AUD, "$3.30 per 100 g"),
        (UnitPrice(Per.POUND, Decimal(1496)), AUD, "$14.96 per lb"),
        (UnitPrice(Per.HUNDRED_GRAMS, Decimal("45.6")), POUNDS, "£0.456 per 100 g"),
        (UnitPrice(Per.HUNDRED_GRAMS, Decimal(330)), YEN, "¥330 per 100 g"),
    ],
)
def test_a_second_price_stands_under_the_first(
    paper: Paper, second: UnitPrice, formats: Formats, says: str
) -> None:
    pdf = draw_tickets([ticket(unit_price=second)], paper, formats, shop="Shop").pdf
    assert says in text_of(pdf)


IRISH = ("Origin: Ireland", "Slaughtered in: Ireland, IE 303 EC", "Cut in: Ireland")


@pytest.mark.parametrize("name", ["a4-8", "card-a6", "card-a7"])
def test_an_origin_stands_in_place_of_the_supplier(name: str) -> None:
    text = text_of(draw_tickets([ticket(origin=IRISH)], PAPERS[name], AUD, shop="Shop").pdf)
    assert "Slaughtered in: Ireland" in text
    assert "Supplied by" not in text


def test_a_paper_too_small_for_what_must_stand_there_is_refused() -> None:
    with pytest.raises(Refusal, match="A4 sheet to cut into 24 small tickets is too small"):
        draw_tickets([ticket(origin=IRISH * 3)], PAPERS["a4-24"], AUD, shop="Shop")


def test_tickets_begin_at_a_place_and_a_stop_is_heard() -> None:
    tickets = [ticket(number) for number in range(1, 12)]
    printed = draw_tickets(tickets, PAPERS["a4-8"], AUD, shop="Shop", placing=Placing(start=7))
    pages = pages_of(printed.pdf)
    assert [page.count("per kg") for page in pages] == [2, 8, 1]
    with pytest.raises(Stopped):
        draw_tickets(tickets, PAPERS["a4-8"], AUD, shop="Shop", on_page=lambda done, _: done < 8)


@papers
def test_a_page_holds_as_many_as_its_name_says(paper: Paper) -> None:
    most = paper.columns * paper.rows
    tickets = [ticket(number) for number in range(1, 2 * most + 2)]
    pages = pages_of(draw_tickets(tickets, paper, AUD, shop="Shop").pdf)
    assert [page.count("per kg") for page in pages] == [most, most, 1]
    if paper.is_cut:
        assert paper.name == f"a4-{most}"


@papers
def test_the_same_tickets_give_the_same_bytes(paper: Paper) -> None:
    first = draw_tickets([ticket()], paper, AUD, shop="Shop")
    assert draw_tickets([ticket()], paper, AUD, shop="Shop") == first


# Where they stand


def places_of(pdf: bytes, paper: Paper) -> list[list[Box]]:
    """What is drawn in each place of the first page; fails for what touches none or two."""
    (_, boxes), *_ = boxes_of(pdf)
    width, height = paper.cell[0] * MM, paper.cell[1] * MM
    corners = [(x * MM, y * MM) for x, y in paper.places()]
    found: list[list[Box]] = [[] for _ in corners]
    left, top = corners[0]
    right, bottom = corners[-1][0] + width, corners[-1][1] + height
    for box in boxes:
        if box.right <= left or box.left >= right or box.bottom <= top or box.top >= bottom:
            assert box.what == "line", f"{box} is no crop mark"
            continue
        inside = [
            n
            for n, (x, y) in enumerate(corners)
            if box.left >= x
            and box.right <= x + width
            and box.top >= y
            and box.bottom <= y + height
        ]
        assert len(inside) == 1, f"{box} is not in one place"
        found[inside[0]].append(box)
    return found


ODD = [
    ticket(1, name=LONG, price=123450, cautions=(KEEP_COLD, COOK_THROUGH), supplier=SUPPLIER),
    ticket(2, name="Donaudampfschifffahrtsgesellschaftskapitänsschnitzel", price=1234567),
    ticket(3, name="W" * 300, supplier="M" * 300, price=10**12, cautions=(KEEP_COLD, COOK_THROUGH)),
    ticket(4, name="<b>&amp;</b>\tx", supplier="a\nb", price=5),
    ticket(5, number="", supplier=SUPPLIER, cautions=(KEEP_COLD, COOK_THROUGH)),
    ticket(6, name="", supplier=""),
]


@papers
@pytest.mark.parametrize("formats", [AUD, YEN, DINAR], ids=["AUD", "JPY", "KWD"])
def test_nothing_is_drawn_outside_its_place(paper: Paper, formats: Formats) -> None:
    for start in range(len(ODD)):
        rotated = ODD[start:] + ODD[:start]
        pdf = draw_tickets(rotated, paper, formats, shop="Shop").pdf
        assert outside(pdf) == []
        places = places_of(pdf, paper)
        assert all(places[: min(len(ODD), len(places))])


@papers
def test_words_and_bars_never_touch(paper: Paper) -> None:
    """Price, small words and bars have room of their own, the quiet zones included."""
    for each in (*ODD[:2], ticket(7, cautions=(KEEP_COLD, COOK_THROUGH)), ticket(8)):
        pdf = draw_tickets([each], paper, AUD, shop="Shop").pdf
        boxes = places_of(pdf, paper)[0]
        bars = [box for box in boxes if box.what in ("rect", "curve") and box.bottom - box.top > 12]
        left, top = min(bar.left for bar in bars), min(bar.top for bar in bars)
        quiet = 11 * 0.375 * MM
        for box in boxes:
            if len(box.what) == 1 and box.what.strip() and box.bottom > top + 3 * MM:
                digit_row = box.what.isdigit()
                assert digit_row or box.right <= left - quiet + 0.1, box


# What a shopper reads


@papers
def test_the_price_reads_from_two_metres(paper: Paper) -> None:
    register_fonts()
    pdf = draw_tickets([ticket(price=8899, number="")], paper, AUD, shop="Shop").pdf
    (_, boxes), *_ = boxes_of(pdf)
    tall = max(box.bottom - box.top for box in boxes if box.what == "8")
    # pdfplumber's box of a letter is the type size; the digit itself is its cap height.
    assert tall * CAP_HEIGHT / MM >= TWO_METRES_MM
    pdf = draw_tickets([ticket(price=8899)], paper, AUD, shop="Shop").pdf
    (_, boxes), *_ = boxes_of(pdf)
    assert max(b.bottom - b.top for b in boxes if b.what == "8") * CAP_HEIGHT / MM >= TWO_METRES_MM


@papers
def test_a_longer_price_is_smaller_and_whole(paper: Paper) -> None:
    register_fonts()
    width, height = (paper.cell[0] - 2 * paper.pad) * MM, 100 * MM
    sizes = [price_size(AUD.money(10**n), paper, width, height) for n in range(2, 13)]
    assert sizes == sorted(sizes, reverse=True)
    pdf = draw_tickets([ticket(price=123450)], paper, AUD, shop="Shop").pdf
    assert "$1,234.50 per kg" in text_of(pdf)


@papers
def test_no_word_is_smaller_than_the_least(paper: Paper) -> None:
    pdf = draw_tickets([ODD[0], ODD[4], ticket()], paper, AUD, shop="Shop").pdf
    sizes = [
        box.bottom - box.top for _, page in boxes_of(pdf) for box in page if len(box.what) == 1
    ]
    assert min(sizes) >= LEAST_SMALL - 0.05


@papers
def test_what_was_cut_short_is_told(paper: Paper) -> None:
    assert draw_tickets([ticket()], paper, AUD, shop="Shop").cut_short == ()
    forty = "Rolled lamb shoulder with garlic and mint"
    assert len(forty) > 40
    named = draw_tickets([ticket(name=forty)], paper, AUD, shop="Shop")
    assert named.cut_short == ()
    told = draw_tickets([ODD[2]], paper, AUD, shop="Shop")
    assert "W" * 300 in told.cut_short
    assert "M" * 300 in told.cut_short
    text = text_of(told.pdf)
    assert KEEP_COLD in text, "a caution is never cut"
    assert COOK_THROUGH in text
    assert "…" in text


# What a scanner reads


@papers
@pytest.mark.parametrize("dpi", [203, 300])
def test_every_barcode_is_read_back(paper: Paper, dpi: int, demo_tickets: list[Ticket]) -> None:
    tickets = demo_tickets[:30] if paper.is_cut else demo_tickets[:6]
    pdf = draw_tickets(tickets, paper, AUD, shop="Shop").pdf
    found: set[str] = set()
    for picture in rasters(pdf, dpi):
        # One ticket at a time, as a scanner sees it: a crowded page may give a false reading.
        scale = dpi / 25.4
        for x, y in paper.places():
            crop = (x * scale, y * scale, (x + paper.cell[0]) * scale, (y + paper.cell[1]) * scale)
            read = ean13_on(picture.crop(tuple(round(edge) for edge in crop)))
            assert len(read) <= 1
            found |= read
    assert found == {each.number for each in tickets}


@settings(max_examples=25)
@given(items=st.lists(st.integers(0, 99_999), min_size=1, max_size=8, unique=True))
def test_any_item_is_read_back(items: list[int]) -> None:
    tickets = [ticket(item) for item in items]
    pdf = draw_tickets(tickets, PAPERS["a4-8"], AUD, shop="Shop").pdf
    (picture,) = rasters(pdf, 203)
    assert {each.number for each in tickets} <= ean13_on(picture)


@papers
def test_bars_are_whole_dots_of_a_ticket_printer(paper: Paper) -> None:
    """203 dpi is 8 dots a millimetre; every edge of every bar lies on a dot."""
    pdf = draw_tickets([ticket()], paper, AUD, shop="Shop").pdf
    (_, boxes), *_ = boxes_of(pdf)
    bars = [box for box in boxes if box.what == "rect" and box.bottom - box.top > 12]
    assert len(bars) >= 30
    for bar in bars:
        for edge in (bar.left, bar.right):
            dots = edge / MM * 8
            assert abs(dots - round(dots)) < 0.01
