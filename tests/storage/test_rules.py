"""The database itself refuses what may not be, whoever writes: checks, types and guards."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import CheckConstraint
from sqlalchemy.exc import DBAPIError, IntegrityError

from gambrel.storage.book import Book, open_book
from gambrel.storage.guards import GUARDED
from gambrel.storage.tables import metadata
from tests.storage import beside_samples
from tests.storage.samples import SHOP, TRADE, entries

MOMENT = "'2026-11-20T10:42:00.000000Z'"

# A good row of each table that has rules, and what makes it bad: column, value, the rule broken.
GOOD = {
    "shop": {
        "id": "1",
        "name": "'a'",
        "currency": "'AUD'",
        "currency_digits": "2",
        "time_zone": "'UTC'",
        "day_starts": "'04:00'",
        "week_starts": "0",
        "work_per_hour": "0",
        "tax_percent": "0",
        "prices_include_tax": "0",
        "target_margin_percent": "0",
    },
    "setting": {"name": "'a'", "value": "''"},
    "supplier": {"key": "'a'", "name": "''", "contact": "''"},
    "cut": {
        "key": "'a'",
        "name": "''",
        "species": "''",
        "kind": "'tray'",
        "price": "1",
        "finish": "0",
        "credit": "0",
        "shelf_life_days": "1",
        "plu": "''",
        "unece": "''",
    },
    "cutting_list_line": {
        "list": "'a'",
        "species": "''",
        "portion": "''",
        "position": "1",
        "cut": "'rump'",
        "norm_percent": "1",
    },
    "body": {
        "key": "'a'",
        "species": "''",
        "portion": "''",
        "supplier": "'farm'",
        "received_at": MOMENT,
        "received_g": "1",
        "price": "1",
        "priced_on": "'docket'",
        "docket_g": "1",
        "other_cost": "-1",
        "supplier_ref": "''",
        "killed_on": "'2026-11-20'",
    },
    "reweigh": {"body": "'B1'", "at": MOMENT, "grams": "1"},
    "stage": {
        "key": "'a'",
        "kind": "'break'",
        "started_at": MOMENT,
        "person": "''",
        "minutes": "0",
        "list": "''",
    },
    "stage_event": {
        "stage": "'S2'",
        "number": "1",
        "kind": "'finished'",
        "at": MOMENT,
        "minutes": "0",
        "person": "''",
        "reason": "''",
        "list": "''",
    },
    "piece": {
        "key": "'a'",
        "stage": "'S1'",
        "cut": "'rump'",
        "gross_g": "2",
        "tare_g": "1",
        "weighed_at": MOMENT,
        "person": "''",
        "station": "''",
    },
    "stage_input": {
        "stage": "'S10'",
        "source": "'body'",
        "key": "'B2'",
        "body": "'B2'",
        "piece": "NULL",
        "grams": "1",
        "cost": "0",
    },
    "void": {"piece": "'P1'", "at": MOMENT, "person": "''", "reason": "''"},
    "price": {"cut": "'rump'", "price": "1", "since": MOMENT, "reason": "''"},
    "writeoff": {"piece": "'P1'", "grams": "1", "at": MOMENT, "reason": "''"},
} | beside_samples.GOOD
BAD = [
    ("shop", {"id": "2"}, "only_one"),
    ("shop", {"currency": "'DOLLAR'"}, "currency_code"),
    ("shop", {"currency_digits": "7"}, "currency_digits_sane"),
    ("shop", {"day_starts": "'4'"}, "day_starts_written"),
    ("shop", {"week_starts": "7"}, "week_starts_day"),
    ("shop", {"work_per_hour": "-1"}, "work_per_hour_sane"),
    ("shop", {"tax_percent": "-1"}, "tax_percent_sane"),
    ("shop", {"prices_include_tax": "2"}, "prices_include_tax_yes_or_no"),
    ("shop", {"target_margin_percent": "100000000"}, "target_margin_percent_reachable"),
    ("setting", {"name": "''"}, "name_given"),
    ("supplier", {"key": "''"}, "key_given"),
    ("cut", {"key": "''"}, "key_given"),
    ("cut", {"kind": "'offal'"}, "kind_known"),
    ("cut", {"price": "-1"}, "price_sane"),
    ("cut", {"finish": "-1"}, "finish_sane"),
    ("cut", {"credit": "10000000000001"}, "credit_sane"),
    ("cut", {"shelf_life_days": "-1"}, "shelf_life_days_sane"),
    ("cutting_list_line", {"list": "''"}, "list_given"),
    ("cutting_list_line", {"position": "-1"}, "position_sane"),
    ("cutting_list_line", {"norm_percent": "-1"}, "norm_percent_sane"),
    ("body", {"key": "''"}, "key_given"),
    ("body", {"received_at": "'2026-11-20'"}, "received_at_written"),
    ("body", {"received_g": "0"}, "received_g_sane"),
    ("body", {"docket_g": "10000001"}, "docket_g_sane"),
    ("body", {"price": "-1"}, "price_sane"),
    ("body", {"other_cost": "-10000000000001"}, "other_cost_sane"),
    ("body", {"priced_on": "'hook'"}, "priced_on_known"),
    ("body", {"killed_on": "'20.11.2026'"}, "killed_on_written"),
    ("reweigh", {"at": "'noon'"}, "at_written"),
    ("reweigh", {"grams": "0"}, "grams_sane"),
    ("stage", {"key": "''"}, "key_given"),
    ("stage", {"kind": "'rest'"}, "kind_known"),
    ("stage", {"started_at": "''"}, "started_at_written"),
    ("stage", {"minutes": "-1"}, "minutes_sane"),
    ("stage_event", {"number": "0"}, "number_sane"),
    ("stage_event", {"kind": "'lost'"}, "kind_known"),
    ("stage_event", {"at": "''"}, "at_written"),
    ("stage_event", {"minutes": "-1"}, "minutes_sane"),
    ("piece", {"key": "''"}, "key_given"),
    ("piece", {"gross_g": "10000001"}, "gross_g_sane"),
    ("piece", {"tare_g": "-1"}, "tare_g_sane"),
    ("piece", {"tare_g": "2"}, "net_positive"),
    ("piece", {"weighed_at": "''"}, "weighed_at_written"),
    ("stage_input", {"key": "''", "source": "'ingredient'", "body": "NULL"}, "key_given"),
    ("stage_input", {"source": "'air'", "body": "NULL"}, "source_known"),
    ("stage_input", {"body": "'B1'"}, "body_is_key"),
    ("stage_input", {"body": "NULL"}, "body_is_key"),
    ("stage_input", {"piece": "'P1'"}, "piece_is_key"),
    (
        "stage_input",
        {"source": "'ingredient'", "body": "NULL", "grams": "NULL"},
        "ingredient_weighed",
    ),
    ("stage_input", {"cost": "1"}, "cost_of_ingredient"),
    ("stage_input", {"grams": "0"}, "grams_sane"),
    ("stage_input", {"source": "'ingredient'", "body": "NULL", "cost": "-1"}, "cost_sane"),
    ("void", {"at": "''"}, "at_written"),
    ("price", {"price": "-1"}, "price_sane"),
    ("price", {"since": "''"}, "since_written"),
    ("writeoff", {"grams": "0"}, "grams_sane"),
    ("writeoff", {"at": "''"}, "at_written"),
    *beside_samples.BAD,
]


@pytest.fixture
def filled(book: Book) -> Book:
    with book.transaction() as work:
        work.add(entries(TRADE))
        beside_samples.fill(work)
    return book


def insert(book: Book, table: str, **other: str) -> None:
    """Write one row past all our code, and take it back."""
    row = GOOD[table] | other
    statement = f"INSERT INTO {table} ({', '.join(row)}) VALUES ({', '.join(row.values())})"
    with book._writer.connect() as connection:
        connection.exec_driver_sql(statement)


def test_every_check_is_tried() -> None:
    checks = {
        (table.name, str(check.name).removeprefix(f"ck_{table.name}_"))
        for table in metadata.sorted_tables
        for check in table.constraints
        if isinstance(check, CheckConstraint)
    }
    assert {(table, rule) for table, _, rule in BAD} == checks


def test_checks_refuse_bad_rows_and_take_good_ones(filled: Book) -> None:
    for table in GOOD:
        insert(filled, table)
    for table, change, rule in BAD:
        with pytest.raises(IntegrityError, match=f"ck_{table}_{rule}"):
            insert(filled, table, **change)


@pytest.mark.parametrize("table", [t.name for t in metadata.sorted_tables])
def test_strict_tables_take_no_other_type(tmp_path: Path, table: str) -> None:
    with open_book(str(tmp_path / "shop.gambrel")) as book:
        numbers = [c.name for c in metadata.tables[table].c if str(c.type) == "BIGINT"]
        for column in numbers:
            with pytest.raises(
                DBAPIError, match=f"TEXT value in .* {table}.{column}|datatype mismatch"
            ):
                insert(book, table, **{column: "'much'"})


def change(book: Book, statement: str) -> None:
    with book._writer.connect() as connection:
        connection.exec_driver_sql(statement)


def test_guards_refuse_every_change_of_the_record(filled: Book) -> None:
    with filled.transaction() as work:
        work.set_shop(SHOP)
        work.add(TRADE.stages[:0])
    for table in GUARDED:
        column = next(iter(GOOD[table]))
        for statement in (f"UPDATE {table} SET {column} = {column}", f"DELETE FROM {table}"):
            with pytest.raises(DBAPIError, match=f"{table} is append-only"):
                change(filled, statement)
    with filled.reading() as work:
        # A price and a write-off were taken back.
        left = replace(TRADE, prices=TRADE.prices[:1], writeoffs=TRADE.writeoffs[1:])
        assert work.trade() == left


def test_a_server_refuses_to_empty_a_guarded_table(pg_database: str) -> None:
    with open_book(pg_database) as book:
        for table in GUARDED:
            with pytest.raises(DBAPIError, match="is append-only"):
                change(book, f"TRUNCATE {table} CASCADE")


def test_replacing_a_row_is_refused_too(file: Path) -> None:
    """On SQLite, REPLACE deletes the old row; only recursive triggers see it."""
    with open_book(str(file)) as book:
        with book.transaction() as work:
            work.add(entries(TRADE))
        with pytest.raises(DBAPIError, match="void is append-only"):
            change(
                book,
                f"REPLACE INTO void VALUES ('P11', {MOMENT}, '', '')",
            )


def test_guards_hold_for_other_programs(file: Path) -> None:
    """The triggers are in the file: they hold for whoever opens it."""
    with open_book(str(file)) as book, book.transaction() as work:
        work.add(entries(TRADE))
        beside_samples.fill(work)
    with closing(sqlite3.connect(file)) as other:
        for table in GUARDED:
            with pytest.raises(sqlite3.IntegrityError, match="append-only"):
                other.execute(f"DELETE FROM {table}")
