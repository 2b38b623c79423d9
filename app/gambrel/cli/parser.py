"""What can be written after ``gambrel``."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from gambrel import __version__
from gambrel.cli import (
    checking,
    choices,
    costs,
    demo,
    folders,
    papers,
    printing,
    safety,
    solving,
    ticketing,
    trace,
    window,
)
from gambrel.domain.costing.methods import Method

JSON_HELP = "print JSON: stable keys, money and rates as decimal strings, weights in grams"


def make_parser() -> argparse.ArgumentParser:
    """The whole command line; every command sets ``run``."""
    parser = argparse.ArgumentParser(
        prog="gambrel",
        description="What a carcass cost, what came off it, and what every cut must sell for. "
        "Without a command the window opens.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"gambrel {__version__}")
    _book(parser, default=None)
    parser.set_defaults(run=window.run)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    _folder_commands(commands)
    _cost_command(commands)
    _solve_command(commands)
    _choice_command(commands)
    _paper_commands(commands)
    _trace_command(commands)
    _demo_command(commands)
    _safety_commands(commands)
    check = _command(commands, "check", "is the book sound, and does every cent balance?")
    _json(check)
    check.set_defaults(run=checking.run)
    return parser


Commands = argparse._SubParsersAction  # noqa: SLF001 - argparse gives it no public name


def _command(
    commands: Commands[argparse.ArgumentParser], name: str, help_text: str
) -> argparse.ArgumentParser:
    command = commands.add_parser(
        name, help=help_text, description=help_text, allow_abbrev=False,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )  # fmt: skip
    # Before or after the command: here nothing is set unless it is given.
    _book(command, default=argparse.SUPPRESS)
    return command


def _book(parser: argparse.ArgumentParser, default: str | None) -> None:
    parser.add_argument(
        "--book",
        metavar="PATH|URL",
        default=default,
        help="the book: a file, or postgresql://user@server/database (your own if not given)",
    )


def _json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help=JSON_HELP)


def _folder_commands(commands: Commands[argparse.ArgumentParser]) -> None:
    load = _command(commands, "load", "take a folder of plain CSV into the book, all or nothing")
    load.add_argument("folder", metavar="DIR", type=Path, help="the folder, or one of its files")
    load.add_argument(
        "--dry-run", action="store_true", help="say what would change, and change nothing"
    )
    _json(load)
    load.set_defaults(run=folders.load)
    dump = _command(commands, "dump", "write the book as a folder of plain CSV")
    dump.add_argument("folder", metavar="DIR", type=Path)
    dump.add_argument(
        "--replace",
        action="store_true",
        help="also where DIR holds such files that are not an earlier dump of this book",
    )
    _json(dump)
    dump.set_defaults(run=folders.dump)


def _method(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--method",
        type=_method_named,
        default=Method.NRV,
        metavar="|".join(method.value for method in Method),
        help="how a joint cost is shared (nrv)",
    )


def _cost_command(commands: Commands[argparse.ArgumentParser]) -> None:
    cost = _command(commands, "cost", "cost per kilo, by body, stage, piece and cut")
    cost.add_argument("--body", metavar="B", help="one body with all that was made of it")
    _method(cost)
    cost.add_argument("--at", metavar="DATE", type=_day, help="value all at that day's prices")
    _json(cost)
    cost.set_defaults(run=costs.run)


def _solve_command(commands: Commands[argparse.ArgumentParser]) -> None:
    text = "a proposed set of prices by which a body, a species or a week earns a margin"
    solve = _command(commands, "solve", text)
    solve.description = f"{solve.description}\n\n--json prints:\n{solving.json_form()}"
    of = solve.add_mutually_exclusive_group(required=True)
    of.add_argument("--body", metavar="B", help="what one body has to earn")
    of.add_argument("--species", metavar="S", help="all of a species, the last four weeks")
    of.add_argument("--week", metavar="2026-W47", type=_week, help="what came off in a week")
    solve.add_argument("--margin", metavar="PERCENT", required=True, type=_percent)
    for name, value, text in (
        ("pin", "cut=price", "keep this price"),
        ("floor", "cut=price", "not below this price"),
        ("ceiling", "cut=price", "not above this price"),
        ("sold", "cut=percent", "how much of the cut is really sold (100)"),
    ):
        solve.add_argument(
            f"--{name}", metavar=value, action="append", default=[], type=_pair, help=text
        )
    solve.add_argument(
        "--ending", metavar=".99", action="append", default=[],
        help="last digits that a price may have; may be given several times",
    )  # fmt: skip
    _method(solve)
    _json(solve)
    solve.set_defaults(run=solving.run)


def _choice_command(commands: Commands[argparse.ArgumentParser]) -> None:
    choice = _command(commands, "choice", "what the same kilos would earn as other cuts")
    choice.description = f"{choice.description}\n\n--json prints:\n{choices.json_form()}"
    choice.add_argument("--from", dest="cut", metavar="CUT", help="what they are, or would be")
    choice.add_argument(
        "--to", metavar="CUT|CUT=PERCENT", action="append", required=True, type=choices.share,
        help="what they could become; several with their per cent of the kilos",
    )  # fmt: skip
    choice.add_argument("--kg", metavar="KG", type=choices.kilos, help="how many kilos")
    choice.add_argument("--piece", metavar="P", help="a weighed piece: its cut, and what is left")
    for name, text in (("minutes", "what --to takes"), ("from-minutes", "what --from takes")):
        choice.add_argument(
            f"--{name}", metavar="N", type=choices.minutes, default=choices.NO_MINUTES, help=text
        )
    choice.add_argument("--at", metavar="DATE", type=_day, help="at that day's prices (today's)")
    _json(choice)
    choice.set_defaults(run=choices.run, usage=choice.error)


def _paper_commands(commands: Commands[argparse.ArgumentParser]) -> None:
    day = _command(commands, "day", "the daily breakdown sheet")
    day.add_argument("day", metavar="DATE", type=_day)
    day.add_argument("--pdf", metavar="F", type=Path, required=True)
    _json(day)
    day.set_defaults(run=papers.day)
    week = _command(commands, "week", "the weekly cost sheet")
    week.add_argument("week", metavar="2026-W47", type=_week)
    week.add_argument("--pdf", metavar="F", type=Path)
    week.add_argument("--xlsx", metavar="F", type=Path)
    week.add_argument("--csv", metavar="DIR", type=Path)
    _json(week)
    week.set_defaults(run=papers.week, usage=week.error)
    ticketing.add_to(_command(commands, "tickets", ticketing.ABOUT))
    prints = _command(commands, "prints", "what was printed, when, by whom, at which price")
    prints.description = f"{prints.description}\n\n--json prints:\n{printing.json_form()}"
    prints.add_argument("--day", metavar="DATE", type=_day, help="only of this business day")
    prints.add_argument(
        "--cut", dest="cuts", metavar="CUT", action="append", help="only of this cut, or of several"
    )
    _json(prints)
    prints.set_defaults(run=printing.run)


def _safety_commands(commands: Commands[argparse.ArgumentParser]) -> None:
    backup = _command(commands, "backup", "the whole book in one file, while others go on working")
    backup.add_argument(
        "file", metavar="F", type=Path,
        help="the backup, which opens as a book; an earlier one of the same book gives way",
    )  # fmt: skip
    _json(backup)
    backup.set_defaults(run=safety.run_backup)
    restore = _command(commands, "restore", "put a backup in the place of the book")
    restore.add_argument(
        "file", metavar="F", type=Path,
        help="the backup, which is only read; a book that stands there is kept under a dated name",
    )  # fmt: skip
    _json(restore)
    restore.set_defaults(run=safety.run_restore)


def _trace_command(commands: Commands[argparse.ArgumentParser]) -> None:
    command = _command(commands, "trace", trace.ABOUT)
    trace.add_to(command)
    _json(command)


def _demo_command(commands: Commands[argparse.ArgumentParser]) -> None:
    command = _command(commands, "demo", "a fresh, invented shop, and the window on it")
    command.add_argument(
        "--out",
        metavar="DIR",
        type=Path,
        help="also (with no display: only) write its papers and pictures there",
    )
    command.set_defaults(run=demo.run)


def _method_named(text: str) -> Method:
    try:
        return Method(text)
    except ValueError:
        known = ", ".join(method.value for method in Method)
        message = f"{text!r} is not a method; expected one of {known}"
        raise argparse.ArgumentTypeError(message) from None


YEARS = range(1970, 2200)
"""The years in which a book may be asked about."""


def _day(text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = date.min
    if text != day.isoformat() or day.year not in YEARS:
        raise argparse.ArgumentTypeError(f"{text!r} is not a date; expected one like 2026-11-20")
    return day


def _week(text: str) -> str:
    year, _, number = text.partition("-W")
    try:
        monday = date.fromisocalendar(int(year), int(number), 1)
    except ValueError:
        monday = date.min
    name = f"{monday.isocalendar().year}-W{monday.isocalendar().week:02d}"
    if text != name or int(year) not in YEARS:
        raise argparse.ArgumentTypeError(f"{text!r} is not a week; expected one like 2026-W47")
    return text


def _percent(text: str) -> str:
    from decimal import Decimal, InvalidOperation

    try:
        sound = 0 <= Decimal(text) < 100
    except InvalidOperation:
        sound = False
    if not sound:
        raise argparse.ArgumentTypeError(f"{text!r} is not a margin; expected 0 to below 100")
    return text


def _pair(text: str) -> tuple[str, str]:
    cut, mark, value = text.partition("=")
    if not mark or not cut.strip() or not value.strip():
        raise argparse.ArgumentTypeError(f"{text!r} is not a pair; expected one like rump=26.99")
    return cut.strip(), value.strip()
