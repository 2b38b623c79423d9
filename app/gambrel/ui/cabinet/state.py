"""What the Cabinet shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from gambrel.domain.costing.methods import Method
from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.cabinet import Basket, Cabinet, CabinetLine, LineState
from gambrel.domain.prices.effects import Change, Effect, effect_of
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.proposal import PriceProposal, ProposedPrice
from gambrel.domain.trade.clock import business_day, week_of
from gambrel.domain.trade.formats import DASH, Formats

ALL = "all"
"""The filter that lets every line pass; others are a species or a state's word."""

NO_BREAK = "\N{NO-BREAK SPACE}"

ARROW = "\N{RIGHTWARDS ARROW}"

LOSS_BY_WEIGHT = (
    "By weight this cut shows a loss; dropping it would raise the cost of all the others."
)
"""A cut that fails by weight may still pay its way: the joint cost stays when it is dropped.
Source: the joint-cost chapter of any cost-accounting textbook."""

MEANINGS = {
    LineState.BELOW_COST: "stop",
    LineState.THIN: "watch",
    LineState.FINE: "fine",
    LineState.NO_PRICE: "info",
    LineState.NOT_CUT: "info",
}
"""The theme's meaning of each state."""


@dataclass(frozen=True, slots=True)
class RowState:
    """One line of the table. ``words`` tells all of it to who hears instead of sees.

    ``history`` are the prices so far; a price that never changed stands twice, as a level line.
    """

    key: str
    name: str
    kilos: str
    cost: str
    price: str
    margin: str
    word: str
    meaning: str
    history: tuple[int, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Chip:
    """One filter: what it lets pass, and what stands on it."""

    key: str
    text: str


def rows_of(
    cabinet: Cabinet, formats: Formats, wanted: str = ALL, search: str = ""
) -> tuple[RowState, ...]:  # fmt: skip
    """The lines that pass a filter and a search, in the catalogue's order."""
    sought = search.casefold().strip()
    return tuple(
        _row(line, formats)
        for line in cabinet.lines
        if wanted in (ALL, line.cut.species, line.state.value)
        and (sought in line.cut.name.casefold() or sought == line.cut.plu)
    )


def _row(line: CabinetLine, formats: Formats) -> RowState:
    kilos = formats.kg(line.grams, 2) if line.grams else DASH
    cost, price = formats.per_kilo(line.cost), formats.money(line.price)
    share = formats.percent(line.margin)
    prices = tuple(price for _since, price in line.history)
    return RowState(
        key=line.cut.key,
        name=line.cut.name,
        kilos=kilos,
        cost=cost,
        price=price,
        margin=share,
        word=line.state.value,
        meaning=MEANINGS[line.state],
        history=prices if len(prices) > 1 else prices * 2,
        words=f"{line.cut.name}: cost {cost}, price {price} a kilo, margin {share}, "
        f"{line.state.value}, {kilos} kg in four weeks",
    )


def chips_of(cabinet: Cabinet) -> tuple[Chip, ...]:
    """Filters that would show something: all, each species, each state that wants a look."""
    species = dict.fromkeys(line.cut.species for line in cabinet.lines)
    chips = [Chip(ALL, "All"), *(Chip(kind, kind.capitalize()) for kind in species if kind)]
    for state in (LineState.BELOW_COST, LineState.THIN, LineState.NO_PRICE):
        count = sum(line.state is state for line in cabinet.lines)
        if count:
            chips.append(Chip(state.value, f"{state.value.capitalize()} {count}"))
    return tuple(chips)


def footer_of(cabinet: Cabinet) -> str:
    """What the figures are of."""
    how = "weight" if cabinet.method is Method.WEIGHT else "value"
    open_words = {0: "", 1: " Work that is still open is left out."}
    left = open_words.get(cabinet.left_out, f" {cabinet.left_out} open pieces of work left out.")
    return cabinet.note or f"Cost of the last four weeks, shared by {how}.{left}"


@dataclass(frozen=True, slots=True)
class PriceState:
    """The price panel for one cut. The three effects are pairs of what is and what would be."""

    name: str
    facts: str
    typed: str
    this_cut: str
    body_name: str
    body: str
    week: str
    norm: str
    warning: str
    history: str
    can_set: bool


def price_state(
    cabinet: Cabinet, line: CabinetLine, typed: int | None, body: Basket | None, formats: Formats
) -> PriceState:
    """What the panel says about a cut while a price (minor units, or none) is typed.

    ``body`` is one that the cut came off, if any did.
    """
    price = typed if typed is not None else line.price
    beside = body.key if body else ""
    effect = None if price is None else effect_of(cabinet, line.cut.key, price, beside)
    facts = f"Cost {formats.per_kilo(line.cost)} · today {formats.money(line.price)}"
    if line.mark_up is not None:
        facts += f" · mark-up {formats.percent(line.mark_up, 0)}"
    return PriceState(
        name=line.cut.name,
        facts=facts,
        typed=formats.money(price),
        this_cut=_change(effect.cut, formats) if effect else DASH,
        body_name=f"of {body.title}" if body else "",
        body=_change(effect.body, formats) if effect else DASH,
        week=_change(effect.week, formats) if effect else DASH,
        norm=_norm(cabinet, line, formats),
        warning=_warning(cabinet, line, effect),
        history=_history(cabinet, line, formats),
        can_set=typed is not None and typed != line.price,
    )


def _change(change: Change, formats: Formats) -> str:
    before, after = formats.percent(change.before), formats.percent(change.after)
    return after if before == after else f"{before} {ARROW} {after}"


def _warning(cabinet: Cabinet, line: CabinetLine, effect: Effect | None) -> str:
    after = effect.cut.after if effect else None
    if after is None or after >= 0:
        return ""
    if cabinet.method is Method.WEIGHT:
        return LOSS_BY_WEIGHT
    return f"At this price {line.cut.name} sells below what it costs."


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
    return f"Price so far: {' · '.join(shown)}"


def _day(cabinet: Cabinet, since: datetime, formats: Formats) -> str:
    return f"since {formats.short_day(business_day(since, cabinet.shop))}"


def bodies_with(cabinet: Cabinet, cut: str) -> list[Basket]:
    """The bodies that a cut came off, the last one broken first."""
    return [body for body in cabinet.bodies if any(line.cut.key == cut for line in body.lines)]


@dataclass(frozen=True, slots=True)
class ProposedRow:
    """One cut of a proposal; ``held`` at today's price by the person's wish."""

    key: str
    name: str
    caption: str
    held: bool


@dataclass(frozen=True, slots=True)
class SolveState:
    """A proposal beside today's. ``doubt`` says why the target is not met, if it is not."""

    summary: str
    rows: tuple[ProposedRow, ...]
    doubt: str
    changes: int


def solve_state(
    cabinet: Cabinet, proposal: PriceProposal, held: frozenset[str], formats: Formats
) -> SolveState:
    """Describe a proposal."""
    names = {line.cut.key: line.cut.name for line in cabinet.lines}
    rows = tuple(_proposed(line, names, held, formats) for line in proposal.lines)
    before, after = formats.percent(proposal.margin_today), formats.percent(proposal.margin)
    gain = formats.money(proposal.takings - proposal.takings_today, signed=True)
    return SolveState(
        summary=f"{before} {ARROW} {after}  ·  takings {gain}",
        rows=rows,
        doubt=_shortfall(proposal, names, formats),
        changes=sum(line.price != line.today for line in proposal.lines),
    )


def _proposed(
    line: ProposedPrice, names: dict[str, str], held: frozenset[str], formats: Formats
) -> ProposedRow:
    today, price = formats.money(line.today), formats.money(line.price)
    change = formats.money(line.price - line.today, signed=True)
    if line.cut in held:
        caption = f"{today}  ·  held at today's price"
    elif line.price == line.today:
        caption = f"{today}  ·  as today"
    else:
        caption = f"{today} {ARROW} {price}  ({change})"
    return ProposedRow(line.cut, names.get(line.cut, line.cut), caption, line.cut in held)


def _shortfall(proposal: PriceProposal, names: dict[str, str], formats: Formats) -> str:
    if not proposal.shortfall:
        return ""
    holding = ", ".join(names.get(cut, cut) for cut in proposal.holding[:3])
    if proposal.shortfall < 0:
        return f"The prices that are held bring in {formats.money(-proposal.shortfall)} more."
    return (
        f"{formats.money(proposal.shortfall)} is missing: {holding} held. Free some cuts, or buy "
        f"for {formats.money(proposal.affordable_cost)} instead of {formats.money(proposal.cost)}."
    )


def endings_of(currency: Currency) -> tuple[tuple[str, Endings], ...]:
    """The ways of writing prices that are offered, by name."""
    free = ("Any price", Endings())
    if currency.digits != 2:
        unit = 10 ** max(currency.digits, 1)
        return free, ("Ends in 0", Endings(unit, (0,)))
    return (
        ("Ends in .99", Endings(100, (99,))),
        ("Ends in .49, .99", Endings(100, (49, 99))),
        ("Ends in .50, .00", Endings(50, (0,))),
        ("Ends in 5, 0", Endings(5, (0,))),
        free,
    )


def changed_this_week(cabinet: Cabinet) -> frozenset[str]:
    """Cuts whose price has changed since the trade week began: their tickets are old."""
    week = week_of(business_day(cabinet.at, cabinet.shop), cabinet.shop)
    return frozenset(
        line.cut.key
        for line in cabinet.lines
        for since, _price in line.history
        if since is not None
        and since <= cabinet.at
        and week.holds(business_day(since, cabinet.shop))
    )


def tickets_said(count: int, name: str, cut_short: tuple[str, ...]) -> tuple[str, str]:
    """What to say when tickets are saved, and the theme's meaning of it."""
    tickets = "1 ticket is" if count == 1 else f"{count} tickets are"
    said = f"{tickets} saved in {name}."
    if not cut_short:
        return said, "fine"
    words = ", ".join(dict.fromkeys(cut_short))
    return f"{said} Too long for this paper and cut short: {words}. Choose a larger one.", "watch"
