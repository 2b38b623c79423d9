"""The check sees each fault that it claims to look for."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from gambrel.storage.book import Book, open_book
from gambrel.storage.guards import GUARDED, trigger_names
from tests.storage.samples import SHOP, TRADE, entries


@pytest.mark.parametrize(
    ("harm", "says"),
    [
        ("DROP INDEX ix_piece_stage", "index ix_piece_stage of the table piece is missing"),
        ("DROP TABLE void", "table void is missing"),
        ("ALTER TABLE setting RENAME COLUMN value TO words", "column value of the table setting"),
        ("UPDATE alembic_version SET version_num = '0000'", "revision is 0000"),
    ],
)
def test_a_fault_is_seen_on_both(book: Book, harm: str, says: str) -> None:
    with book._writer.begin() as connection:
        connection.exec_driver_sql(harm)
    assert says in " ".join(book.check())


@pytest.mark.parametrize("table", GUARDED)
def test_a_missing_guard_is_seen(book: Book, table: str) -> None:
    server = book._engine.dialect.name == "postgresql"
    for name in trigger_names(table, book._engine.dialect.name):
        with book._writer.connect() as connection:
            connection.exec_driver_sql(f"DROP TRIGGER {name}" + (f" ON {table}" if server else ""))
            connection.commit()
    assert book.check() == [
        f"The guard of the table {table} is missing: its rows could be changed."
    ]


def test_a_guard_that_sleeps_is_seen(pg_database: str) -> None:
    with open_book(pg_database) as book:
        with book._writer.begin() as connection:
            connection.exec_driver_sql("ALTER TABLE piece DISABLE TRIGGER piece_append_only")
        assert "guard of the table piece" in " ".join(book.check())


def test_a_rule_that_was_never_checked_is_seen(pg_database: str) -> None:
    with open_book(pg_database) as book:
        with book._writer.begin() as connection:
            connection.exec_driver_sql(
                "ALTER TABLE piece ADD CONSTRAINT late CHECK (gross_g > 5) NOT VALID"
            )
        assert book.check() == ["The rule late of the table piece was not checked for all rows."]


def test_orphans_and_loose_tables_are_seen(file: Path) -> None:
    with open_book(str(file)) as book, book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("DELETE FROM supplier WHERE key = 'hill'")  # foreign keys are off there
        other.execute("DROP TABLE setting")
        other.execute("CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT)")
    with open_book(str(file)) as book:
        assert book.check() == [
            "Row 1 of the table body names a row of supplier that is not there.",
            "The table setting takes values of any type (it is not STRICT).",
        ]


def test_a_torn_index_is_seen(file: Path) -> None:
    with open_book(str(file)) as book, book.transaction() as work:
        work.add(entries(TRADE))
    with closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("PRAGMA writable_schema = ON")
        other.execute(
            "UPDATE sqlite_master SET sql = 'CREATE INDEX ix_piece_stage ON piece (cut)' "
            "WHERE name = 'ix_piece_stage'"
        )
    with open_book(str(file)) as book:
        faults = book.check()
    assert "The file is damaged: row 1 missing from index ix_piece_stage." in faults
