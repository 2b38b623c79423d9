"""Bytes as a person can read them: control characters by their names, and all of them in hex."""

from __future__ import annotations

# fmt: off
_NAMES = (
    "NUL", "SOH", "STX", "ETX", "EOT", "ENQ", "ACK", "BEL", "BS", "HT", "LF", "VT", "FF", "CR",
    "SO", "SI", "DLE", "DC1", "DC2", "DC3", "DC4", "NAK", "SYN", "ETB", "CAN", "EM", "SUB", "ESC",
    "FS", "GS", "RS", "US",
)
# fmt: on
"""The control characters 0 to 31. Source: ECMA-48 and ISO/IEC 646."""


def named(raw: bytes) -> str:
    """Bytes as text, ``ST,GS,+ 4.386 kg‹CR›‹LF›``; what is no character is named or in hex."""
    return "".join(_one(byte) for byte in raw)


def _one(byte: int) -> str:
    if byte < len(_NAMES):
        return f"‹{_NAMES[byte]}›"
    if byte == 0x7F:
        return "‹DEL›"
    return chr(byte) if byte < 0x7F else f"‹{byte:02X}›"


def hexed(raw: bytes) -> str:
    """Bytes in hex, ``53 54 2C``."""
    return raw.hex(" ").upper()
