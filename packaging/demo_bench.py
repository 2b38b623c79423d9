"""An imagined bench and scale: turns the demo plan into weighings that add up, the same ones on every run.

Weights are whole grams and all sums are in integers. Chance comes from `random.Random(text).random()` only, which Python
promises to keep the same from version to version.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from random import Random

from demo_plan import Blend, Break, Slip, TrimOut, WriteOff

MELBOURNE_SUMMER = timezone(timedelta(hours=11))
DIVISION_G = {"block-1": 5, "block-2": 2, "tub-1": 5}
TRAY_TARE_G, SMALL_TUB_G, LARGE_TUB_G = 120, 650, 1_450
MOST_IN_ONE_WEIGHING_G = 9_500
PAIRS = {
    "lamb-leg",
    "lamb-shoulder",
    "lamb-rack",
    "lamb-loin-chops",
    "pork-leg",
    "pork-belly",
    "pork-loin-chops",
    "pork-shoulder",
    "pork-scotch",
}


@dataclass(slots=True, eq=False)
class Piece:
    """One weighing; `left_g` is what no later stage took, `origin` the body or blend that it came from."""

    stage: Stage
    cut: str
    gross_g: int
    tare_g: int
    at: datetime
    origin: str
    void: tuple[datetime, str] | None = None
    left_g: int = 0
    key: str = ""


@dataclass(slots=True, eq=False)
class Stage:
    """One stage of work; `inputs` are rows of (body, piece, ingredient, grams or None for all, cents or None)."""

    key: str
    kind: str
    start: datetime
    finish: datetime | None
    person: str
    minutes: int
    station: str
    list_name: str = ""
    inputs: list[tuple[str, Piece | None, str, int | None, int | None]] = field(
        default_factory=list
    )
    pieces: list[Piece] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Shop:
    """What the bench must know of the shop's own files; weights in grams, norms in hundredths of a percent."""

    kinds: Mapping[str, str]
    norms: Mapping[str, Sequence[tuple[str, int]]]
    last_weight: Mapping[str, Sequence[tuple[datetime, int]]]


def moment(text: str) -> datetime:
    """A plan's local time, with the offset that Melbourne keeps in November."""
    return datetime.fromisoformat(text).replace(tzinfo=MELBOURNE_SUMMER)


def between(chance: Random, low: int, high: int) -> int:
    """A whole number from low to high, both included, mostly near the middle."""
    return (sum(low + int(chance.random() * (high - low + 1)) for _ in range(3)) + 1) // 3


class Bench:
    """Works a plan through; refuses a plan that takes what is not there."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.stages: list[Stage] = []
        self.write_offs: list[tuple[Piece, WriteOff]] = []

    def work(self, plan: Iterable[Break | TrimOut | Blend]) -> None:
        for step in plan:
            if isinstance(step, Break):
                self._break(step)
            elif isinstance(step, TrimOut):
                self._trim_out(step)
            else:
                self._blend(step)

    def write_off(self, item: WriteOff) -> None:
        by_start = {stage.start: stage.key for stage in self.stages}
        origin = item.body if not item.body[:4].isdigit() else by_start[moment(item.body)]
        found = [p for p in self._free(item.cut, moment(item.at), origin) if p.left_g >= item.grams]
        if not found:
            raise ValueError(
                f"{item.at}: no {item.grams} g of {item.cut} from {item.body} is left to write off"
            )
        self.write_offs.append((found[0], item))

    def number_pieces(self) -> list[Piece]:
        """All pieces in the order in which they were weighed, with their keys."""
        pieces = sorted((p for stage in self.stages for p in stage.pieces), key=lambda p: p.at)
        for number, piece in enumerate(pieces, 1001):
            piece.key = f"P-{number}"
        return pieces

    def _open_stage(self, kind: str, step: Break | TrimOut | Blend, pause: int = 0) -> Stage:
        start = moment(step.start)
        if self.stages and start < self.stages[-1].start:
            raise ValueError(f"{step.start}: the plan is not in the order of time")
        finish = start + timedelta(minutes=step.minutes + pause)
        key = f"S-{101 + len(self.stages)}"
        stage = Stage(key, kind, start, finish, step.person, step.minutes, step.station)
        self.stages.append(stage)
        return stage

    def _break(self, step: Break) -> None:
        stage = self._open_stage("break", step, step.pause)
        stage.list_name = step.list_name
        stage.inputs.append((step.body, None, "", None, None))
        total = [grams for at, grams in self.shop.last_weight[step.body] if at < stage.start][-1]
        chance = Random(f"{stage.kind} {step.body}")
        lost = total * between(chance, 22, 75) // 10_000 if step.lost_g is None else step.lost_g
        norms = [
            (cut, norm * step.bend.get(cut, 1_000)) for cut, norm in self.shop.norms[step.list_name]
        ]
        lots = [
            (cut, grams, self._count(cut, grams))
            for cut, grams in self._share(norms, total - lost, chance)
        ]
        self._weigh(stage, lots, step.body, step.slips, chance)
        if step.stop_after < 100:
            _leave_open(stage, step.stop_after)

    def _trim_out(self, step: TrimOut) -> None:
        stage = self._open_stage("trimout", step)
        found = self._free(step.cut, stage.start, step.body)[: step.pieces or None]
        if not found:
            raise ValueError(f"{step.start}: no {step.cut} of {step.body} is free")
        total = sum(piece.left_g for piece in found)
        for piece in found:
            stage.inputs.append(("", piece, "", None, None))
            piece.left_g = 0
        self._make(stage, step.made, total, 4, step.body, step.slips)

    def _make(
        self,
        stage: Stage,
        made: Sequence[tuple[str, int, int]],
        total: int,
        lost: int,
        origin: str,
        slips: Sequence[Slip],
    ) -> None:
        chance = Random(f"{stage.kind} {stage.start.isoformat()}")
        parts = [(cut, share * 1_000) for cut, share, _ in made]
        counts = {cut: count for cut, _, count in made}
        out = total - total * between(chance, lost - 2, lost + 3) // 1_000
        lots = [(cut, grams, counts[cut]) for cut, grams in self._share(parts, out, chance)]
        self._weigh(stage, lots, origin, slips, chance)

    def _blend(self, step: Blend) -> None:
        stage = self._open_stage("blend", step)
        total = sum(grams for _, grams, _ in step.bought)
        for cut, wanted in step.takes:
            total += self._take(stage, cut, wanted, step.body)
        for name, grams, cents in step.bought:
            stage.inputs.append(("", None, name, grams, cents))
        self._make(
            stage,
            step.made,
            total,
            1_000 - sum(share for _, share, _ in step.made),
            stage.key,
            step.slips,
        )

    def _take(self, stage: Stage, cut: str, wanted: int, body: str) -> int:
        """Takes grams of a cut, oldest first; a rest under 150 g in the last tub goes along."""
        taken = 0
        for piece in self._free(cut, stage.start, body):
            part = min(piece.left_g, wanted - taken)
            part = piece.left_g if piece.left_g - part < 150 else part
            stage.inputs.append(("", piece, "", part, None))
            piece.left_g -= part
            taken += part
            if taken >= wanted:
                return taken
        raise ValueError(f"{stage.start}: {wanted} g of {cut} wanted, {taken} g free")

    def _free(self, cut: str, now: datetime, origin: str) -> list[Piece]:
        return [
            piece
            for stage in self.stages
            if stage.finish is not None and stage.finish <= now
            for piece in stage.pieces
            if piece.cut == cut
            and piece.left_g
            and piece.void is None
            and origin in ("", piece.origin)
        ]

    def _share(
        self, parts: Sequence[tuple[str, int]], total: int, chance: Random
    ) -> list[tuple[str, int]]:
        spread = {"tray": 55, "trim": 110, "byproduct": 90, "waste": 200}
        bent = []
        for cut, weight in parts:
            swing = spread[self.shop.kinds[cut]]
            bent.append((cut, weight * between(chance, 1_000 - swing, 1_000 + swing)))
        whole = sum(weight for _, weight in bent)
        return [(cut, total * weight // whole) for cut, weight in bent]

    def _count(self, cut: str, grams: int) -> int:
        return 2 if cut in PAIRS else -(-grams // MOST_IN_ONE_WEIGHING_G)

    def _weigh(
        self,
        stage: Stage,
        lots: Sequence[tuple[str, int, int]],
        origin: str,
        slips: Sequence[Slip],
        chance: Random,
    ) -> None:
        """Puts the lots on the scale one after another: whole cuts as they come off, tubs as they fill."""
        queue = []
        for place, (cut, grams, count) in enumerate(lots, 1):
            for turn, part in enumerate(_split(grams, count, chance), 1):
                tub = self.shop.kinds[cut] != "tray"
                when = 1_000 * turn // count if tub else 950 * place // (len(lots) + 1) + turn
                queue.append((when, cut, part))
        queue.sort(key=lambda row: row[0])
        minutes = (
            stage.minutes
            if stage.finish is None
            else (stage.finish - stage.start) // timedelta(minutes=1)
        )
        step = (minutes * 60 - 200) // len(queue)
        for number, (_, cut, part) in enumerate(queue, 1):
            at = stage.start + timedelta(
                seconds=150 + number * step + between(chance, -step // 4, step // 4)
            )
            self._put(stage, cut, part, at, origin)
        for slip in slips:
            _slip(stage, slip)

    def _put(self, stage: Stage, cut: str, grams: int, at: datetime, origin: str) -> None:
        tray = self.shop.kinds[cut] == "tray"
        tare = TRAY_TARE_G if tray else SMALL_TUB_G if grams < 3_000 else LARGE_TUB_G
        division = DIVISION_G[stage.station]
        net = max(grams // division * division, division)
        stage.pieces.append(Piece(stage, cut, net + tare, tare, at, origin, None, net))


def _split(grams: int, count: int, chance: Random) -> list[int]:
    """Grams into a count of unequal parts that sum to it."""
    parts = [grams // count * between(chance, 900, 1_100) // 1_000 for _ in range(count - 1)]
    return [*parts, grams - sum(parts)]


def _slip(stage: Stage, slip: Slip) -> None:
    """Adds the voided weighing beside the first good piece of its cut."""
    index, good = next((i, p) for i, p in enumerate(stage.pieces) if p.cut == slip.cut)
    if slip.weighed_as:
        at, reason, cut = good.at - timedelta(seconds=19), "wrong cut chosen", slip.weighed_as
        voided = at + timedelta(seconds=11)
    else:
        at, reason, cut = good.at + timedelta(seconds=7), "weighed twice", slip.cut
        voided, index = at + timedelta(seconds=34), index + 1
    stage.pieces.insert(
        index, Piece(stage, cut, good.gross_g, good.tare_g, at, good.origin, (voided, reason))
    )


def _leave_open(stage: Stage, percent: int) -> None:
    """Forgets what would have been weighed later: the body is still on the block."""
    del stage.pieces[len(stage.pieces) * percent // 100 :]
    stage.finish = None
    stage.minutes = (stage.pieces[-1].at - stage.start) // timedelta(minutes=1) + 1
