"""What the panel says that puts a cut on special. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from gambrel.domain.prices.cabinet import Cabinet, CabinetLine
from gambrel.domain.prices.effects import effect_of, price_doubt, price_fault
from gambrel.domain.prices.special_days import days_doubt, special_doubt
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import Formats, near_day
from gambrel.ui.cabinet.price_state import NO_EFFECT, EffectText, effect_text

DAYS_AHEAD = 92
"""So many days are offered for a special."""


@dataclass(frozen=True, slots=True)
class SpecialState:
    """The panel that puts a cut on special. ``plan`` says what will be, or ``fault`` why not."""

    name: str
    typed: str
    firsts: tuple[str, ...]
    lasts: tuple[str, ...]
    plan: str
    until: str
    effect: EffectText
    fault: str
    doubt: str
    can_set: bool


def special_days(now: datetime, cabinet: Cabinet) -> tuple[date, ...]:
    """The business days that a special may begin or end on."""
    today = business_day(now, cabinet.shop)
    return tuple(today + timedelta(days=ahead) for ahead in range(DAYS_AHEAD))


def special_state(
    cabinet: Cabinet,
    line: CabinetLine,
    typed: int | None,
    days: tuple[date, date],
    formats: Formats,
) -> SpecialState:
    """What the panel says while a price is typed and days are chosen."""
    now, shop = cabinet.at, cabinet.shop
    fault = days_doubt(line.schedule, *days, now, shop)
    if typed is not None and not fault:
        fault = price_fault(line.cut.name, typed)
        fault = fault or special_doubt(line.schedule, typed, days[0], now, shop)
    told = tuple(near_day(day) for day in special_days(now, cabinet))
    effect, plan, slip = NO_EFFECT, "Type the price of the special.", ""
    if typed is not None and not fault:
        effect = effect_text(effect_of(cabinet, line.cut.key, typed, "").cut, formats, " a kilo")
        after = near_day(days[1] + timedelta(days=1))
        length = (days[1] - days[0]).days + 1
        span = "One day" if length == 1 else f"{length} days"
        plan = f"{span} at {formats.money(typed)}. On {after} the regular price returns by itself."
        slip = price_doubt(line, typed, formats)
        if line.price is not None and typed > line.price:
            slip = slip or f"That is dearer than today's {formats.money(line.price)}."
    return SpecialState(
        name=line.cut.name,
        typed=formats.money(typed),
        firsts=told,
        lasts=told,
        plan=plan,
        until="" if fault else f"until {near_day(days[1])}",
        effect=effect,
        fault=fault,
        doubt=slip,
        can_set=typed is not None and not fault,
    )
