"""The demo shop read with nothing but the standard library, for checks that must not trust us."""

from __future__ import annotations

import csv
from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from functools import cached_property
from pathlib import Path

FOLDER = Path(__file__).parents[2] / "demo_data"

Row = dict[str, str]


def grams(kilograms: str) -> int:
    return int(Decimal(kilograms) * 1000)


@dataclass(frozen=True)
class Demo:
    """Rows by file, and what follows from them; weights in grams."""

    folder: Path = FOLDER

    def rows(self, name: str) -> list[Row]:
        with (self.folder / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    @cached_property
    def kinds(self) -> dict[str, str]:
        return {row["cut"]: row["kind"] for row in self.rows("cuts")}

    @cached_property
    def stages(self) -> dict[str, Row]:
        return {row["stage"]: row for row in self.rows("stages")}

    @cached_property
    def bodies(self) -> dict[str, Row]:
        return {row["body"]: row for row in self.rows("bodies")}

    @cached_property
    def pieces(self) -> dict[str, Row]:
        """What counts: every piece that was not voided."""
        voided = {row["piece"] for row in self.rows("voids")}
        return {row["piece"]: row for row in self.rows("pieces") if row["piece"] not in voided}

    @cached_property
    def stage_of(self) -> dict[str, str]:
        """The stage that broke each body."""
        return {row["body"]: row["stage"] for row in self.rows("inputs") if row["body"]}

    def finished(self, portion: str, species: str = "beef") -> list[str]:
        """Bodies of a portion that were broken to the end."""
        return [
            key
            for key, body in self.bodies.items()
            if (body["portion"], body["species"]) == (portion, species)
            and key in self.stage_of
            and self.stages[self.stage_of[key]]["finished_at"]
        ]

    def weighings(self, body: str) -> list[tuple[datetime, int]]:
        """A body's weights in the order of time, the received one first."""
        row = self.bodies[body]
        later = [r for r in self.rows("reweighs") if r["body"] == body]
        times = [(row["received_at"], row["received_kg"])]
        times += [(r["weighed_at"], r["kg"]) for r in later]
        return sorted((datetime.fromisoformat(at), grams(kg)) for at, kg in times)

    def input_g(self, body: str) -> int:
        """The last weight before the break began."""
        began = datetime.fromisoformat(self.stages[self.stage_of[body]]["started_at"])
        return [g for at, g in self.weighings(body) if at <= began][-1]

    def made(self, stage: str) -> dict[str, int]:
        """Net grams by cut that one stage weighed."""
        out: dict[str, int] = defaultdict(int)
        for row in self.pieces.values():
            if row["stage"] == stage:
                out[row["cut"]] += grams(row["gross_kg"]) - grams(row["tare_kg"])
        return dict(out)

    def percents(self, body: str) -> dict[str, Decimal]:
        """Yield of each cut that came off a body, in percent of its weight at the block."""
        whole = self.input_g(body)
        made = self.made(self.stage_of[body])
        return {cut: Decimal(100 * weight) / whole for cut, weight in made.items()}

    def lost_percent(self, body: str) -> Decimal:
        return 100 - sum(self.percents(body).values(), Decimal(0))
