"""Whether a file would lie on a network drive, where SQLite's write-ahead log is not safe.

WAL keeps an index in shared memory, which two computers do not share. Source: sqlite.org, "Use of
shared memory for the WAL-index", from memory.
"""

from __future__ import annotations

import re
from pathlib import Path, PurePath
from typing import NamedTuple

MOUNTS = Path("/proc/self/mounts")
"""Linux's table of what is mounted where; other systems have none, and nothing is known there."""

NETWORK = frozenset(
    {
        "afs", "beegfs", "ceph", "cifs", "coda", "fuse.ceph", "fuse.curlftpfs", "fuse.davfs",
        "fuse.glusterfs", "fuse.gvfsd-fuse", "fuse.mfs", "fuse.rclone", "fuse.s3fs",
        "fuse.smbnetfs", "fuse.sshfs", "gfs2", "gpfs", "lustre", "ncpfs", "nfs", "nfs4", "ocfs2",
        "orangefs", "smb2", "smb3", "smbfs",
    }
)  # fmt: skip
"""File systems that other computers may write to as well (from memory).

What a virtual machine shares with its own host (9p, virtiofs) is not among them.
"""

_ESCAPED = re.compile(r"\\([0-7]{3})")


class Mount(NamedTuple):
    """A mount: where, and the kind of its file system."""

    at: str
    kind: str


def network_mount(path: PurePath, mounts: str) -> Mount | None:
    """The network drive on which a path lies; None where it lies on none.

    Args:
        path: Absolute, with no links left in it.
        mounts: The text of `MOUNTS`: device, place, kind and options, a mount on a line. A blank in
            a name stands as an octal escape; of two on one place the later hides the earlier.
    """
    found = Mount("", "")
    for line in mounts.splitlines():
        fields = line.split(" ")
        if len(fields) < 3:
            continue
        at = _ESCAPED.sub(lambda match: chr(int(match[1], 8)), fields[1])
        if path.is_relative_to(at) and len(at) >= len(found.at):
            found = Mount(at, fields[2])
    return found if found.kind in NETWORK else None


def mounts_now() -> str:
    """The mounts of this computer; empty where there is no such table."""
    try:
        return MOUNTS.read_text(encoding="utf-8", errors="surrogateescape")
    except OSError:
        return ""
