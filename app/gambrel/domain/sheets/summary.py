"""The totals of many sections: taken, came off, lost, earned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.sheets.cut_rows import Earning, earning
from gambrel.domain.sheets.sections import Section
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import Source


@dataclass(frozen=True, slots=True)
class Summary:
    """What a period's work comes to. Weights are grams, money minor units.

    ``taken`` is of bodies whose stage started in the period, ``came_off`` what was weighed off
    bodies in it (later trim-outs and blends only change its form, so they are not counted again).
    Loss and earnings are of every stage.
    """

    bodies: int
    taken_g: int
    taken_cost: int
    work: int
    came_off: dict[CutKind, int]
    on_block_g: int
    unexplained_g: int
    unexplained: int
    earning: Earning

    @property
    def saleable_g(self) -> int:
        """Tray and trim that came off bodies."""
        return self.came_off[CutKind.TRAY] + self.came_off[CutKind.TRIM]

    @property
    def came_off_g(self) -> int:
        """Everything that came off bodies."""
        return sum(self.came_off.values())

    @property
    def saleable_share(self) -> Decimal | None:
        """Tray and trim as a share of all that came off and is lost; None where nothing did."""
        whole = self.came_off_g + self.unexplained_g
        return Decimal(self.saleable_g) / whole if whole > 0 else None


def summarise(found: Sequence[Section]) -> Summary:
    """Add up the sections of one period."""
    breaks = [section for section in found if section.bodies]
    taken = [
        row
        for section in breaks
        if section.started
        for row in section.inputs
        if row.source is Source.BODY
    ]
    return Summary(
        bodies=len({row.key for row in taken}),
        taken_g=sum(row.grams for row in taken),
        taken_cost=sum(row.cost for row in taken),
        work=sum(section.work for section in found if section.started),
        came_off={kind: sum(section.grams(kind) for section in breaks) for kind in CutKind},
        on_block_g=sum(section.balance.on_block_g for section in breaks),
        unexplained_g=sum(section.balance.unexplained_g for section in found),
        unexplained=sum(section.balance.unexplained for section in found),
        earning=earning(row for section in found for row in section.rows),
    )
