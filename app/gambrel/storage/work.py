"""One transaction of the book: what a service reads and writes in it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import Table, exists, func, insert, select, update
from sqlalchemy.engine import Connection

from gambrel.domain.refusals import Refusal
from gambrel.domain.resting import collector_resting
from gambrel.domain.trade.around import Recipe, RecipeLine
from gambrel.domain.trade.catalogue import Cut, ListLine, Shop, Supplier
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PriceChange,
    Reweigh,
    Stage,
    Trade,
    Void,
    WriteOff,
    piece_order,
)
from gambrel.domain.trade.texts import refuse_unfit, refuse_unfit_setting, refuse_unfit_words
from gambrel.storage import amounts, beside, catalogue, reading, rows, tables
from gambrel.storage.beside import Done, Kept
from gambrel.storage.beside import Record as Beside
from gambrel.storage.catalogue import Listed
from gambrel.storage.nearby import read_nearby
from gambrel.storage.rows import Mapping, Row
from gambrel.storage.stages import (
    Event,
    EventKind,
    Standing,
    add_event,
    add_stages,
    read_standings,
)

Entry = (
    Supplier
    | Cut
    | ListLine
    | Body
    | Reweigh
    | Stage
    | Piece
    | Input
    | Void
    | PriceChange
    | WriteOff
)
"""A record that can be added to the book."""

# In an order in which what is named comes before what names it. Stages have their own way.
_BEFORE_STAGES: dict[type, Mapping[Any]] = {
    Supplier: rows.SUPPLIERS,
    Cut: rows.CUTS,
    ListLine: rows.LISTS,
    Body: rows.BODIES,
    Reweigh: rows.REWEIGHS,
}
_AFTER_STAGES: dict[type, Mapping[Any]] = {
    Piece: rows.PIECES,
    Input: rows.INPUTS,
    Void: rows.VOIDS,
    PriceChange: rows.PRICES,
    WriteOff: rows.WRITEOFFS,
}


class Work:
    """Reads and writes inside one transaction; gone when the transaction ends."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection

    def shop(self) -> Shop | None:
        """The shop, if it has been set."""
        return reading.read_shop(self._connection)

    def require_shop(self) -> Shop:
        """The shop.

        Raises:
            Refusal: The book has none yet.
        """
        return reading.require_shop(self._connection)

    def set_shop(self, shop: Shop) -> None:
        """Set the shop, or change what was set.

        Raises:
            Refusal: Its name does not fit (`refuse_unfit_words`).
        """
        refuse_unfit_words("name", shop.name)
        self._put(tables.shop, "id", rows.shop_row(shop))

    def holds_money(self) -> bool:
        """Whether any amount of money stands in the book, the shop's work per hour aside."""
        return amounts.holds_money(self._connection)

    def setting(self, name: str) -> str | None:
        """A setting of the shop, if it has been set."""
        query = select(tables.setting.c.value).where(tables.setting.c.name == name)
        value: str | None = self._connection.execute(query).scalar()
        return value

    def settings(self) -> dict[str, str]:
        """All settings by their names."""
        query = select(tables.setting.c.name, tables.setting.c.value).order_by("name")
        rows = self._connection.execute(query)
        return {row.name: row.value for row in rows}

    def set_setting(self, name: str, value: str) -> None:
        """Set a setting, or change it.

        Raises:
            Refusal: It does not fit (`refuse_unfit_setting`).
        """
        refuse_unfit_setting(name, value)
        self._put(tables.setting, "name", {"name": name, "value": value})

    def _put(self, table: Table, key: str, row: Row) -> None:
        """Change a row or insert it. One writer at a time makes the two steps safe."""
        change = update(table).where(table.c[key] == row[key]).values(row)
        if not self._connection.execute(change).rowcount:
            self._connection.execute(insert(table), row)

    def add(self, entries: Iterable[Entry]) -> None:
        """Insert records of any kinds in any order.

        Raises:
            TypeError: Something that is no record of the book.
            Refusal: A text in one of them does not fit (`refuse_unfit`).
        """
        entries = list(entries)
        refuse_unfit(entries)
        groups: dict[type, list[Any]] = defaultdict(list)
        for entry in entries:
            groups[type(entry)].append(entry)
        self._insert(_BEFORE_STAGES, groups)
        if stages := groups.pop(Stage, None):
            add_stages(self._connection, stages)
        self._insert(_AFTER_STAGES, groups)
        if groups:
            raise TypeError(f"no records of the book: {', '.join(map(str, groups))}")

    def _insert(self, mappings: dict[type, Mapping[Any]], groups: dict[type, list[Any]]) -> None:
        for kind, mapping in mappings.items():
            if values := groups.pop(kind, None):
                self._connection.execute(mapping.insert, [mapping.row(value) for value in values])

    def put(self, record: Kept) -> None:
        """Keep a record of the catalogue beside the trade, or change it (see `beside`).

        Raises:
            Refusal: A text in it does not fit (`refuse_unfit`).
        """
        refuse_unfit([record])
        beside.put(self._connection, record)

    def put_recipe(self, recipe: Recipe, lines: Sequence[RecipeLine]) -> None:
        """Keep a recipe with just these lines.

        Raises:
            Refusal: A text in it does not fit (`refuse_unfit`).
        """
        refuse_unfit([recipe, *lines])
        beside.put_recipe(self._connection, recipe, lines)

    def drop_recipe(self, key: str) -> None:
        """Forget a recipe. What was made by it stays."""
        beside.drop_recipe(self._connection, key)

    def note(self, records: Sequence[Done]) -> None:
        """Write down what was done beside the trade: lots, leans, withdrawals, prints.

        Raises:
            Refusal: A text in one of them does not fit (`refuse_unfit`).
        """
        refuse_unfit(records)
        beside.add_done(self._connection, records)

    def every(self, kind: type[Beside], **where: object) -> list[Beside]:
        """Records beside the trade, all of a kind or those with these values, by their keys."""
        return beside.every(self._connection, kind, **where)

    def keep(self, record: Listed) -> None:
        """Keep a cut, a supplier, or what labels say of one; or change it.

        Raises:
            Refusal: A text in it does not fit (`refuse_unfit`).
        """
        refuse_unfit([record])
        catalogue.keep(self._connection, record)

    def drop(self, record: Listed) -> None:
        """Take such a record out of the book; what names it has to be gone before."""
        catalogue.drop(self._connection, record)

    def put_list(self, key: tuple[str, str, str], lines: Sequence[ListLine]) -> None:
        """Let a cutting list (name, species, portion) have just these lines; none drops it.

        Raises:
            Refusal: A text in one of them does not fit (`refuse_unfit`).
        """
        refuse_unfit(lines)
        catalogue.put_list(self._connection, key, lines)

    def uses_of_cut(self, key: str) -> dict[str, int]:
        """How many rows name a cut, by what they are."""
        return catalogue.uses_of_cut(self._connection, key)

    def cuts_named(self) -> set[str]:
        """The cuts that anything in the book names."""
        return catalogue.cuts_named(self._connection)

    def pieces_by_cut(self) -> dict[str, int]:
        """How many pieces of each cut stand."""
        return catalogue.pieces_by_cut(self._connection)

    def bodies_by_supplier(self) -> dict[str, int]:
        """How many bodies came of each supplier."""
        return catalogue.bodies_by_supplier(self._connection)

    def portions(self) -> list[tuple[str, str]]:
        """What has been bought, as pairs of species and portion."""
        return catalogue.portions_bought(self._connection)

    def trade(self) -> Trade:
        """All that the book holds, without cancelled stages and what belongs to them.

        Rows stand in total orders: pieces and stages in the domain's own, the others by key.

        Raises:
            Refusal: The book has no shop yet.
        """
        with collector_resting():
            return reading.read_trade(self._connection)

    def stage_trade(self, stage: str) -> Trade:
        """What bears on one stage, for a quick look.

        That is the shop, the suppliers, bodies and reweighs of what it takes, all cuts and prices,
        its list, itself, its inputs and pieces, and the voids and write-offs of these pieces. A
        piece that it takes from another stage is not there; `piece` reads it.

        Raises:
            Refusal: There is no such stage, or it was cancelled, or the book has no shop yet.
        """
        return reading.read_stage_trade(self._connection, stage)

    def nearby(self, stage: str) -> Trade:
        """`stage_trade` with the pieces that it takes, and what else took of the same things.

        Raises:
            Refusal: As for `stage_trade`.
        """
        return read_nearby(self._connection, stage)

    def suppliers(self) -> list[Supplier]:
        """All suppliers by key."""
        return sorted(reading.read(self._connection, rows.SUPPLIERS), key=reading.by_key)

    def cuts(self) -> list[Cut]:
        """All cuts by key."""
        return sorted(reading.read(self._connection, rows.CUTS), key=reading.by_key)

    def has_cut(self, key: str) -> bool:
        """Whether the catalogue has a cut of that key."""
        query = select(exists().where(tables.cut.c.key == key))
        return bool(self._connection.execute(query).scalar())

    def lists(self) -> list[ListLine]:
        """All lines of all cutting lists, each list in its order of work."""
        return sorted(reading.read(self._connection, rows.LISTS), key=reading.by_list)

    def prices(self) -> tuple[PriceChange, ...]:
        """Every price that holds or will, without those that were withdrawn."""
        return reading.read_prices(self._connection)

    def stage(self, key: str) -> Stage | None:
        """A stage as it stands now; None if there is none or it was cancelled."""
        standing = self._standing(key)
        return None if standing is None or standing.cancelled else standing.stage

    def cancelled_stages(self) -> list[str]:
        """The keys of cancelled stages. They are taken for ever, as are those of their pieces."""
        return [s.stage.key for s in read_standings(self._connection) if s.cancelled]

    def _standing(self, key: str) -> Standing | None:
        return next(iter(read_standings(self._connection, key)), None)

    def piece(self, key: str) -> Piece | None:
        """A piece, taken back or not; None if there is none."""
        found = reading.read(self._connection, rows.PIECES, tables.piece.c.key == key)
        return found[0] if found else None

    def pieces_of(self, stage: str) -> list[Piece]:
        """All pieces of a stage, those taken back too, in the order in which they were weighed."""
        found = reading.read(self._connection, rows.PIECES, tables.piece.c.stage == stage)
        return sorted(found, key=piece_order)

    def last_piece(self, stage: str, station: str | None = None) -> Piece | None:
        """The last piece of a stage that was not taken back, of one station or of any."""
        piece = tables.piece.c
        gone = exists().where(tables.void.c.piece == piece.key)
        query = rows.PIECES.select().where(piece.stage == stage, ~gone)
        if station is not None:
            query = query.where(piece.station == station)
        newest = (piece.weighed_at.desc(), func.length(piece.key).desc(), piece.key.desc())
        found = rows.PIECES.values(self._connection.execute(query.order_by(*newest).limit(1)))
        return found[0] if found else None

    def voided(self, piece: str) -> bool:
        """Whether a piece was taken back."""
        query = select(exists().where(tables.void.c.piece == piece))
        return bool(self._connection.execute(query).scalar())

    def used_later(self, piece: str) -> bool:
        """Whether a stage that was not cancelled took of a piece, or a write-off names it."""
        taken = tables.stage_input.c
        takers = self._connection.execute(select(taken.stage).where(taken.piece == piece))
        if any(self.stage(stage) is not None for stage in takers.scalars().all()):
            return True
        return bool(reading.read_writeoffs(self._connection, tables.writeoff.c.piece == piece))

    def finish_stage(self, key: str, at: datetime, minutes: Decimal, person: str) -> None:
        """Finish an open stage with the minutes of work that it took.

        Raises:
            Refusal: There is no such stage, it is not open, or it started after ``at``.
        """
        standing = self._existing(key)
        if standing.stage.finished_at is not None:
            raise Refusal(f"Stage {key} is finished already. Reopen it to change it.")
        if at < standing.stage.started_at:
            raise Refusal(f"Stage {key} started later than it would end. Correct the time.")
        self._happen(standing, EventKind.FINISHED, at, minutes, person)

    def reopen_stage(self, key: str, at: datetime, person: str, reason: str) -> None:
        """Open a finished stage again; its minutes so far are kept.

        Raises:
            Refusal: There is no such stage, or it is open.
        """
        standing = self._existing(key)
        if standing.stage.finished_at is None:
            raise Refusal(f"Stage {key} is open already. Go on with it.")
        minutes = standing.stage.minutes
        self._happen(standing, EventKind.REOPENED, at, minutes, person, reason)

    def cancel_stage(self, key: str, at: datetime, person: str, reason: str) -> None:
        """Take a stage back whole: what it took was never taken.

        Raises:
            Refusal: There is no such stage, or pieces of it stand.
        """
        standing = self._existing(key)
        if self.last_piece(key) is not None:
            raise Refusal(
                f"Stage {key} has pieces that stand. Take them back first (void), then cancel it."
            )
        minutes = standing.stage.minutes
        self._happen(standing, EventKind.CANCELLED, at, minutes, person, reason)

    def relist_stage(self, key: str, cutting_list: str, at: datetime, person: str) -> None:
        """Cut an open stage by another list from here on.

        Raises:
            Refusal: There is no such stage, or it is finished.
        """
        standing = self._existing(key)
        if standing.stage.finished_at is not None:
            raise Refusal(f"Stage {key} is finished. Reopen it to cut it by another list.")
        minutes = standing.stage.minutes
        self._happen(standing, EventKind.RELISTED, at, minutes, person, cutting_list=cutting_list)

    def _existing(self, key: str) -> Standing:
        standing = self._standing(key)
        if standing is None or standing.cancelled:
            raise Refusal(f"There is no stage {key} in the book. Look for it on the rail again.")
        return standing

    def _happen(
        self,
        standing: Standing,
        kind: EventKind,
        at: datetime,
        minutes: Decimal,
        person: str,
        reason: str = "",
        cutting_list: str = "",
    ) -> None:
        number = standing.events + 1
        key = standing.stage.key
        event = Event(key, number, kind.value, at, minutes, person, reason, cutting_list)
        add_event(self._connection, event)
