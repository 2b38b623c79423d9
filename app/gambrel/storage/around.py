"""The tables around the trade: people, recipes, labels, and what was printed."""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Column, ForeignKey, ForeignKeyConstraint
from sqlalchemy import PrimaryKeyConstraint as PrimaryKey

from gambrel.domain.trade.around import OriginOf, PrintKind, PrintStep
from gambrel.storage.columns import (
    at,
    check,
    key,
    moment,
    money,
    named,
    one_of,
    table,
    to,
    weight,
    whole,
    words,
)
from gambrel.storage.types import Choice, Day, Exact, Words


def _cut() -> Column[str]:
    return Column("cut", Words, ForeignKey("cut.key"), primary_key=True)


def _percent(column: str) -> CheckConstraint:
    return check(f"{column}_sane", f"{column} BETWEEN 0 AND 100000000")


def _day(column: str) -> CheckConstraint:
    return check(f"{column}_written", f"{column} LIKE '____-__-__'")


person = table(
    "person",
    key("name"),
    words("pin"),
    whole("active"),
    named("name"),
    check("active_yes_or_no", "active IN (0, 1)"),
)

cut_label = table(
    "cut_label",
    _cut(),
    words("ingredients"),
    words("allergens"),
    words("storage"),
    words("cooking"),
)

origin = table(
    "origin",
    Column("kind", Choice(OriginOf), nullable=False),
    words("key"),
    words("born"),
    words("reared"),
    words("slaughtered"),
    words("abattoir"),
    words("cut_in"),
    words("plant"),
    PrimaryKey("kind", "key"),
    named("key"),
    one_of("kind", "supplier", "body"),
)

ingredient = table(
    "ingredient",
    key(),
    words("name"),
    whole("price"),
    words("allergens"),
    named("key"),
    money("price", least=0),
)

ingredient_lot = table(
    "ingredient_lot",
    to("stage", "stage"),
    words("key"),
    words("lot"),
    Column("use_by", Day),
    PrimaryKey("stage", "key"),
    named("key"),
    named("lot"),
    _day("use_by"),
)

cut_lean = table("cut_lean", _cut(), Column("percent", Exact, nullable=False), _percent("percent"))

piece_lean = table(
    "piece_lean",
    to("piece", "piece"),
    at("at"),
    Column("percent", Exact, nullable=False),
    words("person"),
    PrimaryKey("piece", "at"),
    moment("at"),
    _percent("percent"),
)

recipe = table(
    "recipe",
    key(),
    words("name"),
    to("product", "cut"),
    Column("lean_least", Exact),
    Column("lean_most", Exact),
    Column("minutes_per_kg", Exact, nullable=False),
    words("note"),
    named("key"),
    named("name"),
    _percent("lean_least"),
    _percent("lean_most"),
    check("minutes_per_kg_sane", "minutes_per_kg >= 0"),
)

recipe_line = table(
    "recipe_line",
    to("recipe", "recipe"),
    whole("position"),
    whole("grams_per_kg"),
    to("cut", "cut", nullable=True),
    to("ingredient", "ingredient", nullable=True),
    PrimaryKey("recipe", "position"),
    check("position_sane", "position >= 0"),
    check("grams_per_kg_sane", "grams_per_kg BETWEEN 1 AND 1000"),
    check("one_of_both", "(cut IS NULL) <> (ingredient IS NULL)"),
)

price_withdrawn = table(
    "price_withdrawn",
    words("cut"),
    at("since"),
    at("at"),
    words("person"),
    words("reason"),
    PrimaryKey("cut", "since"),
    ForeignKeyConstraint(["cut", "since"], ["price.cut", "price.since"]),
    moment("since", "at"),
    check("before_it_came", "at < since"),
)

writeoff_withdrawn = table(
    "writeoff_withdrawn",
    words("piece"),
    at("written_off_at"),
    words("why"),
    at("at"),
    words("person"),
    PrimaryKey("piece", "written_off_at", "why"),
    ForeignKeyConstraint(
        ["piece", "written_off_at", "why"], ["writeoff.piece", "writeoff.at", "writeoff.reason"]
    ),
    moment("written_off_at", "at"),
)

print_job = table(
    "print_job",
    key(),
    Column("kind", Choice(PrintKind), nullable=False),
    words("title"),
    words("paper"),
    words("printer"),
    whole("copies"),
    at("at"),
    words("person"),
    words("station"),
    named("key"),
    one_of("kind", "ticket", "label", "sheet"),
    check("copies_sane", "copies BETWEEN 1 AND 1000"),
    moment("at"),
)

print_event = table(
    "print_event",
    to("job", "print_job"),
    whole("number"),
    Column("kind", Choice(PrintStep), nullable=False),
    at("at"),
    words("reason"),
    PrimaryKey("job", "number"),
    check("number_sane", "number > 0"),
    one_of("kind", "queued", "printed", "failed", "cancelled"),
    moment("at"),
)

printed_item = table(
    "printed_item",
    to("job", "print_job"),
    whole("position"),
    to("cut", "cut"),
    whole("price", nullable=True),
    to("piece", "piece", nullable=True),
    whole("grams", nullable=True),
    whole("amount", nullable=True),
    words("lot"),
    Column("use_by", Day),
    words("number"),
    PrimaryKey("job", "position"),
    check("position_sane", "position >= 0"),
    money("price", "amount", least=0),
    weight("grams"),
    _day("use_by"),
)
