from __future__ import annotations

import uuid
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.trade.keys import lot_of, new_key

ALPHABET = "0123456789abcdefghjkmnpqrstvwxyz"
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
moments = st.datetimes(datetime(1970, 1, 1), datetime(9000, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001
noise = st.binary(min_size=8, max_size=8)


def number_of(key: str) -> int:
    number = 0
    for sign in key:
        number = number * 32 + ALPHABET.index(sign)
    return number


@given(moments, noise)
def test_a_key_is_a_version_7_uuid_of_its_moment(now: datetime, random: bytes) -> None:
    key = new_key(now, random)
    assert len(key) == 26
    made = uuid.UUID(int=number_of(key))
    assert made.version == 7
    assert made.variant == uuid.RFC_4122
    assert made.int >> 80 == (now - EPOCH) // timedelta(milliseconds=1)
    assert made.int & (1 << 62) - 1 == int.from_bytes(random) & (1 << 62) - 1


@given(moments, noise, noise, st.integers(1, 10**9))
def test_keys_sort_by_time(now: datetime, one: bytes, other: bytes, microseconds: int) -> None:
    assert new_key(now, one) < new_key(now + timedelta(microseconds=microseconds), other)


@given(moments, noise, noise, st.integers(1, 10**9))
def test_lots_fit_a_code_and_tell_stages_apart(
    now: datetime, one: bytes, other: bytes, microseconds: int
) -> None:
    key, later = new_key(now, one), new_key(now + timedelta(microseconds=microseconds), other)
    assert len(lot_of(key)) <= 20
    assert key.startswith(lot_of(key))
    assert lot_of(key) != lot_of(later)


@pytest.mark.parametrize("key", ["S-114", "HQ-17", "a" * 25, "A" * 26, "stage of the first monday"])
def test_a_key_that_people_wrote_is_its_own_lot(key: str) -> None:
    assert lot_of(key) == key


def test_one_key_written_out() -> None:
    """By hand: 1 ms after 1970 and 500 microseconds (half of 4096), no noise but the variant."""
    now = EPOCH + timedelta(microseconds=1500)
    assert uuid.UUID(int=number_of(new_key(now, bytes(8)))) == uuid.UUID(
        "00000000-0001-7800-8000-000000000000"
    )


def test_the_example_of_the_standard() -> None:
    """RFC 9562, appendix A.6: 2022-02-22 14:22:22 -05:00 gives 017F22E2-79B0-7 (from memory)."""
    now = datetime.fromisoformat("2022-02-22T14:22:22-05:00")
    key = new_key(now, bytes.fromhex("98C4DC0C0C07398F"))
    made = str(uuid.UUID(int=number_of(key))).upper()
    assert made == "017F22E2-79B0-7000-98C4-DC0C0C07398F"


def test_what_makes_no_key_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        new_key(datetime(2026, 11, 20), bytes(8))  # noqa: DTZ001 - the point
    with pytest.raises(ValueError, match="8 random bytes"):
        new_key(EPOCH, bytes(7))
    with pytest.raises(ValueError, match="1970"):
        new_key(EPOCH - timedelta(seconds=1), bytes(8))
