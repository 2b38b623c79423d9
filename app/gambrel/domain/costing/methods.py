"""Four ways to share a joint cost among what came off together."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import NamedTuple

from gambrel.domain.numbers.apportion import apportion


class Method(StrEnum):
    """By what the joint cost is shared.

    Source: the joint-cost chapter of any cost-accounting textbook (checked in tests/published).
    """

    WEIGHT = "weight"
    SALES_VALUE = "sales-value"
    NRV = "nrv"
    CONSTANT_MARGIN = "constant-margin"

    @property
    def needs_prices(self) -> bool:
        """Only sharing by weight works without a selling price."""
        return self is not Method.WEIGHT


class Outputs(NamedTuple):
    """The outputs of one stage, as the methods see them: columns with one place for each.

    ``grams`` is what bears cost. ``claims`` are what the method shares by, whole numbers in any
    unit that the outputs have in common: grams, sales value, or net realisable value; under
    constant margin the sales value. ``finishing`` is finishing cost in minor units.
    """

    grams: Sequence[int]
    claims: Sequence[int]
    finishing: Sequence[int]


class Shares(NamedTuple):
    """Each output's part of the joint cost (minor units), in the order given.

    ``stranded`` is joint cost that nothing was there to bear; ``fell_back`` says that every claim
    was zero, so that the grams were taken instead.
    """

    parts: list[int]
    stranded: int = 0
    fell_back: bool = False


def share_joint_cost(joint: int, outputs: Outputs, method: Method) -> Shares:
    """Share a joint cost among the outputs of one stage.

    Args:
        joint: Minor units; negative where by-product credits exceed the costs.
        outputs: Claims are zero or more.
        method: Constant margin gives every output the same gross margin, so its parts may be
            negative; the other three give parts of the joint cost's own sign.
    Returns:
        Parts that sum to ``joint`` exactly, unless all of it is stranded.
    """
    grams, claims, finishing = outputs
    if not any(grams):
        return Shares([0] * len(grams), stranded=joint)
    if not any(claims):
        return Shares(apportion(joint, grams), fell_back=True)
    if method is Method.CONSTANT_MARGIN:
        whole = apportion(joint + sum(finishing), claims)
        return Shares([cost - own for cost, own in zip(whole, finishing, strict=True)])
    return Shares(apportion(joint, claims))
