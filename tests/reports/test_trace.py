"""The trace sheet, read back from its PDF."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.sheets.trace_sheet import TraceSheet
from gambrel.domain.sheets.trace_words import TraceWords
from gambrel.domain.trade.formats import Formats
from gambrel.reports.trace import draw_trace
from gambrel.services.trace import trace_word
from tests.demo_book import open_demo
from tests.reports.reading import assert_fonts_inside, outside, pages_of, plain, text_of

NOW = datetime(2026, 11, 21, 2, 30, tzinfo=UTC)
"""13:30 at the shop."""
Tracing = Callable[[str], TraceSheet]


@pytest.fixture(scope="module")
def tracing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Tracing]:
    place: Path = tmp_path_factory.mktemp("trace") / "demo.gambrel"
    with open_demo(place) as book:
        yield lambda word: trace_word(book, word)


WORDS = ("HQ-14", "S-110", "P-1010", "P-1091", "SM-0932", "northfold", "2026-11-03", "SIDE-04")


@pytest.mark.parametrize("word", WORDS)
def test_all_that_is_traced_is_on_the_paper(tracing: Tracing, formats: Formats, word: str) -> None:
    sheet = tracing(word)
    [found] = sheet.traces
    text = text_of(draw_trace(sheet, formats, NOW))
    words = TraceWords(sheet, found)
    assert plain(sheet.title(found)) in text
    assert plain(sheet.cautions(found)) in text
    assert "as the book stood at 2026-11-21 13:30" in text
    for fate in found.back.bodies:
        for line in words.body(fate):
            assert plain(line) in text
    for stage in found.back.stages:
        assert plain(words.took(stage)) in text
    for each in found.forward.pieces:
        row = (each.piece.key, sheet.cut(each.piece.cut))
        assert plain(" ".join(row)) in text
        assert kg_text(each.left_g) in text
        for line in words.remarks(each):
            assert f"{each.piece.key}: {plain(line)}" in text
    for gone in found.forward.taken_back:
        assert f"{gone.piece.key}: {plain(words.taken_back(gone))}" in text
    for name, kilos in words.balance():
        assert f"{name} {kilos}" in text


@pytest.mark.parametrize("word", WORDS)
def test_the_paper_itself_is_sound(tracing: Tracing, formats: Formats, word: str) -> None:
    sheet = tracing(word)
    pdf = draw_trace(sheet, formats, NOW)
    assert outside(pdf) == []
    assert_fonts_inside(pdf)
    assert draw_trace(sheet, formats, NOW) == pdf
    pages = pages_of(pdf)
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in page


def test_each_thing_that_a_word_names_begins_a_page(tracing: Tracing, formats: Formats) -> None:
    one, other = tracing("HQ-14"), tracing("S-110")
    both = replace(one, word="HQ-14", traces=(*one.traces, *other.traces))
    pages = pages_of(draw_trace(both, formats, NOW))
    alone = len(pages_of(draw_trace(one, formats, NOW)))
    assert "S-110 is a stage (blend)." not in " ".join(pages[:alone])
    assert "S-110 is a stage (blend)." in pages[alone]


@pytest.mark.parametrize(
    ("key", "told"),
    [
        ("01m7xm506ge008000000000002", "01m7xm506ge008000000000002 Lean beef mince"),
        ("W" * 26, f"{'W' * 26}: its key in full"),
        ("Rail four, hook twelve, " * 4, f"{('Rail four, hook twelve, ' * 4).strip()}: its key in"),
    ],
)
def test_no_key_is_lost_on_the_paper(
    tracing: Tracing, formats: Formats, key: str, told: str
) -> None:
    """Those of the bench have 26 letters and stand whole in the table."""
    sheet, name = tracing("P-1091"), key.strip()
    [found] = sheet.traces
    [each] = found.forward.pieces
    forward = replace(found.forward, pieces=(replace(each, piece=each.piece._replace(key=name)),))
    subject = replace(found.subject, name=name, pieces=(name,))
    renamed = replace(found, subject=subject, forward=forward)
    pdf = draw_trace(replace(sheet, traces=(renamed,)), formats, NOW)
    assert told in text_of(pdf)
    assert outside(pdf) == []
