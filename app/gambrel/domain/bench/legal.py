"""What laws say of minced meat, as information with its source; never legal advice.

The figures are those of the project's table of published limits. Laws change, and who is bound by
them differs (some bind approved plants and not shops): the local food authority says what holds.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from gambrel.domain.refusals import Refusal

COUNTRY_SETTING = "country"
"""The name under which a shop keeps its country, as an ISO 3166 code of two letters."""

_CODE_FORM = re.compile(r"[A-Z]{2}", re.ASCII)

ADVICE = "Information, not legal advice: ask your local food authority what holds for your shop."

EUROPEAN_UNION = frozenset({
    "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT",
    "LT", "LU", "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
})  # fmt: skip
"""ISO 3166 codes of its members (from memory, 2026)."""
UNITED_STATES = frozenset({"US"})


class Kind(StrEnum):
    """What meat a limit is about."""

    LEAN = "sold as lean"
    BEEF = "beef only"
    PORK = "with pork"
    OTHER = "other meat"
    ANY = "any meat"


class Measure(StrEnum):
    """What is measured."""

    FAT = "fat"
    COLLAGEN = "collagen over meat protein"
    CHEEK = "cheek meat"
    SALT = "salt"
    AGE = "days from slaughter to mincing"
    WARMTH = "temperature inside"


@dataclass(frozen=True, slots=True)
class LegalLimit:
    """At most so much of a measure. ``dated`` is of the act, ``note`` says whom it binds."""

    places: frozenset[str]
    name: str
    kind: Kind
    measure: Measure
    most: Decimal
    unit: str
    source: str
    dated: str
    note: str = ""

    @property
    def sentence(self) -> str:
        """What it says, for example that minced pure beef has at most 20 % of fat."""
        end = f" {self.note}." if self.note else ""
        return f"{self.name}: {self.measure} at most {self.most} {self.unit}.{end}"


_ANNEX_VI = "Regulation (EU) 1169/2011, Annex VI part B, read at fsai.ie"
_ANNEX_VI_DATED = "25 October 2011 (from memory)"
_HYGIENE = "Regulation (EC) 853/2004, Annex III section V chapter III"
_HYGIENE_DATED = "29 April 2004 (from memory)"
_DAILY = "Checked on a daily average"
_PLANTS = "Written for approved plants; a shop's rule may differ"
_CODE = "9 CFR 319.15, read at docslib.org/doc/3680056"
_CODE_DATED = "edition not known"


def _minced(kind: Kind, name: str, fat: int, collagen: int) -> tuple[LegalLimit, LegalLimit]:
    place, source, dated = EUROPEAN_UNION, _ANNEX_VI, _ANNEX_VI_DATED
    return (
        LegalLimit(place, name, kind, Measure.FAT, Decimal(fat), "%", source, dated, _DAILY),
        LegalLimit(
            place, name, kind, Measure.COLLAGEN, Decimal(collagen), "%", source, dated, _DAILY
        ),
    )


LIMITS: tuple[LegalLimit, ...] = (
    *_minced(Kind.LEAN, "Lean minced meat", 7, 12),
    *_minced(Kind.BEEF, "Minced pure beef", 20, 15),
    *_minced(Kind.PORK, "Minced meat with pork", 30, 18),
    *_minced(Kind.OTHER, "Minced meat of other species", 25, 15),
    LegalLimit(
        EUROPEAN_UNION, "Minced meat", Kind.ANY, Measure.SALT, Decimal(1), "%",
        "Regulation (EC) 853/2004, definition of minced meat, read at fsai.ie", _HYGIENE_DATED,
        "Less than that: with more it is a meat preparation",
    ),
    LegalLimit(
        EUROPEAN_UNION, "Mince from chilled meat other than poultry", Kind.ANY, Measure.AGE,
        Decimal(6), "days", f"{_HYGIENE}, point 2(b)", _HYGIENE_DATED, _PLANTS,
    ),
    LegalLimit(
        EUROPEAN_UNION, "Mince from boned, vacuum-packed beef or veal", Kind.BEEF, Measure.AGE,
        Decimal(15), "days", f"{_HYGIENE}, point 2(b)", _HYGIENE_DATED, _PLANTS,
    ),
    LegalLimit(
        EUROPEAN_UNION, "Chilled minced meat", Kind.ANY, Measure.WARMTH, Decimal(2), "°C",
        "Meat Industry Guide chapter 15, quoted at ifsqn.com topic 45241", "edition not known",
        _PLANTS,
    ),
    LegalLimit(
        UNITED_STATES, "Ground or chopped beef, hamburger", Kind.BEEF, Measure.FAT, Decimal(30),
        "%", f"{_CODE}, and Virginia 2VAC5-590-10", _CODE_DATED,
    ),
    LegalLimit(
        UNITED_STATES, "Ground beef", Kind.BEEF, Measure.CHEEK, Decimal(25), "%",
        "Virginia 2VAC5-590-10 and an extension slide deck, slideplayer.com/7660647", _CODE_DATED,
    ),
    LegalLimit(
        UNITED_STATES, "Diet lean ground beef in South Dakota", Kind.LEAN, Measure.FAT,
        Decimal(10), "%", "South Dakota rule 20:01:01:05", "edition not known",
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Information:
    """What is on file for a country, and a sentence that says how to take it."""

    country: str
    limits: tuple[LegalLimit, ...]
    sentence: str

    def most_fat(self, kind: Kind) -> LegalLimit | None:
        """The limit of fat for a kind of meat, if one is on file."""
        return next(
            (x for x in self.limits if (x.kind, x.measure) == (kind, Measure.FAT)), None
        )  # fmt: skip


def country_code(text: str) -> str:
    """The ISO 3166 code that somebody typed, in capitals; empty for none.

    Raises:
        Refusal: It is not two letters.
    """
    code = text.strip().upper()
    if code and not _CODE_FORM.fullmatch(code):
        raise Refusal(f"{code!r} is no country code. Type two letters, such as IE.")
    return code


def information(country: str, species: Collection[str] = ()) -> Information:
    """The limits on file for a country.

    Args:
        country: An ISO 3166 code of two letters, empty where the shop has set none.
        species: What the blend is made of; empty for every limit of the country. Limits on what is
            sold as lean stand in either way, since the shop may wish to call it so.
    """
    code = country.strip().upper()
    if not code:
        return Information(
            "", (), "The shop has no country yet. Set it in the setup to see limits."
        )
    found = tuple(limit for limit in LIMITS if code in limit.places)
    if not found:
        return Information(code, (), f"Nothing is on file here for {code}. {ADVICE}")
    if species:
        kinds = {Kind.LEAN, Kind.ANY, kind_of(species)}
        found = tuple(limit for limit in found if limit.kind in kinds)
    return Information(code, found, ADVICE)


def kind_of(species: Collection[str]) -> Kind:
    """What a blend of these species counts as: with any pork in it, as one with pork."""
    names = {name.casefold() for name in species}
    if "pork" in names:
        return Kind.PORK
    return Kind.BEEF if names == {"beef"} else Kind.OTHER
