"""The facts of the shop: its name, its money, its clock, and what it wants to earn.

They are what ``shop.toml`` holds, and are read by the same rules. There is one value of each, not a
history: whatever is costed or counted into days is so by the value that stands now.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any, Final
from zoneinfo import available_timezones

from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.catalogue import Shop
from gambrel.services.books import Book
from gambrel.services.folder.shop_file import shop_of, shop_values
from gambrel.services.settings import CHANGED_SINCE
from gambrel.services.solve_rules import SOLVE_RULES

if TYPE_CHECKING:
    from gambrel.storage.work import Work

Values = Mapping[str, str | bool]
"""Facts by their names in ``shop.toml``, as texts; yes or no for the one that is that."""

TITLES: Final[Mapping[str, str]] = {
    "name": "Name",
    "currency": "Currency",
    "time_zone": "Time zone",
    "day_starts": "Day starts",
    "week_starts": "Week starts",
    "work_per_hour": "Work per hour",
    "tax_percent": "Tax",
    "prices_include_tax": "Prices include tax",
    "target_margin_percent": "Target margin",
}
"""What people call the facts, by the file's names and in its order."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What the book says of the shop. ``fixed_currency``: money stands in the book."""

    shop: Shop
    fixed_currency: bool

    @property
    def values(self) -> dict[str, str | bool]:
        """The facts by their names."""
        return shop_values(self.shop)


@dataclass(frozen=True, slots=True)
class FactChange:
    """The shop before an act and after it."""

    before: Shop
    after: Shop


def shop_facts(book: Book) -> Facts:
    """What the book says of the shop now.

    Raises:
        Refusal: It has none yet.
    """
    with book.reading() as work:
        return Facts(work.require_shop(), _holds_money(work))


def set_fact(book: Book, name: str, value: str | bool) -> FactChange:  # noqa: FBT001 - one of many values
    """Set one fact, by its name in ``shop.toml``.

    Raises:
        Refusal: The value cannot be, or would change the currency of amounts that are there, or
            the book may not be written.
    """
    with book.transaction() as work:
        before = work.require_shop()
        values = shop_values(before)
        if name == "currency":
            # 37.00 may be said without decimals in a currency that has none.
            values["work_per_hour"] = _plain(str(values["work_per_hour"]))
        after = read_fact(values, name, value)
        _keep(work, before, after)
    return FactChange(before, after)


def take_fact_back(book: Book, change: FactChange) -> None:
    """Let what a change has changed be as it was before; other facts stay as they are now.

    Raises:
        Refusal: Somebody has changed it since, or money stands in the book by now.
    """
    names = [
        each.name
        for each in fields(Shop)
        if getattr(change.before, each.name) != getattr(change.after, each.name)
    ]
    with book.transaction() as work:
        now = work.require_shop()
        if any(getattr(now, name) != getattr(change.after, name) for name in names):
            raise Refusal(CHANGED_SINCE)
        back: dict[str, Any] = {name: getattr(change.before, name) for name in names}
        _keep(work, now, replace(now, **back))


def read_fact(values: Values, name: str, value: str | bool) -> Shop:  # noqa: FBT001
    """The shop with one fact changed.

    Raises:
        Refusal: The value cannot be, or another one does not go with it.
    """
    wrong = _Wrong()
    shop = shop_of({**values, name: _tidy(value)}, wrong.add)
    if shop is not None:
        return shop
    raise Refusal(wrong.of(name) or wrong.first(name))


def refused_fact(values: Values, name: str) -> str:
    """Why a fact cannot be as it stands among others, of which some may be missing; else empty."""
    wrong = _Wrong()
    shop_of(values, wrong.add)
    return wrong.of(name) if name in values else ""


def make_shop(book: Book, values: Values) -> Shop:
    """Give a new book its shop.

    Raises:
        RowsRefused: Facts that are missing or cannot be, each in a sentence.
        Refusal: The book has a shop by now, or may not be written.
    """
    wrong = _Wrong()
    shop = shop_of({name: _tidy(value) for name, value in values.items()}, wrong.add)
    if shop is None:
        raise RowsRefused([wrong.of(name) for name in TITLES if wrong.of(name)])
    with book.transaction() as work:
        if work.shop() is not None:
            raise Refusal("The book has a shop by now. Close the window and open it again.")
        work.set_shop(shop)
    return shop


def zones_like(text: str, most: int) -> list[str]:
    """Time zones whose place begins with a text, then those that have it anywhere."""
    wanted = text.strip().casefold().replace(" ", "_")
    if not wanted:
        return []
    found = [zone for zone in sorted(available_timezones()) if wanted in zone.casefold()]
    # "Etc/GMT-11" and the like are last: a place tells when its clocks change, a number does not.
    found.sort(
        key=lambda zone: (
            "/" not in zone or zone.startswith("Etc/"),
            not zone.rpartition("/")[2].casefold().startswith(wanted),
        )
    )
    return found[:most]


class _Wrong:
    """What the file's rules say, as sentences of a screen, where nothing stands in quotes."""

    def __init__(self) -> None:
        self._said: dict[str, str] = {}

    def add(self, _line: int | None, name: str, message: str) -> None:
        """Remember what is wrong with a fact."""
        plain = message.replace(" in quotes", "").removesuffix("?")
        mark = "?" if message.endswith("?") else "."
        self._said[name] = f"{TITLES.get(name, name)}: {plain}{mark}"

    def of(self, name: str) -> str:
        """What is wrong with one fact; empty for nothing."""
        return self._said.get(name, "")

    def first(self, changed: str) -> str:
        """What is wrong with another fact now that one was changed."""
        other, said = next(iter(self._said.items()))
        title = TITLES.get(other, other)
        return f"{said} Change {title} first, then {TITLES.get(changed, changed)}."


def _tidy(value: str | bool) -> str | bool:  # noqa: FBT001
    return value.strip() if isinstance(value, str) else value


def _plain(number: str) -> str:
    return f"{Decimal(number).normalize():f}"


def _holds_money(work: Work) -> bool:
    """Bounds and endings that the shop keeps for its prices are amounts too."""
    return work.holds_money() or bool(work.setting(SOLVE_RULES))


def _keep(work: Work, before: Shop, after: Shop) -> None:
    if before.currency != after.currency and _holds_money(work):
        raise Refusal(
            f"The book holds amounts in {before.currency.code}, so its currency stays. "
            "Begin a new book for another currency."
        )
    if before != after:
        work.set_shop(after)
