"""What went into a blend, as words: allergens, lots, dates; and its end. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Source
from gambrel.services.bench.ending import Reckoning
from gambrel.services.tub import BlendCost, BlendFacts
from gambrel.ui.block.finish_state import EndState, describe_end
from gambrel.ui.tub.blend_state import CODES, COLD, GUARD
from gambrel.ui.tub.panel_state import lot_text
from gambrel.ui.tub.words import percent

LARGE_LOSS = Decimal("0.02")
"""A blend that loses more is looked at again (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class ContentsText:
    """Allergens stand in bold; ``unknown`` warns of ingredients of which nothing is known."""

    allergens: str
    unknown: str
    lots: str
    cautions: str


def describe_contents(facts: BlendFacts, formats: Formats, *, mincing: bool) -> ContentsText:
    """What is kept of a blend's sources; ``mincing`` is false where trays are worked back."""
    lots = [
        f"{row.name} {formats.kg(row.grams)} kg, "
        f"{lot_text(row.lot, row.use_by, formats) if row.lot else 'no lot kept'}"
        for row in facts.added
    ]
    pieces = "1 piece" if len(facts.taken) == 1 else f"{len(facts.taken)} pieces"
    if facts.bodies:
        pieces += f" of {', '.join(facts.bodies)}"
    parts = [pieces, *lots]
    if facts.lean is not None:
        parts.append(f"{percent(facts.lean, formats, 2)} lean")
    if facts.use_by is not None:
        parts.append(f"Nothing lasts past {formats.short_day(facts.use_by)}")
    unknown = ", ".join(facts.unknown)
    clean = "Clean down after it. " if facts.allergens else ""
    return ContentsText(
        allergens=f"Contains {', '.join(facts.allergens)}" if facts.allergens else "",
        unknown=f"Allergens not known of {unknown}: look at the pack." if unknown else "",
        lots=f"{'. '.join(parts)}.",
        cautions=f"{clean}{COLD} {f'{GUARD} ' if mincing else ''}{CODES}",
    )


def describe_blend_end(
    found: Reckoning, minutes: int, formats: Formats, cost: BlendCost | None = None
) -> EndState:
    """The end of a blend in the block's own words, where they are not a body's.

    ``cost`` is what went in cost, once it is known.
    """
    end = describe_end(found, minutes, formats)
    went_in, came_out, gone, share, money = end.figures
    meaning, sentence = _judge(found)
    return replace(
        end,
        title="Finished: what every product costs" if end.finished else end.title,
        figures=(
            replace(went_in, caption="went in"),
            replace(came_out, caption="weighed out"),
            replace(gone, meaning=meaning),
            replace(share, caption="of what went in", meaning=meaning),
            replace(money, meaning=meaning),
        ),
        sentence=sentence,
        meaning=meaning,
        onward="Back to the tub",
        note=" ".join(part for part in (end.note, _money(cost, formats)) if part),
    )


def _money(cost: BlendCost | None, formats: Formats) -> str:
    """What meat, ingredients and work cost, and a kilo of what was weighed out."""
    if cost is None:
        return ""
    added = sum(row.cost for row in cost.inputs if row.source is Source.INGREDIENT)
    meat = sum(row.cost for row in cost.inputs) - added
    parts = [f"meat {formats.money(meat)}"]
    if added:
        parts.append(f"ingredients {formats.money(added)}")
    parts.append(f"work {formats.money(cost.work)}")
    said = ", ".join(parts).capitalize()
    return f"{said}: {formats.per_kilo(cost.cost_per_kilo)} a kilo before finishing."


def _judge(found: Reckoning) -> tuple[str, str]:
    share = found.unexplained
    if share is None:
        return "info", "Nothing went in by weight."
    if share < 0:
        return "stop", "More was weighed out than went in. Look for a weight counted twice."
    if share > LARGE_LOSS:
        return "watch", "Much is missing. Is something still in the mincer or in a tub?"
    return "fine", "No more is missing than stays in the mincer and on the tubs."
