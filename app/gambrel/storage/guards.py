"""The append-only guard: triggers that refuse UPDATE and DELETE on the record of the trade.

A batch migration that rebuilds a SQLite table drops its triggers without a word, so a migration
that touches a guarded table ends with `restore_guards`.
"""

from __future__ import annotations

from sqlalchemy.engine import Connection

GUARDED = (
    "body",
    "ingredient_lot",
    "piece",
    "piece_lean",
    "price",
    "price_withdrawn",
    "print_event",
    "print_job",
    "printed_item",
    "reweigh",
    "stage",
    "stage_event",
    "stage_input",
    "void",
    "writeoff",
    "writeoff_withdrawn",
)
"""Tables whose rows are inserted and never changed."""

_FUNCTION = """
CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE restrict_violation USING
        MESSAGE = TG_TABLE_NAME || ' is append-only: write a new row that corrects the old one';
END $$
"""


def trigger_names(table: str, dialect: str) -> tuple[str, ...]:
    """The guard's triggers of one table."""
    if dialect == "postgresql":
        return (f"{table}_append_only",)
    return (f"{table}_no_delete", f"{table}_no_update")


def restore_guards(connection: Connection, *tables: str) -> None:
    """Put the guard on tables, whether or not it is there already."""
    if connection.dialect.name == "postgresql":
        drop_guards(connection, *tables)
        connection.exec_driver_sql(_FUNCTION)
        for table in tables:
            connection.exec_driver_sql(
                f"CREATE TRIGGER {table}_append_only "
                f"BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
                "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()"
            )
        return
    for table in tables:
        for act in ("update", "delete"):
            connection.exec_driver_sql(
                f"CREATE TRIGGER IF NOT EXISTS {table}_no_{act} BEFORE {act.upper()} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table} is append-only: "
                "write a new row that corrects the old one'); END"
            )


def drop_guards(connection: Connection, *tables: str) -> None:
    """Take the guard off tables, for a migration that rebuilds them and restores it at its end."""
    where = " ON {}" if connection.dialect.name == "postgresql" else ""
    for table in tables:
        for name in trigger_names(table, connection.dialect.name):
            connection.exec_driver_sql(f"DROP TRIGGER IF EXISTS {name}{where.format(table)}")
