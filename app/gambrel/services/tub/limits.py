"""What holds at a shop's tub: how long trim may stand, the step of a mix, its country.

They are set under Setup (`gambrel.services.shop_limits`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gambrel.domain.bench.lean import STEP_G
from gambrel.domain.bench.legal import COUNTRY_SETTING, country_code
from gambrel.domain.bench.shop_limits import BLEND_STEP, TRIM_AGE
from gambrel.domain.bench.trim import TRIM_AGE_DAYS
from gambrel.domain.refusals import Refusal

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work


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
        int(TRIM_AGE.read(work.setting(TRIM_AGE.setting))),
        int(BLEND_STEP.read(work.setting(BLEND_STEP.setting))),
        _country(work.setting(COUNTRY_SETTING)),
    )


def _country(kept: str | None) -> str:
    try:
        return country_code(kept or "")
    except Refusal:
        return ""
