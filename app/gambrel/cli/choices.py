"""``gambrel choice``."""

from __future__ import annotations

import inspect
import re
from argparse import ArgumentTypeError, Namespace
from decimal import Decimal

from gambrel.cli import output
from gambrel.cli.opening import open_existing
from gambrel.domain.numbers.mass import kg_text, parse_kg
from gambrel.services.choice_report import ChoiceAsked, Chosen, choice_json, choose

NO_MINUTES = Decimal(0)

_NUMBER = re.compile(r"\d{1,6}(?:\.\d{1,4})?", re.ASCII)


def json_form() -> str:
    """What ``--json`` prints, in words."""
    return inspect.cleandoc(choice_json.__doc__ or "")


def kilos(text: str) -> int:
    """Kilograms of an argument, as grams."""
    try:
        return parse_kg(text)
    except ValueError as error:
        raise ArgumentTypeError(str(error)) from None


def minutes(text: str) -> Decimal:
    """Minutes of an argument."""
    if _NUMBER.fullmatch(text) is None:
        raise ArgumentTypeError(f"{text!r} is not minutes of work; expected zero or more, like 2.5")
    return Decimal(text)


def share(text: str) -> tuple[str, Decimal | None]:
    """A cut of an argument, alone or with its per cent."""
    cut, mark, percent = (part.strip() for part in text.partition("="))
    if not cut or (mark and _NUMBER.fullmatch(percent) is None):
        raise ArgumentTypeError(f"{text!r} is not a cut; expected one like mince or steaks=80")
    return cut, Decimal(percent) if mark else None


def run(options: Namespace) -> int:
    """Print what the kilos would earn as other cuts; nothing is changed."""
    if options.piece is None and (options.cut is None or options.kg is None):
        options.usage("a choice needs --from and --kg, or --piece")
    asked = ChoiceAsked(
        options.to,
        options.cut,
        options.kg,
        options.piece,
        options.minutes,
        options.from_minutes,
        options.at,
    )
    with open_existing(options) as book:
        chosen = choose(book, asked)
    if options.json:
        output.as_json(choice_json(chosen))
    else:
        _print(chosen)
    return 0


def _print(chosen: Chosen) -> None:
    told = choice_json(chosen)
    output.say(chosen.sentence)
    output.table(
        f"{kg_text(chosen.choice.grams)} kg, {told['currency']}, before tax and work",
        ("", "cut<", "per cent", "price per kg", "worth per kg"),
        [
            (side, part["cut"], part["share_percent"], part["price_per_kg"], part["worth_per_kg"])
            for side in ("from", "to")
            for part in told[side]["parts"]
        ],
    )
