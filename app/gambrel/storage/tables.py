"""The tables of the book, named after the plain files. Weights are grams, money minor units.

Every rule that one row can keep by itself is a named CHECK; every table is STRICT on SQLite.
"""

from __future__ import annotations

from sqlalchemy import (
    CheckConstraint,
    Column,
    ForeignKey,
    Index,
    MetaData,
    PrimaryKeyConstraint,
    Table,
)
from sqlalchemy.schema import SchemaItem

from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import PricedOn, Source, StageKind
from gambrel.storage.types import Choice, Day, Exact, Moment, Whole, Words

NAMING = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
}
"""Every constraint has a name from the first day: SQLite cannot drop one that has none."""

metadata = MetaData(naming_convention=NAMING)

HEAVIEST_G = 10_000_000
DEAREST_MINOR = 10_000_000_000_000
_MOMENT = "____-__-__T__:__:__.______Z"


def _check(name: str, rule: str) -> CheckConstraint:
    return CheckConstraint(rule, name=name)


def _money(*columns: str, least: int = -DEAREST_MINOR) -> list[CheckConstraint]:
    return [_check(f"{c}_sane", f"{c} BETWEEN {least} AND {DEAREST_MINOR}") for c in columns]


def _weight(*columns: str, least: int = 1) -> list[CheckConstraint]:
    return [_check(f"{c}_sane", f"{c} BETWEEN {least} AND {HEAVIEST_G}") for c in columns]


def _moment(*columns: str) -> list[CheckConstraint]:
    return [_check(f"{c}_written", f"{c} LIKE '{_MOMENT}'") for c in columns]


def _named(column: str) -> CheckConstraint:
    return _check(f"{column}_given", f"{column} <> ''")


def _one_of(column: str, *words: str) -> CheckConstraint:
    return _check(f"{column}_known", f"{column} IN ({', '.join(map(repr, words))})")


def _table(name: str, *parts: SchemaItem | list[CheckConstraint]) -> Table:
    flat: list[SchemaItem] = []
    for part in parts:
        flat.extend(part if isinstance(part, list) else [part])
    return Table(name, metadata, *flat, sqlite_strict=True)


def _key(name: str = "key") -> Column[str]:
    return Column(name, Words, primary_key=True)


def _words(name: str) -> Column[str]:
    return Column(name, Words, nullable=False)


def _whole(name: str, *, nullable: bool = False) -> Column[int]:
    return Column(name, Whole, nullable=nullable)


def _at(name: str, *, primary_key: bool = False) -> Column[object]:
    return Column(name, Moment, nullable=False, primary_key=primary_key)


def _to(name: str, target: str, *, nullable: bool = False) -> Column[str]:
    return Column(name, Words, ForeignKey(f"{target}.key"), nullable=nullable)


shop = _table(
    "shop",
    Column("id", Whole, primary_key=True, autoincrement=False),
    _words("name"),
    _words("currency"),
    _whole("currency_digits"),
    _words("time_zone"),
    _words("day_starts"),
    _whole("week_starts"),
    _whole("work_per_hour"),
    Column("tax_percent", Exact, nullable=False),
    _whole("prices_include_tax"),
    Column("target_margin_percent", Exact, nullable=False),
    _check("only_one", "id = 1"),
    _check("currency_code", "length(currency) = 3"),
    _check("currency_digits_sane", "currency_digits BETWEEN 0 AND 6"),
    _check("day_starts_written", "day_starts LIKE '__:__'"),
    _check("week_starts_day", "week_starts BETWEEN 0 AND 6"),
    _money("work_per_hour", least=0),
    _check("tax_percent_sane", "tax_percent >= 0"),
    _check("prices_include_tax_yes_or_no", "prices_include_tax IN (0, 1)"),
    _check("target_margin_percent_reachable", "target_margin_percent < 100000000"),
)

setting = _table("setting", _key("name"), _words("value"), _named("name"))

supplier = _table("supplier", _key(), _words("name"), _words("contact"), _named("key"))

cut = _table(
    "cut",
    _key(),
    _words("name"),
    _words("species"),
    Column("kind", Choice(CutKind), nullable=False),
    _whole("price", nullable=True),
    _whole("finish"),
    _whole("credit"),
    _whole("shelf_life_days", nullable=True),
    _words("plu"),
    _words("unece"),
    _named("key"),
    _one_of("kind", "tray", "trim", "byproduct", "waste"),
    _money("price", "finish", least=0),
    _money("credit"),
    _check("shelf_life_days_sane", "shelf_life_days >= 0"),
)

cutting_list_line = _table(
    "cutting_list_line",
    _words("list"),
    _words("species"),
    _words("portion"),
    _whole("position"),
    _to("cut", "cut"),
    Column("norm_percent", Exact),
    PrimaryKeyConstraint("list", "species", "portion", "cut"),
    _named("list"),
    _check("position_sane", "position >= 0"),
    _check("norm_percent_sane", "norm_percent >= 0"),
)

body = _table(
    "body",
    _key(),
    _words("species"),
    _words("portion"),
    _to("supplier", "supplier", nullable=True),
    _at("received_at"),
    _whole("received_g"),
    _whole("price"),
    Column("priced_on", Choice(PricedOn), nullable=False),
    _whole("docket_g", nullable=True),
    _whole("other_cost"),
    _words("supplier_ref"),
    Column("killed_on", Day),
    _named("key"),
    _moment("received_at"),
    _weight("received_g", "docket_g"),
    _money("price", least=0),
    _money("other_cost"),
    _one_of("priced_on", "docket", "received"),
    _check("killed_on_written", "killed_on LIKE '____-__-__'"),
)

reweigh = _table(
    "reweigh",
    _to("body", "body"),
    _at("at"),
    _whole("grams"),
    PrimaryKeyConstraint("body", "at"),
    _moment("at"),
    _weight("grams"),
)

stage = _table(
    "stage",
    _key(),
    Column("kind", Choice(StageKind), nullable=False),
    _at("started_at"),
    _words("person"),
    Column("minutes", Exact, nullable=False),
    _words("list"),
    _named("key"),
    _one_of("kind", "break", "trimout", "blend"),
    _moment("started_at"),
    _check("minutes_sane", "minutes >= 0"),
)

stage_event = _table(
    "stage_event",
    _to("stage", "stage"),
    _whole("number"),
    _words("kind"),
    _at("at"),
    Column("minutes", Exact, nullable=False),
    _words("person"),
    _words("reason"),
    PrimaryKeyConstraint("stage", "number"),
    _check("number_sane", "number > 0"),
    _one_of("kind", "finished", "reopened", "cancelled"),
    _moment("at"),
    _check("minutes_sane", "minutes >= 0"),
)

piece = _table(
    "piece",
    _key(),
    _to("stage", "stage"),
    _to("cut", "cut"),
    _whole("gross_g"),
    _whole("tare_g"),
    _at("weighed_at"),
    _words("person"),
    _words("station"),
    _named("key"),
    _weight("gross_g"),
    _weight("tare_g", least=0),
    _check("net_positive", "gross_g > tare_g"),
    _moment("weighed_at"),
)
Index(None, piece.c.stage)

# `key` names what is taken. For a body or a piece the column of that name holds it once more, so
# that the database itself refuses what does not exist.
stage_input = _table(
    "stage_input",
    _to("stage", "stage"),
    Column("source", Choice(Source), nullable=False),
    _words("key"),
    _to("body", "body", nullable=True),
    _to("piece", "piece", nullable=True),
    _whole("grams", nullable=True),
    _whole("cost"),
    PrimaryKeyConstraint("stage", "source", "key"),
    _named("key"),
    _one_of("source", "body", "piece", "ingredient"),
    _check("body_is_key", "(source = 'body') = (body IS NOT NULL) AND coalesce(body, key) = key"),
    _check(
        "piece_is_key", "(source = 'piece') = (piece IS NOT NULL) AND coalesce(piece, key) = key"
    ),
    _check("ingredient_weighed", "source <> 'ingredient' OR grams IS NOT NULL"),
    _check("cost_of_ingredient", "source = 'ingredient' OR cost = 0"),
    _weight("grams"),
    _money("cost", least=0),
)
Index(None, stage_input.c.body)
Index(None, stage_input.c.piece)

void = _table(
    "void",
    Column("piece", Words, ForeignKey("piece.key"), primary_key=True),
    _at("at"),
    _words("person"),
    _words("reason"),
    _moment("at"),
)

price = _table(
    "price",
    _to("cut", "cut"),
    _whole("price"),
    _at("since"),
    _words("reason"),
    PrimaryKeyConstraint("cut", "since"),
    _money("price", least=0),
    _moment("since"),
)

writeoff = _table(
    "writeoff",
    _to("piece", "piece"),
    _whole("grams"),
    _at("at"),
    _words("reason"),
    PrimaryKeyConstraint("piece", "at", "reason"),
    _weight("grams"),
    _moment("at"),
)
