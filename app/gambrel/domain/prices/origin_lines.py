"""What a label says about where meat is from, by the rules of the shop's country.

Information, not advice: what must stand on a label is for the local food authority to say.

Sources: beef, Regulation (EC) 1760/2000, article 13 (references, legal-limits.csv: reference code,
born in, reared in, slaughtered in and cut in with approval numbers, "Origin" where all is one
country) and article 14 for minced beef ("Prepared in", and "Origin" where that is another state);
pork, sheep, goat and poultry, Regulation (EU) 1337/2013, article 5 ("Reared in", "Slaughtered in",
batch code, "Origin" where all is one country; from memory). Great Britain kept both (from memory).
Elsewhere no rule is applied and what is known is shown.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from gambrel.domain.trade.around import Origin

COUNTRIES = {
    "AT": "Austria", "BE": "Belgium", "BG": "Bulgaria", "CY": "Cyprus", "CZ": "Czechia",
    "DE": "Germany", "DK": "Denmark", "EE": "Estonia", "ES": "Spain", "FI": "Finland",
    "FR": "France", "GB": "United Kingdom", "GR": "Greece", "HR": "Croatia", "HU": "Hungary",
    "IE": "Ireland", "IT": "Italy", "LT": "Lithuania", "LU": "Luxembourg", "LV": "Latvia",
    "MT": "Malta", "NL": "Netherlands", "PL": "Poland", "PT": "Portugal", "RO": "Romania",
    "SE": "Sweden", "SI": "Slovenia", "SK": "Slovakia",
}  # fmt: skip
"""Where the two regulations hold: ISO 3166 codes and English names."""

EUROPEAN_UNION = frozenset(COUNTRIES) - {"GB"}

_BEEF = frozenset({"beef", "veal", "bison"})
_OTHERS = frozenset(
    {"pork", "pig", "lamb", "hogget", "mutton", "sheep", "goat", "kid", "poultry",
     "chicken", "turkey", "duck", "goose", "guinea fowl"}
)  # fmt: skip


class OriginRule(StrEnum):
    """Which rule holds for a species in a country."""

    BEEF = "beef"
    OTHER_MEAT = "other meat"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class OriginText:
    """Lines for a label, and what the rule wants and nobody has written down."""

    lines: tuple[str, ...]
    missing: tuple[str, ...] = ()


def origin_rule(country: str, species: str) -> OriginRule:
    """The rule for a species; ``country`` is an ISO 3166 code, empty where none is kept."""
    if country.upper() not in COUNTRIES:
        return OriginRule.NONE
    if species.lower() in _BEEF:
        return OriginRule.BEEF
    return OriginRule.OTHER_MEAT if species.lower() in _OTHERS else OriginRule.NONE


def origin_text(
    rule: OriginRule, origins: Sequence[Origin], country: str, *, minced: bool
) -> OriginText:
    """What to print of the origins of all animals that a piece came from.

    Args:
        rule: Of ``origin_rule``.
        origins: One for each body; an empty one stands for a body of which nothing is known.
        country: The shop's own, as an ISO 3166 code; where it minces and, unless an origin says
            otherwise, cuts.
        minced: Whether a blend of nothing but meat made it.
    """
    here = COUNTRIES.get(country.upper(), "")
    if rule is OriginRule.BEEF:
        return _minced_beef(origins, here) if minced else _beef(origins, here)
    if rule is OriginRule.OTHER_MEAT:
        return _other_meat(origins)
    return OriginText(_known(origins))


def _beef(origins: Sequence[Origin], here: str) -> OriginText:
    slaughtered = _places(origins, lambda each: _at(each.slaughtered, each.abattoir))
    cut = _places(origins, lambda each: _at(each.cut_in or here, each.plant))
    missing = _missing(origins, born=True, abattoir=True)
    lines = (*_animals(origins), f"Slaughtered in: {slaughtered}", f"Cut in: {cut}")
    return OriginText(() if missing else lines, missing)


def _minced_beef(origins: Sequence[Origin], here: str) -> OriginText:
    missing = _missing(origins, born=False, abattoir=False)
    reared = _places(origins, lambda each: each.reared)
    slaughtered = _places(origins, lambda each: each.slaughtered)
    lines = [f"Prepared in: {here}", f"Slaughtered in: {slaughtered}"]
    if reared != here:
        lines.insert(1, f"Origin: {reared}")
    return OriginText(() if missing else tuple(lines), missing)


def _other_meat(origins: Sequence[Origin]) -> OriginText:
    missing = _missing(origins, born=False, abattoir=False)
    if missing:
        return OriginText((), missing)
    if _one_country(origins):
        return OriginText((f"Origin: {origins[0].born}",))
    reared = _places(origins, lambda each: each.reared)
    slaughtered = _places(origins, lambda each: each.slaughtered)
    return OriginText((f"Reared in: {reared}", f"Slaughtered in: {slaughtered}"))


def _animals(origins: Sequence[Origin]) -> tuple[str, ...]:
    if _one_country(origins):
        return (f"Origin: {origins[0].born}",)
    born = _places(origins, lambda each: each.born)
    return f"Born in: {born}", f"Reared in: {_places(origins, lambda each: each.reared)}"


def _known(origins: Sequence[Origin]) -> tuple[str, ...]:
    """What is known of all of them; a line that holds for some only would say too much."""
    if origins and _one_country(origins):
        return (f"Origin: {origins[0].born}",)
    asked: tuple[tuple[str, Callable[[Origin], str]], ...] = (
        ("Born in", lambda each: each.born),
        ("Reared in", lambda each: each.reared),
        ("Slaughtered in", lambda each: each.slaughtered),
    )
    return tuple(
        f"{name}: {_places(origins, of)}"
        for name, of in asked
        if origins and all(of(each) for each in origins)
    )


def _one_country(origins: Sequence[Origin]) -> bool:
    named = {place for each in origins for place in (each.born, each.reared, each.slaughtered)}
    return len(named) == 1 and "" not in named


def _at(country: str, plant: str) -> str:
    return f"{country}, {plant}" if country and plant else country


def _places(origins: Sequence[Origin], of: Callable[[Origin], str]) -> str:
    return " / ".join(sorted({place for each in origins if (place := of(each))}))


def _missing(origins: Sequence[Origin], *, born: bool, abattoir: bool) -> tuple[str, ...]:
    wanted: list[tuple[str, Callable[[Origin], str]]] = [
        ("where it was reared", lambda each: each.reared),
        ("where it was slaughtered", lambda each: each.slaughtered),
    ]
    if born:
        wanted.insert(0, ("where it was born", lambda each: each.born))
    if abattoir:
        wanted.append(("the abattoir's number", lambda each: each.abattoir))
    return tuple(
        f"{each.key}: {', '.join(gaps)}"
        for each in origins
        if (gaps := [name for name, of in wanted if not of(each)])
    )
