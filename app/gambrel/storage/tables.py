"""The tables of the trade, named after the plain files. Weights are grams, money minor units."""

from __future__ import annotations

from sqlalchemy import Column, ForeignKey, Index, PrimaryKeyConstraint

from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import PricedOn, Source, StageKind
from gambrel.storage.columns import (
    at,
    check,
    key,
    metadata,
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
from gambrel.storage.types import Choice, Day, Exact, Whole, Words

__all__ = ["metadata"]

shop = table(
    "shop",
    Column("id", Whole, primary_key=True, autoincrement=False),
    words("name"),
    words("currency"),
    whole("currency_digits"),
    words("time_zone"),
    words("day_starts"),
    whole("week_starts"),
    whole("work_per_hour"),
    Column("tax_percent", Exact, nullable=False),
    whole("prices_include_tax"),
    Column("target_margin_percent", Exact, nullable=False),
    check("only_one", "id = 1"),
    check("currency_code", "length(currency) = 3"),
    check("currency_digits_sane", "currency_digits BETWEEN 0 AND 6"),
    check("day_starts_written", "day_starts LIKE '__:__'"),
    check("week_starts_day", "week_starts BETWEEN 0 AND 6"),
    money("work_per_hour", least=0),
    check("tax_percent_sane", "tax_percent >= 0"),
    check("prices_include_tax_yes_or_no", "prices_include_tax IN (0, 1)"),
    check("target_margin_percent_reachable", "target_margin_percent < 100000000"),
)

setting = table("setting", key("name"), words("value"), named("name"))

supplier = table("supplier", key(), words("name"), words("contact"), named("key"))

cut = table(
    "cut",
    key(),
    words("name"),
    words("species"),
    Column("kind", Choice(CutKind), nullable=False),
    whole("price", nullable=True),
    whole("finish"),
    whole("credit"),
    whole("shelf_life_days", nullable=True),
    words("plu"),
    words("unece"),
    named("key"),
    one_of("kind", "tray", "trim", "byproduct", "waste"),
    money("price", "finish", least=0),
    money("credit"),
    check("shelf_life_days_sane", "shelf_life_days >= 0"),
)

cutting_list_line = table(
    "cutting_list_line",
    words("list"),
    words("species"),
    words("portion"),
    whole("position"),
    to("cut", "cut"),
    Column("norm_percent", Exact),
    PrimaryKeyConstraint("list", "species", "portion", "cut"),
    named("list"),
    check("position_sane", "position >= 0"),
    check("norm_percent_sane", "norm_percent >= 0"),
)

body = table(
    "body",
    key(),
    words("species"),
    words("portion"),
    to("supplier", "supplier", nullable=True),
    at("received_at"),
    whole("received_g"),
    whole("price"),
    Column("priced_on", Choice(PricedOn), nullable=False),
    whole("docket_g", nullable=True),
    whole("other_cost"),
    words("supplier_ref"),
    Column("killed_on", Day),
    named("key"),
    moment("received_at"),
    weight("received_g", "docket_g"),
    money("price", least=0),
    money("other_cost"),
    one_of("priced_on", "docket", "received"),
    check("killed_on_written", "killed_on LIKE '____-__-__'"),
)

reweigh = table(
    "reweigh",
    to("body", "body"),
    at("at"),
    whole("grams"),
    PrimaryKeyConstraint("body", "at"),
    moment("at"),
    weight("grams"),
)

stage = table(
    "stage",
    key(),
    Column("kind", Choice(StageKind), nullable=False),
    at("started_at"),
    words("person"),
    Column("minutes", Exact, nullable=False),
    words("list"),
    named("key"),
    one_of("kind", "break", "trimout", "blend"),
    moment("started_at"),
    check("minutes_sane", "minutes >= 0"),
)

stage_event = table(
    "stage_event",
    to("stage", "stage"),
    whole("number"),
    words("kind"),
    at("at"),
    Column("minutes", Exact, nullable=False),
    words("person"),
    words("reason"),
    words("list"),
    PrimaryKeyConstraint("stage", "number"),
    check("number_sane", "number > 0"),
    one_of("kind", "finished", "reopened", "cancelled", "relisted"),
    moment("at"),
    check("minutes_sane", "minutes >= 0"),
    check("list_of_relisted", "(kind = 'relisted') = (list <> '')"),
)

piece = table(
    "piece",
    key(),
    to("stage", "stage"),
    to("cut", "cut"),
    whole("gross_g"),
    whole("tare_g"),
    at("weighed_at"),
    words("person"),
    words("station"),
    named("key"),
    weight("gross_g"),
    weight("tare_g", least=0),
    check("net_positive", "gross_g > tare_g"),
    moment("weighed_at"),
)
Index(None, piece.c.stage)

# `key` names what is taken. For a body or a piece the column of that name holds it once more, so
# that the database itself refuses what does not exist.
stage_input = table(
    "stage_input",
    to("stage", "stage"),
    Column("source", Choice(Source), nullable=False),
    words("key"),
    to("body", "body", nullable=True),
    to("piece", "piece", nullable=True),
    whole("grams", nullable=True),
    whole("cost"),
    PrimaryKeyConstraint("stage", "source", "key"),
    named("key"),
    one_of("source", "body", "piece", "ingredient"),
    check("body_is_key", "(source = 'body') = (body IS NOT NULL) AND coalesce(body, key) = key"),
    check(
        "piece_is_key", "(source = 'piece') = (piece IS NOT NULL) AND coalesce(piece, key) = key"
    ),
    check("ingredient_weighed", "source <> 'ingredient' OR grams IS NOT NULL"),
    check("cost_of_ingredient", "source = 'ingredient' OR cost = 0"),
    weight("grams"),
    money("cost", least=0),
)
Index(None, stage_input.c.body)
Index(None, stage_input.c.piece)

void = table(
    "void",
    Column("piece", Words, ForeignKey("piece.key"), primary_key=True),
    at("at"),
    words("person"),
    words("reason"),
    moment("at"),
)

price = table(
    "price",
    to("cut", "cut"),
    whole("price"),
    at("since"),
    words("reason"),
    PrimaryKeyConstraint("cut", "since"),
    money("price", least=0),
    moment("since"),
)

writeoff = table(
    "writeoff",
    to("piece", "piece"),
    whole("grams"),
    at("at"),
    words("reason"),
    PrimaryKeyConstraint("piece", "at", "reason"),
    weight("grams"),
    moment("at"),
)
