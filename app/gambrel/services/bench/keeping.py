"""What a station keeps in its hands, so that a sudden stop comes back to the same work."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field, fields
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


@dataclass(frozen=True, slots=True)
class Kept:
    """What lies on the block of one station and what the person there has chosen.

    All are keys or names, empty for none. ``asks`` is who cut here before and has to be asked for
    again, since they left the team or have not given their PIN yet. ``tub_of`` remembers in which
    tub each cut was last weighed here.
    """

    stage: str = ""
    cut: str = ""
    tub: str = ""
    person: str = ""
    asks: str = ""
    tub_of: dict[str, str] = field(default_factory=dict)


def keep(book: Book, station: str, kept: Kept) -> None:
    """Remember it on the disk."""
    with book.transaction() as work:
        work.set_setting(_name(station), json.dumps(asdict(kept), ensure_ascii=False))


def kept(book: Book, station: str) -> Kept:
    """What was last kept; nothing in hand where nothing was, or where it cannot be read."""
    with book.reading() as work:
        text = work.setting(_name(station))
    return read_kept(text or "")


def read_kept(text: str) -> Kept:
    """Read `Kept` back; what is not as it should be counts as not chosen."""
    try:
        found: Any = json.loads(text)
    except json.JSONDecodeError:
        return Kept()
    if not isinstance(found, dict):
        return Kept()
    words = {
        each.name: found[each.name]
        for each in fields(Kept)
        if isinstance(found.get(each.name), str) and each.name != "tub_of"
    }
    tubs = found.get("tub_of")
    pairs = tubs.items() if isinstance(tubs, dict) else ()
    return Kept(**words, tub_of={k: v for k, v in pairs if isinstance(v, str)})


def _name(station: str) -> str:
    return f"block:{station}"
