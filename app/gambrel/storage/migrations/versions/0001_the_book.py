"""The book as it began: every table, its checks, and the append-only guard."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from gambrel.storage.guards import drop_guards, restore_guards

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
NUMBER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MONEY = "BETWEEN -10000000000000 AND 10000000000000"
MONEY_FROM_ZERO = "BETWEEN 0 AND 10000000000000"
WEIGHT = "BETWEEN 1 AND 10000000"
MOMENT = "LIKE '____-__-__T__:__:__.______Z'"

GUARDED = (
    "body",
    "reweigh",
    "stage",
    "stage_event",
    "piece",
    "stage_input",
    "void",
    "price",
    "writeoff",
)
OTHERS = ("shop", "setting", "supplier", "cut", "cutting_list_line")


def text(*names: str, null: bool = False) -> list[sa.Column[Any]]:
    return [sa.Column(name, TEXT, nullable=null) for name in names]


def number(*names: str, null: bool = False) -> list[sa.Column[Any]]:
    return [sa.Column(name, NUMBER, nullable=null, autoincrement=False) for name in names]


def to(name: str, table: str, *, null: bool = False) -> sa.Column[Any]:
    return sa.Column(name, TEXT, sa.ForeignKey(f"{table}.key"), nullable=null)


def table(name: str, *parts: Any, key: tuple[str, ...], checks: dict[str, str]) -> None:  # noqa: ANN401
    columns = [column for part in parts for column in (part if isinstance(part, list) else [part])]
    rules = [sa.CheckConstraint(rule, name=check) for check, rule in checks.items()]
    op.create_table(name, *columns, sa.PrimaryKeyConstraint(*key), *rules, sqlite_strict=True)


def upgrade() -> None:
    _shop()
    _catalogue()
    _bodies()
    _stages()
    _pieces()
    _inputs()
    _corrections()
    restore_guards(op.get_bind(), *GUARDED)


def downgrade() -> None:
    drop_guards(op.get_bind(), *GUARDED)
    for name in (*reversed(GUARDED), *reversed(OTHERS)):
        op.drop_table(name)
    if op.get_bind().dialect.name == "postgresql":
        op.execute("DROP FUNCTION refuse_change()")


def _shop() -> None:
    table(
        "shop",
        number("id"),
        text("name", "currency"),
        number("currency_digits"),
        text("time_zone", "day_starts"),
        number("week_starts", "work_per_hour", "tax_percent", "prices_include_tax"),
        number("target_margin_percent"),
        key=("id",),
        checks={
            "only_one": "id = 1",
            "currency_code": "length(currency) = 3",
            "currency_digits_sane": "currency_digits BETWEEN 0 AND 6",
            "day_starts_written": "day_starts LIKE '__:__'",
            "week_starts_day": "week_starts BETWEEN 0 AND 6",
            "work_per_hour_sane": f"work_per_hour {MONEY_FROM_ZERO}",
            "tax_percent_sane": "tax_percent >= 0",
            "prices_include_tax_yes_or_no": "prices_include_tax IN (0, 1)",
            "target_margin_percent_reachable": "target_margin_percent < 100000000",
        },
    )
    table(
        "setting",
        text("name", "value"),
        key=("name",),
        checks={"name_given": "name <> ''"},
    )


def _catalogue() -> None:
    table(
        "supplier",
        text("key", "name", "contact"),
        key=("key",),
        checks={"key_given": "key <> ''"},
    )
    table(
        "cut",
        text("key", "name", "species", "kind"),
        number("price", null=True),
        number("finish", "credit"),
        number("shelf_life_days", null=True),
        text("plu", "unece"),
        key=("key",),
        checks={
            "key_given": "key <> ''",
            "kind_known": "kind IN ('tray', 'trim', 'byproduct', 'waste')",
            "price_sane": f"price {MONEY_FROM_ZERO}",
            "finish_sane": f"finish {MONEY_FROM_ZERO}",
            "credit_sane": f"credit {MONEY}",
            "shelf_life_days_sane": "shelf_life_days >= 0",
        },
    )
    table(
        "cutting_list_line",
        text("list", "species", "portion"),
        number("position"),
        to("cut", "cut"),
        number("norm_percent", null=True),
        key=("list", "species", "portion", "cut"),
        checks={
            "list_given": "list <> ''",
            "position_sane": "position >= 0",
            "norm_percent_sane": "norm_percent >= 0",
        },
    )


def _bodies() -> None:
    table(
        "body",
        text("key", "species", "portion"),
        to("supplier", "supplier", null=True),
        text("received_at"),
        number("received_g", "price"),
        text("priced_on"),
        number("docket_g", null=True),
        number("other_cost"),
        text("supplier_ref"),
        text("killed_on", null=True),
        key=("key",),
        checks={
            "key_given": "key <> ''",
            "received_at_written": f"received_at {MOMENT}",
            "received_g_sane": f"received_g {WEIGHT}",
            "docket_g_sane": f"docket_g {WEIGHT}",
            "price_sane": f"price {MONEY_FROM_ZERO}",
            "other_cost_sane": f"other_cost {MONEY}",
            "priced_on_known": "priced_on IN ('docket', 'received')",
            "killed_on_written": "killed_on LIKE '____-__-__'",
        },
    )
    table(
        "reweigh",
        to("body", "body"),
        text("at"),
        number("grams"),
        key=("body", "at"),
        checks={"at_written": f"at {MOMENT}", "grams_sane": f"grams {WEIGHT}"},
    )


def _stages() -> None:
    table(
        "stage",
        text("key", "kind", "started_at", "person"),
        number("minutes"),
        text("list"),
        key=("key",),
        checks={
            "key_given": "key <> ''",
            "kind_known": "kind IN ('break', 'trimout', 'blend')",
            "started_at_written": f"started_at {MOMENT}",
            "minutes_sane": "minutes >= 0",
        },
    )
    table(
        "stage_event",
        to("stage", "stage"),
        number("number"),
        text("kind", "at"),
        number("minutes"),
        text("person", "reason"),
        key=("stage", "number"),
        checks={
            "number_sane": "number > 0",
            "kind_known": "kind IN ('finished', 'reopened', 'cancelled')",
            "at_written": f"at {MOMENT}",
            "minutes_sane": "minutes >= 0",
        },
    )


def _pieces() -> None:
    table(
        "piece",
        text("key"),
        to("stage", "stage"),
        to("cut", "cut"),
        number("gross_g", "tare_g"),
        text("weighed_at", "person", "station"),
        key=("key",),
        checks={
            "key_given": "key <> ''",
            "gross_g_sane": f"gross_g {WEIGHT}",
            "tare_g_sane": "tare_g BETWEEN 0 AND 10000000",
            "net_positive": "gross_g > tare_g",
            "weighed_at_written": f"weighed_at {MOMENT}",
        },
    )
    op.create_index(None, "piece", ["stage"])


def _inputs() -> None:
    table(
        "stage_input",
        to("stage", "stage"),
        text("source", "key"),
        to("body", "body", null=True),
        to("piece", "piece", null=True),
        number("grams", null=True),
        number("cost"),
        key=("stage", "source", "key"),
        checks={
            "key_given": "key <> ''",
            "source_known": "source IN ('body', 'piece', 'ingredient')",
            "body_is_key": "(source = 'body') = (body IS NOT NULL) AND coalesce(body, key) = key",
            "piece_is_key": "(source = 'piece') = (piece IS NOT NULL) "
            "AND coalesce(piece, key) = key",
            "ingredient_weighed": "source <> 'ingredient' OR grams IS NOT NULL",
            "cost_of_ingredient": "source = 'ingredient' OR cost = 0",
            "grams_sane": f"grams {WEIGHT}",
            "cost_sane": f"cost {MONEY_FROM_ZERO}",
        },
    )
    op.create_index(None, "stage_input", ["body"])
    op.create_index(None, "stage_input", ["piece"])


def _corrections() -> None:
    table(
        "void",
        to("piece", "piece"),
        text("at", "person", "reason"),
        key=("piece",),
        checks={"at_written": f"at {MOMENT}"},
    )
    table(
        "price",
        to("cut", "cut"),
        number("price"),
        text("since", "reason"),
        key=("cut", "since"),
        checks={"price_sane": f"price {MONEY_FROM_ZERO}", "since_written": f"since {MOMENT}"},
    )
    table(
        "writeoff",
        to("piece", "piece"),
        number("grams"),
        text("at", "reason"),
        key=("piece", "at", "reason"),
        checks={"grams_sane": f"grams {WEIGHT}", "at_written": f"at {MOMENT}"},
    )
