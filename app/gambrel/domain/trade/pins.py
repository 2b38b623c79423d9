"""PINs: who stands at the block says so with a few digits, where the shop wants it.

A PIN of a few digits keeps a name from being used by mistake. It is no lock: whoever holds the
book's file can try them all. It is kept only as a salted hash so that it cannot be read off.
"""

from __future__ import annotations

import hashlib
import hmac

from gambrel.domain.refusals import Refusal

FEWEST, MOST = 4, 8
SALT_BYTES = 16
_ROUNDS = 2**12
"""Cost of one try (scrypt's n): a hundredth of a second on a tablet, so a tap is not felt."""


def hashed_pin(pin: str, salt: bytes) -> str:
    """What is kept of a PIN.

    Args:
        pin: Four to eight digits.
        salt: `SALT_BYTES` random bytes, new ones each time.
    Raises:
        Refusal: It is no such PIN.
        ValueError: The salt is too short.
    Source: RFC 7914 (scrypt).
    """
    if not (FEWEST <= len(pin) <= MOST and pin.isascii() and pin.isdigit()):
        raise Refusal(f"A PIN is {FEWEST} to {MOST} digits. Choose another.")
    if len(salt) < SALT_BYTES:
        raise ValueError(f"a PIN needs {SALT_BYTES} bytes of salt, not {len(salt)}")
    return f"scrypt${salt.hex()}${_digest(pin, salt).hex()}"


def pin_matches(kept: str, pin: str) -> bool:
    """Whether a PIN is the one that was kept; nothing matches what cannot be read."""
    try:
        name, salt, digest = kept.split("$")
        known = bytes.fromhex(digest)
        tried = _digest(pin, bytes.fromhex(salt))
    except ValueError:
        return False
    return name == "scrypt" and hmac.compare_digest(tried, known)


def _digest(pin: str, salt: bytes) -> bytes:
    return hashlib.scrypt(pin.encode(), salt=salt, n=_ROUNDS, r=8, p=1, dklen=32)
