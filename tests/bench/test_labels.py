"""A thousand tray labels against a bare canvas that draws the same words and codes."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest

from gambrel.domain.prices.elements import lot
from gambrel.domain.prices.labels import TrayCode, TrayLabel
from gambrel.reports.fonts import register_fonts
from gambrel.reports.labels import draw_labels
from gambrel.reports.papers import label_sheet
from tests.bench.ratio import measure
from tests.bench.test_tickets import FORMATS, bare, recorded
from tests.reports.reading import text_of
from tests.reports.test_labels import IRISH, SAUSAGE, label

pytestmark = pytest.mark.bench

CEILING = 3.0
"""Generous, for a busy machine; the aim is 1.5."""


def many(code: TrayCode, count: int) -> list[TrayLabel]:
    """Sixty cuts, ten trays a lot, every weight another."""
    made = (label(code, 300 + n) for n in range(count))
    return [
        replace(
            each,
            name=f"Cut number {n % 60} of the day",
            lot=f"HQ-{n // 10}",
            elements=(*each.elements[:-1], lot(f"HQ-{n // 10}")) if each.elements else (),
            origin=IRISH if n % 2 else ("Origin: Australia",),
            ingredients=SAUSAGE if n % 5 == 0 else (),
        )
        for n, each in enumerate(made)
    ]


@pytest.mark.parametrize(
    ("code", "count"),
    [(TrayCode.PRICE, 1000), pytest.param(TrayCode.QR, 200, marks=pytest.mark.slow)],
)
def test_labels_beside_a_bare_canvas(
    code: TrayCode, count: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    register_fonts()
    ours = partial(draw_labels, many(code, count), label_sheet("label-58x60"), FORMATS, shop="Shop")
    calls = recorded(ours, monkeypatch)
    assert sum(name == "drawPath" for name, _ in calls) == count
    assert text_of(bare(calls)) == text_of(ours().pdf), "both say the same"
    told = measure(f"{count} tray labels, {code.value}", ours, partial(bare, calls), rounds=3)
    assert told.ratio < CEILING
