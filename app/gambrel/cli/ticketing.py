"""``gambrel tickets``: shelf tickets of cuts, and tray labels of pieces."""

from __future__ import annotations

import argparse
from argparse import ArgumentParser, Namespace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from gambrel.cli import output
from gambrel.cli.opening import open_existing
from gambrel.cli.papers import write
from gambrel.domain.numbers.mass import parse_kg
from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Refusal

if TYPE_CHECKING:
    from gambrel.domain.prices.labels import TrayLabel, Wish
    from gambrel.domain.prices.tickets import Ticket

ABOUT = "shelf tickets and tray labels"

_MORE = """\
With --pieces tray labels are made: all that is left of a piece, or the trays into which it was
split, in kilograms (P-12=0.520+0.480). Their paper is a label by width and height in millimetres
(label-58x40 or 58x40mm) or a sheet such as a4-24. A weight that goods are sold by comes from an
instrument that is verified for trade.
"""


def add_to(command: ArgumentParser) -> None:
    """Say what may be written after ``gambrel tickets``."""
    command.description = f"{ABOUT}\n\n{_MORE}"
    what = command.add_mutually_exclusive_group()
    what.add_argument("--cuts", metavar="a,b", type=_names, help="these cuts (all with a price)")
    what.add_argument(
        "--pieces", metavar="P-1,P-2=kg+kg", type=_pieces, help="tray labels of these"
    )
    command.add_argument("--paper", metavar="NAME", required=True)
    command.add_argument("--pdf", metavar="F", type=Path, required=True)
    command.add_argument(
        "--start", metavar="N", type=_place, default=1, help="first place of a sheet (1)"
    )
    command.add_argument(
        "--shift", metavar="X,Y", type=_shift, default=(0.0, 0.0),
        help="millimetres to the right and down, for a printer that is off (--shift=-1,0.5)",
    )  # fmt: skip
    command.add_argument("--logo", metavar="F", type=Path, help="tickets: a PNG or JPEG picture")
    command.add_argument("--per", choices=("100g", "lb"), help="tickets: a second price")
    command.add_argument("--no-barcode", action="store_true", help="tickets: no in-store number")
    command.add_argument(
        "--code", choices=("price", "weight", "gs1", "qr", "none"),
        help="labels: what the code carries (price)",
    )  # fmt: skip
    command.add_argument(
        "--dpi", type=int, choices=(203, 300), help="labels: the printer's dots (203)"
    )
    command.add_argument("--json", action="store_true", help="print JSON: what the paper says")
    command.set_defaults(run=run, usage=command.error)


def run(options: Namespace) -> int:
    """Write tickets or labels at today's prices, and say what had to be cut short."""
    ours, others = ("--pieces", _OF_TICKETS) if options.pieces else ("--cuts", _OF_LABELS)
    strange = [f"--{name.replace('_', '-')}" for name in others if getattr(options, name)]
    if strange:
        options.usage(f"{' and '.join(strange)} cannot go with {ours}")
    return _labels(options) if options.pieces else _tickets(options)


_OF_TICKETS = ("logo", "per", "no_barcode")
_OF_LABELS = ("code", "dpi")


def _tickets(options: Namespace) -> int:
    from gambrel.services.tickets import Per, Placing, TicketPrint, print_tickets

    how = TicketPrint(
        per=Per(options.per) if options.per else None,
        barcode=not options.no_barcode,
        logo=_read(options.logo) if options.logo else None,
        placing=Placing(options.start, *options.shift),
    )
    with open_existing(options) as book:
        made = print_tickets(book, options.cuts, options.paper, datetime.now(UTC), how)
    write([(options.pdf, made.pdf)])
    items = [_ticket(each, made.currency) for each in made.tickets]
    return _say(options, {"tickets": items}, made.cut_short, made.pages)


def _labels(options: Namespace) -> int:
    from gambrel.reports.papers import Placing
    from gambrel.services.labels import VERIFIED, LabelPrint, TrayCode, print_labels

    how = LabelPrint(
        code=TrayCode(options.code or "price"),
        dpi=options.dpi or 203,
        placing=Placing(options.start, *options.shift),
    )
    with open_existing(options) as book:
        made = print_labels(book, options.pieces, options.paper, datetime.now(UTC), how)
    write([(options.pdf, made.pdf)])
    output.notes([VERIFIED.removesuffix(".")])
    items = [_label(each, made.currency) for each in made.labels]
    return _say(options, {"labels": items}, made.cut_short, made.pages)


def _say(options: Namespace, items: dict[str, Any], cut_short: tuple[str, ...], pages: int) -> int:
    output.notes(
        f"“{words}” is too long for {options.paper} and was cut short" for words in cut_short
    )
    if options.json:
        written = [str(options.pdf)]
        output.as_json({"written": written, "pages": pages, "cut_short": list(cut_short), **items})
        return 0
    ((kind, made),) = items.items()
    output.say(f"Wrote {options.pdf}: {_count(len(made), kind)} on {_count(pages, 'pages')}.")
    return 0


def _count(number: int, many: str) -> str:
    return f"{number} {many if number != 1 else many.removesuffix('s')}"


def _ticket(ticket: Ticket, currency: Currency) -> dict[str, Any]:
    was, second = ticket.was, ticket.unit_price
    return {
        "cut": ticket.cut,
        "name": ticket.name,
        "price_per_kg": currency.text(ticket.price),
        "unit_price": str(second.amount.scaleb(-currency.digits)) if second else None,
        "per": second.per.value if second else None,
        "special": was is not None,
        "was": currency.text(was.price) if was and was.price is not None else None,
        "until": was.last_day.isoformat() if was and was.last_day else None,
        "supplier": ticket.supplier or None,
        "origin": list(ticket.origin),
        "cautions": list(ticket.cautions),
        "number": ticket.number or None,
    }


def _label(label: TrayLabel, currency: Currency) -> dict[str, Any]:
    from gambrel.domain.prices.elements import as_text

    return {
        "piece": label.piece,
        "cut": label.cut,
        "name": label.name,
        "net_g": label.grams,
        "price_per_kg": currency.text(label.per_kilo),
        "price": currency.text(label.price),
        "packed_on": label.packed_on.isoformat(),
        "use_by": label.use_by.isoformat(),
        "lot": label.lot,
        "origin": list(label.origin),
        "ingredients": "".join(words for words, _ in label.ingredients) or None,
        "storage": label.storage,
        "cooking": label.cooking or None,
        "number": label.number or None,
        "elements": as_text(label.elements) or None,
    }


def _read(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        why = error.strerror or str(error)
        raise Refusal(f"The logo {path} cannot be read ({why}). Choose another file.") from error


def _names(text: str) -> list[str]:
    names = [name.strip() for name in text.split(",") if name.strip()]
    if not names:
        raise argparse.ArgumentTypeError("no cut is named; expected some like rump,shin")
    return list(dict.fromkeys(names))


def _pieces(text: str) -> list[Wish]:
    from gambrel.domain.prices.labels import Wish

    wishes = []
    for part in filter(None, (part.strip() for part in text.split(","))):
        piece, mark, trays = part.partition("=")
        try:
            grams = tuple(parse_kg(kg) for kg in trays.split("+")) if mark else ()
        except ValueError as error:
            raise argparse.ArgumentTypeError(f"{part!r}: {error}") from None
        wishes.append(Wish(piece.strip(), grams))
    if not wishes:
        raise argparse.ArgumentTypeError("no piece is named; expected some like P-1,P-2=0.52+0.48")
    return wishes


def _place(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 4 and int(text)):
        raise argparse.ArgumentTypeError(f"{text!r} is no place of a sheet; expected 1 or more")
    return int(text)


def _shift(text: str) -> tuple[float, float]:
    parts = text.split(",")
    try:
        right, down = (float(part) for part in parts)
    except ValueError:
        right = down = float("nan")
    if not (abs(right) < 1000 and abs(down) < 1000):
        raise argparse.ArgumentTypeError(
            f"{text!r} is no shift; expected millimetres like 1.5,-0.5"
        )
    return right, down
