"""The PostgreSQL that other tests count on is real, empty and separate."""

from __future__ import annotations

import sqlalchemy as sa

from tests.postgres import Cluster


def tables(url: str) -> list[str]:
    engine = sa.create_engine(url, poolclass=sa.NullPool)
    return sa.inspect(engine).get_table_names()


def test_a_fresh_database_is_empty_and_answers(pg_database: str) -> None:
    engine = sa.create_engine(pg_database, poolclass=sa.NullPool)
    with engine.begin() as connection:
        assert connection.dialect.name == "postgresql"
        connection.execute(sa.text("CREATE TABLE crumb (id int)"))
    assert tables(pg_database) == ["crumb"]


def test_databases_do_not_see_each_other(pg_cluster: Cluster) -> None:
    with pg_cluster.fresh_database() as one, pg_cluster.fresh_database() as other:
        engine = sa.create_engine(one, poolclass=sa.NullPool)
        with engine.begin() as connection:
            connection.execute(sa.text("CREATE TABLE crumb (id int)"))
        assert (tables(one), tables(other)) == (["crumb"], [])


def test_a_database_goes_even_when_somebody_is_still_connected(pg_cluster: Cluster) -> None:
    with pg_cluster.fresh_database() as url:
        engine = sa.create_engine(url, poolclass=sa.NullPool)
        connection = engine.connect()
        connection.execute(sa.text("SELECT 1"))
    try:
        names = "SELECT datname FROM pg_database"
        admin = sa.create_engine(pg_cluster.url("postgres"), poolclass=sa.NullPool)
        with admin.connect() as look:
            assert url.split("/")[-1].split("?")[0] not in look.execute(sa.text(names)).scalars()
    finally:
        connection.invalidate()
        connection.close()
