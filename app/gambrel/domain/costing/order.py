"""Stages in an order in which each comes after those that it takes from."""

from __future__ import annotations

from collections import defaultdict

from gambrel.domain.costing.takes import Flow
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Stage, Trade, stage_order


def stages_in_order(trade: Trade, flow: Flow) -> list[Stage]:
    """Stages so that each comes after those whose pieces it took; earlier starts first.

    Raises:
        Refusal: Some stages take each other's pieces in a circle; they are named.
    """
    waits: dict[str, set[str]] = {stage.key: set() for stage in trade.stages}
    feeds: dict[str, list[str]] = defaultdict(list)
    for maker, pieces in flow.taken_of.items():
        for taker in dict.fromkeys(take.stage for takes in pieces.values() for take in takes):
            waits[taker].add(maker)
            feeds[maker].append(taker)
    stages = {stage.key: stage for stage in trade.stages}
    ready = [stage for stage in sorted(trade.stages, key=stage_order) if not waits[stage.key]]
    for stage in ready:  # grows as it is walked
        for fed in feeds[stage.key]:
            waits[fed].discard(stage.key)
            if not waits[fed]:
                ready.append(stages[fed])
    if len(ready) < len(stages):
        circle = sorted(key for key, left in waits.items() if left)
        raise Refusal(
            f"stages {', '.join(circle)} take each other's pieces in a circle; "
            "correct the inputs of one of them"
        )
    return ready
