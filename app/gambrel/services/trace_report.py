"""The JSON form of ``gambrel trace``; its keys are a contract with programs outside."""

from __future__ import annotations

from dataclasses import asdict
from datetime import date, datetime
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from gambrel.domain.trade.catalogue import CutKind
from gambrel.services.cost_report import decimal_text

if TYPE_CHECKING:  # every command asks for the form's description; only a trace needs the rest
    from gambrel.domain.costing.takes import BodyFate, Take
    from gambrel.domain.prices.prints import LogLine
    from gambrel.domain.review.trace import TakenBack, Trace, TracedPiece, TracedStage
    from gambrel.domain.sheets.trace_sheet import TraceSheet
    from gambrel.domain.trade.records import Input, Piece

Json = dict[str, Any]


def trace_json(sheet: TraceSheet) -> Json:
    """Weights in grams, moments on the shop's clock; null where nothing is known.

    {"key": "HQ-14",
     "found": [
      {"kind", "name", "of", "title",
       "back": {
        "bodies": [{"body", "species", "portion", "supplier", "supplier_name", "supplier_ref",
                    "killed_on", "received_at", "docket_g", "received_g", "taken_g", "hang_loss_g",
                    "on_rail_g", "origin": {"born", "reared", "slaughtered", "abattoir", "cut_in",
                    "plant"}}],
        "stages": [{"stage", "kind", "started_at", "finished_at", "person", "input_g",
                    "took": [{"source", "key", "weight_g"}]}],
        "pieces": [{"piece", "stage", "cut", "cut_name", "net_g", "weighed_at", "person",
                    "station"}],
        "ingredients": [{"ingredient", "name", "stage", "weight_g", "lot", "use_by"}]},
       "forward": {
        "stages": [as in back, and "share_percent"],
        "pieces": [as in back, and "kind", "use_by", "taken_g", "written_off_g", "left_g", "at_end",
                   "share_percent", "traced_left_g", "traced_written_off_g",
                   "writeoffs": [{"at", "weight_g", "reason"}],
                   "printed": [{"job", "at", "state", "printer", "copies", "by", "net_g", "lot",
                                "use_by", "number"}]],
        "taken_back": [as pieces in back, and "voided_at", "voided_by", "reason", "printed"]},
       "balance": {"went_in_g", "hang_loss_g", "on_rail_g", "on_block_g", "lost_g",
                   "written_off_g", "at_end_g", "difference_g",
                   "at_end": {"tray", "trim", "byproduct", "waste"}}}]}

    ``kind`` is body, piece, stage, supplier_ref, killed_on, received_on, abattoir, supplier,
    ingredient_lot, ingredient or label_number. ``back`` holds all that went into it, ``forward``
    all that took of it: a piece is at the end where stages did not take the whole of it.
    ``share_percent`` is by weight, by calculation; ``traced_left_g`` is that part of ``left_g``.
    ``taken_back`` are weighings that were voided: they hold nothing, and may bear a label.
    """
    return {"key": sheet.word, "found": [_found(sheet, each) for each in sheet.traces]}


def _found(sheet: TraceSheet, found: Trace) -> Json:
    back, forward = found.back, found.forward
    return {
        "kind": found.subject.kind.value,
        "name": found.subject.name,
        "of": found.subject.of or None,
        "title": sheet.title(found),
        "back": {
            "bodies": [_body(sheet, fate) for fate in back.bodies],
            "stages": [_stage(sheet, each) for each in back.stages],
            "pieces": [_piece(sheet, piece) for piece in back.pieces],
            "ingredients": [_ingredient(sheet, row) for row in back.added],
        },
        "forward": {
            "stages": [
                _stage(sheet, each) | {"share_percent": decimal_text(each.share_percent, 2)}
                for each in forward.stages
            ],
            "pieces": [_traced(sheet, each) for each in forward.pieces],
            "taken_back": [_taken_back(sheet, each) for each in forward.taken_back],
        },
        "balance": _balance(found),
    }


def _balance(found: Trace) -> Json:
    balance = found.balance
    return {
        **asdict(balance),
        "at_end": {kind.value: found.at_end_g[kind] for kind in CutKind},
        "difference_g": balance.difference_g,
    }


def _body(sheet: TraceSheet, fate: BodyFate) -> Json:
    body, origin = fate.body, sheet.origins.get(fate.body.key)
    told = None
    if origin is not None:
        names = ("born", "reared", "slaughtered", "abattoir", "cut_in", "plant")
        told = {name: getattr(origin, name) or None for name in names}
    return {
        "body": body.key,
        "species": body.species,
        "portion": body.portion,
        "supplier": body.supplier,
        "supplier_name": sheet.supplier(body.supplier),
        "supplier_ref": body.supplier_ref or None,
        "killed_on": _day(body.killed_on),
        "received_at": _moment(sheet, body.received_at),
        "docket_g": body.docket_g,
        "received_g": body.received_g,
        "taken_g": sum(take.grams for take in fate.takes),
        "hang_loss_g": fate.hang_loss_g,
        "on_rail_g": fate.left_g,
        "origin": told,
    }


def _stage(sheet: TraceSheet, each: TracedStage) -> Json:
    stage = each.stage
    return {
        "stage": stage.key,
        "kind": stage.kind.value,
        "started_at": _moment(sheet, stage.started_at),
        "finished_at": _moment(sheet, stage.finished_at),
        "person": stage.person or None,
        "input_g": each.input_g,
        "took": [_take(take) for take in each.takes] + [_added(row) for row in each.added],
    }


def _take(take: Take) -> Json:
    return {"source": take.source.value, "key": take.key, "weight_g": take.grams}


def _added(row: Input) -> Json:
    return {"source": row.source.value, "key": row.key, "weight_g": row.grams}


def _ingredient(sheet: TraceSheet, row: Input) -> Json:
    lot = sheet.lots.get((row.stage, row.key))
    return {
        "ingredient": row.key,
        "name": sheet.ingredient(row.key),
        "stage": row.stage,
        "weight_g": row.grams,
        "lot": None if lot is None else lot.lot,
        "use_by": None if lot is None else _day(lot.use_by),
    }


def _piece(sheet: TraceSheet, piece: Piece) -> Json:
    return {
        "piece": piece.key,
        "stage": piece.stage,
        "cut": piece.cut,
        "cut_name": sheet.cut(piece.cut),
        "net_g": piece.net_g,
        "weighed_at": _moment(sheet, piece.weighed_at),
        "person": piece.person or None,
        "station": piece.station or None,
    }


def _traced(sheet: TraceSheet, each: TracedPiece) -> Json:
    return _piece(sheet, each.piece) | {
        "kind": each.kind.value,
        "use_by": _day(sheet.use_by.get(each.piece.key)),
        "taken_g": each.taken_g,
        "written_off_g": each.written_off_g,
        "left_g": each.left_g,
        "at_end": each.stands_at_end,
        "share_percent": decimal_text(each.share_percent, 2),
        "traced_left_g": each.traced_left_g,
        "traced_written_off_g": each.traced_off_g,
        "writeoffs": [
            {"at": _moment(sheet, row.at), "weight_g": row.grams, "reason": row.reason or None}
            for row in each.written_off
        ],
        "printed": _printed(sheet, each.piece),
    }


def _taken_back(sheet: TraceSheet, each: TakenBack) -> Json:
    return _piece(sheet, each.piece) | {
        "voided_at": _moment(sheet, each.void.at),
        "voided_by": each.void.person or None,
        "reason": each.void.reason or None,
        "printed": _printed(sheet, each.piece),
    }


def _printed(sheet: TraceSheet, piece: Piece) -> list[Json]:
    return [_label(sheet, line) for line in sheet.printed.get(piece.key, ())]


def _label(sheet: TraceSheet, line: LogLine) -> Json:
    job, item = line.job.job, line.item
    assert item is not None  # a label is of a piece
    return {
        "job": job.key,
        "at": _moment(sheet, job.at),
        "state": line.job.state.value,
        "printer": job.printer or None,
        "copies": job.copies,
        "by": job.person or None,
        "net_g": item.grams,
        "lot": item.lot or None,
        "use_by": _day(item.use_by),
        "number": item.number or None,
    }


def _moment(sheet: TraceSheet, moment: datetime | None) -> str | None:
    if moment is None:
        return None
    return moment.astimezone(ZoneInfo(sheet.shop.time_zone)).isoformat(timespec="seconds")


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
