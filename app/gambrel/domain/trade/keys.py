"""Keys: those that a station makes by itself, never the same twice, and those that people type."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

RANDOM_BYTES = 8
"""How many random bytes a key takes."""

_ALPHABET = "0123456789abcdefghjkmnpqrstvwxyz"
_LENGTH = 26
_OF_TIME = 13
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


LONGEST_KEY = 100
"""Characters of a key, or of another short text that names something."""


def fits_key(text: str) -> bool:
    """Whether a text can name something: short, and no unseen character in it."""
    return len(text) <= LONGEST_KEY and text.isprintable()


def new_key(now: datetime, random: bytes) -> str:
    """A key for a row made now: 26 characters that sort by time.

    The 128 bits are a UUID of version 7: milliseconds since 1970 (48 bits), the rest of the
    microseconds as a fraction of 4096 (12 bits), and 62 random bits. Keys of different
    microseconds sort as their moments do.

    Args:
        now: An aware moment, 1970 or later.
        random: Exactly 8 bytes, new ones for each key.
    Returns:
        Lower-case Crockford base 32 (digits and letters without i, l, o, u).
    Raises:
        ValueError: A moment without a zone or before 1970, or not 8 bytes.
    Source: RFC 9562 sections 5.7 and 6.2 (method 3), and Crockford's base 32 alphabet, both
        from memory.
    """
    if now.tzinfo is None:
        raise ValueError(f"a key needs a moment with a time zone, not {now!r}")
    if len(random) != RANDOM_BYTES:
        raise ValueError(f"a key needs {RANDOM_BYTES} random bytes, not {len(random)}")
    microseconds = (now - _EPOCH) // timedelta(microseconds=1)
    if microseconds < 0:
        raise ValueError(f"a key needs a moment of 1970 or later, not {now!r}")
    milliseconds, rest = divmod(microseconds, 1000)
    noise = int.from_bytes(random) & ((1 << 62) - 1)
    fraction = rest * 4096 // 1000
    return _base32(milliseconds << 80 | 7 << 76 | fraction << 64 | 0b10 << 62 | noise)


def lot_of(key: str) -> str:
    """What a label says for a body's or a stage's key: itself, or the first half of one made here.

    The first 13 characters of such a key tell its moment to the microsecond, which no two stages
    of a shop share but by the rarest chance; a trace then tells of both. Twenty characters is the
    most that a code holds of a lot (GS1 General Specifications, AI 10).
    """
    made = len(key) == _LENGTH and not set(key) - set(_ALPHABET)
    return key[:_OF_TIME] if made else key


def _base32(number: int) -> str:
    shifts = range(5 * (_LENGTH - 1), -1, -5)
    return "".join(_ALPHABET[number >> shift & 31] for shift in shifts)
