"""Reading the trade out of the book.

Plain selects, and values put in order here, so that both databases give the same rows in the same
order: pieces and stages in the domain's own, the others by their keys.
"""

from __future__ import annotations

from collections.abc import Iterable
from operator import attrgetter
from typing import TypeVar

from sqlalchemy import ColumnElement, exists, select
from sqlalchemy.engine import Connection

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.records import (
    Input,
    Piece,
    PriceChange,
    Reweigh,
    Trade,
    Void,
    WriteOff,
    piece_order,
)
from gambrel.storage import around, rows, tables
from gambrel.storage.rows import Mapping, Record
from gambrel.storage.stages import read_standings, standing_stages
from gambrel.storage.types import read_moment

OfStage = TypeVar("OfStage", Input, Piece)
OfPiece = TypeVar("OfPiece", Void, WriteOff)

by_key = attrgetter("key")
by_list = attrgetter("list", "species", "portion", "position", "cut")


def by_body(reweigh: Reweigh) -> tuple[object, ...]:
    """A total order of reweighs."""
    return reweigh.body, reweigh.at


def by_cut(price: PriceChange) -> tuple[object, ...]:
    """A total order of price changes."""
    return price.cut, price.since


def by_piece(row: Void | WriteOff) -> tuple[object, ...]:
    """A total order of voids and of write-offs."""
    return row.at, row.piece, row.reason


def by_stage(taken: Input) -> tuple[object, ...]:
    """A total order of inputs."""
    return taken.stage, taken.source, taken.key


def read(
    connection: Connection, mapping: Mapping[Record], *where: ColumnElement[bool]
) -> list[Record]:
    """The values of one table, in no order."""
    return mapping.values(connection.execute(mapping.select().where(*where)))


def read_shop(connection: Connection) -> Shop | None:
    """The shop, if it has been set."""
    row = connection.execute(select(tables.shop)).mappings().first()
    return None if row is None else rows.shop_value(dict(row))


def require_shop(connection: Connection) -> Shop:
    """The shop.

    Raises:
        Refusal: The book has none yet.
    """
    shop = read_shop(connection)
    if shop is None:
        raise Refusal("The book has no shop yet. Fill in its facts, or import a folder.")
    return shop


def read_pieces(connection: Connection) -> list[Piece]:
    """Every piece, in no order: straight from the driver, since there are so many of them."""
    cursor = connection.execute(rows.PIECES.select()).cursor
    assert cursor is not None
    return [
        tuple.__new__(Piece, (key, stage, cut, gross, tare, read_moment(at), person, station))
        for key, stage, cut, gross, tare, at, person, station in cursor.fetchall()
    ]


def read_trade(connection: Connection) -> Trade:
    """All that the book holds but what was cancelled."""
    shop = require_shop(connection)
    standings = read_standings(connection)
    gone = frozenset(standing.stage.key for standing in standings if standing.cancelled)
    pieces = _without(read_pieces(connection), gone)
    lost = _pieces_of(connection, gone)
    return Trade(
        shop=shop,
        suppliers=tuple(sorted(read(connection, rows.SUPPLIERS), key=by_key)),
        cuts=tuple(sorted(read(connection, rows.CUTS), key=by_key)),
        lists=tuple(sorted(read(connection, rows.LISTS), key=by_list)),
        bodies=tuple(sorted(read(connection, rows.BODIES), key=by_key)),
        reweighs=tuple(sorted(read(connection, rows.REWEIGHS), key=by_body)),
        stages=tuple(standing_stages(standings)),
        inputs=tuple(sorted(_without(read(connection, rows.INPUTS), gone), key=by_stage)),
        pieces=tuple(sorted(pieces, key=piece_order)),
        voids=tuple(sorted(_of_others(read(connection, rows.VOIDS), lost), key=by_piece)),
        prices=read_prices(connection),
        writeoffs=tuple(sorted(_of_others(read_writeoffs(connection), lost), key=by_piece)),
    )


def read_prices(connection: Connection) -> tuple[PriceChange, ...]:
    """The price changes that hold or will: those that were withdrawn before they came are not."""
    price, gone = tables.price.c, around.price_withdrawn.c
    withdrawn = exists().where(gone.cut == price.cut, gone.since == price.since)
    return tuple(sorted(read(connection, rows.PRICES, ~withdrawn), key=by_cut))


def read_writeoffs(connection: Connection, *where: ColumnElement[bool]) -> list[WriteOff]:
    """The write-offs that stand: those that were taken back do not."""
    row, gone = tables.writeoff.c, around.writeoff_withdrawn.c
    names = gone.piece == row.piece, gone.written_off_at == row.at, gone.why == row.reason
    return read(connection, rows.WRITEOFFS, ~exists().where(*names), *where)


def _without(values: list[OfStage], stages: frozenset[str]) -> Iterable[OfStage]:
    if not stages:
        return values
    return (value for value in values if value.stage not in stages)


def _of_others(values: list[OfPiece], pieces: frozenset[str]) -> Iterable[OfPiece]:
    if not pieces:
        return values
    return (value for value in values if value.piece not in pieces)


def _pieces_of(connection: Connection, stages: frozenset[str]) -> frozenset[str]:
    if not stages:
        return frozenset()
    keys = select(tables.piece.c.key).where(tables.piece.c.stage.in_(sorted(stages)))
    return frozenset(connection.execute(keys).scalars())


def read_stage_trade(connection: Connection, key: str) -> Trade:
    """What bears on one stage.

    Raises:
        Refusal: There is no such stage, or it was cancelled, or there is no shop.
    """
    shop = require_shop(connection)
    stages = standing_stages(read_standings(connection, key))
    if not stages:
        raise Refusal(f"There is no stage {key} in the book. Look for it on the rail again.")
    taken = tables.stage_input.c
    bodies = select(taken.body).where(taken.stage == key, taken.body.is_not(None))
    made = select(tables.piece.c.key).where(tables.piece.c.stage == key)
    body_rows = read(connection, rows.BODIES, tables.body.c.key.in_(bodies))
    sellers = tables.supplier.c.key.in_(sorted({body.supplier for body in body_rows}))
    line = tables.cutting_list_line.c
    pieces = read(connection, rows.PIECES, tables.piece.c.stage == key)
    voids = read(connection, rows.VOIDS, tables.void.c.piece.in_(made))
    reweighs = read(connection, rows.REWEIGHS, tables.reweigh.c.body.in_(bodies))
    writeoffs = read_writeoffs(connection, tables.writeoff.c.piece.in_(made))
    return Trade(
        shop=shop,
        suppliers=tuple(sorted(read(connection, rows.SUPPLIERS, sellers), key=by_key)),
        cuts=tuple(sorted(read(connection, rows.CUTS), key=by_key)),
        lists=tuple(sorted(read(connection, rows.LISTS, line.list == stages[0].list), key=by_list)),
        bodies=tuple(sorted(body_rows, key=by_key)),
        reweighs=tuple(sorted(reweighs, key=by_body)),
        stages=tuple(stages),
        inputs=tuple(sorted(read(connection, rows.INPUTS, taken.stage == key), key=by_stage)),
        pieces=tuple(sorted(pieces, key=piece_order)),
        voids=tuple(sorted(voids, key=by_piece)),
        prices=read_prices(connection),
        writeoffs=tuple(sorted(writeoffs, key=by_piece)),
    )
