"""Four ways to share a joint cost among what came off together."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from gambrel.domain.numbers.apportion import apportion, whole_weights


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


class Output(NamedTuple):
    """One main output of a stage, as the methods see it.

    ``grams`` is what bears cost. ``claim`` is what the method shares by, in any unit that the
    stage's outputs have in common: grams, sales value, or net realisable value; under constant
    margin the sales value. ``finish`` is its finishing cost in minor units.
    """

    grams: int
    claim: int | Fraction
    finish: int = 0


class Shares(NamedTuple):
    """Each output's part of the joint cost (minor units), in the order given.

    ``stranded`` is joint cost that nothing was there to bear; ``fell_back`` says that every claim
    was zero, so that the grams were taken instead.
    """

    parts: list[int]
    stranded: int = 0
    fell_back: bool = False


def share_joint_cost(joint: int, outputs: Sequence[Output], method: Method) -> Shares:
    """Share a joint cost among the main outputs of one stage.

    Args:
        joint: Minor units; negative where by-product credits exceed the costs.
        outputs: The main outputs; claims are zero or more.
        method: Constant margin gives every output the same gross margin, so its parts may be
            negative; the other three give parts of the joint cost's own sign.
    Returns:
        Parts that sum to ``joint`` exactly, unless all of it is stranded.
    """
    if not any(output.grams for output in outputs):
        return Shares([0] * len(outputs), stranded=joint)
    claims = _claims(outputs)
    fell_back = not any(claims)
    if fell_back:
        claims = [output.grams for output in outputs]
    if method is Method.CONSTANT_MARGIN and not fell_back:
        finishing = [output.finish for output in outputs]
        whole = apportion(joint + sum(finishing), claims)
        return Shares([cost - own for cost, own in zip(whole, finishing, strict=True)])
    return Shares(apportion(joint, claims), fell_back=fell_back)


def _claims(outputs: Sequence[Output]) -> list[int]:
    claims = [output.claim for output in outputs]
    if all(type(claim) is int for claim in claims):
        return [int(claim) for claim in claims]
    return whole_weights(claims)
