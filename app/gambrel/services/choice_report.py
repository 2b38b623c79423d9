"""``gambrel choice``: a choice as it was written, and its JSON form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from gambrel.domain.bench.choice import Choice, Made, Way, worth_per_kilo
from gambrel.domain.bench.choice_words import choice_sentence
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import day_ends
from gambrel.domain.trade.tax import TaxScale, tax_scale
from gambrel.services.bench.choices import (
    WayAsked,
    choice_between,
    piece_to_choose,
    whole_as,
)
from gambrel.services.books import Book
from gambrel.services.cost_report import decimal_text, percent_text, price_text
from gambrel.services.words import formats_for

LEAST_IN_ALL = Decimal("0.015")
"""Cuts that together are less than this share were meant as parts of one, not as per cent."""


@dataclass(frozen=True, slots=True)
class ChoiceAsked:
    """What a person asks: from one cut to others, each with per cent of the kilos or alone.

    ``grams`` and ``cut`` None are those of the piece. Without a day, prices are those of now.
    """

    to: Sequence[tuple[str, Decimal | None]]
    cut: str | None = None
    grams: int | None = None
    piece: str | None = None
    minutes: Decimal = Decimal(0)
    from_minutes: Decimal = Decimal(0)
    at: date | None = None


@dataclass(frozen=True, slots=True)
class Chosen:
    """A choice with the shop whose it is; the way is what the kilos could become."""

    shop: Shop
    choice: Choice

    @property
    def sentence(self) -> str:
        """The choice in words."""
        return choice_sentence(self.choice, formats_for(self.shop))


def choose(book: Book, asked: ChoiceAsked) -> Chosen:
    """What making other cuts of some kilos would earn against leaving them as one cut.

    Raises:
        Refusal: There is no such cut or piece, a price is missing, or a figure cannot be.
    """
    if asked.piece is None:
        with book.reading() as work:
            trade = work.trade()
        cut, grams = asked.cut, asked.grams
    else:
        trade, cut, left = piece_to_choose(book, asked.piece)
        cut = asked.cut or cut
        grams = left if asked.grams is None else asked.grams
        if grams > left:
            raise Refusal(f"Only {kg_text(left)} kg is left of piece {asked.piece}. Ask for that.")
    if cut is None or grams is None:
        raise Refusal("A choice needs a cut and its kilos, or a piece. Give --from and --kg.")
    way = WayAsked(_shares(asked.to), asked.minutes)
    now = datetime.now(UTC) if asked.at is None else day_ends(asked.at, trade.shop)
    return Chosen(
        trade.shop, choice_between(trade, grams, way, whole_as(cut, asked.from_minutes), now)
    )


def choice_json(chosen: Chosen) -> dict[str, Any]:
    """A choice as JSON values; the form is ours.

    ``currency``; ``weight_g`` is the weight; ``from`` and ``to`` have ``name``, ``minutes``,
    ``worth`` (money before tax, finishing paid, work not), ``worth_per_kg`` and ``parts`` (``cut``,
    ``share_percent``, ``price_per_kg``, ``worth_per_kg``); ``work`` is what the minutes of ``to``
    cost more; ``earns`` is what ``to`` earns more than ``from``, work paid; ``spare_minutes`` is
    how many more minutes ``to`` may take before it stops paying, ``pays_within_minutes`` how many
    in all (null where minutes cost nothing; the second also where no quickness helps);
    ``sentence`` says it.
    """
    choice, money, scale = chosen.choice, chosen.shop.currency, tax_scale(chosen.shop)
    return {
        "currency": money.code,
        "weight_g": choice.grams,
        "from": _way(choice.other, choice.other_worth, choice.other_rate, money, scale),
        "to": _way(choice.way, choice.worth, choice.rate, money, scale),
        "work": money.text(choice.work),
        "earns": money.text(choice.earns),
        "spare_minutes": decimal_text(choice.spare_minutes, 2),
        "pays_within_minutes": decimal_text(choice.pays_within, 2),
        "sentence": chosen.sentence,
    }


def _way(
    way: Way, worth: int, rate: Decimal, money: Currency, scale: TaxScale
) -> dict[str, Any]:  # fmt: skip
    return {
        "name": way.name,
        "minutes": f"{way.minutes:f}",
        "worth": money.text(worth),
        "worth_per_kg": price_text(rate, money),
        "parts": [
            {
                "cut": made.cut.key,
                "share_percent": percent_text(made.share, 2),
                "price_per_kg": None if made.price is None else money.text(made.price),
                "worth_per_kg": price_text(_rate(made, scale), money),
            }
            for made in way.parts
        ],
    }


def _rate(made: Made, scale: TaxScale) -> Decimal:
    exact = worth_per_kilo(made, scale)
    return Decimal(exact.numerator) / exact.denominator


def _shares(to: Sequence[tuple[str, Decimal | None]]) -> dict[str, Decimal]:
    """Per cent by cut as shares of one; one cut alone is all of it."""
    if len(to) == 1 and to[0][1] is None:
        return {to[0][0]: Decimal(1)}
    shares: dict[str, Decimal] = {}
    for cut, percent in to:
        if percent is None:
            raise Refusal(f"How much of the kilos becomes {cut}? Write its per cent: {cut}=80.")
        if cut in shares:
            raise Refusal(f"{cut} is named twice. Give it once, with all its per cent.")
        shares[cut] = percent / 100
    if 0 < sum(shares.values()) <= LEAST_IN_ALL:
        raise Refusal(
            "Together the cuts are hardly anything of the kilos. Write per cent: 80, not 0.8."
        )
    return shares
