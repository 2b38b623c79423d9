"""The demo's imagined bench: works the plan through and refuses to take what is not there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from demo_scale import Chance, Input, Lot, Piece, Stage, leave_open, slip, weigh
from demo_steps import Blend, Break, Step, TrimOut, WriteOff, moment

MOST_IN_ONE_WEIGHING_G = 9_500
A_REST_NOT_WORTH_KEEPING_G = 150
PAIRS = {
    "lamb-leg",
    "lamb-loin-chops",
    "lamb-rack",
    "lamb-shoulder",
    "pork-belly",
    "pork-leg",
    "pork-loin-chops",
    "pork-scotch",
    "pork-shoulder",
}
SWING = {"tray": 55, "trim": 110, "byproduct": 90, "waste": 200}
"""How far a cut may stray from its norm, in thousandths of it."""


@dataclass(frozen=True, slots=True)
class Shop:
    """What the bench must know of the shop's files: grams, norms in hundredths of a percent."""

    kinds: Mapping[str, str]
    norms: Mapping[str, Sequence[tuple[str, int]]]
    weights: Mapping[str, Sequence[tuple[datetime, int]]]


class Bench:
    """One shop's benches through a plan; `stages` and `write_offs` are what came of it."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.stages: list[Stage] = []
        self.write_offs: list[tuple[Piece, WriteOff]] = []

    def work(self, plan: Iterable[Step]) -> None:
        """Do every step in order.

        Raises:
            ValueError: A step begins before the one above it, or takes more than there is.
        """
        for step in plan:
            if isinstance(step, Break):
                self._break(step)
            elif isinstance(step, TrimOut):
                self._trim_out(step)
            else:
                self._blend(step)

    def write_off(self, item: WriteOff) -> None:
        """Throw grams away of the first piece that still has them."""
        blends = {stage.start: stage.key for stage in self.stages if stage.kind == "blend"}
        begun = item.origin[:4].isdigit()
        origin = blends[moment(item.origin)] if begun else item.origin
        for piece in self._free(item.cut, moment(item.at), origin):
            if piece.left_g >= item.grams:
                piece.left_g -= item.grams
                self.write_offs.append((piece, item))
                return
        raise ValueError(f"{item.at}: no {item.grams} g of {item.cut} from {origin} is left")

    def number_pieces(self) -> list[Piece]:
        """All pieces in the order in which they were weighed, now with their keys."""
        pieces = sorted((p for stage in self.stages for p in stage.pieces), key=lambda p: p.at)
        for number, piece in enumerate(pieces, 1_001):
            piece.key = f"P-{number}"
        return pieces

    def _open(self, kind: str, step: Step, pause: int = 0) -> Stage:
        start = moment(step.start)
        if self.stages and start < self.stages[-1].start:
            raise ValueError(f"{step.start}: the plan is not in the order of time")
        finish = start + timedelta(minutes=step.minutes + pause)
        key = f"S-{101 + len(self.stages)}"
        stage = Stage(key, kind, start, finish, step.person, step.minutes, step.station)
        self.stages.append(stage)
        return stage

    def _break(self, step: Break) -> None:
        stage = self._open("break", step, step.pause)
        stage.list_name = step.list_name
        stage.inputs.append(Input(body=step.body))
        total = [g for at, g in self.shop.weights[step.body] if at <= stage.start][-1]
        chance = Chance(f"break {step.body}")
        out = total - total * chance.between(22, 75) // 10_000
        norms = self.shop.norms[step.list_name]
        claims = [(cut, norm * step.bend.get(cut, 1_000)) for cut, norm in norms]
        missed_cut, missed_g = step.missed
        lots = []
        for cut, grams in self._share(claims, out, chance):
            rest = grams - missed_g if cut == missed_cut else grams
            count = 2 if cut in PAIRS else -(-rest // MOST_IN_ONE_WEIGHING_G)
            lots.append(Lot(cut, rest, count))
        weigh(stage, lots, step.body, self.shop.kinds, chance)
        for fault in step.slips:
            slip(stage, fault)
        if step.stop_after < 100:
            leave_open(stage, step.stop_after)

    def _trim_out(self, step: TrimOut) -> None:
        stage = self._open("trimout", step)
        found = self._free(step.cut, stage.start, step.body)[: step.pieces or None]
        if not found:
            raise ValueError(f"{step.start}: no {step.cut} of {step.body} is free")
        total = sum(piece.left_g for piece in found)
        for piece in found:
            stage.inputs.append(Input(piece=piece))
            piece.left_g = 0
        self._make(stage, step, total, 5, step.body)
        for fault in step.slips:
            slip(stage, fault)

    def _blend(self, step: Blend) -> None:
        stage = self._open("blend", step)
        total = sum(grams for _, grams, _ in step.bought)
        for cut, wanted in step.takes:
            total += self._take(stage, cut, wanted, step.body)
        for name, grams, cents in step.bought:
            stage.inputs.append(Input(ingredient=name, grams=grams, cents=cents))
        self._make(stage, step, total, step.loss, stage.key)

    def _make(
        self, stage: Stage, step: TrimOut | Blend, total: int, loss: int, origin: str
    ) -> None:
        chance = Chance(f"{stage.kind} {step.start} {step.person}")
        out = total - total * chance.between(loss - 2, loss + 2) // 1_000
        counts = {cut: count for cut, _, count in step.made}
        claims = [(cut, share * 1_000) for cut, share, _ in step.made]
        shares = self._share(claims, out, chance)
        lots = [Lot(cut, grams, counts[cut]) for cut, grams in shares]
        weigh(stage, lots, origin, self.shop.kinds, chance)

    def _take(self, stage: Stage, cut: str, wanted: int, body: str) -> int:
        """Take grams of a cut, oldest first; a rest not worth keeping goes along."""
        taken = 0
        for piece in self._free(cut, stage.start, body):
            part = min(piece.left_g, wanted - taken)
            if piece.left_g - part < A_REST_NOT_WORTH_KEEPING_G:
                part = piece.left_g
            stage.inputs.append(Input(piece=piece, grams=part))
            piece.left_g -= part
            taken += part
            if taken >= wanted:
                return taken
        raise ValueError(f"{stage.start}: {wanted} g of {cut} wanted, but {taken} g is free")

    def _free(self, cut: str, now: datetime, origin: str) -> list[Piece]:
        """What stands of a cut at a moment, from stages that were finished by then."""
        done = [s for s in self.stages if s.finish is not None and s.finish <= now]
        pieces = [p for stage in done for p in stage.pieces if p.cut == cut and p.left_g]
        return [p for p in pieces if p.void is None and origin in ("", p.origin)]

    def _share(
        self, claims: Sequence[tuple[str, int]], total: int, chance: Chance
    ) -> list[tuple[str, int]]:
        bent = []
        for cut, claim in claims:
            swing = SWING[self.shop.kinds[cut]]
            bent.append((cut, claim * chance.between(1_000 - swing, 1_000 + swing)))
        whole = sum(claim for _, claim in bent)
        return [(cut, total * claim // whole) for cut, claim in bent]
