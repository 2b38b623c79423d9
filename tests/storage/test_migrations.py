"""One history for both databases: it makes the models, goes down and up, and lifts old books."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, inspect
from sqlalchemy.engine import Connection

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Piece
from gambrel.storage import history
from gambrel.storage.book import Book, open_book
from gambrel.storage.engine import sqlite_migration_engine
from gambrel.storage.guards import GUARDED
from gambrel.storage.tables import metadata
from tests.storage import beside_samples
from tests.storage.samples import SHOP, TRADE, at, entries

KEPT = sorted((Path(__file__).parents[1] / "data").glob("schema_*.sqlite"))

NEXT = '''"""Tell a piece's colour; those so far have none. (A revision for tests only.)"""

import sqlalchemy as sa
from alembic import op

from gambrel.storage.guards import drop_guards, restore_guards

revision, down_revision = "0004", "0003"


def upgrade() -> None:
    rebuild = "always" if op.get_bind().dialect.name == "sqlite" else "never"
    with op.batch_alter_table("piece", recreate=rebuild) as piece:
        piece.add_column(sa.Column("colour", sa.Text, nullable=False, server_default=""))
    restore_guards(op.get_bind(), "piece")
    {then}
'''


def config(connection: Connection) -> Config:
    made = Config()
    made.set_main_option("script_location", str(history.HISTORY.scripts))
    made.attributes["connection"] = connection
    return made


@contextmanager
def writing(book: Book) -> Iterator[Connection]:
    """A connection on which tables can be changed."""
    engine = book._writer
    if engine.dialect.name == "sqlite":
        engine = sqlite_migration_engine(Path(book.where))
    with engine.begin() as connection:
        yield connection


def test_the_program_knows_every_revision() -> None:
    scripts = ScriptDirectory(str(history.HISTORY.scripts))
    found = [script.revision for script in scripts.walk_revisions()]
    assert tuple(reversed(found)) == history.HISTORY.revisions
    assert scripts.get_heads() == [history.HISTORY.newest]


def test_a_book_of_each_released_revision_is_kept() -> None:
    assert [path.stem for path in KEPT] == [f"schema_{r}" for r in history.HISTORY.revisions]


def test_the_migrations_make_the_models(book: Book) -> None:
    with book._reader.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata) == []


def shape(connection: Connection) -> dict[str, Any]:
    """All that a database says of the book's tables, in one order."""
    look = inspect(connection)
    return {
        name: {
            "columns": [str(column) for column in look.get_columns(name)],
            "key": look.get_pk_constraint(name),
            "foreign": sorted(map(str, look.get_foreign_keys(name))),
            "checks": sorted(
                (str(c["name"]), c["sqltext"]) for c in look.get_check_constraints(name)
            ),
            "indexes": sorted(map(str, look.get_indexes(name))),
            "options": look.get_table_options(name),
        }
        for name in sorted(metadata.tables)
    }


def test_checks_keys_and_indexes_are_the_models_own_on_sqlite(book: Book, tmp_path: Path) -> None:
    if book._engine.dialect.name != "sqlite":
        return  # the next test is the server's
    engine = create_engine(f"sqlite:///{tmp_path / 'models.sqlite'}")
    metadata.create_all(engine)
    with engine.connect() as models, book._reader.connect() as made:
        assert shape(made) == shape(models)
    engine.dispose()


def test_checks_keys_and_indexes_are_the_models_own_on_a_server(pg_cluster: Any) -> None:
    with pg_cluster.fresh_database() as one, pg_cluster.fresh_database() as other:
        engine = create_engine(one)
        metadata.create_all(engine)
        with open_book(other) as book, engine.connect() as models, book._reader.connect() as made:
            assert shape(made) == shape(models)
        engine.dispose()


def test_down_leaves_no_trace_and_up_makes_it_again(book: Book) -> None:
    with writing(book) as connection:
        before = shape(connection)
        command.downgrade(config(connection), "base")
        assert inspect(connection).get_table_names() == [history.VERSION_TABLE]
        if connection.dialect.name == "sqlite":
            left = "SELECT count(*) FROM sqlite_master WHERE type = 'trigger'"
        else:
            left = "SELECT count(*) FROM pg_proc WHERE proname = 'refuse_change'"
        assert connection.exec_driver_sql(left).scalar() == 0
        command.upgrade(config(connection), "head")
        assert shape(connection) == before
    assert book.check() == []


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.stem)
def test_a_kept_book_is_brought_up_and_used(kept: Path, tmp_path: Path) -> None:
    path = tmp_path / "old.gambrel"
    shutil.copyfile(kept, path)
    with open_book(str(path)) as book:
        assert book.check() == []
        with book.transaction() as work:
            reopened = replace(TRADE.stages[1], minutes=Decimal("19.5"))
            stages = (TRADE.stages[0], reopened, TRADE.stages[2])
            # In books since 0002 the second price was withdrawn before it came.
            prices = TRADE.prices if kept.stem == "schema_0001" else TRADE.prices[:1]
            # In books since 0003 the first write-off was taken back.
            thrown = TRADE.writeoffs[kept.stem >= "schema_0003" :]
            shown = replace(TRADE, stages=stages, prices=prices, writeoffs=thrown)
            assert work.trade() == shown
            assert work.setting("hook") == "one"
            work.add([Piece("P99", "S2", "rump", 900, 10, at(99))])
            work.finish_stage("S2", at(100), Decimal(30), "Joss")
        with book.reading() as work:
            assert work.last_piece("S2") == Piece("P99", "S2", "rump", 900, 10, at(99))


def test_a_list_changed_on_the_block_becomes_an_event(tmp_path: Path) -> None:
    path = tmp_path / "old.gambrel"
    shutil.copyfile(KEPT[0], path)
    with closing(sqlite3.connect(path)) as old:
        lists = [("list:S1", "Other"), ("list:S2", "Hind"), ("list:S10", "")]
        old.executemany("INSERT INTO setting VALUES (?, ?)", lists)
        old.commit()
    with open_book(str(path)) as book, book.reading() as work:
        stages = {stage.key: stage for stage in work.trade().stages}
        assert {key: stage.list for key, stage in stages.items()} == {
            "S1": "Other",
            "S2": "Hind",
            "S10": "",
        }
        assert stages["S1"].finished_at == TRADE.stages[0].finished_at
        assert stages["S2"].is_open
        assert stages["S2"].minutes == Decimal("19.5")
        assert work.setting("list:S1") is None
        assert work.setting("hook") == "one"
        assert book.check() == []


@pytest.fixture
def tomorrow(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A program with one revision more, which rebuilds the guarded table of pieces."""
    scripts = tmp_path / "tomorrow"
    shutil.copytree(history.HISTORY.scripts, scripts, ignore=shutil.ignore_patterns("__pycache__"))
    (scripts / "versions" / "0004_colour.py").write_text(NEXT.format(then=""), encoding="utf-8")
    later = history.History((*history.HISTORY.revisions, "0004"), scripts)
    monkeypatch.setattr(history, "HISTORY", later)
    return scripts


@pytest.fixture
def old(tmp_path: Path) -> Path:
    path = tmp_path / "shop.gambrel"
    with open_book(str(path)) as book, book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
    return path


def test_an_old_book_is_copied_and_brought_up(old: Path, tomorrow: Path) -> None:
    before = old.read_bytes()
    with open_book(str(old)) as book, book.reading() as work:
        assert work.trade() == TRADE
        for table in set(GUARDED) - set(beside_samples.GOOD):
            with pytest.raises(Exception, match="append-only"):
                work._connection.exec_driver_sql(f"DELETE FROM {table}")
    copy = old.with_name("shop.before-0004.gambrel")
    with closing(sqlite3.connect(copy)) as kept, closing(sqlite3.connect(old)) as new:
        revision = "SELECT version_num FROM alembic_version"
        assert kept.execute(revision).fetchone() == ("0003",)
        assert new.execute(revision).fetchone() == ("0004",)
        assert kept.execute("SELECT count(*) FROM piece").fetchone() == (len(TRADE.pieces),)
    assert old.read_bytes() != before
    assert not list(old.parent.glob("*.part"))


def test_an_old_book_on_a_server_is_brought_up(pg_database: str, tomorrow: Path) -> None:
    today = history.History(history.HISTORY.revisions[:-1], tomorrow)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(history, "HISTORY", today)
        (tomorrow / "versions" / "0004_colour.py").rename(tomorrow / "0004_colour.py")
        with open_book(pg_database) as book, book.transaction() as work:
            work.set_shop(SHOP)
            work.add(entries(TRADE))
    (tomorrow / "0004_colour.py").rename(tomorrow / "versions" / "0004_colour.py")
    with pytest.raises(Refusal, match="older version"):
        open_book(pg_database, read_only=True)
    with open_book(pg_database) as book, book.transaction() as work:
        assert work.trade() == TRADE
        assert history.revision_of(work._connection) == "0004"
        with pytest.raises(Exception, match="append-only"):
            work._connection.exec_driver_sql("DELETE FROM piece")


def test_an_old_book_opened_for_reading_stays_old(old: Path, tomorrow: Path) -> None:
    before = old.read_bytes()
    with pytest.raises(Refusal, match="older version"):
        open_book(str(old), read_only=True)
    assert old.read_bytes() == before


@pytest.mark.parametrize(
    ("then", "error"),
    [
        ("raise ZeroDivisionError", ZeroDivisionError),
        ("op.execute(\"UPDATE cutting_list_line SET cut = 'gone'\")", Refusal),
    ],
)
def test_a_migration_that_fails_leaves_the_book_as_it_was(
    old: Path, tomorrow: Path, then: str, error: type[Exception]
) -> None:
    script = tomorrow / "versions" / "0004_colour.py"
    script.write_text(NEXT.format(then=then), encoding="utf-8")
    before = old.read_bytes()
    with pytest.raises(error):
        open_book(str(old))
    assert old.read_bytes() == before


def test_a_book_at_the_newest_opens_without_the_migrator(old: Path) -> None:
    code = (
        "import sys; from gambrel.storage.book import open_book; "
        f"book = open_book({str(old)!r}); book.close(); "
        "sys.exit('alembic' in sys.modules or 'psycopg' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
