"""What a shop has set for its tub: how long trim may stand, the step of a mix, its country."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gambrel.domain.bench.lean import STEP_G, STEP_SETTING
from gambrel.domain.bench.legal import COUNTRY_SETTING
from gambrel.domain.bench.trim import TRIM_AGE_DAYS, TRIM_AGE_SETTING
from gambrel.domain.refusals import Refusal

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

LONGEST_AGE_DAYS = 30
LARGEST_STEP_G = 1000
_COUNTRY = re.compile(r"[A-Z]{2}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Limits:
    """``age_days`` are business days; ``country`` is an ISO 3166 code, empty while none is set."""

    age_days: int = TRIM_AGE_DAYS
    step_g: int = STEP_G
    country: str = ""


def tub_limits(book: Book) -> Limits:
    """What the shop has set, and the usual where it has set nothing."""
    with book.reading() as work:
        return read_limits(work)


def read_limits(work: Work) -> Limits:
    """The same inside a transaction; what cannot be read counts as not set."""
    return Limits(
        _number(work.setting(TRIM_AGE_SETTING), TRIM_AGE_DAYS, LONGEST_AGE_DAYS),
        _number(work.setting(STEP_SETTING), STEP_G, LARGEST_STEP_G) or STEP_G,
        _country(work.setting(COUNTRY_SETTING)),
    )


def set_tub_limits(book: Book, limits: Limits) -> None:
    """Change what the shop has set.

    Raises:
        Refusal: One of them cannot be.
    """
    country = limits.country.strip().upper()
    if not 0 <= limits.age_days <= LONGEST_AGE_DAYS:
        raise Refusal(f"Trim may stand for 0 to {LONGEST_AGE_DAYS} days. Type the days again.")
    if not 1 <= limits.step_g <= LARGEST_STEP_G:
        raise Refusal(f"A mix goes in steps of 1 to {LARGEST_STEP_G} g. Type the grams again.")
    if country and not _COUNTRY.fullmatch(country):
        raise Refusal(f"{limits.country!r} is no country code. Type two letters, such as IE.")
    with book.transaction() as work:
        work.set_setting(TRIM_AGE_SETTING, str(limits.age_days))
        work.set_setting(STEP_SETTING, str(limits.step_g))
        work.set_setting(COUNTRY_SETTING, country)


def _number(kept: str | None, usual: int, most: int) -> int:
    text = kept or ""
    if not (text.isascii() and text.isdigit() and len(text) <= 4):
        return usual
    return min(int(text), most)


def _country(kept: str | None) -> str:
    return kept if kept and _COUNTRY.fullmatch(kept) else ""
