"""A copy's seal: a checksum over the whole file, since SQLite keeps none over its pages.

It stands in the header's field for a program's own number (``user_version``, bytes 60 to 63;
source: sqlite.org, "Database File Format", from memory), which the checksum takes for nought. It
holds until the copy is opened as a book, as the header tells: a book keeps a write-ahead log.
"""

from __future__ import annotations

import zlib
from pathlib import Path

_AT, _END = 60, 64
_FORMATS = slice(18, 20)
_A_LONE_FILE = b"\x01\x01"
"""The header's file formats for writing and reading while there is no write-ahead log."""
_HEADER = 100
_AT_ONCE = 1 << 20


def seal(path: Path) -> None:
    """Seal a file that nobody has open and that keeps no write-ahead log."""
    number = _checksum(path) or 1  # nought says that there is no seal
    with path.open("r+b") as file:
        file.seek(_AT)
        file.write(number.to_bytes(_END - _AT))


def bears_seal(path: Path) -> bool:
    """Whether a file is a copy that nobody has opened as a book for writing."""
    return _seal_of(path) != 0


def seal_is_broken(path: Path) -> bool:
    """Whether a file is not what was sealed; False where it bears no seal any more."""
    number = _seal_of(path)
    return number != 0 and number != (_checksum(path) or 1)


def _seal_of(path: Path) -> int:
    """The number of the seal; nought where there is none."""
    with path.open("rb") as file:
        header = file.read(_HEADER)
    return int.from_bytes(header[_AT:_END]) if header[_FORMATS] == _A_LONE_FILE else 0


def _checksum(path: Path) -> int:
    """CRC-32 of the file with the seal's own place taken for nought."""
    with path.open("rb") as file:
        header = file.read(_HEADER)
        number = zlib.crc32(header[:_AT] + bytes(_END - _AT) + header[_END:])
        while part := file.read(_AT_ONCE):
            number = zlib.crc32(part, number)
    return number
