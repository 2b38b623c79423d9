"""What the end of a body shows: the balance first, then the cost per kilo. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.trade.formats import Formats
from gambrel.services.bench.ending import Reckoning

if TYPE_CHECKING:
    from gambrel.domain.costing.costing import CutCost

LARGE_LOSS = Decimal("0.01")
"""A loss this much over the usual one is marked (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class FigureText:
    """A number with its unit and caption; ``meaning`` marks it."""

    caption: str
    value: str
    unit: str = ""
    meaning: str = ""


@dataclass(frozen=True, slots=True)
class EndState:
    """The end of a body: figures, a sentence, a table, and what can be done."""

    title: str
    figures: tuple[FigureText, ...]
    sentence: str
    meaning: str
    word: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    minutes: int
    finished: bool
    note: str
    onward: str
    """What the way out says: to the rail, or to the body that a piece came from."""


def describe_end(found: Reckoning, minutes: int, formats: Formats) -> EndState:
    """The end as it is before finishing (yields against norms) or after (cost per kilo)."""
    block = found.on_block
    finished = not block.stage.is_open
    gone = found.unexplained
    meaning, sentence = _judge(found, formats)
    figures = (
        FigureText("on the block", formats.kg(block.input_g, 2), "kg"),
        FigureText("came off", formats.kg(block.output_g, 2), "kg"),
        FigureText("unexplained", formats.grams(found.unexplained_g), "", meaning),
        FigureText("of what lay there", formats.percent(gone, 2), "", meaning),
        FigureText("at its cost", formats.money(found.unexplained_money), "", meaning),
    )
    return EndState(
        title="Finished: what every cut costs" if finished else "The balance before finishing",
        figures=figures,
        sentence=sentence,
        meaning=meaning,
        word=_WORDS[meaning],
        columns=_COST_COLUMNS if finished else _YIELD_COLUMNS,
        rows=_cost_rows(found, formats) if finished else _yield_rows(found, formats),
        minutes=minutes,
        finished=finished,
        note=found.note,
        onward="Back to the body" if block.taken else "Back to rail",
    )


_WORDS = {
    "fine": "The balance is fine",
    "info": "The balance",
    "watch": "Look again before you finish",
    "stop": "More came off than lay there",
}
_COST_COLUMNS = ("Cut", "kg", "Cost a kilo", "Price a kilo", "Margin")
_YIELD_COLUMNS = ("Cut", "kg", "Of the norm", "Yield", "Norm")


def _judge(found: Reckoning, formats: Formats) -> tuple[str, str]:
    """Whether the loss is fine, in a word and a sentence."""
    share = found.unexplained
    if share is None:
        return "info", "Nothing lay on the block by weight."
    usual = "" if found.usual is None else f" Usual here: {formats.percent(found.usual, 2)}."
    if found.unexplained_g < 0:
        return "stop", f"Look for a weight that was counted twice, or a tub.{usual}"
    if found.usual is None:
        habit = "The shop has no usual loss for this portion yet: it takes three bodies."
        if share > 2 * LARGE_LOSS:
            return "watch", f"That is much. Is something still on the block? {habit}"
        return "fine", habit
    if share > found.usual + LARGE_LOSS:
        return "watch", f"More is missing than usual. Is something still on the block?{usual}"
    return "fine", f"As the shop usually loses.{usual}"


def _yield_rows(found: Reckoning, formats: Formats) -> tuple[tuple[str, ...], ...]:
    whole = found.on_block.input_g
    rows = []
    for row in found.on_block.cuts:
        part = Decimal(row.weighed_g) / row.norm_g if row.norm_g else None
        share = Decimal(row.weighed_g) / whole if whole else None
        norm = Decimal(row.norm_g) / whole if row.norm_g and whole else None
        rows.append(
            (
                row.cut.name,
                formats.kg(row.weighed_g),
                formats.percent(part, 0),
                formats.percent(share),
                formats.percent(norm),
            )
        )
    return tuple(rows)


def _in_order(found: Reckoning) -> list[CutCost]:
    """The lines of what came off, in the order of the cutting list."""
    places = {row.cut.key: place for place, row in enumerate(found.on_block.cuts)}
    return sorted(found.lines, key=lambda line: places.get(line.cut.key, len(places)))


def _cost_rows(found: Reckoning, formats: Formats) -> tuple[tuple[str, ...], ...]:
    return tuple(
        (
            line.cut.name,
            formats.kg(line.net_g),
            formats.per_kilo(line.cost_per_kilo) if line.cut.kind.bears_cost else "—",
            formats.per_kilo(line.price) if line.cut.kind.bears_cost else "—",
            formats.percent(line.margin) if line.cut.kind.bears_cost else "—",
        )
        for line in _in_order(found)
    )
