"""The bounds within which the shop's prices are solved: kept once, used at every solve."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Any

from gambrel.domain.prices.endings import Endings
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats

ALL_SOLD = Decimal(1)


@dataclass(frozen=True, slots=True)
class Limit:
    """One cut's bounds. Prices are minor units per kilogram as the shop writes them.

    ``held`` keeps today's price whatever it is; ``sold`` is the share of the weight that is really
    sold, above 0 and up to 1.
    """

    held: bool = False
    floor: int | None = None
    ceiling: int | None = None
    sold: Decimal = ALL_SOLD

    def fault(self, name: str, formats: Formats) -> str:
        """What cannot be about these bounds, as a sentence; empty where they can."""
        for bound, called in ((self.floor, "floor"), (self.ceiling, "ceiling")):
            if bound is not None and bound <= 0:
                return f"A {called} of nothing holds nothing. Type a price above zero, or clear it."
        if self.floor is not None and self.ceiling is not None and self.floor > self.ceiling:
            return (
                f"The floor of {name}, {formats.money(self.floor)}, stands above its ceiling of "
                f"{formats.money(self.ceiling)}. Lower the floor or raise the ceiling."
            )
        if not 0 < self.sold <= 1:
            return "The share sold lies above 0 and up to 100 per cent. Type such a number."
        return ""


NO_LIMIT = Limit()


@dataclass(frozen=True, slots=True)
class SolveRules:
    """How the shop writes its prices, and the bounds of those cuts that have any."""

    endings: Endings = field(default_factory=Endings)
    limits: Mapping[str, Limit] = field(default_factory=dict)

    def limit(self, cut: str) -> Limit:
        """A cut's bounds; none where it has none."""
        return self.limits.get(cut, NO_LIMIT)

    def with_limit(self, cut: str, limit: Limit) -> SolveRules:
        """The same rules with other bounds for one cut."""
        kept = {key: each for key, each in self.limits.items() if key != cut}
        return SolveRules(self.endings, kept if limit == NO_LIMIT else {**kept, cut: limit})


def rules_text(rules: SolveRules) -> str:
    """The rules as they are kept."""
    limits = {
        cut: {
            "held": limit.held,
            "floor": limit.floor,
            "ceiling": limit.ceiling,
            "sold": str(limit.sold),
        }
        for cut, limit in rules.limits.items()
    }
    endings = {"modulus": rules.endings.modulus, "residues": list(rules.endings.residues)}
    return json.dumps({"endings": endings, "limits": limits}, sort_keys=True)


def read_rules(text: str) -> SolveRules:
    """Read back what `rules_text` wrote.

    Raises:
        Refusal: It is anything else: a name missing or unknown, a value that cannot be.
    """
    try:
        found = _members(json.loads(text), {"endings", "limits"})
        ends = _members(found["endings"], {"modulus", "residues"})
        if not all(type(n) is int for n in (ends["modulus"], *ends["residues"])):
            raise ValueError("an ending is a whole number")
        endings = Endings(ends["modulus"], tuple(ends["residues"]))
        if not isinstance(found["limits"], dict):
            raise ValueError("limits are by cut")
        limits = {cut: _limit(each) for cut, each in found["limits"].items()}
    except (ValueError, TypeError, InvalidOperation, RecursionError) as error:
        raise Refusal(
            "What was kept about floors, ceilings and endings cannot be read. Set them again on "
            "the Solve panel; until then none of them hold."
        ) from error
    return SolveRules(endings, limits)


def _members(value: object, names: set[str]) -> dict[str, Any]:
    if not isinstance(value, dict) or set(value) != names:
        raise ValueError("other names than those that are kept")
    return value


def _limit(value: object) -> Limit:
    found = _members(value, {"held", "floor", "ceiling", "sold"})
    bounds = found["floor"], found["ceiling"]
    sound = all(bound is None or (type(bound) is int and bound > 0) for bound in bounds)
    if not sound or type(found["held"]) is not bool or type(found["sold"]) is not str:
        raise ValueError("a bound is a whole number of minor units above zero")
    limit = Limit(found["held"], *bounds, Decimal(found["sold"]))
    if not 0 < limit.sold <= 1 or (None not in bounds and bounds[0] > bounds[1]):
        raise ValueError("bounds that leave no price")
    return limit
