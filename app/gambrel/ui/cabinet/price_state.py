"""What the panels of one cut say: its price, and its special. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from gambrel.domain.costing.methods import Method
from gambrel.domain.prices.cabinet import Basket, Cabinet, CabinetLine
from gambrel.domain.prices.dropping import Dropped
from gambrel.domain.prices.effects import Change, Effect, effect_of, price_doubt, price_fault
from gambrel.domain.prices.special_days import days_told, last_day
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import DASH, Formats, near_day

NO_BREAK = "\N{NO-BREAK SPACE}"

ARROW = "\N{RIGHTWARDS ARROW}"

LOSS_BY_WEIGHT = (
    "By weight this cut shows a loss; dropping it would raise the cost of all the others."
)
"""A cut that fails by weight may still pay its way: the joint cost stays when it is dropped.
Source: the joint-cost chapter of any cost-accounting textbook."""


@dataclass(frozen=True, slots=True)
class EffectText:
    """What a price does to one margin: ``38.2 % → 41.0 %``, and below it points and money."""

    margin: str
    more: str = ""


NO_EFFECT = EffectText(DASH)


@dataclass(frozen=True, slots=True)
class PriceState:
    """The price panel for one cut.

    ``fault`` says why what is typed cannot be a price, ``doubt`` why it is probably a slip,
    ``warning`` what to know about a loss. ``special`` tells of a special, ``ends`` names the act
    that takes it away.
    """

    name: str
    facts: str
    special: str
    ends: str
    typed: str
    this_cut: EffectText
    body_name: str
    body: EffectText
    week: EffectText
    norm: str
    fault: str
    doubt: str
    warning: str
    history: str
    set_text: str
    can_set: bool


def price_state(
    cabinet: Cabinet,
    line: CabinetLine,
    typed: int | None,
    body: Basket | None,
    formats: Formats,
    dropped: Dropped | None = None,
) -> PriceState:
    """What the panel says about a cut while a price (minor units, or none) is typed.

    Args:
        cabinet: As it stands.
        line: The cut's.
        typed: Minor units per kilogram.
        body: One that the cut came off, if any did.
        formats: How the shop writes.
        dropped: What dropping the cut would do, where that was worked out.
    """
    fault = "" if typed is None else price_fault(line.cut.name, typed)
    price = line.price if typed is None or fault else typed
    beside = body.key if body else ""
    effect = None if price is None else effect_of(cabinet, line.cut.key, price, beside)
    special = line.special
    regular = special.returns if special and line.on_special(cabinet.at) else line.price
    return PriceState(
        name=line.cut.name,
        facts=_facts(line, formats),
        special=special_words(cabinet, line, formats),
        ends=_ends(cabinet, line),
        typed=formats.money(line.price if typed is None else typed),
        this_cut=effect_text(effect.cut, formats, " a kilo") if effect else NO_EFFECT,
        body_name=f"of {body.title}" if body else "",
        body=effect_text(effect.body, formats) if effect and body else NO_EFFECT,
        week=effect_text(effect.week, formats) if effect else NO_EFFECT,
        norm=_norm(cabinet, line, formats),
        fault=fault,
        doubt="" if typed is None or fault else price_doubt(line, typed, formats),
        warning=loss_words(cabinet, line, effect, formats, dropped),
        history=_history(cabinet, line, formats),
        set_text="Set regular" if line.on_special(cabinet.at) else "Set price",
        can_set=typed is not None and typed != regular and not fault,
    )


def _facts(line: CabinetLine, formats: Formats) -> str:
    facts = f"Cost {formats.per_kilo(line.cost)} · today {formats.money(line.price)}"
    if line.mark_up is not None:
        facts += f" · mark-up {formats.percent(line.mark_up, 0)}"
    return facts


def effect_text(change: Change, formats: Formats, per: str = "") -> EffectText:
    """A change in words; ``per`` says of what the money is."""
    before, after = formats.percent(change.before), formats.percent(change.after)
    if not change.money and before == after:
        return EffectText(after)
    money = f"{formats.money(change.money, signed=True)}{per}"
    if change.points is None:
        return EffectText(after, money)
    return EffectText(f"{before} {ARROW} {after}", f"{formats.points(change.points)} · {money}")


def special_words(cabinet: Cabinet, line: CabinetLine, formats: Formats) -> str:
    """A special that runs or is to come, in a sentence; empty where there is none."""
    special, shop = line.special, cabinet.shop
    if special is None:
        return ""
    price, last = formats.money(special.price), last_day(special, shop)
    if special.since > cabinet.at:
        return f"On special {days_told(special, shop)} at {price}."
    if last is None:
        return f"On special at {price}, with no end set."
    back, day = formats.money(special.returns), near_day(last + timedelta(days=1))
    return (
        f"On special until {near_day(last)}, from {day} {back} again. A regular price that is set "
        "now holds from then on."
    )


def _ends(cabinet: Cabinet, line: CabinetLine) -> str:
    if line.special is None:
        return ""
    return "End it now" if line.on_special(cabinet.at) else "Call it off"


def loss_words(
    cabinet: Cabinet,
    line: CabinetLine,
    effect: Effect | None,
    formats: Formats,
    dropped: Dropped | None,
) -> str:
    """What to know before somebody acts on a loss; empty where there is none."""
    after = effect.cut.after if effect else None
    if after is None or after >= 0:
        return ""
    alone = dropped is not None and not dropped.others
    if cabinet.method is not Method.WEIGHT:
        first = f"At this price {line.cut.name} sells below what it costs."
    else:
        first = "By weight this cut shows a loss." if alone else LOSS_BY_WEIGHT
    return first if dropped is None else f"{first} {_dropped(dropped, formats)}"


def _dropped(said: Dropped, formats: Formats) -> str:
    worse = formats.money(abs(said.worse))
    if not said.takings:
        return ""
    if said.worse <= 0:
        return (
            f"In four weeks it brought in {formats.money(said.takings)} at today's price, less "
            f"than its own finishing: without it the shop would be {worse} better off."
        )
    told = f"Without it the shop would have earned {worse} less in four weeks"
    if not said.others:
        return f"{told}."
    most = said.others[0]
    told += (
        f", and the others would carry {formats.money(said.share)} more: {most.cut.name} "
        f"{formats.per_kilo(most.before)} {ARROW} {formats.per_kilo(most.after)} a kilo."
    )
    turned = [load.cut.name for load in said.others if load.turns]
    return f"{told} Then {', '.join(turned[:2])} would show a loss." if turned else told


def _norm(cabinet: Cabinet, line: CabinetLine, formats: Formats) -> str:
    aim = f"the shop aims at {formats.percent(cabinet.target)}."
    if line.month_margin is None:
        return aim.capitalize()
    return f"In four weeks it earned {formats.percent(line.month_margin)}; {aim}"


def _history(cabinet: Cabinet, line: CabinetLine, formats: Formats) -> str:
    """The last prices, the newest first."""
    shown = []
    for since, price in reversed(line.history[-4:]):
        day = "at first" if since is None else _day(cabinet, since, formats)
        shown.append(f"{formats.money(price)} {day}".replace(" ", NO_BREAK))
    return f"Price so far: {' · '.join(shown)}" if shown else ""


def _day(cabinet: Cabinet, since: datetime, formats: Formats) -> str:
    return f"since {formats.short_day(business_day(since, cabinet.shop))}"
