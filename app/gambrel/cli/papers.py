"""``gambrel day`` and ``gambrel week``, and how every paper is written."""

from __future__ import annotations

import csv
from argparse import Namespace
from collections.abc import Callable
from io import StringIO
from pathlib import Path

from gambrel.cli import output
from gambrel.cli.opening import open_existing
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book
from gambrel.services.papers import save_whole


def day(options: Namespace) -> int:
    """Write the daily breakdown sheet."""
    with open_existing(options) as book:
        from gambrel.services.day import day_pdf

        content = day_pdf(book, options.day)
    return written(options, write([(options.pdf, content)]))


def week(options: Namespace) -> int:
    """Write the weekly cost sheet in every form that was asked for; nothing if one fails.

    Without a file to write, the figures are printed.
    """
    if not (options.pdf or options.xlsx or options.csv):
        return _week_figures(options)
    with open_existing(options) as book:
        wanted = _week_files(options, book)
    return written(options, write(wanted))


def _week_figures(options: Namespace) -> int:
    from gambrel.services.week import week_csv

    with open_existing(options) as book:
        files = week_csv(book, options.week)
    tables = {Path(name).stem: list(csv.reader(StringIO(text))) for name, text in files.items()}
    if options.json:
        output.as_json(
            {
                name: [dict(zip(header, row, strict=True)) for row in rows]
                for name, (header, *rows) in tables.items()
            }
        )
        return 0
    names, *weeks = tables["week"]
    shown = [name.replace("_", " ") for name in names]
    output.table(
        "This week beside last", ["figure", "now", "before"], zip(shown, *weeks, strict=True)
    )
    output.say()
    for (sentence,) in tables["remarks"][1:]:
        output.say(sentence)
    return 0


def _week_files(options: Namespace, book: Book) -> list[tuple[Path, bytes]]:
    from gambrel.services.week import week_csv, week_pdf, week_xlsx

    made: list[tuple[Path, bytes]] = []
    sheets: list[tuple[Path | None, Callable[[Book, str], bytes]]] = [
        (options.pdf, week_pdf),
        (options.xlsx, week_xlsx),
    ]
    for path, make in sheets:
        if path is not None:
            made.append((path, make(book, options.week)))
    if options.csv is not None:
        if options.csv.exists() and not options.csv.is_dir():
            raise Refusal(f"{options.csv} is a file; give a folder for the CSV files.")
        for name, text in week_csv(book, options.week).items():
            made.append((options.csv / name, text.encode()))
    return made


def write(contents: list[tuple[Path, bytes]]) -> list[Path]:
    """Write files, each whole or not at all.

    Raises:
        Refusal: A place is a folder or cannot be written to.
    """
    for path, content in contents:
        if path.is_dir():
            raise Refusal(f"{path} is a folder; give the name of a file.")
        path.absolute().parent.mkdir(parents=True, exist_ok=True)
        save_whole(path, content)
    return [path for path, _ in contents]


def written(options: Namespace, paths: list[Path]) -> int:
    """Say which files were written."""
    if options.json:
        output.as_json({"written": [str(path) for path in paths]})
    else:
        for path in paths:
            output.say(f"Wrote {path}.")
    return 0
