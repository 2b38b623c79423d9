"""What stands behind a figure, as texts: made from its rows without Qt."""

from __future__ import annotations

from dataclasses import dataclass

from gambrel.domain.sheets.behind import Behind, BehindRow, Wish
from gambrel.domain.sheets.money_flow import ItemKind
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import DASH, Formats, short_day

_NOUNS = {
    ItemKind.BODY: ("body", "bodies"),
    ItemKind.PIECE: ("piece", "pieces"),
    ItemKind.STAGE: ("stage", "stages"),
}


@dataclass(frozen=True, slots=True)
class BehindState:
    """The panel of one figure: its rows, what they come to, and what each row opens."""

    title: str
    sum: str
    note: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wishes: tuple[Wish | None, ...]


def describe_behind(behind: Behind, shop: Shop, formats: Formats) -> BehindState:
    """The rows behind a figure in words and figures."""
    return BehindState(
        title=behind.title,
        sum=_sum(behind, formats),
        note=behind.note,
        headings=_headings(behind),
        rows=tuple(_row(row, shop, formats) for row in behind.rows),
        wishes=tuple(row.leads for row in behind.rows),
    )


def _headings(behind: Behind) -> tuple[str, ...]:
    """What the columns are called: by what the rows are, and what their money is."""
    kinds = {row.kind for row in behind.rows}
    pieces = kinds <= {ItemKind.PIECE}
    first = _NOUNS[next(iter(kinds))][0].capitalize() if len(kinds) == 1 else "Piece"
    return (
        first,
        "" if kinds == {ItemKind.BODY} else "Body",
        "Cut" if pieces else "What",
        "When",
        "From" if kinds == {ItemKind.BODY} else "Who",
        "Net kg",
        behind.money_name,
        f"{behind.money_name}/kg",
    )


def _sum(behind: Behind, formats: Formats) -> str:
    """How many of what, and what they come to together."""
    count = len(behind.rows)
    if not count:
        return "nothing"
    kinds = {row.kind for row in behind.rows}
    nouns = _NOUNS[kinds.pop()] if len(kinds) == 1 else ("row", "rows")
    told = f"{count:,} {nouns[count != 1]}"
    if not behind.adds_up:
        return told
    return f"{told}, {formats.kg(behind.grams)} kg, {formats.money(behind.money)}"


def _row(row: BehindRow, shop: Shop, formats: Formats) -> tuple[str, ...]:
    when = DASH
    if row.at is not None:
        when = f"{short_day(business_day(row.at, shop))}, {formats.time(row.at, shop)}"
    return (
        row.key,
        "" if row.kind is ItemKind.BODY else row.bodies,
        row.cut,
        when,
        row.person or DASH,
        formats.kg(row.grams) if row.grams else DASH,
        formats.money(row.money),
        formats.per_kilo(row.per_kilo),
    )
