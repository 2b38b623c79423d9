"""``gambrel check``."""

from __future__ import annotations

from argparse import Namespace

from gambrel.cli import output
from gambrel.cli.opening import open_existing
from gambrel.services.check import check_book


def run(options: Namespace) -> int:
    """Print what was checked; a book that is not sound gives exit status 1, a note does not."""
    with open_existing(options) as book:
        report = check_book(book)
        where = book.where
    if options.json:
        output.as_json(
            {
                "sound": report.sound,
                "checked": report.checked,
                "not_checked": report.not_checked,
                "wrong": report.wrong,
                "notes": report.notes,
            }
        )
    else:
        for line in report.checked:
            output.say(f"checked      {line}")
        for line in report.not_checked:
            output.say(f"not checked  {line}")
    output.notes(report.notes)
    for line in report.wrong:
        output.say_no(f"wrong: {line}")
    if not report.sound:
        output.say_no(f"The book {where} is not sound. Keep it as it is, and go back to a backup.")
        return 1
    if not options.json:
        output.say(f"The book {where} is sound.")
    return 0
