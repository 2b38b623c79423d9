"""The daily breakdown sheet, read back from its PDF."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.money import Currency
from gambrel.domain.sheets.day_sheet import DaySheet, day_sheet
from gambrel.domain.trade.catalogue import CutKind, Supplier
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Source, Trade
from gambrel.reports.day import draw_day
from gambrel.reports.section_text import money_line, verdict
from gambrel.reports.yield_picture import Given, YieldPicture, yield_picture
from tests.reports.reading import assert_fonts_inside, ledger_of, outside, pages_of, plain, text_of
from tests.trades import CUTS, Bench, a_shop

WENT_WRONG = date(2026, 11, 18)
STILL_OPEN = date(2026, 11, 21)


def fortnight() -> list[date]:
    return [date(2026, 11, 8) + timedelta(days=n) for n in range(16)]


def drawn(ledger: Ledger, day: date, formats: Formats) -> tuple[DaySheet, bytes]:
    sheet = day_sheet(ledger, day)
    return sheet, draw_day(sheet, formats)


@pytest.mark.parametrize("day", fortnight())
def test_every_figure_of_the_day_is_on_the_paper(
    ledger: Ledger, formats: Formats, day: date
) -> None:
    sheet, pdf = drawn(ledger, day, formats)
    text = text_of(pdf)
    assert formats.day(day) in text
    assert sheet.shop.name in text
    for section in sheet.breaks:
        for body in section.bodies:
            assert body.body.key in text
            assert formats.money(body.body.bought) in text
        assert f"{formats.kg(section.balance.input_g)} kg in" in text
    for section in (*sheet.breaks, *sheet.other):
        for row in section.rows:
            assert f"{row.cut.name} " in text
            assert formats.kg(row.net_g) in text
            if row.cost_per_kilo is not None:
                assert formats.per_kilo(row.cost_per_kilo) in text
            if row.price is not None:
                assert formats.per_kilo(row.price) in text
    for void in sheet.taken_back:
        assert f"{void.cut}, {void.piece}" in text
    for thrown in sheet.thrown_away:
        assert f"{thrown.cut}, {thrown.piece}" in text
        assert formats.money(thrown.cost) in text


@pytest.mark.parametrize("day", [date(2026, 11, n) for n in (8, 10, 16, 18, 21)])
def test_the_paper_itself_is_sound(ledger: Ledger, formats: Formats, day: date) -> None:
    sheet, pdf = drawn(ledger, day, formats)
    assert outside(pdf) == []
    assert_fonts_inside(pdf)
    assert draw_day(sheet, formats) == pdf
    pages = pages_of(pdf)
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in page


def test_a_body_that_went_wrong_is_marked(ledger: Ledger, formats: Formats) -> None:
    sheet, pdf = drawn(ledger, WENT_WRONG, formats)
    unusual = [section for section in sheet.breaks if section.balance.is_unusual]
    assert [section.bodies[0].body.key for section in unusual] == ["HQ-16"]
    (section,) = unusual
    text = text_of(pdf)
    assert text.count("Look again") == 1
    assert plain(verdict(section, formats).sentence) in text
    assert plain(f"{formats.grams(section.balance.unexplained_g)} unexplained, 3.9 %") in text
    assert "far under norm" in text


def test_an_open_body_is_still_on_the_block(ledger: Ledger, formats: Formats) -> None:
    sheet, pdf = drawn(ledger, STILL_OPEN, formats)
    (section,) = (section for section in sheet.breaks if section.balance.open)
    left = formats.kg(section.balance.on_block_g)
    assert f"Still on the block {formats.kg(section.balance.input_g)} kg in" in text_of(pdf)
    assert f"{left} kg still to weigh" in text_of(pdf)
    assert "far under norm" not in text_of(pdf)


def test_a_day_without_work_says_so(ledger: Ledger, formats: Formats) -> None:
    _, pdf = drawn(ledger, date(2026, 12, 25), formats)
    text = text_of(pdf)
    assert "Nothing was received, broken, trimmed" in text
    assert "$" not in text
    assert "Page 1 of 1" in text


def test_the_money_of_every_stage_adds_up(ledger: Ledger, formats: Formats) -> None:
    for day in fortnight():
        sheet = day_sheet(ledger, day)
        for section in (*sheet.breaks, *sheet.other):
            if section.balance.here_g != section.output_g:
                continue
            paid = section.input_cost + section.work
            paid += sum(row.finish - row.credit for row in section.rows)
            assert paid == sum(row.cost for row in section.rows) + section.stranded
            total = formats.money(sum(row.cost for row in section.rows))
            assert f"= {total} on what came off" in money_line(section, formats)


def odd_trade(currency: Currency, factor: int) -> Trade:
    """Long names with markup, huge numbers, no supplier's name, a cut without a price."""
    bench = Bench(a_shop(name="Ωmega & Söhne <b>Metzgerei</b> " * 3, currency=currency))
    name = "Slow <i>roasted</i> & dry-aged grass-fed rolled brisket with rosemary and garlic"
    bench.cuts = (replace(bench.cuts[0], name=name, price=2699 * factor), *bench.cuts[1:])
    body = bench.body(9_000_000, 1_000 * factor)
    stage = bench.stage((Source.BODY, body, None), minutes=12_345)
    bench.piece(stage, "rump", 6_543_210)
    trim = bench.piece(stage, "mince-trim", 1_000_000)
    bench.piece(stage, "bone", 1_400_000)
    blend = bench.stage((Source.PIECE, trim, None))
    bench.ingredient(blend, "an ingredient with a name that goes on and on and on", 1_000, 99)
    bench.piece(blend, "mince", 999_000)
    trade = bench.trade()
    supplier = Supplier("farm", "The Very Long Name of a Supplier of Meats and Sons Limited")
    bodies = (replace(trade.bodies[0], docket_g=9_000_500, supplier_ref="REF-" * 12),)
    return replace(trade, suppliers=(supplier,), bodies=bodies)


@pytest.mark.parametrize(
    ("currency", "symbol", "factor"),
    [(Currency("JPY", 0), "¥", 1), (Currency("KWD", 3), "KWD", 1000), (Currency("AUD", 2), "$", 9)],
)
def test_long_names_and_huge_numbers_stay_on_the_paper(
    currency: Currency, symbol: str, factor: int
) -> None:
    trade = odd_trade(currency, factor)
    formats = Formats(currency, symbol)
    _, pdf = drawn(ledger_of(trade), date(2026, 11, 16), formats)
    assert outside(pdf) == []
    text = text_of(pdf)
    assert "<b>Metzgerei</b>" in text, "markup is only letters here"
    assert "Slow <i>roasted</i>" in text
    assert plain(formats.money(trade.bodies[0].bought)) in text


def test_what_is_missing_is_a_dash() -> None:
    bench = Bench()
    bench.cuts = (replace(bench.cuts[0], price=None), *bench.cuts[1:])
    stage = bench.stage((Source.BODY, bench.body(10_000, 1000), None))
    bench.piece(stage, "rump", 9_000)
    trade = bench.trade()
    ledger = Ledger(trade, roll_up(trade, Method.WEIGHT))
    sheet, pdf = drawn(ledger, date(2026, 11, 16), Formats(Currency("AUD", 2), "$"))
    (row,) = sheet.breaks[0].rows
    assert row.margin is None
    assert "Rump 9.000 90.0 % — $11.59 — — —" in text_of(pdf)


def test_a_very_long_list_of_cuts_goes_on_over_the_page() -> None:
    bench = Bench()
    many = tuple(replace(bench.cuts[0], key=f"cut-{n}", name=f"Cut number {n}") for n in range(120))
    bench.cuts = (*bench.cuts, *many)
    stage = bench.stage((Source.BODY, bench.body(130_000, 1000), None))
    for cut in many:
        bench.piece(stage, cut.key, 1_000)
    _, pdf = drawn(ledger_of(bench.trade()), date(2026, 11, 16), Formats(Currency("AUD", 2), "$"))
    pages = pages_of(pdf)
    assert len(pages) >= 3
    assert outside(pdf) == []
    text = text_of(pdf)
    assert all(f"{cut.name} 1.000" in text for cut in many)
    assert all("Cost / kg" in page for page in pages if "Cut number" in page)


def test_one_body_of_two_suppliers_names_both() -> None:
    bench = Bench()
    first, second = bench.body(60_000, 900), bench.body(30_000, 1200)
    bench.bodies[1] = replace(bench.bodies[1], supplier="hill")
    stage = bench.stage((Source.BODY, first, None), (Source.BODY, second, None))
    bench.piece(stage, "rump", 80_000)
    _, pdf = drawn(ledger_of(bench.trade()), date(2026, 11, 16), Formats(Currency("AUD", 2), "$"))
    assert "B1 + B2 Hindquarter, beef · farm · hill" in text_of(pdf)


def test_yields_stand_beside_their_norms(ledger: Ledger, formats: Formats) -> None:
    sheet, pdf = drawn(ledger, WENT_WRONG, formats)
    text = text_of(pdf)
    (section,) = (s for s in sheet.breaks if s.bodies[0].body.key == "HQ-16")
    row = next(row for row in section.rows if row.cut.key == "silverside")
    assert row.share is not None
    assert row.norm == Decimal("0.112")
    share = plain(formats.percent(row.share))
    assert f"{formats.kg(row.net_g)} {share} 11.2 %" in text


# One body, one glance


@pytest.mark.parametrize("day", fortnight())
def test_every_body_has_a_page_of_its_own(ledger: Ledger, formats: Formats, day: date) -> None:
    sheet, pdf = drawn(ledger, day, formats)
    pages = pages_of(pdf)
    for number, section in enumerate(sheet.breaks):
        body = section.bodies[0].body
        assert body.key in pages[number]
        assert plain(verdict(section, formats).sentence) in pages[number]
        others = {other.bodies[0].body.key for other in sheet.breaks} - {body.key}
        assert not any(f"{key} {body.portion}" in pages[number] for key in others)
    if sheet.other and sheet.breaks:
        assert "Trim-outs and blends" in pages[len(sheet.breaks)]


def test_the_map_tells_what_every_region_gave(ledger: Ledger, formats: Formats) -> None:
    sheet, pdf = drawn(ledger, WENT_WRONG, formats)
    (section,) = (s for s in sheet.breaks if s.bodies[0].body.key == "HQ-16")
    picture = yield_picture(section, formats)
    assert picture is not None
    page = pages_of(pdf)[sheet.breaks.index(section)]
    told = [given for given in picture.given.values() if given is not None and given.told]
    assert len(told) >= 8
    for given in told:
        share = plain(formats.percent(given.share))
        assert f"{formats.kg(given.grams, 2)} kg {share}" in page
    off = {name for name, given in picture.given.items() if given is not None and given.off}
    assert off == {"silverside"}
    assert given_of(picture, "silverside").grams == 6_075
    assert not given_of(picture, "silverside").is_over


def given_of(picture: YieldPicture, region: str) -> Given:
    given = picture.given[region]
    assert given is not None
    return given


def test_no_gram_is_told_in_two_regions(ledger: Ledger, formats: Formats) -> None:
    seen = 0
    for day in fortnight():
        for section in day_sheet(ledger, day).breaks:
            picture = yield_picture(section, formats)
            if picture is None:
                continue
            seen += 1
            known = {cut for region in picture.drawing.regions for cut in region.cuts}
            grams = sum(given.grams for given in picture.given.values() if given is not None)
            assert grams == sum(row.net_g for row in section.rows if row.cut.key in known)
    assert seen > 10


def test_a_body_without_a_drawing_has_a_page_without_a_map() -> None:
    bench = Bench()
    stage = bench.stage((Source.BODY, bench.body(10_000, 1000), None))
    bench.bodies[0] = replace(bench.bodies[0], species="venison")
    bench.piece(stage, "rump", 9_000)
    _, pdf = drawn(ledger_of(bench.trade()), date(2026, 11, 16), Formats(Currency("AUD", 2), "$"))
    assert "Tinted" not in text_of(pdf)
    assert "Rump 9.000" in text_of(pdf)


def test_a_margin_of_hundreds_of_per_cent_is_small_and_whole() -> None:
    """Cut short, a figure would be another figure: what is left of -183.4 % is no margin."""
    cuts = tuple(
        replace(cut, credit=-50_000) if cut.kind is CutKind.BYPRODUCT else cut for cut in CUTS
    )
    bench = Bench(cuts=cuts)
    stage = bench.stage((Source.BODY, bench.body(80_000, 100), None))
    for cut, grams in (("bone", 40_000), ("rump", 5_000)):
        bench.piece(stage, cut, grams)
    sheet = day_sheet(ledger_of(bench.trade()), business_day(bench.now, bench.shop))
    said = text_of(draw_day(sheet, Formats(bench.shop.currency, "$")))
    assert "…" not in said
    assert re.search(r"−1[45],\d{3}\.\d.?%", said), said
