"""Whole trades for the tests: one written by hand, and random ones that could really happen."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta
from decimal import Decimal

from hypothesis import strategies as st

from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.catalogue import Cut, CutKind, Shop
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PriceChange,
    Reweigh,
    Source,
    Stage,
    StageKind,
    Trade,
    Void,
)

AUD = Currency("AUD", 2)
START = datetime(2026, 11, 16, 6, tzinfo=UTC)
HOUR = timedelta(hours=1)


def a_shop(**changes: object) -> Shop:
    settings: dict[str, object] = {
        "name": "Test bench",
        "currency": AUD,
        "time_zone": "Australia/Melbourne",
        "day_starts": time(4),
        "week_starts": 0,
        "work_per_hour": 3750,
        "tax_percent": Decimal(0),
        "prices_include_tax": False,
        "target_margin_percent": Decimal(38),
    }
    return Shop(**(settings | changes))  # type: ignore[arg-type]  # names are checked by Shop


CUTS = (
    Cut("rump", "Rump", "beef", CutKind.TRAY, 2699, 48, plu="101"),
    Cut("shin", "Shin", "beef", CutKind.TRAY, 1499, 30, plu="102"),
    Cut("mince-trim", "Mince trim", "beef", CutKind.TRIM, 899),
    Cut("mince", "Mince", "beef", CutKind.TRAY, 1399, 25, plu="103"),
    Cut("fat", "Fat", "beef", CutKind.BYPRODUCT, credit=20),
    Cut("bone", "Bone", "beef", CutKind.BYPRODUCT, credit=-15),
    Cut("waste", "Waste", "beef", CutKind.WASTE),
)


@dataclass
class Bench:
    """Builds a trade in the order of the work, an hour a step; every act returns its key."""

    shop: Shop = field(default_factory=a_shop)
    cuts: tuple[Cut, ...] = CUTS
    now: datetime = START
    bodies: list[Body] = field(default_factory=list)
    reweighs: list[Reweigh] = field(default_factory=list)
    stages: list[Stage] = field(default_factory=list)
    inputs: list[Input] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)
    voids: list[Void] = field(default_factory=list)
    prices: list[PriceChange] = field(default_factory=list)

    def tick(self) -> datetime:
        self.now += HOUR
        return self.now

    def body(self, grams: int, price: int, other: int = 0) -> str:
        key = f"B{len(self.bodies) + 1}"
        self.bodies.append(
            Body(key, "beef", "hindquarter", "farm", self.tick(), grams, price, other_cost=other)
        )
        return key

    def reweigh(self, body: str, grams: int) -> None:
        self.reweighs.append(Reweigh(body, self.tick(), grams))

    def stage(
        self,
        *takes: tuple[Source, str, int | None],
        kind: StageKind = StageKind.BREAK,
        minutes: int = 0,
        still_open: bool = False,
    ) -> str:
        key, begun = f"S{len(self.stages) + 1}", self.tick()
        done = None if still_open else begun + HOUR / 2
        self.stages.append(Stage(key, kind, begun, done, "Ana", Decimal(minutes)))
        self.inputs.extend(Input(key, source, name, grams) for source, name, grams in takes)
        return key

    def ingredient(self, stage: str, name: str, grams: int, cost: int) -> None:
        self.inputs.append(Input(stage, Source.INGREDIENT, name, grams, cost))

    def piece(self, stage: str, cut: str, grams: int, tare: int = 0) -> str:
        key = f"P{len(self.pieces) + 1}"
        self.pieces.append(Piece(key, stage, cut, grams + tare, tare, self.now, "Ana", "1"))
        return key

    def void(self, piece: str) -> None:
        self.voids.append(Void(piece, self.tick(), "Ana", "wrong cut"))

    def trade(self) -> Trade:
        return Trade(
            self.shop,
            cuts=self.cuts,
            bodies=tuple(self.bodies),
            reweighs=tuple(self.reweighs),
            stages=tuple(self.stages),
            inputs=tuple(self.inputs),
            pieces=tuple(self.pieces),
            voids=tuple(self.voids),
            prices=tuple(self.prices),
        )


@st.composite
def random_cuts(draw: st.DrawFn) -> tuple[Cut, ...]:
    """The catalogue with other prices; finishing may cost more than a cut sells for."""
    changed = []
    for cut in CUTS:
        price = draw(st.integers(0, 9000)) if cut.kind.bears_cost else None
        finish = draw(st.integers(0, 300)) if cut.kind.bears_cost else 0
        credit = draw(st.integers(-80, 120)) if cut.kind is CutKind.BYPRODUCT else 0
        changed.append(
            Cut(cut.key, cut.name, cut.species, cut.kind, price, finish, credit, plu=cut.plu)
        )
    return tuple(changed)


@st.composite
def random_trades(draw: st.DrawFn, most_stages: int = 6) -> Trade:
    """Bodies, partly broken, dried, trimmed out and blended, in any order that could happen."""
    including = draw(st.booleans())
    tax = draw(st.sampled_from([Decimal(0), Decimal(10), Decimal("5.5")]))
    shop = a_shop(tax_percent=tax, prices_include_tax=including)
    bench = Bench(shop, draw(random_cuts()))
    left_of_bodies: dict[str, int] = {}
    left_of_pieces: dict[str, int] = {}
    for _ in range(draw(st.integers(1, 3))):
        grams, price = draw(st.integers(1, 200_000)), draw(st.integers(0, 2500))
        left_of_bodies[bench.body(grams, price, draw(st.integers(0, 5000)))] = grams
    for _ in range(draw(st.integers(0, most_stages))):
        _random_stage(draw, bench, left_of_bodies, left_of_pieces)
    return bench.trade()


def _random_stage(
    draw: st.DrawFn, bench: Bench, bodies: dict[str, int], pieces: dict[str, int]
) -> None:
    hanging = [key for key, left in bodies.items() if left]
    if draw(st.booleans()) and hanging:
        dried = draw(st.sampled_from(hanging))
        bodies[dried] = draw(st.integers(1, bodies[dried]))
        bench.reweigh(dried, bodies[dried])
    free = [(Source.BODY, key) for key in hanging]
    free += [(Source.PIECE, key) for key, left in pieces.items() if left]
    if not free:
        return
    chosen = draw(st.lists(st.sampled_from(free), min_size=1, max_size=4, unique=True))
    takes: list[tuple[Source, str, int | None]] = []
    for source, key in chosen:
        store = bodies if source is Source.BODY else pieces
        all_of_it = draw(st.booleans())
        grams = store[key] if all_of_it else draw(st.integers(1, store[key]))
        store[key] -= grams
        takes.append((source, key, None if all_of_it else grams))
    stage = bench.stage(
        *takes,
        kind=draw(st.sampled_from(list(StageKind))),
        minutes=draw(st.integers(0, 240)),
        still_open=draw(st.booleans()),
    )
    if draw(st.booleans()):
        bench.ingredient(stage, "salt", draw(st.integers(1, 5000)), draw(st.integers(0, 9000)))
    for _ in range(draw(st.integers(0, 5))):
        cut = draw(st.sampled_from(CUTS)).key
        grams = draw(st.integers(1, 60_000))
        key = bench.piece(stage, cut, grams, draw(st.integers(0, 500)))
        if draw(st.integers(0, 9)) == 0:
            bench.void(key)
        else:
            pieces[key] = grams
