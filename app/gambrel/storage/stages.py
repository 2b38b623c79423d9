"""Stages and what happened to them.

The row of a stage never changes: it is finished, reopened or cancelled by an event, and its last
event says how it stands now.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from sqlalchemy import insert, select
from sqlalchemy.engine import Connection

from gambrel.domain.trade.records import Stage, stage_order
from gambrel.storage.rows import Row
from gambrel.storage.tables import stage, stage_event


class EventKind(StrEnum):
    """What can happen to a stage after it started."""

    FINISHED = "finished"
    REOPENED = "reopened"
    CANCELLED = "cancelled"
    RELISTED = "relisted"


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that happened to a stage; ``number`` counts from one within the stage."""

    stage: str
    number: int
    kind: str
    at: datetime
    minutes: Decimal
    person: str = ""
    reason: str = ""
    list: str = ""
    """The new cutting list, of a `RELISTED` event only. Only open stages have one."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A stage as its last event left it."""

    stage: Stage
    events: int
    cancelled: bool


def stage_row(value: Stage) -> Row:
    """The row of a stage that starts."""
    row = asdict(value)
    del row["finished_at"]
    return row


def finished_row(value: Stage) -> Row:
    """The event of a stage that is finished by the time it comes into the book."""
    assert value.finished_at is not None
    finished = EventKind.FINISHED.value
    return asdict(Event(value.key, 1, finished, value.finished_at, value.minutes, value.person))


def add_stages(connection: Connection, stages: Sequence[Stage]) -> None:
    """Insert stages, each with its event if it is finished."""
    connection.execute(insert(stage), [stage_row(value) for value in stages])
    finished = [finished_row(value) for value in stages if value.finished_at is not None]
    if finished:
        connection.execute(insert(stage_event), finished)


def read_standings(connection: Connection, key: str | None = None) -> list[Standing]:
    """Stages as they stand, in the domain's order; all of them, or the one named."""
    stages = select(stage)
    # The numbers of a stage are checked to be unique by its primary key, so this order is total.
    events = select(stage_event).order_by(stage_event.c.stage, stage_event.c.number)
    if key is not None:
        stages = stages.where(stage.c.key == key)
        events = events.where(stage_event.c.stage == key)
    last: dict[str, Event] = {}
    lists: dict[str, str] = {}
    for event in (Event(*row) for row in connection.execute(events)):
        last[event.stage] = event
        if event.kind == EventKind.RELISTED:
            lists[event.stage] = event.list
    rows = map(dict, connection.execute(stages).mappings())
    listed = [row | {"list": lists.get(row["key"], row["list"])} for row in rows]
    standings = [_standing(row, last.get(row["key"])) for row in listed]
    return sorted(standings, key=lambda standing: stage_order(standing.stage))


def _standing(row: Row, last: Event | None) -> Standing:
    value = Stage(**row)
    if last is None:
        return Standing(value, events=0, cancelled=False)
    value = replace(
        value,
        finished_at=last.at if last.kind == EventKind.FINISHED else None,
        minutes=last.minutes,
    )
    return Standing(value, last.number, cancelled=last.kind == EventKind.CANCELLED)


def standing_stages(standings: Iterable[Standing]) -> list[Stage]:
    """The stages that were not cancelled."""
    return [standing.stage for standing in standings if not standing.cancelled]


def add_event(connection: Connection, event: Event) -> None:
    """Write what happened to a stage."""
    connection.execute(insert(stage_event), asdict(event))
