"""A trace as lines of text that stay within eighty columns."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from textwrap import wrap
from zoneinfo import ZoneInfo

from gambrel.domain.costing.takes import BodyFate, Take
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.prices.prints import LogLine
from gambrel.domain.review.trace import TakenBack, Trace, TracedPiece, TracedStage
from gambrel.domain.sheets.trace_sheet import TraceSheet
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.records import Input, Source, Stage
from gambrel.services.cost_report import decimal_text

WIDTH = 80
LONG_KEY = 10
"""Keys that the bench made are longer; they stand on a line of their own."""
UNDER = 10
"""Where what is said of a piece stands beneath it."""
LONG_NAME, SHORT_NAME = 12, 8
"""Letters of a person's name at the most, and of a cut's at the least."""
_BY, _WEIGHTS = 2, (3, 4)
"""Columns of a table behind its key."""

_KINDS = {
    CutKind.TRAY: "trays",
    CutKind.TRIM: "trim",
    CutKind.BYPRODUCT: "by-products",
    CutKind.WASTE: "waste",
}


def trace_lines(sheet: TraceSheet) -> Iterator[str]:
    """All that a sheet tells, subject by subject."""
    for number, found in enumerate(sheet.traces):
        if number:
            yield from ("", "=" * WIDTH, "")
        for line in _Telling(sheet, found).lines():
            yield "".join(letter if letter.isprintable() else "?" for letter in line)


class _Telling:
    """Writes one trace."""

    def __init__(self, sheet: TraceSheet, found: Trace) -> None:
        self._sheet = sheet
        self._found = found
        self._zone = ZoneInfo(sheet.shop.time_zone)
        self._pieces_by_key = {piece.key: piece for piece in found.back.pieces}
        self._pieces_by_key |= {each.piece.key: each.piece for each in found.forward.pieces}

    def lines(self) -> Iterator[str]:
        """The subject, the way back, the way forward, the balance, and what is not known."""
        yield from wrap(self._sheet.title(self._found), WIDTH)
        yield from self._back()
        yield from self._forward()
        yield from self._balance()
        yield ""
        yield from wrap(self._sheet.cautions(self._found), WIDTH)
        yield from self._further()

    def _back(self) -> Iterator[str]:
        back = self._found.back
        yield from ("", "Back: where it came from")
        if not back.bodies and not back.stages and not back.added:
            yield "  Nothing in the book says."
        for fate in back.bodies:
            yield from _item(fate.body.key, self._body(fate))
        for each in back.stages:
            took = self._took(each.takes, each.added)
            yield from _item(each.stage.key, [self._stage(each.stage), f"took {took}"])
        if not back.stages:
            for row in back.added:
                yield from _item(row.stage, [f"took {self._added(row)}"])

    def _body(self, fate: BodyFate) -> list[str]:
        body = fate.body
        came = [f"docket {body.supplier_ref}" if body.supplier_ref else "no docket reference"]
        if body.killed_on is not None:
            came.append(f"slaughtered {body.killed_on}")
        came.append(f"received {self._at(body.received_at)}")
        weights = [f"weighed {kg_text(body.received_g)} kg"]
        if body.docket_g is not None:
            weights.insert(0, f"docket {kg_text(body.docket_g)} kg")
        if fate.left_g:
            weights.append(f"{kg_text(fate.left_g)} kg still hangs")
        return [
            self._sheet.body_words(body),
            ", ".join(came),
            ", ".join(weights),
            self._born(body.key),
        ]

    def _born(self, body: str) -> str:
        origin = self._sheet.origins.get(body)
        if origin is None:
            return ""
        told: dict[str, list[str]] = defaultdict(list)
        for what in ("born", "reared", "slaughtered"):
            if place := getattr(origin, what):
                told[place].append(what)
        parts = [f"{', '.join(what)} in {place}" for place, what in told.items()]
        if origin.abattoir:
            parts.append(f"abattoir {origin.abattoir}")
        return "; ".join(parts)

    def _stage(self, stage: Stage) -> str:
        when, end = self._at(stage.started_at), stage.finished_at
        when += ", still open" if end is None else f" to {self._near(end, stage)}"
        return ", ".join(filter(None, (stage.kind.value, when, stage.person)))

    def _took(self, takes: Sequence[Take], added: Sequence[Input]) -> str:
        parts = [self._take(take) for take in takes] + [self._added(row) for row in added]
        return "; ".join(parts) or "nothing"

    def _take(self, take: Take) -> str:
        said = f"{kg_text(take.grams)} kg of {take.key}"
        if take.source is Source.BODY:
            return said
        return f"{said} ({self._sheet.cut(self._pieces_by_key[take.key].cut)})"

    def _added(self, row: Input) -> str:
        lot = self._sheet.lots.get((row.stage, row.key))
        told = "no lot kept" if lot is None else f"lot {lot.lot}"
        if lot is not None and lot.use_by is not None:
            told += f", use by {lot.use_by}"
        return f"{kg_text(row.grams or 0)} kg of {self._sheet.ingredient(row.key)} ({told})"

    def _forward(self) -> Iterator[str]:
        forward = self._found.forward
        pieces: dict[str, list[TracedPiece]] = defaultdict(list)
        for each in forward.pieces:
            pieces[each.piece.stage].append(each)
        back: dict[str, list[TakenBack]] = defaultdict(list)
        for gone in forward.taken_back:
            back[gone.piece.stage].append(gone)
        yield from ("", "Forward: what came of it")
        taken_from = {each.stage.key: each.stage for each in self._found.back.stages}
        for key in {*pieces, *back} - {each.stage.key for each in forward.stages}:
            yield from _item("itself", [f"{self._stage(taken_from[key])}, stage {key}"])
            yield from self._pieces(pieces[key], back[key], taken_from[key])
        for stage in forward.stages:
            yield from _item(stage.stage.key, self._stage_forward(stage))
            yield from self._pieces(pieces[stage.stage.key], back[stage.stage.key], stage.stage)
        if not forward.stages:
            yield "  No stage has taken of it."
        elif forward.ends:
            left = sum(each.left_g for each in forward.ends)
            count = len(forward.ends)
            pieces_said = "1 piece" if count == 1 else f"{count} pieces"
            yield f"  At the end: {pieces_said}, {kg_text(left)} kg left"

    def _stage_forward(self, each: TracedStage) -> list[str]:
        share = decimal_text(each.share_percent, 1)
        if share == "0.0":
            share = "less than 0.1"
        of = f"{share} % of the {kg_text(each.input_g)} kg that went in"
        if each.stage.key in self._found.subject.stages:
            return [self._stage(each.stage), f"itself: {of}"]
        return [self._stage(each.stage), f"took {self._took(each.takes, each.added)}: {of}"]

    def _pieces(
        self, pieces: Iterable[TracedPiece], back: Iterable[TakenBack], stage: Stage
    ) -> Iterator[str]:
        rows = [self._row(each, stage) for each in pieces]
        if rows:
            head = ["piece", "cut", "weighed", "by", "left kg", "may hold", "use by"]
            yield from _table(head, rows)
        for gone in back:
            by = f" by {gone.void.person}" if gone.void.person else ""
            why = f": {gone.void.reason}" if gone.void.reason else ""
            said = (
                f"{self._sheet.cut(gone.piece.cut)}, taken back {self._at(gone.void.at)}{by}{why}"
            )
            first, *others = wrap(f"{gone.piece.key}  {said}", WIDTH - UNDER)
            yield f"    {first}"
            yield from (f"{'':<{UNDER}}{line}" for line in others)
            for line in self._sheet.printed.get(gone.piece.key, ()):
                yield from _under(self._label(line))

    def _row(self, each: TracedPiece, stage: Stage) -> tuple[list[str], list[str]]:
        """A piece's cells, and what else is to be said of it."""
        piece = each.piece
        day = self._sheet.use_by.get(piece.key)
        cells = [
            piece.key,
            self._sheet.cut(piece.cut),
            self._near(piece.weighed_at, stage),
            piece.person or "-",
            kg_text(each.left_g),
            kg_text(each.traced_left_g),
            "-" if day is None else day.isoformat(),
        ]
        said = []
        if each.takes:
            stages = ", ".join(f"{kg_text(take.grams)} kg to {take.stage}" for take in each.takes)
            said.append(f"of {kg_text(piece.net_g)} kg: {stages}")
        for row in each.written_off:
            why = f": {row.reason}" if row.reason else ""
            said.append(f"{kg_text(row.grams)} kg written off {self._at(row.at)}{why}")
        said += [self._label(line) for line in self._sheet.printed.get(piece.key, ())]
        return cells, said

    def _label(self, line: LogLine) -> str:
        job, item = line.job.job, line.item
        assert item is not None  # a label is of a piece
        parts = [f"label {line.job.state.value} {self._at(job.at)}"]
        if item.grams is not None:
            parts.append(f"{kg_text(item.grams)} kg")
        parts.append(f"lot {item.lot}" if item.lot else "no lot")
        if item.use_by is not None:
            parts.append(f"use by {item.use_by}")
        return ", ".join(parts)

    def _balance(self) -> Iterator[str]:
        balance = self._found.balance
        rows = [
            ("dried on the rail", balance.hang_loss_g),
            ("still hangs", balance.on_rail_g),
            ("on the block", balance.on_block_g),
            ("lost at work" if balance.lost_g >= 0 else "gained at work", balance.lost_g),
            ("written off", balance.written_off_g),
            *((f"left as {name}", self._found.at_end_g[kind]) for kind, name in _KINDS.items()),
        ]
        yield from ("", "Balance, kg of it")
        yield f"  {'came in':<22}{kg_text(balance.went_in_g):>12}"
        for name, grams in rows:
            if grams:
                yield f"  {name:<22}{kg_text(grams):>12}"
        yield f"  {'difference':<22}{kg_text(balance.difference_g):>12}"

    def _further(self) -> Iterator[str]:
        """What to trace next: all that came of the bodies, where the subject is not bodies."""
        if self._found.subject.bodies or not self._found.back.bodies:
            return
        commands = ", ".join(f"gambrel trace {fate.body.key}" for fate in self._found.back.bodies)
        yield from wrap(f"All that came of its bodies: {commands}.", WIDTH)

    def _at(self, moment: datetime) -> str:
        return f"{moment.astimezone(self._zone):%Y-%m-%d %H:%M}"

    def _near(self, moment: datetime, stage: Stage) -> str:
        """A time of the day; with its date where that is not the stage's own."""
        shop = self._sheet.shop
        if business_day(moment, shop) == business_day(stage.started_at, shop):
            return f"{moment.astimezone(self._zone):%H:%M}"
        return self._at(moment)


def _item(key: str, texts: Iterable[str]) -> Iterator[str]:
    """A key with lines beside it; beneath it where the key is long."""
    indent = " " * (4 + LONG_KEY)
    first = f"  {key}".ljust(len(indent))
    if len(key) > LONG_KEY:
        yield f"  {key}"
        first = indent
    for text in filter(None, texts):
        for line in wrap(text, WIDTH - len(indent)):
            yield f"{first}{line}"
            first = indent


def _under(text: str) -> Iterator[str]:
    for line in wrap(text, WIDTH - UNDER):
        yield f"{'':<{UNDER}}{line}"


def _table(head: list[str], rows: list[tuple[list[str], list[str]]]) -> Iterator[str]:
    """Rows with what is said beneath each; long keys stand above their rows, long names are cut."""
    keys = ["piece", *(cells[0] for cells, _ in rows)]
    apart = max(map(len, keys)) > LONG_KEY
    front = 8 if apart else 6 + max(map(len, keys))
    lines = [head[1:], *(cells[1:] for cells, _ in rows)]
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    widths[_BY] = min(widths[_BY], LONG_NAME)
    others = front + sum(widths[1:]) + 2 * len(widths[1:])
    widths[0] = min(widths[0], max(SHORT_NAME, WIDTH - others))
    for number, (key, cells) in enumerate(zip(keys, lines, strict=True)):
        if apart:
            yield f"    {key}"
        shown = [
            _short(cell, width).rjust(width)
            if column in _WEIGHTS
            else _short(cell, width).ljust(width)
            for column, (cell, width) in enumerate(zip(cells, widths, strict=True))
        ]
        yield f"{'' if apart else f'    {key}':<{front}}{'  '.join(shown)}".rstrip()
        if number:
            for text in rows[number - 1][1]:
                yield from _under(text)


def _short(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 1]}\N{HORIZONTAL ELLIPSIS}"
