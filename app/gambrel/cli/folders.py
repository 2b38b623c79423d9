"""``gambrel load`` and ``gambrel dump``."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from gambrel.cli import output
from gambrel.cli.opening import open_existing, place_of
from gambrel.services.books import open_book
from gambrel.services.folder.load import LoadResult, check_folder, enter, load_folder
from gambrel.services.folder.write import dump_folder


def load(options: Namespace) -> int:
    """Take a folder in. A book that is not there yet is made only for a folder that is good."""
    where = place_of(options)
    if "://" not in where and not Path(where).exists():
        folder = check_folder(options.folder)
        with open_book(where) as book:
            result = enter(book, folder)
    else:
        with open_book(where) as book:
            result = load_folder(book, options.folder)
    for name in result.ignored:
        output.say_no(f"Note: {name} is none of the files of this form and was not read.")
    if options.json:
        output.as_json({"added": result.added, "same": result.same, "finished": result.finished})
    else:
        output.say(_told(result))
    return 0


def _told(result: LoadResult) -> str:
    added = ", ".join(f"{table} {count}" for table, count in result.added.items())
    parts = [f"Added rows: {added}." if added else "Nothing was new."]
    if result.finished:
        parts.append(f"Finished {result.finished} stages.")
    if same := sum(result.same.values()):
        parts.append(f"{same} rows were there already.")
    return " ".join(parts)


def dump(options: Namespace) -> int:
    """Write the book as a folder."""
    with open_existing(options) as book:
        rows = dump_folder(book, options.folder, replace=options.replace)
    if options.json:
        output.as_json({"folder": str(options.folder), "rows": rows})
    else:
        output.say(f"Wrote {sum(rows.values())} rows to {options.folder}.")
    return 0
