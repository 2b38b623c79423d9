"""Makes the weighed half of the demo shop, always the same: `packaging/make_demo.py [folder]`.

Reads what is kept by hand in `demo_data/` (cuts, cutting lists, bodies, reweighs) and the plan in
`demo_plan.py`; writes stages, inputs, pieces, voids and write-offs beside them, or into the folder.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from demo_bench import Bench, Shop
from demo_plan import FIRST_WEEK, SECOND_WEEK, WRITE_OFFS
from demo_scale import Piece, Stage
from demo_steps import moment

DATA = Path(__file__).parent.parent / "demo_data"
HEADERS = {
    "stages.csv": "stage,kind,started_at,finished_at,person,minutes,list",
    "inputs.csv": "stage,body,piece,ingredient,kg,cost",
    "pieces.csv": "piece,stage,cut,gross_kg,tare_kg,weighed_at,person,station",
    "voids.csv": "piece,voided_at,person,reason",
    "writeoffs.csv": "piece,kg,written_off_at,reason",
}


def read_shop(data: Path) -> Shop:
    """What the bench must know, from the files that are kept by hand."""
    kinds = {row["cut"]: row["kind"] for row in _rows(data / "cuts.csv")}
    norms: dict[str, list[tuple[str, int]]] = {}
    for row in _rows(data / "cutting_lists.csv"):
        hundredths = int(Decimal(row["norm_percent"]) * 100)
        norms.setdefault(row["list"], []).append((row["cut"], hundredths))
    weights: dict[str, list[tuple[datetime, int]]] = {}
    for row in _rows(data / "bodies.csv"):
        weights[row["body"]] = [_weight(row["received_at"], row["received_kg"])]
    for row in _rows(data / "reweighs.csv"):
        weights[row["body"]].append(_weight(row["weighed_at"], row["kg"]))
    return Shop(kinds, norms, weights)


def make(data: Path, folder: Path) -> None:
    """Work the fortnight over the files in `data` and write its five files into `folder`."""
    bench = Bench(read_shop(data))
    bench.work(FIRST_WEEK + SECOND_WEEK)
    for item in WRITE_OFFS:
        bench.write_off(item)
    pieces = bench.number_pieces()
    rows = {
        "stages.csv": [_stage(stage) for stage in bench.stages],
        "inputs.csv": [row for stage in bench.stages for row in _inputs(stage)],
        "pieces.csv": [_piece(piece) for piece in pieces],
        "voids.csv": [row for piece in pieces for row in _voids(piece)],
        "writeoffs.csv": [
            [piece.key, _kg(item.grams), moment(item.at).isoformat(), item.reason]
            for piece, item in bench.write_offs
        ],
    }
    for name, header in HEADERS.items():
        _write(folder / name, header, rows[name])


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _weight(at: str, kilograms: str) -> tuple[datetime, int]:
    return datetime.fromisoformat(at), int(Decimal(kilograms) * 1_000)


def _kg(grams: int | None) -> str:
    return "" if grams is None else f"{grams // 1_000}.{grams % 1_000:03d}"


def _money(cents: int | None) -> str:
    return "" if cents is None else f"{cents // 100}.{cents % 100:02d}"


def _stage(stage: Stage) -> list[str]:
    finish = "" if stage.finish is None else stage.finish.isoformat()
    times = [stage.start.isoformat(), finish]
    return [stage.key, stage.kind, *times, stage.person, str(stage.minutes), stage.list_name]


def _inputs(stage: Stage) -> Iterable[list[str]]:
    for row in stage.inputs:
        piece = "" if row.piece is None else row.piece.key
        yield [stage.key, row.body, piece, row.ingredient, _kg(row.grams), _money(row.cents)]


def _piece(piece: Piece) -> list[str]:
    weights = [_kg(piece.gross_g), _kg(piece.tare_g)]
    who = [piece.stage.person, piece.stage.station]
    return [piece.key, piece.stage.key, piece.cut, *weights, piece.at.isoformat(), *who]


def _voids(piece: Piece) -> Iterable[list[str]]:
    if piece.void is not None:
        at, reason = piece.void
        yield [piece.key, at.isoformat(), piece.stage.person, reason]


def _write(path: Path, header: str, rows: Iterable[list[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header.split(","))
        out.writerows(rows)


if __name__ == "__main__":
    make(DATA, Path(sys.argv[1]) if len(sys.argv) > 1 else DATA)
