"""People, recipes, labels, the print log; a stage changes its list, a coming price is withdrawn.

Yesterday's rows stay as they are. A list that was changed on the block was kept as a setting
``list:<stage>`` and becomes an event of its stage; the setting goes.
"""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from gambrel.storage.guards import drop_guards, restore_guards

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
NUMBER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MONEY_FROM_ZERO = "BETWEEN 0 AND 10000000000000"
PERCENT = "BETWEEN 0 AND 100000000"
MOMENT = "LIKE '____-__-__T__:__:__.______Z'"
DAY = "LIKE '____-__-__'"

GUARDED = (
    "ingredient_lot",
    "piece_lean",
    "price_withdrawn",
    "print_job",
    "print_event",
    "printed_item",
)
OTHERS = ("person", "cut_label", "origin", "ingredient", "cut_lean", "recipe", "recipe_line")
EVENTS = "finished", "reopened", "cancelled"
NEXT = (
    "number + (SELECT count(*) FROM setting "
    "WHERE setting.name = 'list:' || stage_event_before.stage AND setting.value <> '')"
)
"""One more where the stage's list was changed: that event comes before the others."""


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
    _events((*EVENTS, "relisted"), with_list=True)
    _lists_become_events()
    _people_and_labels()
    _blends()
    _prices()
    _printing()
    restore_guards(op.get_bind(), *GUARDED)


def downgrade() -> None:
    drop_guards(op.get_bind(), *GUARDED)
    for name in (*reversed(GUARDED), *reversed(OTHERS)):
        op.drop_table(name)
    _events(EVENTS, with_list=False)


def _events(kinds: tuple[str, ...], *, with_list: bool) -> None:
    """Make the table of stage events anew; SQLite can change no CHECK of a table that stands."""
    connection = op.get_bind()
    drop_guards(connection, "stage_event")
    op.rename_table("stage_event", "stage_event_before")
    if connection.dialect.name == "postgresql":  # there, the names of keys are the schema's
        op.execute("ALTER TABLE stage_event_before DROP CONSTRAINT pk_stage_event")
        op.execute("ALTER TABLE stage_event_before DROP CONSTRAINT fk_stage_event_stage")
    checks = {
        "number_sane": "number > 0",
        "kind_known": f"kind IN ({', '.join(map(repr, kinds))})",
        "at_written": f"at {MOMENT}",
        "minutes_sane": "minutes >= 0",
    }
    if with_list:
        checks["list_of_relisted"] = "(kind = 'relisted') = (list <> '')"
    table(
        "stage_event",
        to("stage", "stage"),
        number("number"),
        text("kind", "at"),
        number("minutes"),
        text("person", "reason", *(["list"] if with_list else [])),
        key=("stage", "number"),
        checks=checks,
    )
    rest = "kind, at, minutes, person, reason"
    columns, values = f"stage, number, {rest}", f"stage, number, {rest}"
    if with_list:
        columns, values = f"stage, number, {rest}, list", f"stage, {NEXT}, {rest}, ''"
    op.execute(
        f"INSERT INTO stage_event ({columns}) SELECT {values} FROM stage_event_before "  # noqa: S608
        f"WHERE kind IN ({', '.join(map(repr, EVENTS))})"
    )
    op.drop_table("stage_event_before")
    restore_guards(connection, "stage_event")


def _lists_become_events() -> None:
    """The change goes before a stage's other events, which made room for it (`NEXT`)."""
    op.execute(
        "INSERT INTO stage_event (stage, number, kind, at, minutes, person, reason, list) "
        "SELECT stage.key, 1, 'relisted', stage.started_at, stage.minutes, stage.person, '', "
        "setting.value FROM stage JOIN setting ON setting.name = 'list:' || stage.key "
        "WHERE setting.value <> ''"
    )
    op.execute("DELETE FROM setting WHERE name LIKE 'list:%'")


def _people_and_labels() -> None:
    table(
        "person",
        text("name", "pin"),
        number("active"),
        key=("name",),
        checks={"name_given": "name <> ''", "active_yes_or_no": "active IN (0, 1)"},
    )
    table(
        "cut_label",
        to("cut", "cut"),
        text("ingredients", "allergens", "storage", "cooking"),
        key=("cut",),
        checks={},
    )
    table(
        "origin",
        text("kind", "key", "born", "reared", "slaughtered", "abattoir", "cut_in", "plant"),
        key=("kind", "key"),
        checks={"key_given": "key <> ''", "kind_known": "kind IN ('supplier', 'body')"},
    )


def _blends() -> None:
    table(
        "ingredient",
        text("key", "name"),
        number("price"),
        text("allergens"),
        key=("key",),
        checks={"key_given": "key <> ''", "price_sane": f"price {MONEY_FROM_ZERO}"},
    )
    table(
        "ingredient_lot",
        to("stage", "stage"),
        text("key", "lot"),
        text("use_by", null=True),
        key=("stage", "key"),
        checks={
            "key_given": "key <> ''",
            "lot_given": "lot <> ''",
            "use_by_written": f"use_by {DAY}",
        },
    )
    lean = {"percent_sane": f"percent {PERCENT}"}
    table("cut_lean", to("cut", "cut"), number("percent"), key=("cut",), checks=lean)
    table(
        "piece_lean",
        to("piece", "piece"),
        text("at"),
        number("percent"),
        text("person"),
        key=("piece", "at"),
        checks={"at_written": f"at {MOMENT}", **lean},
    )
    _recipes()


def _recipes() -> None:
    table(
        "recipe",
        text("key", "name"),
        to("product", "cut"),
        number("lean_least", "lean_most", null=True),
        number("minutes_per_kg"),
        text("note"),
        key=("key",),
        checks={
            "key_given": "key <> ''",
            "name_given": "name <> ''",
            "lean_least_sane": f"lean_least {PERCENT}",
            "lean_most_sane": f"lean_most {PERCENT}",
            "minutes_per_kg_sane": "minutes_per_kg >= 0",
        },
    )
    table(
        "recipe_line",
        to("recipe", "recipe"),
        number("position", "grams_per_kg"),
        to("cut", "cut", null=True),
        to("ingredient", "ingredient", null=True),
        key=("recipe", "position"),
        checks={
            "position_sane": "position >= 0",
            "grams_per_kg_sane": "grams_per_kg BETWEEN 1 AND 1000",
            "one_of_both": "(cut IS NULL) <> (ingredient IS NULL)",
        },
    )


def _prices() -> None:
    table(
        "price_withdrawn",
        text("cut", "since", "at", "person", "reason"),
        sa.ForeignKeyConstraint(["cut", "since"], ["price.cut", "price.since"]),
        key=("cut", "since"),
        checks={
            "since_written": f"since {MOMENT}",
            "at_written": f"at {MOMENT}",
            "before_it_came": "at < since",
        },
    )


def _printing() -> None:
    table(
        "print_job",
        text("key", "kind", "title", "paper", "printer"),
        number("copies"),
        text("at", "person", "station"),
        key=("key",),
        checks={
            "key_given": "key <> ''",
            "kind_known": "kind IN ('ticket', 'label', 'sheet')",
            "copies_sane": "copies BETWEEN 1 AND 1000",
            "at_written": f"at {MOMENT}",
        },
    )
    table(
        "print_event",
        to("job", "print_job"),
        number("number"),
        text("kind", "at", "reason"),
        key=("job", "number"),
        checks={
            "number_sane": "number > 0",
            "kind_known": "kind IN ('queued', 'printed', 'failed', 'cancelled')",
            "at_written": f"at {MOMENT}",
        },
    )
    table(
        "printed_item",
        to("job", "print_job"),
        number("position"),
        to("cut", "cut"),
        number("price", null=True),
        to("piece", "piece", null=True),
        number("grams", "amount", null=True),
        text("lot"),
        text("use_by", null=True),
        text("number"),
        key=("job", "position"),
        checks={
            "position_sane": "position >= 0",
            "price_sane": f"price {MONEY_FROM_ZERO}",
            "amount_sane": f"amount {MONEY_FROM_ZERO}",
            "grams_sane": "grams BETWEEN 1 AND 10000000",
            "use_by_written": f"use_by {DAY}",
        },
    )
