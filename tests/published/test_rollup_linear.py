"""The roll-up against a dense linear solve.

Source of the second answer: numpy.linalg.solve. Both passes are systems of linear equations: worth
per gram of what a stage took (backwards), joint cost of every stage (forwards). Nothing here shares
code with the program: graphs, prices and equations are set up from the trade's rows.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from numpy.typing import NDArray

from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import Input, Piece, Reweigh, Source, Trade
from tests.trades import random_trades

Array = NDArray[np.float64]


@dataclass
class Dense:
    """A trade as matrices; money in cents, prices before tax in cents per gram."""

    trade: Trade
    method: Method

    def __post_init__(self) -> None:
        trade = self.trade
        voided = {void.piece for void in trade.voids}
        self.cut = {cut.key: cut for cut in trade.cuts}
        self.pieces = [p for p in trade.pieces if p.key not in voided]
        self.stages = sorted(trade.stages, key=lambda stage: stage.started_at)
        self.at = {stage.key: i for i, stage in enumerate(self.stages)}
        tax = 1 + float(trade.shop.tax_percent) / 100
        self.tax = tax if trade.shop.prices_include_tax else 1.0
        self.taken: dict[str, dict[int, int]] = defaultdict(dict)
        self.body_money = np.zeros(len(self.stages))
        self.added = np.zeros(len(self.stages))
        self._take()
        hourly = trade.shop.work_per_hour
        self.work = np.array([round(float(s.minutes) * hourly / 60, 6) for s in self.stages])

    def _take(self) -> None:
        nets = {p.key: p.gross_g - p.tare_g for p in self.pieces}
        weight = {b.key: b.received_g for b in self.trade.bodies}
        money = {b.key: float(b.bought) for b in self.trade.bodies}
        for row in self._events():
            if isinstance(row, Reweigh):
                weight[row.body] = row.grams
            elif row.source is Source.INGREDIENT:
                self.added[self.at[row.stage]] += row.cost
            elif row.source is Source.BODY:
                grams = weight[row.key] if row.grams is None else row.grams
                part = money[row.key] * grams / weight[row.key]
                self.body_money[self.at[row.stage]] += part
                weight[row.key] -= grams
                money[row.key] -= part
            else:
                left = nets[row.key] - sum(self.taken[row.key].values())
                self.taken[row.key][self.at[row.stage]] = left if row.grams is None else row.grams

    def _events(self) -> list[Reweigh | Input]:
        started = {stage.key: stage.started_at for stage in self.stages}
        events: list[tuple[datetime, int, Reweigh | Input]] = []
        events += [(row.at, 0, row) for row in self.trade.reweighs]
        events += [(started[row.stage], 1, row) for row in self.trade.inputs]
        return [row for _, _, row in sorted(events, key=lambda event: event[:2])]

    def rest(self, piece: Piece) -> int:
        return piece.gross_g - piece.tare_g - sum(self.taken[piece.key].values())

    def own_worth(self, piece: Piece, *, with_finish: bool) -> float:
        cut: Cut = self.cut[piece.cut]
        if not cut.kind.bears_cost:
            return 0.0
        price = (cut.price or 0) / self.tax / 1000
        finish = cut.finish / 1000 if with_finish else 0.0
        return self.rest(piece) * (price - finish)

    def credit(self, piece: Piece) -> float:
        cut = self.cut[piece.cut]
        return self.rest(piece) * cut.credit / 1000 if cut.kind is CutKind.BYPRODUCT else 0.0

    def worth_per_gram(self) -> Array:
        """u with (grams of pieces taken) u = worth made - work - added, floored at zero."""
        n = len(self.stages)
        eaten = np.zeros(n)
        for takes in self.taken.values():
            for stage, grams in takes.items():
                eaten[stage] += grams
        floored = eaten == 0
        with_finish = self.method is not Method.SALES_VALUE
        for _ in range(n + 1):
            matrix, right = np.diag(np.where(floored, 1.0, eaten)), np.zeros(n)
            for s in range(n):
                if floored[s]:
                    continue
                right[s] = -self.work[s] - self.added[s]
                for piece in (p for p in self.pieces if self.at[p.stage] == s):
                    right[s] += self.own_worth(piece, with_finish=with_finish) + self.credit(piece)
                    for later, grams in self.taken[piece.key].items():
                        matrix[s, later] -= grams
            u: Array = np.linalg.solve(matrix, right)
            wrong = (u < 0) & ~floored
            if not wrong.any():
                return u
            floored[np.flatnonzero(wrong).max()] = True  # the last stage first: it is a DAG
        raise AssertionError("unreachable")

    def claims(self) -> Array:
        """Each piece's claim on its stage's joint cost."""
        if self.method is Method.WEIGHT:
            nets = [p.gross_g - p.tare_g for p in self.pieces]
            bears = [self.cut[p.cut].kind.bears_cost for p in self.pieces]
            eaten = [sum(self.taken[p.key].values()) for p in self.pieces]
            return np.array([n if b else e for n, b, e in zip(nets, bears, eaten, strict=True)])
        u = self.worth_per_gram()
        with_finish = self.method is Method.NRV
        return np.array([
            max(0.0, self.own_worth(p, with_finish=with_finish))
            + sum(grams * u[stage] for stage, grams in self.taken[p.key].items())
            for p in self.pieces
        ])  # fmt: skip

    def shares(self) -> Array | None:
        """Joint cost of every piece, or None where a stage has to fall back."""
        n, claims = len(self.stages), self.claims()
        stage_of = np.array([self.at[p.stage] for p in self.pieces], dtype=int)
        whole = np.bincount(stage_of, claims, n)
        used = np.bincount(stage_of, minlength=n) > 0
        if (whole[used] < 1e-6).any():
            return None
        credit = np.bincount(stage_of, [self.credit(p) for p in self.pieces], n)
        part = claims / whole[stage_of]
        offset = np.zeros(len(self.pieces))
        if self.method is Method.CONSTANT_MARGIN:
            finish = np.array([
                self.rest(p) * self.cut[p.cut].finish / 1000
                if self.cut[p.cut].kind.bears_cost else 0.0
                for p in self.pieces
            ])  # fmt: skip
            offset = part * np.bincount(stage_of, finish, n)[stage_of] - finish
        matrix, right = np.eye(n), self.body_money + self.added + self.work - credit
        for i, piece in enumerate(self.pieces):
            bears = self.cut[piece.cut].kind.bears_cost
            grams = piece.gross_g - piece.tare_g if bears else sum(self.taken[piece.key].values())
            for later, taken in self.taken[piece.key].items():
                matrix[later, stage_of[i]] -= part[i] * taken / grams
                right[later] += offset[i] * taken / grams
        joint: Array = np.linalg.solve(matrix, right)
        shares: Array = part * joint[stage_of] + offset
        return shares


@pytest.mark.parametrize("method", Method)
@given(trade=random_trades())
def test_shares_agree_with_numpy(method: Method, trade: Trade) -> None:
    dense = Dense(trade, method)
    if not dense.pieces or (expected := dense.shares()) is None:
        return
    costing = roll_up(trade, method)
    found = {cost.piece.key: cost.share for cost in costing.pieces}
    # A unit for each rounding on the way: work, credits and finishing, and one a hand-over.
    tolerance = 2 + len(dense.pieces) + len(dense.stages)
    for piece, share in zip(dense.pieces, expected, strict=True):
        assert abs(found[piece.key] - share) <= tolerance, (piece, share)


def test_the_linear_solve_is_not_trivially_zero() -> None:
    """A witness: the second source gives a figure worked by hand."""
    from tests.trades import Bench

    bench = Bench()
    bench.body(20_000, 1000)
    stage = bench.stage((Source.BODY, "B1", None))
    bench.piece(stage, "rump", 10_000)
    bench.piece(stage, "shin", 10_000)
    shares = Dense(bench.trade(), Method.SALES_VALUE).shares()
    assert shares is not None
    assert Decimal(shares[0]).quantize(Decimal(1)) == round(20000 * 2699 / (2699 + 1499))
