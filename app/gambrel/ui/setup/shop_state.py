"""What the Shop section shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from gambrel.domain.bench.shop_limits import SHOP_LIMITS, ShopLimit, Where
from gambrel.services.shop_limits import Own
from gambrel.ui.setup.rows_state import RowState

COUNTRY = "country"
"""The key of the one row that is no number."""

CARE = (
    "Dates and temperatures: follow your local food code. These limits only mark what the screens "
    "show; they are no law."
)

HEADS = {
    Where.DOOR: "At the door",
    Where.RAIL: "On the rail: days from slaughter by which to break",
    Where.BLOCK: "At the block",
    Where.TUB: "At the tub",
}
COUNTRY_HEAD = "The shop"
LIMITS = {each.setting: each for each in SHOP_LIMITS}


@dataclass(frozen=True, slots=True)
class Draft:
    """The row that is chosen, what was typed for it, and why that was refused."""

    chosen: str = SHOP_LIMITS[0].setting
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
            tuple(_row(each, own, draft) for each in SHOP_LIMITS if each.where is where),
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


def figure(number: Decimal) -> str:
    """A limit's number without noughts that say nothing."""
    return f"{number.normalize():f}"


def told(limit: ShopLimit, before: str, after: str) -> str:
    """What was done, as a sentence; both are texts as the book keeps them."""
    new, old = limit.read(after), limit.read(before)
    usual = ", as usual" if limit.own(after) is None else ""
    was = "" if new == old else f" It was {figure(old)}."
    return f"{limit.name}: {figure(new)} {limit.unit} from now on{usual}.{was}"


def _row(limit: ShopLimit, own: Own, draft: Draft) -> RowState:
    number = own.numbers.get(limit.setting)
    value = limit.usual if number is None else number
    usual = f"{figure(limit.usual)} {limit.unit}"
    about = "usual" if number is None else f"set here · usual {usual}"
    chosen = draft.chosen == limit.setting
    return RowState(limit.setting, limit.short, about, figure(value), limit.unit, chosen)


def _side(limit: ShopLimit, own: Own, draft: Draft) -> SideState:
    number = own.numbers.get(limit.setting)
    value = limit.usual if number is None else number
    return SideState(
        title=limit.name,
        used=limit.used,
        why=f"Usual: {figure(limit.usual)} {limit.unit}. {limit.why}",
        value=figure(value),
        unit=limit.unit,
        bounds=limit.bounds,
        typed=draft.typed,
        refusal=draft.refusal,
        decimals=limit.decimals,
        longest=len(str(limit.most)) + 1,
        letters=False,
        usual="Back to usual",
        can_keep=bool(draft.typed),
        can_go_back=number is not None,
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
