"""Writing to the terminal: tables, JSON, sentences; plain text without colours."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Sequence
from io import TextIOWrapper
from typing import Any

MISSING = "-"


def speak_plainly() -> None:
    """Let a terminal that does not know a letter show another instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")


def say(text: str = "") -> None:
    """Print a line."""
    print(text)


def say_no(text: str) -> None:
    """Print sentences to standard error."""
    print(text, file=sys.stderr)


def notes(sentences: Iterable[str]) -> None:
    """Print what the reader of the figures should know, each once, to standard error."""
    for sentence in dict.fromkeys(sentences):
        say_no(f"Note: {sentence}.")


def as_json(value: Any) -> None:  # noqa: ANN401 - whatever JSON can hold
    """Print JSON, in ASCII so that every terminal and program reads it alike."""
    print(json.dumps(value, indent=1))


def table(title: str, header: Sequence[str], rows: Iterable[Sequence[str | None]]) -> None:
    """Print a table: the first column to the left, figures to the right.

    A header that ends in ``<`` marks a column of texts; it is set to the left.
    """
    left = [column == 0 or name.endswith("<") for column, name in enumerate(header)]
    names = [name.removesuffix("<") for name in header]
    lines = [names, *([_cell(cell) for cell in row] for row in rows)]
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    print(f"\n{title}")
    for line in lines:
        cells = [
            cell.ljust(width) if to_left else cell.rjust(width)
            for cell, width, to_left in zip(line, widths, left, strict=True)
        ]
        print(f"  {'  '.join(cells).rstrip()}")


def _cell(text: str | None) -> str:
    """A cell without line ends or other characters that would move the cursor."""
    if text is None or not text:
        return MISSING
    return "".join(letter if letter.isprintable() else "?" for letter in text)
