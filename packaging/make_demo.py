"""Makes the weighed half of the demo shop, always the same bytes: `python3 packaging/make_demo.py [folder]`.

Reads the hand-kept files of `demo_data/` (cuts, cutting lists, bodies, reweighs) and the plan in `demo_plan.py`, and writes
stages, inputs, pieces, voids and write-offs beside them, or into the folder that is named.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from demo_bench import Bench, Piece, Shop, Stage, moment  # noqa: E402
from demo_plan import FIRST_WEEK, SECOND_WEEK, WRITE_OFFS  # noqa: E402

DATA = Path(__file__).parent.parent / "demo_data"
MADE = ("stages.csv", "inputs.csv", "pieces.csv", "voids.csv", "writeoffs.csv")


def rows_of(path: Path) -> list[dict[str, str]]:
    """The rows of one hand-kept file."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def read_shop(data: Path) -> Shop:
    """What the bench must know, from the hand-kept files."""
    kinds = {row["cut"]: row["kind"] for row in rows_of(data / "cuts.csv")}
    norms: dict[str, list[tuple[str, int]]] = {}
    for row in rows_of(data / "cutting_lists.csv"):
        norms.setdefault(row["list"], []).append(
            (row["cut"], int(Decimal(row["norm_percent"]) * 100))
        )
    weights: dict[str, list[tuple[datetime, int]]] = {}
    for row in rows_of(data / "bodies.csv"):
        weights[row["body"]] = [
            (datetime.fromisoformat(row["received_at"]), grams(row["received_kg"]))
        ]
    for row in rows_of(data / "reweighs.csv"):
        weights[row["body"]].append((datetime.fromisoformat(row["weighed_at"]), grams(row["kg"])))
    return Shop(kinds, norms, weights)


def grams(kilograms: str) -> int:
    """Whole grams of a kilogram cell."""
    return int(Decimal(kilograms) * 1_000)


def kilograms(weight: int | None) -> str:
    """A kilogram cell of whole grams; empty for "all that is left"."""
    return "" if weight is None else f"{weight // 1_000}.{weight % 1_000:03d}"


def money(cents: int | None) -> str:
    """A money cell of whole cents; empty where none is due."""
    return "" if cents is None else f"{cents // 100}.{cents % 100:02d}"


def write(path: Path, header: str, rows: Iterable[Iterable[str]]) -> None:
    """One CSV file, with the same line ends on every system."""
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header.split(","))
        out.writerows(rows)


def stage_row(stage: Stage) -> list[str]:
    finish = "" if stage.finish is None else stage.finish.isoformat()
    return [
        stage.key,
        stage.kind,
        stage.start.isoformat(),
        finish,
        stage.person,
        str(stage.minutes),
        stage.list_name,
    ]


def input_rows(stage: Stage) -> Iterable[list[str]]:
    for body, piece, ingredient, weight, cents in stage.inputs:
        key = "" if piece is None else piece.key
        yield [stage.key, body, key, ingredient, kilograms(weight), money(cents)]


def piece_row(piece: Piece) -> list[str]:
    weights = [kilograms(piece.gross_g), kilograms(piece.tare_g)]
    return [
        piece.key,
        piece.stage.key,
        piece.cut,
        *weights,
        piece.at.isoformat(),
        piece.stage.person,
        piece.stage.station,
    ]


def void_rows(pieces: Iterable[Piece]) -> Iterable[list[str]]:
    for piece in pieces:
        if piece.void is not None:
            yield [piece.key, piece.void[0].isoformat(), piece.stage.person, piece.void[1]]


def make(data: Path, folder: Path) -> Bench:
    """Works the fortnight and writes its five files into the folder."""
    bench = Bench(read_shop(data))
    bench.work(FIRST_WEEK + SECOND_WEEK)
    for item in WRITE_OFFS:
        bench.write_off(item)
    pieces = bench.number_pieces()
    write(
        folder / "stages.csv",
        "stage,kind,started_at,finished_at,person,minutes,list",
        (stage_row(stage) for stage in bench.stages),
    )
    rows = (row for stage in bench.stages for row in input_rows(stage))
    write(folder / "inputs.csv", "stage,body,piece,ingredient,kg,cost", rows)
    header = "piece,stage,cut,gross_kg,tare_kg,weighed_at,person,station"
    write(folder / "pieces.csv", header, (piece_row(piece) for piece in pieces))
    write(folder / "voids.csv", "piece,voided_at,person,reason", void_rows(pieces))
    lost = (
        [p.key, kilograms(w.grams), moment(w.at).isoformat(), w.reason] for p, w in bench.write_offs
    )
    write(folder / "writeoffs.csv", "piece,kg,written_off_at,reason", lost)
    return bench


if __name__ == "__main__":
    make(DATA, Path(sys.argv[1]) if len(sys.argv) > 1 else DATA)
