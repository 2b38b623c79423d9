"""PINs are kept so that they can be tried, not read."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.pins import SALT_BYTES, hashed_pin, pin_matches

SALT = bytes(range(SALT_BYTES))
pins = st.text("0123456789", min_size=4, max_size=8)


@settings(max_examples=20)
@given(pin=pins, other=pins, salt=st.binary(min_size=SALT_BYTES, max_size=SALT_BYTES))
def test_only_the_same_pin_matches(pin: str, other: str, salt: bytes) -> None:
    kept = hashed_pin(pin, salt)
    assert pin_matches(kept, pin)
    assert pin_matches(kept, other) == (pin == other)
    assert pin not in kept.split("$")[0]


def test_the_same_pin_of_two_people_is_kept_differently() -> None:
    assert hashed_pin("1234", SALT) != hashed_pin("1234", SALT[::-1])


@pytest.mark.parametrize("pin", ["", "123", "123456789", "12a4", "１２３４", "12 4", "-123"])
def test_what_is_no_pin_is_refused(pin: str) -> None:
    with pytest.raises(Refusal, match="4 to 8 digits"):
        hashed_pin(pin, SALT)


def test_a_short_salt_is_a_bug() -> None:
    with pytest.raises(ValueError, match="salt"):
        hashed_pin("1234", b"short")


@pytest.mark.parametrize("kept", ["", "scrypt$zz$00", "plain$00$00", "a$b", "scrypt$00$"])
def test_nothing_matches_what_cannot_be_read(kept: str) -> None:
    assert not pin_matches(kept, "1234")
