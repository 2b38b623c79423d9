"""Each column type takes its own values, exactly, and refuses all others."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.engine import Dialect

from gambrel.domain.trade.records import Source
from gambrel.storage.types import Choice, Day, Exact, Moment, Whole, Words

SQLITE: Dialect = sqlite.dialect()
POSTGRES: Dialect = postgresql.dialect()  # type: ignore[no-untyped-call]
NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)


@pytest.mark.parametrize(
    ("kind", "wrong"),
    [
        (Words(), "a\x00b"),
        (Whole(), 1.0),
        (Whole(), True),
        (Whole(), 2**63),
        (Whole(), "1"),
        (Exact(), 0.5),
        (Exact(), 1),
        (Exact(), Decimal("0.0000001")),
        (Exact(), Decimal("NaN")),
        (Exact(), Decimal("Infinity")),
        (Exact(), Decimal(10) ** 13),
        (Moment(), datetime(2026, 11, 20)),  # noqa: DTZ001 - the point
        (Moment(), date(2026, 11, 20)),
        (Moment(), "2026-11-20"),
        (Day(), NOON),
        (Day(), "2026-11-20"),
        (Choice(Source), "hook"),
    ],
)
def test_a_wrong_value_is_a_bug(kind: Any, wrong: object) -> None:
    with pytest.raises(ValueError, match=r"^(not|text|'hook')"):
        kind.process_bind_param(wrong, SQLITE)


@pytest.mark.parametrize("kind", [Words(), Whole(), Exact(), Moment(), Day(), Choice(Source)])
def test_nothing_stays_nothing(kind: Any) -> None:
    assert kind.process_bind_param(None, SQLITE) is None


@given(st.decimals(-(10**12), 10**12, places=6))
def test_decimals_are_kept_exactly(value: Decimal) -> None:
    back = Exact().process_result_value(Exact().written(value), SQLITE)
    assert back == value
    assert "E" not in str(back) or abs(value) < Decimal("0.000001") * 10


def test_decimals_come_back_short() -> None:
    kept = [Exact().written(Decimal(text)) for text in ("38.000000", "37.50", "100", "-0.5")]
    back = [str(Exact().process_result_value(value, SQLITE)) for value in kept]
    assert back == ["38", "37.5", "100", "-0.5"]


@given(st.datetimes(datetime(1902, 1, 1), datetime(9000, 1, 1)), st.integers(-1439, 1439))  # noqa: DTZ001
def test_moments_are_kept_to_the_microsecond_in_utc(naive: datetime, minutes: int) -> None:
    value = naive.replace(tzinfo=timezone(timedelta(minutes=minutes)))
    back = Moment().process_result_value(Moment().written(value), SQLITE)
    assert back == value
    assert back is not None
    assert back.tzinfo is UTC


@given(st.lists(st.datetimes(datetime(1902, 1, 1), timezones=st.just(UTC)), min_size=2))  # noqa: DTZ001
def test_written_moments_sort_as_moments(values: list[datetime]) -> None:
    assert [Moment().written(v) for v in sorted(values)] == sorted(map(Moment().written, values))


def test_text_sorts_by_code_point_on_both() -> None:
    assert Words().compile(dialect=POSTGRES) == 'TEXT COLLATE "C"'
    assert Words().compile(dialect=SQLITE) == "TEXT"
    assert Whole().compile(dialect=SQLITE) == "INTEGER"
    assert Whole().compile(dialect=POSTGRES) == "BIGINT"
