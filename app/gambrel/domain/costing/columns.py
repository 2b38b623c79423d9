"""What a stage made, laid out in columns, each piece with its claim on the stage's joint cost."""

from __future__ import annotations

from math import lcm

from gambrel.domain.costing.roll import Roll, Valued
from gambrel.domain.trade.records import Stage


def lay_out(roll: Roll, stage: Stage) -> Valued:
    """A stage's pieces with all that sharing needs; the stages that took of them come first.

    Stages whose worth nobody asks for are laid out only when their cost is shared: a book's columns
    would not fit into the processor's own memory, those of one stage do.
    """
    pieces = roll.by_stage[stage.key]
    rates = roll.rates.of(pieces)
    consumed_g = [0] * len(pieces)
    rest_g = [piece.gross_g - piece.tare_g for piece in pieces]
    own = roll.flow.taken_of.get(stage.key, {})
    taken = {n: own[piece.key] for n, piece in enumerate(pieces) if piece.key in own}
    for place, takes in taken.items():
        for take in takes:
            consumed_g[place] += take.grams
            rest_g[place] -= take.grams
    claims = [rest * rate.claim for rest, rate in zip(rest_g, rates, strict=True)]
    valued = Valued(pieces, rates, consumed_g, rest_g, claims, taken)
    if taken:
        _claim_for_later(roll, valued)
    if roll.rates.wants_words:
        _remark(roll, stage, valued)
    return valued


def _claim_for_later(roll: Roll, valued: Valued) -> None:
    """Add to the claims what later stages make of what they took.

    Shares follow the proportion of claims alone, so all are brought to whole numbers over the one
    denominator that the takers' rates have in common: a few fractions a stage, none a piece.
    """
    takers = {take.stage for takes in valued.taken.values() for take in takes}
    per_gram = {stage: roll.per_gram[stage] for stage in takers}
    under = lcm(*(rate.denominator for rate in per_gram.values()))
    rates = {
        stage: rate.numerator * (under // rate.denominator) for stage, rate in per_gram.items()
    }
    claims = [claim * under for claim in valued.claims]
    later = 0
    for place, takes in valued.taken.items():
        for take in takes:
            worth = take.grams * rates[take.stage]
            claims[place] += worth
            later += worth
    valued.claims, valued.later, valued.under = claims, later, under


def _remark(roll: Roll, stage: Stage, valued: Valued) -> None:
    """Note the pieces whose rest has no price, or costs more to finish than it sells for."""
    for piece, rate, rest in zip(valued.pieces, valued.rates, valued.rest_g, strict=True):
        if rate.unpriced and rest:
            roll.unpriced[rate.cut.key] = rate.cut.name
        if rate.losing and rest:
            sentence = f"{rate.cut.name} costs more to finish than it sells for"
            sentence = f"{sentence}; it bears no joint cost"
            roll.note_worth(stage, "nrv-floored", piece.key, sentence)
