from __future__ import annotations

from pathlib import Path, PurePosixPath

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.storage import mounts, place
from gambrel.storage.book import open_book
from gambrel.storage.mounts import NETWORK, Mount, mounts_now, network_mount
from gambrel.storage.place import FilePlace, require_local

TABLE = """\
/dev/sda1 / ext4 rw,relatime 0 0
proc /proc proc rw 0 0
server:/shop /srv/shop nfs4 rw,vers=4.2 0 0
//server/shop /media/the\\040shop cifs rw 0 0
/dev/sdb1 /srv/shop/local ext4 rw 0 0
server:/old /srv/old nfs rw 0 0
/dev/sdc1 /srv/old ext4 rw 0 0
host /media/host 9p rw 0 0
broken line
"""


@pytest.mark.parametrize(
    ("path", "found"),
    [
        ("/srv/shop/book.gambrel", Mount("/srv/shop", "nfs4")),
        ("/srv/shop", Mount("/srv/shop", "nfs4")),
        ("/media/the shop/a/book", Mount("/media/the shop", "cifs")),
        ("/srv/shop/local/book", None),
        ("/srv/shopping/book", None),
        ("/srv/old/ana/book", None),
        ("/media/host/book", None),
        ("/var/book", None),
    ],
)
def test_the_nearest_mount_decides(path: str, found: Mount | None) -> None:
    assert network_mount(PurePosixPath(path), TABLE) == found


def test_where_nothing_is_known_nothing_is_refused() -> None:
    assert network_mount(PurePosixPath("/srv/shop/book"), "") is None


def test_a_system_without_the_table_has_no_mounts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(mounts, "MOUNTS", tmp_path / "none")
    assert mounts_now() == ""


def table(at: Path, kind: str) -> str:
    escaped = str(at).replace(" ", "\\040")
    return f"/dev/sda1 / ext4 rw 0 0\nserver:/shop {escaped} {kind} rw 0 0\n"


@pytest.mark.parametrize("kind", sorted(NETWORK))
def test_a_book_on_a_network_drive_is_refused_in_a_sentence(tmp_path: Path, kind: str) -> None:
    with pytest.raises(Refusal, match="network drive") as refusal:
        require_local(FilePlace(tmp_path / "book"), table(tmp_path, kind))
    assert f"{kind} at {tmp_path}" in str(refusal.value)
    assert "PostgreSQL" in str(refusal.value)
    require_local(FilePlace(tmp_path / "book"), table(tmp_path, "ext4"))


def test_a_link_to_a_network_drive_is_found(tmp_path: Path) -> None:
    share = tmp_path / "the share"
    share.mkdir()
    (tmp_path / "books").symlink_to(share)
    with pytest.raises(Refusal, match="network drive"):
        require_local(FilePlace(tmp_path / "books" / "book"), table(share, "nfs"))


def test_nothing_is_made_there_but_what_is_there_can_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "share").mkdir()
    book = tmp_path / "share" / "book.gambrel"
    open_book(str(book)).close()
    monkeypatch.setattr(place, "mounts_now", lambda: table(tmp_path / "share", "nfs4"))
    with pytest.raises(Refusal, match="network drive"):
        open_book(str(book))
    with pytest.raises(Refusal, match="network drive"):
        open_book(str(tmp_path / "share" / "new.gambrel"))
    assert not (tmp_path / "share" / "new.gambrel").exists()
    open_book(str(book), read_only=True).close()
    open_book(str(tmp_path / "here.gambrel")).close()
