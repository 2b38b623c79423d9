"""The published joint-cost problems of ``data/joint-costs.csv`` and a second answer to each.

Slips that are not copied: a mirror of the dairy problem prints 8,868 and 22,812 under net
realisable value, and 43,470 (a total cost) under constant margin; the slides of the cases problem
round their weights to whole per cents.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from gambrel.domain.costing.methods import Method, Outputs
from tests.published.figures import Part, Row, fine, kilos, rows

NO_QUANTITY = "1000"
"""Where a problem gives values only, each product weighs this."""


@dataclass(frozen=True)
class Problem:
    """One published problem under one method."""

    name: str
    method: Method
    lines: tuple[Row, ...]

    @property
    def joint(self) -> str:
        return self.lines[0]["joint"]

    def parts(self) -> list[Part]:
        return [
            Part(line["product"], kilos(line["quantity"] or NO_QUANTITY), line["value"],
                 line["separable"])
            for line in self.lines
        ]  # fmt: skip

    def outputs(self) -> Outputs:
        """The products as the methods see them, money in millionths."""
        grams, claims, finishing = [], [], []
        for line, part in zip(self.lines, self.parts(), strict=True):
            value, finish = fine(line["value"] or "0"), fine(line["separable"])
            claims.append({
                Method.WEIGHT: part.grams,
                Method.SALES_VALUE: value,
                Method.NRV: value - finish,
                Method.CONSTANT_MARGIN: value,
            }[self.method])  # fmt: skip
            grams.append(part.grams)
            finishing.append(finish)
        return Outputs(grams, claims, finishing)

    def by_hand(self) -> list[Fraction]:
        """The textbook's formula for each method, in major units and exact."""
        joint = Fraction(self.joint)
        quantity = [Fraction(line["quantity"] or NO_QUANTITY) for line in self.lines]
        value = [Fraction(line["value"] or 0) for line in self.lines]
        own = [Fraction(line["separable"]) for line in self.lines]
        if self.method is Method.CONSTANT_MARGIN:
            margin = (sum(value) - joint - sum(own)) / sum(value)
            return [v * (1 - margin) - s for v, s in zip(value, own, strict=True)]
        basis = {
            Method.WEIGHT: quantity,
            Method.SALES_VALUE: value,
            Method.NRV: [v - s for v, s in zip(value, own, strict=True)],
        }[self.method]
        return [joint * each / sum(basis) for each in basis]


def problems() -> list[Problem]:
    grouped: dict[tuple[str, Method], list[Row]] = defaultdict(list)
    for row in rows("joint-costs"):
        grouped[row["example"], Method(row["method"])].append(row)
    return [Problem(name, method, tuple(lines)) for (name, method), lines in grouped.items()]


PROBLEMS = problems()
IDS = [f"{problem.name}-{problem.method.value}" for problem in PROBLEMS]


def problem(name: str, method: Method) -> Problem:
    return next(p for p in PROBLEMS if (p.name, p.method) == (name, method))


def margin_of(line: Row) -> Decimal | None:
    """The gross margin that the source prints, as a share of one."""
    return Decimal(line["margin_percent"]) / 100 if line["margin_percent"] else None
