"""What the Limits section shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace

from gambrel.domain.bench.shop_limits import ShopLimit, Where
from gambrel.services.shop_limits import ALL_LIMITS, Own
from gambrel.ui.setup.rows_state import RowState

COUNTRY = "country"
"""The key of the one row that is no number."""

CARE = (
    "Dates and temperatures: follow your local food code. These limits only mark what the screens "
    "show; they are no law. What the shop has not set stands as is usual."
)

HEADS = {
    Where.DOOR: "At the door",
    Where.RAIL: "On the rail: days from slaughter by which to break",
    Where.BLOCK: "At the block",
    Where.TUB: "At the tub",
    Where.LABEL: "On labels: days from slaughter after which no meat of a body is sold",
    Where.BOOK: "The book",
}
COUNTRY_HEAD = "The shop"
LIMITS = {each.setting: each for each in ALL_LIMITS}


@dataclass(frozen=True, slots=True)
class Draft:
    """The row that is chosen, what was typed for it, and why that was refused."""

    chosen: str = ALL_LIMITS[0].setting
    typed: str = ""
    refusal: str = ""

    def choose(self, key: str) -> Draft:
        """Another row, nothing typed yet."""
        return self if key == self.chosen else Draft(key)

    def type(self, text: str) -> Draft:
        """The same row with another text."""
        return self if text == self.typed else replace(self, typed=text, refusal="")


@dataclass(frozen=True, slots=True)
class GroupState:
    """Rows under a heading."""

    title: str
    rows: tuple[RowState, ...]


@dataclass(frozen=True, slots=True)
class SideState:
    """The chosen row with what may be typed. ``letters`` asks for the keyboard, not the keypad."""

    title: str
    used: str
    why: str
    value: str
    unit: str
    bounds: str
    typed: str
    refusal: str
    decimals: int
    longest: int
    letters: bool
    usual: str
    can_keep: bool
    can_go_back: bool


@dataclass(frozen=True, slots=True)
class ShopState:
    """All of the section."""

    groups: tuple[GroupState, ...]
    side: SideState


def describe(own: Own, draft: Draft, country: str) -> ShopState:
    """The section's texts.

    Args:
        own: What the shop has set.
        draft: What is chosen and typed.
        country: The name of the shop's country; empty for none.
    """
    groups = [
        GroupState(
            HEADS[where],
            tuple(_row(each, own, draft) for each in ALL_LIMITS if each.where is where),
        )
        for where in Where
    ]
    chosen = draft.chosen == COUNTRY
    about = country or ("" if own.country else "none set")
    row = RowState(COUNTRY, "Country", about, own.country or "–", "", chosen)
    groups.append(GroupState(COUNTRY_HEAD, (row,)))
    limit = LIMITS.get(draft.chosen)
    side = _country_side(own, draft, country) if limit is None else _side(limit, own, draft)
    return ShopState(tuple(groups), side)


def told(limit: ShopLimit, before: Own, after: Own) -> str:
    """What was done, as a sentence."""
    new, old = after.value(limit), before.value(limit)
    usual = "" if limit.setting in after.numbers else ", as usual"
    was = "" if new == old else f" It was {limit.shown(old)}."
    return f"{limit.name}: {limit.shown(new)} from now on{usual}.{was}"


def _row(limit: ShopLimit, own: Own, draft: Draft) -> RowState:
    usual = limit.shown(limit.usual)
    about = f"set here · usual {usual}" if limit.setting in own.numbers else ""
    chosen = draft.chosen == limit.setting
    value, unit = _figure(limit, own)
    return RowState(limit.setting, limit.short, about, value, unit, chosen)


def _figure(limit: ShopLimit, own: Own) -> tuple[str, str]:
    """The number and its unit apart; no unit where there is no limit."""
    number = own.value(limit)
    if limit.free and not number:
        return limit.shown(number), ""
    value, _, unit = limit.shown(number).partition(" ")
    return value, unit


def _side(limit: ShopLimit, own: Own, draft: Draft) -> SideState:
    value, unit = _figure(limit, own)
    return SideState(
        title=limit.name,
        used=limit.used,
        why=f"Usual: {limit.shown(limit.usual)}. {limit.why}".strip(),
        value=value,
        unit=limit.unit if draft.typed else unit,
        bounds=limit.bounds,
        typed=draft.typed,
        refusal=draft.refusal,
        decimals=limit.decimals,
        longest=len(str(limit.most)) + 1,
        letters=False,
        usual="Back to usual",
        can_keep=bool(draft.typed),
        can_go_back=limit.setting in own.numbers,
    )


def _country_side(own: Own, draft: Draft, country: str) -> SideState:
    return SideState(
        title="Country",
        used="The tub shows limits that are on file for it, and labels the lines that it asks for.",
        why="Information, not legal advice. Two letters of ISO 3166, such as IE.",
        value=f"{own.country} · {country}" if country else own.country or "none",
        unit="",
        bounds="now",
        typed=draft.typed,
        refusal=draft.refusal,
        decimals=0,
        longest=2,
        letters=True,
        usual="No country",
        can_keep=bool(draft.typed.strip()),
        can_go_back=bool(own.country),
    )
