"""The lean target: what is asked, and the mix that answers it. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from gambrel.domain.bench.lean import Mix, Prefer, Target
from gambrel.domain.bench.trim import FreeClass
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats
from gambrel.services.tub.planning import LeanPlan, TrimStock
from gambrel.ui.tub.picking import typed_grams, typed_percent
from gambrel.ui.tub.trim_state import RowText
from gambrel.ui.tub.words import lean_of_class, named, percent

KILOS, LEAST, MOST = "kilos", "least", "most"
FIELDS = (KILOS, LEAST, MOST)
"""The fields that the keypad types into."""

SPAN = Decimal(1)
"""So many points above the least lean are allowed where no most is given and the square does not
serve: whole steps of several trims seldom hit one figure."""


@dataclass(frozen=True, slots=True)
class Aim:
    """What was chosen and typed: kilos, lean at least and at most, which trims, what decides.

    ``keep`` leaves in what is in the blend already.
    """

    typed: tuple[tuple[str, str], ...] = ()
    field: str = KILOS
    cuts: frozenset[str] = frozenset()
    prefer: Prefer = Prefer.CHEAPEST
    keep: bool = False

    def text(self, field: str) -> str:
        """What was typed into a field."""
        return dict(self.typed).get(field, "")

    def typing(self, text: str) -> Aim:
        """The same with another text in the field that is chosen."""
        return replace(self, typed=tuple({**dict(self.typed), self.field: text}.items()))

    @property
    def ready(self) -> bool:
        """Whether there is enough to ask for a mix."""
        return bool(typed_grams(self.text(KILOS)) and typed_percent(self.text(LEAST)) is not None)


@dataclass(frozen=True, slots=True)
class TargetText:
    """The panel: fields, trims to choose, the mix found or why there is none."""

    fields: dict[str, str]
    field: str
    trims: tuple[RowText, ...]
    prefer: Prefer
    keep: bool
    answer: str
    meaning: str
    act: str
    can_act: bool
    solved: bool


def target_of(aim: Aim, sources: int, step_g: int) -> Target:
    """The target that is asked for of so many sources.

    Raises:
        Refusal: Kilos or lean are not typed yet.
    """
    grams, least = typed_grams(aim.text(KILOS)), typed_percent(aim.text(LEAST))
    if not grams or least is None:
        raise Refusal("Type the kilos of meat and the lean that is wanted.")
    most = typed_percent(aim.text(MOST))
    if most is None:
        most = least if sources == 2 else min(least + SPAN, Decimal(100))
    return Target(grams, least, most, step_g, aim.prefer)


def narrowed(sources: Sequence[TrimStock], taken: Mapping[str, int]) -> tuple[TrimStock, ...]:
    """The sources with at least what is taken of each cut already, as far as it stands free."""
    left = dict(taken)
    found = []
    for row in sources:
        cut = row.pieces[0].cut.key
        least = min(left.get(cut, 0), row.source.most_g)
        left[cut] = left.get(cut, 0) - least
        found.append(replace(row, source=replace(row.source, least_g=least)))
    return tuple(found)


def describe_target(
    aim: Aim,
    classes: Sequence[FreeClass],
    plan: LeanPlan | None,
    wrong: str,
    formats: Formats,
) -> TargetText:
    """The panel's texts; ``wrong`` is why there is no mix."""
    grams = _by_cut(plan) if plan else {}
    trims = tuple(_trim(row, aim, grams.get(row.cut.key), formats) for row in classes)
    if plan is None:
        act = "Find the mix" if aim.ready else "Type kilos and lean"
        meaning = "stop" if wrong else ""
        return _text(aim, trims, wrong, meaning, act, aim.ready, solved=False)
    act = f"Take this mix, {formats.kg(plan.mix.total_g)} kg"
    return _text(aim, trims, answer_of(plan.mix, formats), "fine", act, True, solved=True)


def _text(
    aim: Aim,
    trims: tuple[RowText, ...],
    answer: str,
    meaning: str,
    act: str,
    can_act: bool,
    *,
    solved: bool,
) -> TargetText:
    fields = {field: aim.text(field) for field in FIELDS}
    return TargetText(
        fields, aim.field, trims, aim.prefer, aim.keep, answer, meaning, act, can_act, solved
    )


def answer_of(mix: Mix, formats: Formats) -> str:
    """What a mix comes to, exactly, and which tubs it empties."""
    lean = percent(mix.lean_percent, formats, 2)
    cost = formats.per_kilo(mix.cost * 1000 / mix.total_g)
    pairs = list(zip(mix.sources, mix.grams, strict=True))
    emptied = [source.name for source, grams in pairs if grams and grams == source.most_g]
    said = f"{formats.kg(mix.total_g)} kg at {lean} lean, {cost} a kilo."
    if emptied:
        said += f" It takes all of {named(emptied)}."
    return said


def _by_cut(plan: LeanPlan) -> dict[str, int]:
    found: dict[str, int] = {}
    for source, grams in zip(plan.mix.sources, plan.mix.grams, strict=True):
        cut = source.key.partition("@")[0]
        found[cut] = found.get(cut, 0) + grams
    return found


def _trim(row: FreeClass, aim: Aim, grams: int | None, formats: Formats) -> RowText:
    taken = "" if grams is None else f"{formats.kg(grams)} kg" if grams else "none of it"
    known = row.lean_percent is not None
    return RowText(
        key=row.cut.key,
        name=row.cut.name,
        kilos=formats.kg(row.usable_g, 2),
        under=lean_of_class(row, formats),
        mark="" if known else "watch",
        word="" if known else "set its lean first",
        taken=taken,
        chosen=row.cut.key in aim.cuts,
    )
