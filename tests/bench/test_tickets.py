"""A ticket sheet against a bare canvas that draws the same words and bars at the same places."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from io import BytesIO
from typing import Any

import pytest
from reportlab.pdfgen.canvas import Canvas

from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.codes import in_store_number
from gambrel.domain.prices.tickets import COOK_THROUGH, KEEP_COLD, Ticket
from gambrel.domain.trade.formats import Formats
from gambrel.reports.fonts import REGULAR, register_fonts
from gambrel.reports.papers import PAPERS
from gambrel.reports.tickets import draw_tickets
from tests.bench.ratio import measure
from tests.reports.reading import text_of

pytestmark = pytest.mark.bench

TICKETS = 300
FORMATS = Formats(Currency("AUD", 2), "$")
CEILING = 3.0
"""Generous, for a busy machine; the aim is 1.5."""

Call = tuple[str, tuple[Any, ...]]


def many() -> list[Ticket]:
    return [
        Ticket(
            f"cut-{n}",
            f"Cut number {n} of the day",
            1000 + n,
            in_store_number("20IIIII00000C", item=n),
            "Northfold Farm" if n % 2 else "",
            (KEEP_COLD, COOK_THROUGH) if n % 5 == 0 else (KEEP_COLD,),
        )
        for n in range(1, TICKETS + 1)
    ]


def recorded(make: Callable[[], object], patch: pytest.MonkeyPatch) -> list[Call]:
    """What our drawing asked of the canvas: every word with its place, every bar, every line."""
    calls: list[Call] = []
    for name in ("drawString", "line", "rect", "roundRect", "drawPath", "showPage"):
        real = getattr(Canvas, name)

        def spy(self: Canvas, *given: Any, name: str = name, real: Any = real, **more: Any) -> Any:
            font = (self._fontname, self._fontsize) if name == "drawString" else ()  # type: ignore[attr-defined]  # a bench looks inside
            kept = given[:1] if name == "drawPath" else given
            if name == "drawPath":
                kept = (bars_of(given[0]),)
            calls.append((name, (*font, *kept)))
            return real(self, *given, **more)

        patch.setattr(Canvas, name, spy)
    make()
    patch.undo()
    return calls


def bars_of(path: Any) -> list[tuple[float, ...]]:
    """The rectangles of a path, from the code that it wrote."""
    return [tuple(map(float, code.split()[:4])) for code in path._code if code.endswith(" re")]


def bare(calls: list[Call]) -> bytes:
    """The same words, lines and bars, put on a canvas with nothing in between."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(595, 842), invariant=1, initialFontName=REGULAR)  # type: ignore[arg-type]  # a name; the stub says a number
    for name, given in calls:
        if name == "drawString":
            font, size, x, y, words = given[:5]
            canvas.setFont(font, size)
            canvas.drawString(x, y, words)
        elif name == "line":
            canvas.line(*given)
        elif name == "rect":
            x, y, wide, high = given
            canvas.rect(x, y, wide, high, 0, 1)
        elif name == "roundRect":
            x, y, wide, high, radius = given[:5]
            canvas.roundRect(x, y, wide, high, radius, 0, 1)
        elif name == "drawPath":
            path = canvas.beginPath()
            for bar in given[0]:
                path.rect(*bar)
            canvas.drawPath(path, stroke=0, fill=1)
        else:
            canvas.showPage()
    canvas.save()
    return out.getvalue()


@pytest.mark.parametrize("paper", [pytest.param("a4-24", marks=pytest.mark.slow), "a4-8"])
def test_a_ticket_sheet_beside_a_bare_canvas(paper: str, monkeypatch: pytest.MonkeyPatch) -> None:
    register_fonts()
    tickets = many()
    ours = partial(draw_tickets, tickets, PAPERS[paper], FORMATS, shop="Shop")
    calls = recorded(ours, monkeypatch)
    assert sum(name == "drawPath" for name, _ in calls) == TICKETS
    assert text_of(bare(calls)) == text_of(ours().pdf), "both say the same"
    told = measure(f"{TICKETS} tickets on {paper}", ours, partial(bare, calls), rounds=5)
    assert told.ratio < CEILING
