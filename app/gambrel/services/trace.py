"""Tracing: what a word names, back to the dockets and forward to the trays."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING

from gambrel.domain.prices.body_limits import BODY_DAYS_SETTING, body_limits, read_body_days
from gambrel.domain.prices.origin import origins_by_body
from gambrel.domain.prices.prints import LogLine, jobs_of
from gambrel.domain.refusals import Refusal
from gambrel.domain.resting import collector_resting
from gambrel.domain.review.trace import Trace, trace
from gambrel.domain.review.trace_keys import Known, Subject, cuts_named, plain, subjects_named
from gambrel.domain.review.trace_ways import Ways
from gambrel.domain.sheets.trace_sheet import TraceSheet
from gambrel.domain.trade.around import (
    Ingredient,
    IngredientLot,
    Origin,
    PrintedItem,
    PrintEvent,
    PrintJob,
)
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.use_by import use_by_days
from gambrel.services.words import formats_for

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

LATEST = 3
"""How many stages are offered to somebody who named a cut."""


def trace_word(book: Book, word: str) -> TraceSheet:
    """Trace all that a word names.

    Args:
        book: An open book.
        word: A body, a piece, a stage, a supplier, a docket's reference, a day (``2026-11-03``) of
            slaughter or receipt, an abattoir, an ingredient or its lot, or the number in a
            printed label's code. A label's lot is a body or a stage.
    Raises:
        Refusal: It names nothing that can be traced, or the book has no shop, or its stages go
            round in a circle.
    """
    with book.reading() as work:
        if work.shop() is None:
            raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
        trade = work.trade()
        origins = origins_by_body(trade, work.every(Origin))
        items = work.every(PrintedItem)
        known = Known(
            tuple(work.every(IngredientLot)),
            tuple(work.every(Ingredient)),
            {body: origin.abattoir for body, origin in origins.items()},
            _numbers(items, trade),
        )
        subjects = _subjects(word, trade, known)
        if not subjects:
            raise Refusal(_nothing(work, word, trade, known))
        jobs, events = work.every(PrintJob), work.every(PrintEvent)
        body_days = work.setting(BODY_DAYS_SETTING) or ""
    with collector_resting():
        ways = Ways(trade)
        traces = tuple(trace(ways, subject) for subject in subjects)
        days, notes = _use_by(trade, body_days, known.lots)
    notes += _notes(word, ways, trade.cuts)
    return TraceSheet(
        word=word.strip(),
        shop=trade.shop,
        traces=traces,
        cuts={cut.key: cut for cut in trade.cuts},
        suppliers={each.key: each.name for each in trade.suppliers},
        ingredients={each.key: each.name for each in known.ingredients},
        lots={(row.stage, row.key): row for row in known.lots},
        origins=origins,
        use_by=days,
        printed=_printed(traces, jobs, events, items),
        notes=tuple(notes),
    )


def trace_pdf(sheet: TraceSheet, now: datetime) -> bytes:
    """A trace as a paper to take away; ``now`` is when the book was read."""
    from gambrel.reports.trace import draw_trace

    return draw_trace(sheet, formats_for(sheet.shop), now)


def _subjects(word: str, trade: Trade, known: Known) -> list[Subject]:
    """What is named; a label says “lot HQ-14”, and people type it as it stands there."""
    found = subjects_named(word, trade, known)
    mark, _, rest = word.strip().partition(" ")
    if not found and mark.casefold() == "lot":
        return subjects_named(rest, trade, known)
    return found


def _numbers(items: Iterable[PrintedItem], trade: Trade) -> dict[str, tuple[str, ...]]:
    """The pieces by what the code on their labels says; one number may stand on several."""
    pieces = {piece.key for piece in trade.pieces}
    found: dict[str, dict[str, None]] = defaultdict(dict)
    for item in items:
        if item.number and item.piece in pieces:
            found[item.number][item.piece] = None
    return {number: tuple(keys) for number, keys in found.items()}


def _use_by(
    trade: Trade, body_days: str, lots: Iterable[IngredientLot]
) -> tuple[Mapping[str, date | None], list[str]]:
    """Every piece's last day, as on its label; a bad setting does not stand in a recall's way."""
    try:
        limits, notes = body_limits(trade, read_body_days(body_days)), []
    except Refusal as no:
        limits, notes = {}, [f"the limits of bodies are left out: {str(no).removesuffix('.')}"]
    return use_by_days(trade, limits, lots), notes


def _notes(word: str, ways: Ways, cuts: Iterable[Cut]) -> list[str]:
    notes = [
        f"{cut.name} is a cut, too, and no lot; what is told is what else {word.strip()!r} names"
        for cut in cuts_named(word, cuts)
    ]
    count = len(ways.flow.problems)
    if count:
        rows = "1 row" if count == 1 else f"{count} rows"
        notes.append(
            f"{rows} of this book cannot be as written, and weights that hang on them are not sure "
            "here; “gambrel check” names them"
        )
    return notes


def _printed(
    traces: Iterable[Trace],
    jobs: Iterable[PrintJob],
    events: Iterable[PrintEvent],
    items: Iterable[PrintedItem],
) -> dict[str, tuple[LogLine, ...]]:
    wanted = {each.piece.key for found in traces for each in found.forward.pieces}
    wanted |= {each.piece.key for found in traces for each in found.forward.taken_back}
    found: dict[str, list[LogLine]] = defaultdict(list)
    for job in jobs_of(jobs, events, (item for item in items if item.piece in wanted)):
        for item in job.items:
            found[item.piece].append(LogLine(job, item))
    return {piece: tuple(lines) for piece, lines in found.items()}


def _nothing(work: Work, word: str, trade: Trade, known: Known) -> str:
    """Why a word names nothing that can be traced, and what to type instead."""
    said = word.strip()
    for cut in cuts_named(word, trade.cuts):
        return _only_a_cut(cut, trade)
    for stage in work.cancelled_stages():
        if plain(stage) == plain(word):
            return f"Stage {stage} was cancelled: what it took was never taken. Trace what it took."
    piece = work.piece(said)
    if piece is not None:
        return f"Piece {said} is of stage {piece.stage}, which was cancelled. Trace what it took."
    names = [
        *(body.key for body in trade.bodies),
        *(body.supplier_ref for body in trade.bodies),
        *(stage.key for stage in trade.stages),
        *(each.key for each in trade.suppliers),
        *(row.lot for row in known.lots),
        *(row.key for row in known.ingredients),
    ]
    guess = did_you_mean(said, filter(None, dict.fromkeys(names))) or "."
    return (
        f"Nothing in this book is called {said!r}{guess} Type the lot of a label or of an "
        "ingredient, a body, a supplier's reference, a piece, a stage, or a day like 2026-11-20."
    )


def _only_a_cut(cut: Cut, trade: Trade) -> str:
    made = [piece.stage for piece in trade.standing if piece.cut == cut.key]
    stages = list(dict.fromkeys(reversed(made)))[:LATEST]
    said = f"{cut.name} is a cut, not a lot: many bodies have gone into it."
    if not stages:
        return f"{said} None of it stands in this book."
    return f"{said} Type the lot on its label, or a stage that made it: {', '.join(stages)}."
