"""One stage's work as a sheet shows it: what went in, what came off, and the balance.

A piece belongs to the day on which it was weighed, a loss to the day on which its stage was
finished, what a stage took to the day on which it started. A stage that runs over several days is
therefore on the sheet of each, and no gram is on two.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from gambrel.domain.costing.costing import BodyCost, PieceCost, StageCost
from gambrel.domain.costing.ledger import Ledger, Period
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.sheets.cut_rows import CutRow, cut_rows
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import Source, Stage


@dataclass(frozen=True, slots=True)
class WentIn:
    """One thing that a stage took: its name for people, grams, and what they cost."""

    source: Source
    key: str
    name: str
    grams: int
    cost: int


LOSS_SHARE, LOSS_G = Decimal("0.015"), 300
"""A loss is unusual above both: the share of the input and the grams (common practice, no source;
a later issue takes them from the shop's own history)."""


@dataclass(frozen=True, slots=True)
class Balance:
    """Where the input's weight is when the period ends.

    ``here_g`` was weighed in the period and ``before_g`` earlier. While the stage is open the rest
    is ``on_block_g``; when it is finished in the period the rest is ``unexplained_g`` (negative
    where more came out than went in), worth ``unexplained`` at the input's own cost. ``over_g`` is
    what an open stage has weighed beyond its input. ``open`` says how it stood at the period's end.
    """

    input_g: int
    before_g: int
    here_g: int
    on_block_g: int
    over_g: int
    unexplained_g: int
    unexplained: int
    open: bool

    @property
    def unexplained_share(self) -> Decimal | None:
        """The part of the input that is unexplained; None while the stage is open."""
        if self.open or not self.input_g:
            return None
        return Decimal(self.unexplained_g) / self.input_g

    @property
    def is_unusual(self) -> bool:
        """Whether somebody should look: much is lost, or more came out than went in."""
        if self.unexplained_g < 0 or self.over_g:
            return True
        share = self.unexplained_share or 0
        return share > LOSS_SHARE and self.unexplained_g > LOSS_G


@dataclass(frozen=True, slots=True)
class Section:
    """One stage within a period. ``started`` says that it began there, so its input counts there.

    ``output_g`` is all that the stage has weighed, on whatever day. ``missing`` names cuts of the
    cutting list of which nothing has been weighed when it is finished.
    """

    stage: Stage
    bodies: tuple[BodyCost, ...]
    inputs: tuple[WentIn, ...]
    input_cost: int
    work: int
    stranded: int
    output_g: int
    rows: tuple[CutRow, ...]
    balance: Balance
    started: bool
    missing: tuple[str, ...]

    def grams(self, *kinds: CutKind) -> int:
        """What came off of these kinds of cut."""
        return sum(row.net_g for row in self.rows if row.cut.kind in kinds)

    def off_norm(self) -> list[CutRow]:
        """Cuts far from their norm, the farthest first; only where all of it was cut here."""
        if self.balance.open or self.balance.before_g:
            return []
        return sorted((row for row in self.rows if row.is_off_norm), key=lambda row: -row.off_norm)

    @property
    def saleable_g(self) -> int:
        """Tray and trim."""
        return self.grams(CutKind.TRAY, CutKind.TRIM)

    @property
    def saleable_cost(self) -> int:
        """What tray and trim cost, finishing included."""
        return sum(row.cost for row in self.rows if row.cut.kind.bears_cost)


def sections(ledger: Ledger, period: Period) -> list[Section]:
    """Every stage that started, weighed or was finished in a period, in the order of the work."""
    return [_section(ledger, cost, period) for cost in active_stages(ledger, period)]


def active_stages(ledger: Ledger, period: Period) -> list[StageCost]:
    """The stages that `sections` tells of, each after those whose pieces it took."""
    return [
        cost
        for cost in ledger.costing.stages
        if period.holds(cost.stage.started_at)
        or period.holds(cost.stage.finished_at)
        or any(
            period.holds(part.piece.weighed_at) for part in ledger.by_stage.get(cost.stage.key, ())
        )
    ]


def _section(ledger: Ledger, cost: StageCost, period: Period) -> Section:
    pieces = ledger.by_stage.get(cost.stage.key, [])
    here = [part for part in pieces if period.holds(part.piece.weighed_at)]
    balance = _balance(cost, period, pieces)
    bodies = [take.key for take in cost.takes if take.source is Source.BODY]
    return Section(
        stage=cost.stage,
        bodies=tuple(ledger.bodies[key] for key in bodies),
        inputs=_inputs(ledger, cost),
        input_cost=cost.input_cost,
        work=cost.work,
        stranded=cost.stranded,
        output_g=cost.output_g,
        rows=tuple(cut_rows(ledger, here, cost.stage.list, cost.input_g)),
        balance=balance,
        started=period.holds(cost.stage.started_at),
        missing=() if balance.open else _missing(ledger, cost.stage, pieces),
    )


def _balance(cost: StageCost, period: Period, pieces: list[PieceCost]) -> Balance:
    done = done_at(cost.stage, pieces)
    is_open = done is None or done >= period.ends
    before_g = sum(part.piece.net_g for part in pieces if part.piece.weighed_at < period.begins)
    here_g = sum(part.piece.net_g for part in pieces if period.holds(part.piece.weighed_at))
    rest = cost.input_g - before_g - here_g
    unexplained = cost.unexplained_g if period.holds(done) else 0
    money = round_half_up(cost.input_cost * unexplained, cost.input_g) if cost.input_g else 0
    return Balance(
        input_g=cost.input_g,
        before_g=before_g,
        here_g=here_g,
        on_block_g=max(rest, 0) if is_open else 0,
        over_g=max(-rest, 0) if is_open else 0,
        unexplained_g=unexplained,
        unexplained=money,
        open=is_open,
    )


def done_at(stage: Stage, pieces: list[PieceCost]) -> datetime | None:
    """When a stage's loss is known: when it was finished, or when its last piece was weighed."""
    if stage.finished_at is None:
        return None
    return max([stage.finished_at, *(part.piece.weighed_at for part in pieces)])


def _inputs(ledger: Ledger, cost: StageCost) -> tuple[WentIn, ...]:
    taken = [
        WentIn(take.source, take.key, _input_name(ledger, take.source, take.key), take.grams, money)
        for take, money in zip(cost.takes, cost.take_costs, strict=True)
    ]
    added = [
        WentIn(Source.INGREDIENT, row.key, row.key, row.grams or 0, row.cost)
        for row in ledger.ingredients.get(cost.stage.key, ())
    ]
    return (*taken, *added)


def _input_name(ledger: Ledger, source: Source, key: str) -> str:
    return ledger.cut_name(ledger.pieces[key].piece) if source is Source.PIECE else key


def _missing(ledger: Ledger, stage: Stage, pieces: list[PieceCost]) -> tuple[str, ...]:
    weighed = {part.piece.cut for part in pieces}
    known = ledger.costing.cuts_by_key
    return tuple(
        known[cut].name
        for cut in ledger.list_cuts.get(stage.list, ())
        if cut not in weighed and cut in known
    )
