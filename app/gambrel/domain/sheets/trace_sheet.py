"""Everything that a trace tells: the ways, and what the book says of what stands on them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from gambrel.domain.prices.prints import LogLine
from gambrel.domain.review.trace import Trace
from gambrel.domain.review.trace_keys import Subject, SubjectKind
from gambrel.domain.trade.around import IngredientLot, Origin
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.domain.trade.records import Body, StageKind
from gambrel.domain.trade.titles import WHOLE

STAGE_KINDS = {
    StageKind.BREAK: "break",
    StageKind.TRIMOUT: "trim-out",
    StageKind.BLEND: "blend",
}
CAUTION = (
    "All of a piece is suspect. What it may hold is a share by weight, by calculation: a stage "
    "mixes what it takes."
)
NOT_SOLD = (
    "What customers bought is not in the book, so what is left here may have been sold. Your food "
    "authority's rules go first."
)
NO_GOODS = "Who supplied an ingredient is not in the book; it stands on the delivery note."


@dataclass(frozen=True, slots=True)
class TraceSheet:
    """All that one word names, traced, with names, days and prints looked up by key.

    ``lots`` is by stage and ingredient, ``printed`` by piece: every label that was sent out or may
    have been, the newest first. ``notes`` are sentences without their full stop.
    """

    word: str
    shop: Shop
    traces: tuple[Trace, ...]
    cuts: Mapping[str, Cut]
    suppliers: Mapping[str, str]
    ingredients: Mapping[str, str]
    lots: Mapping[tuple[str, str], IngredientLot]
    origins: Mapping[str, Origin]
    use_by: Mapping[str, date | None]
    printed: Mapping[str, tuple[LogLine, ...]]
    notes: tuple[str, ...] = ()

    def title(self, found: Trace) -> str:
        """What is traced, as a sentence."""
        return f"{found.subject.name} is {self._what(found)}."

    def cautions(self, found: Trace) -> str:
        """What a trace does not say, in sentences."""
        return " ".join((CAUTION, NOT_SOLD, *([NO_GOODS] if found.back.added else [])))

    def cut(self, key: str) -> str:
        """A cut's name."""
        return self.cuts[key].name

    def supplier(self, key: str) -> str:
        """A supplier's name."""
        return self.suppliers.get(key) or key

    def ingredient(self, key: str) -> str:
        """An ingredient's name; its key where it is in no list."""
        return self.ingredients.get(key) or key

    def body_words(self, body: Body) -> str:
        """For example ``hindquarter of beef from Northfold Farm``, or ``lamb from`` there."""
        what = body.species if body.portion == WHOLE else f"{body.portion} of {body.species}"
        return f"{what} from {self.supplier(body.supplier)}"

    def _what(self, found: Trace) -> str:
        subject = found.subject
        match subject.kind:
            case SubjectKind.BODY:
                [fate] = found.back.bodies
                return f"a body: {self.body_words(fate.body)}"
            case SubjectKind.PIECE:
                return self._piece(found)
            case SubjectKind.STAGE:
                [kind] = (e.stage.kind for e in found.forward.stages if e.stage.key == subject.name)
                return f"a stage ({STAGE_KINDS[kind]})"
            case SubjectKind.LABEL_NUMBER:
                return f"the number on a label of {subject.of}, {self._piece(found)}"
            case SubjectKind.INGREDIENT_LOT:
                return f"a lot of {self.ingredient(subject.of)}"
            case SubjectKind.INGREDIENT:
                return f"an ingredient ({self.ingredient(subject.name)}), of whatever lot"
            case _:
                return self._of_bodies(subject)

    def _of_bodies(self, subject: Subject) -> str:
        count = len(subject.bodies)
        bodies = "1 body" if count == 1 else f"{count} bodies"
        match subject.kind:
            case SubjectKind.SUPPLIER_REF:
                return f"a docket of {self.supplier(subject.of)} with {bodies}"
            case SubjectKind.KILLED_ON:
                return f"the day on which {bodies} {_were(count)} slaughtered"
            case SubjectKind.RECEIVED_ON:
                return f"the day on which {bodies} {_were(count)} received"
            case SubjectKind.ABATTOIR:
                return f"the abattoir of {bodies}"
            case _:
                return f"a supplier ({self.supplier(subject.name)}) of {bodies}"

    def _piece(self, found: Trace) -> str:
        [key] = found.subject.pieces
        for gone in found.forward.taken_back:
            if gone.piece.key == key:
                return (
                    f"a piece of {self.cut(gone.piece.cut)} that was taken back: it holds nothing"
                )
        [cut] = (each.piece.cut for each in found.forward.pieces if each.piece.key == key)
        return f"a piece of {self.cut(cut)}"


def _were(count: int) -> str:
    return "was" if count == 1 else "were"
