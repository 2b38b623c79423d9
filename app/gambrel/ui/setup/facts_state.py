"""What the Shop section shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from enum import Enum, auto
from typing import Final

from gambrel.services.currencies import find_currency
from gambrel.services.folder.shop_file import WEEKDAYS
from gambrel.services.shop_facts import TITLES, Values
from gambrel.ui.setup.rows_state import RowState
from gambrel.ui.widgets.choice import Choice

NOT_GIVEN = "not given yet"
FIXED = "stays, amounts are in it"
PAST = "Past weeks too"
"""Marks a fact that has no history: its change is a change of what was shown before."""

STEP = timedelta(minutes=30)
OFFERS = 3
YES, NO = "yes", "no"


class Way(Enum):
    """How a fact is typed."""

    TEXT = auto()
    NUMBER = auto()
    CLOCK = auto()
    CHOICE = auto()


@dataclass(frozen=True, slots=True)
class Fact:
    """How a fact is typed, what it is used for, and what its change does to what was shown."""

    way: Way
    used: str
    after: str = ""
    unit: str = ""


FACTS: Final[Mapping[str, Fact]] = {
    "name": Fact(Way.TEXT, "Stands above every screen and on papers."),
    "currency": Fact(
        Way.TEXT, "All amounts are in it. It stays as soon as the book holds one of them."
    ),
    "time_zone": Fact(
        Way.TEXT,
        "Says which day a moment belongs to.",
        "Past moments may then belong to other days.",
    ),
    "day_starts": Fact(
        Way.CLOCK,
        "What is done earlier counts to the day before.",
        "Sheets of past days may change.",
    ),
    "week_starts": Fact(
        Way.CHOICE, "The first day of every week.", "Past weeks are put together anew."
    ),
    "work_per_hour": Fact(
        Way.NUMBER,
        "Costs every minute of work.",
        "Past work too: the sheets of past weeks show other costs.",
    ),
    "tax_percent": Fact(
        Way.NUMBER,
        "Is taken out of prices that include it.",
        "Margins of past weeks are worked out anew.",
        "%",
    ),
    "prices_include_tax": Fact(
        Way.CHOICE,
        "Says how every price is read.",
        "Past prices too: they stay as they are written, their margins do not.",
    ),
    "target_margin_percent": Fact(
        Way.NUMBER,
        "The Cabinet and the sheets compare every margin with it.",
        "The sheets of past weeks too.",
        "%",
    ),
}
"""By their names in ``shop.toml``. What is said of the past is so because there is one value of
each fact and no history (see `gambrel.services.shop_facts`)."""


@dataclass(frozen=True, slots=True)
class Draft:
    """The fact that is chosen, what was typed for it (None: nothing), and why it was refused."""

    chosen: str = "name"
    typed: str | None = None
    refusal: str = ""

    def choose(self, name: str) -> Draft:
        """Another fact, nothing typed yet."""
        return self if name == self.chosen else Draft(name)

    def type(self, text: str) -> Draft:
        """The same fact with another text."""
        return self if text == self.typed else replace(self, typed=text, refusal="")

    @property
    def value(self) -> str | bool:
        """What was typed, as a value of the file."""
        text = (self.typed or "").strip()
        if self.chosen == "prices_include_tax":
            return text == YES
        if self.chosen == "currency":
            return text.upper()
        return text.rstrip(".") if FACTS[self.chosen].way is Way.NUMBER else text


@dataclass(frozen=True, slots=True)
class FactSide:
    """The chosen fact and how it is typed."""

    name: str
    title: str
    used: str
    past: str
    way: Way
    value: str
    unit: str
    typed: str
    decimals: int
    choices: tuple[Choice, ...]
    refusal: str
    can_keep: bool


@dataclass(frozen=True, slots=True)
class FactsState:
    """All of the section."""

    rows: tuple[RowState, ...]
    side: FactSide


def describe(
    values: Values,
    draft: Draft,
    offers: Sequence[Choice] = (),
    *,
    fixed_currency: bool = False,
    new: bool = False,
) -> FactsState:
    """The section's texts.

    Args:
        values: The facts that are known, by their names.
        draft: What is chosen and typed.
        offers: What may be meant by the text that is typed.
        fixed_currency: Whether the currency stays.
        new: Whether this is a shop that has no past yet.
    """
    fixed = {"currency"} if fixed_currency else set()
    rows = tuple(
        _row(name, values, chosen=name == draft.chosen, fixed=name in fixed) for name in FACTS
    )
    return FactsState(rows, _side(values, draft, tuple(offers), new=new))


def shown(name: str, values: Values) -> str:
    """A fact as people read it; empty where it is not given."""
    text = _text(name, values)
    return text.capitalize() if FACTS[name].way is Way.CHOICE else text


def _text(name: str, values: Values) -> str:
    """A fact as it is typed or chosen."""
    value = values.get(name)
    if isinstance(value, bool):
        return YES if value else NO
    return value or ""


def _unit(name: str, values: Values) -> str:
    return _text("currency", values) if name == "work_per_hour" else FACTS[name].unit


def told(name: str, values: Values) -> str:
    """What was done, as a sentence."""
    said = " ".join(part for part in (shown(name, values), _unit(name, values)) if part)
    return f"{TITLES[name]}: {said} from now on."


def missing(values: Values) -> list[str]:
    """The names of facts that are not given yet, in their order."""
    return [name for name in FACTS if name not in values]


def stepped(clock: str, steps: int) -> str:
    """A time of day some half hours later, within the day; an unreadable one begins at 04:00."""
    try:
        at = time.fromisoformat(clock)
    except ValueError:
        return "04:00"
    day = datetime(2000, 1, 1)  # noqa: DTZ001 - any day, without a zone
    moved = datetime.combine(day, at) + steps * STEP
    return f"{moved:%H:%M}"


def _row(name: str, values: Values, *, chosen: bool, fixed: bool) -> RowState:
    value, title = shown(name, values), TITLES[name]
    if not value:
        return RowState(name, title, NOT_GIVEN, "", "", chosen)
    if name in ("name", "time_zone"):
        return RowState(name, title, value, "", "", chosen)
    return RowState(name, title, FIXED if fixed else "", value, _unit(name, values), chosen, fixed)


def _side(values: Values, draft: Draft, offers: tuple[Choice, ...], *, new: bool) -> FactSide:
    name = draft.chosen
    fact, now = FACTS[name], _text(name, values)
    typed = draft.typed
    return FactSide(
        name=name,
        title=TITLES[name],
        used=fact.used if new else f"{fact.used} {fact.after}".strip(),
        past=PAST if fact.after and not new else "",
        way=fact.way,
        value=now,
        unit=_unit(name, values),
        typed=typed if typed is not None else "" if fact.way is Way.NUMBER else now,
        decimals=_decimals(name, values),
        choices=_choices(name, now if typed is None else typed) or offers,
        refusal=draft.refusal,
        can_keep=typed is not None and bool(typed.strip()) and typed.strip() != now,
    )


def _choices(name: str, chosen: str) -> tuple[Choice, ...]:
    match name:
        case "week_starts":
            return tuple(Choice(day, day.capitalize(), day == chosen) for day in WEEKDAYS)
        case "prices_include_tax":
            return tuple(Choice(each, each.capitalize(), each == chosen) for each in (YES, NO))
    return ()


def _decimals(name: str, values: Values) -> int:
    """As many as the currency has; per cents have up to three (common practice, no source)."""
    if name != "work_per_hour":
        return 3
    try:
        return find_currency(str(values.get("currency", ""))).digits
    except ValueError:
        return 3
