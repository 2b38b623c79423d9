"""``gambrel backup`` and ``gambrel restore``."""

from __future__ import annotations

import platform
from argparse import Namespace
from datetime import UTC, datetime
from typing import Any

from gambrel.cli import output
from gambrel.cli.opening import open_existing, place_of
from gambrel.services.backup import (
    Contents,
    back_up,
    kept_words,
    moment_words,
    restore,
    row_words,
    shown_place,
)


def run_backup(options: Namespace) -> int:
    """Write a backup; others may be weighing in meanwhile."""
    now = datetime.now(UTC)
    replaced = options.file.exists()
    with open_existing(options) as book:
        contents = back_up(book, options.file, now, platform.node() or "command line", replace=True)
        where = book.where
    if options.json:
        output.as_json(
            {"book": where, "file": str(options.file), "replaced": replaced} | _fields(contents)
        )
    else:
        output.say(f"The book {where} is backed up in {options.file}.")
        output.say(f"It holds {_holds(contents)}.")
    return 0


def run_restore(options: Namespace) -> int:
    """Put a backup in the place of the book."""
    done = restore(place_of(options), options.file, datetime.now(UTC))
    where = shown_place(place_of(options))
    kept = str(done.kept) if done.kept else None
    before = done.before
    if options.json:
        output.as_json(
            {
                "book": where,
                "file": str(options.file),
                "kept": kept,
                "beyond": dict(before.beyond) if before else {},
                "was_damaged": before is not None and before.contents is None,
            }
            | _fields(done.contents)
        )
        return 0
    output.say(f"The book {where} is what the backup {options.file} holds:")
    output.say(f"{_holds(done.contents)}.")
    if kept and before is None:
        output.say(f"A journal of a book that was gone lay there; it is kept as {kept}-wal.")
    elif before is not None and kept:
        output.say(kept_words(before, kept))
    return 0


def _fields(contents: Contents) -> dict[str, Any]:
    last = contents.last_act
    return {
        "shop": contents.shop,
        "rows": dict(contents.rows),
        "last_act": last.isoformat() if last else None,
        "bytes": contents.size,
    }


def _holds(contents: Contents) -> str:
    rows = {table: contents.rows.get(table, 0) for table in ("body", "piece")}
    words = row_words(rows) or "no body and no piece"
    if contents.last_act is None:
        return words
    return f"{words}, the last act of {moment_words(contents.last_act, contents.time_zone)}"
