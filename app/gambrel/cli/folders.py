"""``gambrel load`` and ``gambrel dump``."""

from __future__ import annotations

from argparse import Namespace
from itertools import groupby
from pathlib import Path

from gambrel.cli import output
from gambrel.cli.opening import open_existing, place_of
from gambrel.services.books import open_book
from gambrel.services.folder.load import check_folder, enter, load_folder
from gambrel.services.folder.preview import Preview, preview_folder
from gambrel.services.folder.report import (
    ignored_sentence,
    load_sentence,
    preview_json,
    preview_sentence,
    refused_text,
)
from gambrel.services.folder.write import dump_folder

NAMED = 10
"""So many new rows of a file are named; --json names them all."""


def load(options: Namespace) -> int:
    """Take a folder in. A book that is not there yet is made only for a folder that is good."""
    if options.dry_run:
        return _dry_run(options)
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
        told = {"added": result.added, "same": result.same, "finished": result.finished}
        output.as_json(told | {"shop": result.shop})
    else:
        output.say(load_sentence(result))
    return 0


def _dry_run(options: Namespace) -> int:
    """Say what a load would change; refused lines go to standard error, as a load's do."""
    where = place_of(options)
    if "://" not in where and not Path(where).exists():
        preview = preview_folder(None, options.folder)
    else:
        with open_existing(options) as book:
            preview = preview_folder(book, options.folder)
    if options.json:
        output.as_json(preview_json(preview))
    else:
        _print(preview)
    if preview.refused:
        output.say_no(refused_text(preview.refused).rstrip("\n"))
    return 1 if preview.refused else 0


def _print(preview: Preview) -> None:
    output.table(
        "What a load would change (rows)",
        ("file<", "new", "finish a stage", "there already", "refused"),
        [
            (each.file, *map(str, (each.new, each.finished, each.same, each.refused)))
            for each in preview.files
        ],
    )
    by_file = ((file, list(rows)) for file, rows in groupby(preview.new, key=lambda row: row.file))
    for file, rows in by_file:
        more = f", and {len(rows) - NAMED} more" if len(rows) > NAMED else ""
        output.say(f"{file}: {', '.join(row.name for row in rows[:NAMED])}{more}")
    output.say(preview_sentence(preview))
    if ignored := ignored_sentence(preview.ignored):
        output.say_no(f"Note: {ignored}")


def dump(options: Namespace) -> int:
    """Write the book as a folder."""
    with open_existing(options) as book:
        rows = dump_folder(book, options.folder, replace=options.replace)
    if options.json:
        output.as_json({"folder": str(options.folder), "rows": rows})
    else:
        output.say(f"Wrote {sum(rows.values())} rows to {options.folder}.")
    return 0
