"""``gambrel trace``."""

from __future__ import annotations

import inspect
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from datetime import UTC, datetime
from pathlib import Path

from gambrel.cli import output
from gambrel.cli.opening import open_existing
from gambrel.cli.papers import write, written
from gambrel.services.trace_report import trace_json

ABOUT = "back to the dockets and forward to the trays, from any piece, lot, stage or body"

_MORE = """\
KEY is the lot on a label (a body or a stage), a body, a supplier or a supplier's reference, a day
of slaughter or of receipt (2026-11-03), an abattoir, a piece, a stage (a batch), an ingredient or
the lot on its pack, or the number in a printed label's code. What it names is all told.
"""


def add_to(command: ArgumentParser) -> None:
    """Say what may be written after ``gambrel trace``."""
    form = inspect.cleandoc(trace_json.__doc__ or "")
    command.description = f"{ABOUT}\n\n{_MORE}\n--json prints:\n{form}"
    command.add_argument("key", metavar="KEY", type=_key)
    command.add_argument("--pdf", metavar="F", type=Path, help="write the trace as a paper")
    command.set_defaults(run=run)


def _key(text: str) -> str:
    if not text.strip():
        raise ArgumentTypeError("a key is empty; expected one like HQ-14")
    return text


def run(options: Namespace) -> int:
    """Print where something came from, what came of it, and the balance of its weight."""
    from gambrel.cli.trace_text import trace_lines
    from gambrel.services.trace import trace_pdf, trace_word

    with open_existing(options) as book:
        sheet = trace_word(book, options.key)
    output.notes(sheet.notes)
    if options.pdf is not None:
        return written(options, write([(options.pdf, trace_pdf(sheet, datetime.now(UTC)))]))
    if options.json:
        output.as_json(trace_json(sheet))
    else:
        for line in trace_lines(sheet):
            output.say(line)
    return 0
