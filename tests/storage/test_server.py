"""A server that cannot be used gets a sentence, and is left as it was."""

from __future__ import annotations

import pytest
from sqlalchemy import create_engine, inspect

from gambrel.domain.refusals import Refusal
from gambrel.storage.book import open_book
from tests.postgres import Cluster


def run(url: str, statement: str) -> list[str]:
    engine = create_engine(url)
    with engine.begin() as connection:
        connection.exec_driver_sql(statement)
        names = sorted(inspect(connection).get_table_names())
    engine.dispose()
    return names


def test_the_tables_of_another_program_are_left_alone(pg_database: str) -> None:
    before = run(pg_database, "CREATE TABLE note (words text)")
    with pytest.raises(Refusal, match="tables of another program"):
        open_book(pg_database)
    assert run(pg_database, "SELECT 1") == before == ["note"]


def test_another_program_with_the_same_migrator_is_not_taken_for_ours(pg_database: str) -> None:
    run(pg_database, "CREATE TABLE alembic_version (version_num text)")
    run(pg_database, "INSERT INTO alembic_version VALUES ('0001')")
    with pytest.raises(Refusal, match="tables of another program"):
        open_book(pg_database)


def test_a_newer_book_is_refused(pg_database: str) -> None:
    open_book(pg_database).close()
    run(pg_database, "UPDATE alembic_version SET version_num = '0999'")
    with pytest.raises(Refusal, match="newer version"):
        open_book(pg_database)


def test_an_empty_database_is_not_filled_unasked(pg_database: str) -> None:
    for options in ({"create": False}, {"read_only": True}):
        with pytest.raises(Refusal, match="There is no book"):
            open_book(pg_database, **options)
    assert run(pg_database, "SELECT 1") == []


def test_an_encoding_that_loses_letters_is_refused(pg_cluster: Cluster) -> None:
    pg_cluster.execute("CREATE DATABASE latin ENCODING 'LATIN1' LOCALE 'C' TEMPLATE template0")
    try:
        with pytest.raises(Refusal, match="encoding UTF8"):
            open_book(pg_cluster.url("latin"))
    finally:
        pg_cluster.execute("DROP DATABASE latin WITH (FORCE)")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (("/postgres?", "/nowhere?"), "does not exist on the server"),
        (("tester@", "nobody:secret@"), "does not accept this user"),
        (("host=", "host=%2Fnowhere"), "does not answer"),
    ],
)
def test_a_server_that_says_no_is_told_in_words(
    pg_cluster: Cluster, change: tuple[str, str], says: str
) -> None:
    url = pg_cluster.url("postgres")
    with pytest.raises(Refusal, match=says) as told:
        open_book(url.replace(*change))
    assert "secret" not in str(told.value)


def test_a_connection_that_was_cut_is_made_anew(pg_cluster: Cluster) -> None:
    with pg_cluster.fresh_database() as url, open_book(url) as book:
        with book.transaction() as work:
            work.set_setting("hook", "one")
        cut = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = "
        pg_cluster.execute(cut + "'gambrel'")
        with book.reading() as work:
            assert work.setting("hook") == "one"


def test_a_connection_that_is_cut_in_the_middle_says_so(pg_cluster: Cluster) -> None:
    with pg_cluster.fresh_database() as url, open_book(url) as book:
        cut = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = "
        with pytest.raises(Refusal, match="could not be reached"), book.transaction() as work:  # noqa: PT012
            work.set_setting("hook", "one")
            pg_cluster.execute(cut + "'gambrel'")
            work.set_setting("hook", "two")
        with book.reading() as work:
            assert work.setting("hook") is None


def test_the_password_is_never_shown(pg_database: str) -> None:
    with open_book(pg_database.replace("tester@", "tester:secret@")) as book:
        assert "secret" not in book.where
        assert book.where.startswith("postgresql://tester:***@")
