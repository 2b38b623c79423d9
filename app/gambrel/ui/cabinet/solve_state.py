"""What the panels of a whole set of prices say: the proposal, and one cut's bounds. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.cabinet import Cabinet
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.laying_out import SPECIES
from gambrel.domain.prices.limits import Limit, SolveRules
from gambrel.domain.prices.pricing import Hold
from gambrel.domain.prices.proposal import PriceProposal, ProposedPrice
from gambrel.domain.prices.purchase import Purchase
from gambrel.domain.trade.formats import Formats
from gambrel.ui.cabinet.price_state import ARROW

BODY, SPECIES_KIND, WEEK = "body", "species", "week"
KINDS = {BODY: "Body", SPECIES_KIND: "Species", WEEK: "Week"}
"""What can have to earn a margin, by name."""


@dataclass(frozen=True, slots=True)
class ProposedRow:
    """One cut of a proposal; ``taken`` where it is among those that shall be taken.

    ``caption`` says what the change does, or what holds the price.
    """

    key: str
    name: str
    prices: str
    caption: str
    held: bool
    changes: bool
    taken: bool


@dataclass(frozen=True, slots=True)
class SolveState:
    """A proposal beside today's. ``doubt`` says why the target is not met, if it is not."""

    summary: str
    rows: tuple[ProposedRow, ...]
    doubt: str
    changes: int


NOTHING_SOLVED = SolveState("", (), "", 0)


def kind_of(key: str) -> str:
    """Which kind of basket a key names."""
    if not key:
        return WEEK
    return SPECIES_KIND if key.startswith(SPECIES) else BODY


def solve_state(
    cabinet: Cabinet,
    proposal: PriceProposal,
    rules: SolveRules,
    left: Collection[str],
    formats: Formats,
) -> SolveState:
    """Describe a proposal; cuts that are ``left`` keep today's price."""
    rows = tuple(_proposed(cabinet, line, rules, left, formats) for line in proposal.lines)
    taken = {row.key for row in rows if row.taken}
    every = {row.key for row in rows if row.changes}
    before = formats.percent(proposal.margin_today)
    after = formats.percent(proposal.margin_with(taken))
    more = formats.money(proposal.takings_with(taken) - proposal.takings_today, signed=True)
    summary = f"{before} {ARROW} {after}  ·  takings {more}"
    if taken != every:
        summary += f"\nAll of it: {formats.percent(proposal.margin)}"
    return SolveState(summary, rows, _shortfall(cabinet, proposal, formats), len(taken))


def _proposed(
    cabinet: Cabinet,
    line: ProposedPrice,
    rules: SolveRules,
    left: Collection[str],
    formats: Formats,
) -> ProposedRow:
    shown = cabinet.line(line.cut)
    name = shown.cut.name if shown else line.cut
    changes = line.price != line.today
    taken = changes and line.cut not in left
    today, price = formats.money(line.today), formats.money(line.price)
    prices = f"{today} {ARROW} {price}" if changes else today
    special = shown is not None and shown.on_special(cabinet.at)
    limit = rules.limit(line.cut)
    held = special or limit.held
    return ProposedRow(
        line.cut, name, prices, _caption(line, limit, special=special, formats=formats),
        held, changes, taken,
    )  # fmt: skip


def _caption(line: ProposedPrice, limit: Limit, *, special: bool, formats: Formats) -> str:
    if special:
        return "on special: held"
    if limit.held:
        return "held at today's price"
    words = []
    if line.price != line.today:
        words.append(f"{formats.money(line.effect, signed=True)} takings")
    else:
        words.append("as today")
    if line.hold in (Hold.FLOOR, Hold.CEILING):
        words.append(f"at its {line.hold.value}")
    if limit.sold != 1:
        words.append(f"{formats.percent(limit.sold, 0)} sold")
    return " · ".join(words)


def _shortfall(cabinet: Cabinet, proposal: PriceProposal, formats: Formats) -> str:
    if not proposal.shortfall:
        return ""
    if proposal.shortfall < 0:
        return f"The prices that are held bring in {formats.money(-proposal.shortfall)} more."
    names = [line.cut.name for line in map(cabinet.line, proposal.holding) if line]
    holding = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
    held = f"{holding or 'all'} held"
    return (
        f"{formats.money(proposal.shortfall)} is missing: {held}. Free some cuts, or buy "
        f"for {formats.money(proposal.affordable_cost)} instead of {formats.money(proposal.cost)}."
    )


def purchase_words(purchase: Purchase | None, formats: Formats) -> str:
    """What to pay for the target to be met at the prices that are held."""
    if purchase is None:
        return "No purchase price would do it: the work alone costs more."
    price, today = formats.per_kilo(purchase.price), formats.per_kilo(purchase.today)
    return f"Bought at {price} a kilo instead of {today} it would be met."


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


FLOOR, CEILING, SOLD = "floor", "ceiling", "sold"


@dataclass(frozen=True, slots=True)
class LimitState:
    """The panel of one cut's bounds: what stands in its fields, and what is wrong with it."""

    name: str
    facts: str
    held: bool
    fields: dict[str, str]
    fault: str
    can_keep: bool


def limit_texts(limit: Limit, currency: Currency) -> dict[str, str]:
    """What a keypad would have typed for a cut's bounds."""
    sold = 100 * limit.sold
    return {
        FLOOR: "" if limit.floor is None else currency.text(limit.floor),
        CEILING: "" if limit.ceiling is None else currency.text(limit.ceiling),
        SOLD: "" if sold == 100 else f"{sold.normalize():f}",
    }


def typed_limit(texts: dict[str, str], currency: Currency, *, held: bool) -> Limit:
    """The bounds out of what was typed; an empty field means no bound, or all sold.

    Raises:
        ValueError: A number that cannot be, in a sentence's words.
    """
    plain = {name: text.rstrip(".") for name, text in texts.items()}
    return Limit(
        held=held,
        floor=currency.parse(plain[FLOOR]) if plain[FLOOR] else None,
        ceiling=currency.parse(plain[CEILING]) if plain[CEILING] else None,
        sold=Decimal(plain[SOLD]) / 100 if plain[SOLD] else Decimal(1),
    )


def limit_state(
    cabinet: Cabinet, cut: str, texts: dict[str, str], kept: Limit, formats: Formats, *, held: bool
) -> LimitState:
    """What the panel says while bounds are typed."""
    line = cabinet.line(cut)
    name = line.cut.name if line else cut
    price, cost = (line.price, line.cost) if line else (None, None)
    facts = f"Today {formats.money(price)} · cost {formats.per_kilo(cost)}"
    try:
        limit = typed_limit(texts, formats.currency, held=held)
        fault = limit.fault(name, formats)
    except ValueError as error:
        limit, fault = kept, f"{str(error)[:1].upper()}{str(error)[1:]}."
    return LimitState(name, facts, held, texts, fault, not fault and limit != kept)
