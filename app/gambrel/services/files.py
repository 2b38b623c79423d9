"""Writing a file whole: it is made beside its place and moved there when it is on the disk."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Write a file, or replace one; after an error what was there before is still there.

    Raises:
        OSError: The disk or the folder says no.
    """
    place = path.absolute()
    place.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=f".{place.name}.", suffix=".part", dir=place.parent)
    fresh = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        fresh.chmod(0o666 & ~process_mask())
        fresh.replace(place)
    finally:
        fresh.unlink(missing_ok=True)


def process_mask() -> int:
    """The process's mask for new files; it can be read only by setting it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
