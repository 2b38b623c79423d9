"""What the Cuts section shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from gambrel.domain.bench.allergens import allergen_words
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.cut_edits import KIND_WORDS, proposed_key, what_follows
from gambrel.services.catalogue import Catalogue, Entry, card_of, texts_of
from gambrel.ui.setup.rows_state import RowState
from gambrel.ui.widgets.choice import Choice

NEW = "\n"
"""Chosen while a new cut is made; no cut has such a key."""
NO_CUTS = "There is no cut yet. Begin with a new one: tap “A new cut” and type its name."
NO_MATCH = "No cut has this in its name, its key or its PLU."
TAP_ONE = "Tap a cut to change it."
PRICE_CARE = "Prices are changed in the Cabinet."

GROUPS = {
    CutKind.TRAY: "Trays",
    CutKind.TRIM: "Trim",
    CutKind.BYPRODUCT: "By-products",
    CutKind.WASTE: "Waste",
}
RETIRED_HEAD = "Retired"
HEADS = (*GROUPS.values(), RETIRED_HEAD)

NUMBERS = ("price_per_kg", "finish_per_kg", "credit_per_kg", "shelf_life_days", "plu")
LINES = ("name", "cut", "species", "unece", "ingredients", "allergens", "storage", "cooking")
ONLY_NEW = frozenset({"cut", "species", "price_per_kg"})
BEARERS = frozenset({"price_per_kg", "finish_per_kg"})
"""Asked of what bears cost."""


@dataclass(frozen=True, slots=True)
class Draft:
    """The cut that is chosen, or `NEW`; what is sought; and the columns that were typed."""

    chosen: str = ""
    species: str = ""
    search: str = ""
    typed: Mapping[str, str] = field(default_factory=dict)
    refusal: str = ""

    def choose(self, key: str) -> Draft:
        """With another cut, and nothing typed for it."""
        return Draft(key, self.species, self.search)

    def type(self, column: str, text: str) -> Draft:
        """With another text in a column."""
        return replace(self, typed={**self.typed, column: text}, refusal="")


@dataclass(frozen=True, slots=True)
class FormState:
    """The chosen cut. With none ``title`` is empty and ``about`` says what to do."""

    title: str = ""
    about: str = ""
    texts: Mapping[str, str] = field(default_factory=dict)
    columns: frozenset[str] = frozenset()
    kinds: tuple[Choice, ...] = ()
    kind_fixed: str = ""
    fee: bool = False
    follows: str = ""
    refusal: str = ""
    act: str = ""
    can_act: bool = False
    aside: str = ""


@dataclass(frozen=True, slots=True)
class CutsState:
    """All of the section; ``groups`` stand under `HEADS`."""

    species: tuple[Choice, ...]
    search: str
    groups: tuple[tuple[RowState, ...], ...]
    none: str
    form: FormState


def species_of(found: Catalogue) -> list[str]:
    """The species of the catalogue, in their order."""
    return sorted({entry.card.cut.species for entry in found.entries.values()})


def base_texts(found: Catalogue, draft: Draft) -> dict[str, str]:
    """The texts of the chosen cut before anything was typed."""
    entry = found.entries.get(draft.chosen)
    if entry is not None:
        return texts_of(entry.card, found.shop)
    return {"species": draft.species, "kind": CutKind.TRAY.value}


def typed_texts(found: Catalogue, draft: Draft) -> dict[str, str]:
    """The texts of the chosen cut with what was typed; a new one's key follows its name."""
    texts = {**base_texts(found, draft), **draft.typed}
    if draft.chosen == NEW and not draft.typed.get("cut", "").strip():
        name, species = texts.get("name", ""), texts.get("species", "")
        texts["cut"] = proposed_key(name, species, found.entries) if name.strip() else ""
    return texts


def describe(found: Catalogue, draft: Draft) -> CutsState:
    """The section's texts.

    Args:
        found: The catalogue.
        draft: What is chosen, sought and typed.
    """
    shown = [entry for entry in found.entries.values() if _is_sought(entry, draft)]
    names = species_of(found)
    groups = [
        [e for e in shown if e.card.cut.kind is kind and not e.retired] for kind in GROUPS
    ]  # fmt: skip
    groups.append([entry for entry in shown if entry.retired])
    return CutsState(
        species=tuple(Choice(name, _titled(name), name == draft.species) for name in names),
        search=draft.search,
        groups=tuple(_rows(group, draft.chosen) for group in groups),
        none="" if shown else (NO_MATCH if found.entries else NO_CUTS),
        form=_form(found, draft),
    )


def _is_sought(entry: Entry, draft: Draft) -> bool:
    sought, cut = draft.search.strip().casefold(), entry.card.cut
    if not sought:
        return cut.species == draft.species
    return sought in cut.name.casefold() or sought in cut.key or sought == cut.plu


def _rows(entries: Sequence[Entry], chosen: str) -> tuple[RowState, ...]:
    ordered = sorted(
        entries, key=lambda entry: (entry.card.cut.name.casefold(), entry.card.cut.key)
    )
    return tuple(_row(entry, chosen) for entry in ordered)


def _row(entry: Entry, chosen: str) -> RowState:
    cut, said = entry.card.cut, []
    if cut.shelf_life_days is not None:
        said.append(_counted(cut.shelf_life_days, "day"))
    if entry.lists:
        said.append(f"on {_counted(len(entry.lists), 'list')}")
    about = " · ".join(said) or KIND_WORDS[cut.kind]
    return RowState(
        cut.key, cut.name, about, cut.plu, "PLU" if cut.plu else "", chosen=cut.key == chosen
    )


def _form(found: Catalogue, draft: Draft) -> FormState:
    entry, new = found.entries.get(draft.chosen), draft.chosen == NEW
    if entry is None and not new:
        return FormState(about=TAP_ONE if found.entries else NO_CUTS)
    texts = typed_texts(found, draft)
    kind = CutKind(texts["kind"])
    base = base_texts(found, draft)
    pieces = entry.pieces if entry else 0
    return FormState(
        title=entry.card.cut.name if entry else "A new cut",
        about=_about(entry) if entry else "",
        texts=texts,
        columns=_columns(kind, new=new),
        kinds=tuple(Choice(k.value, _titled(KIND_WORDS[k]), k is kind) for k in CutKind),
        kind_fixed=_kind_fixed(pieces),
        fee=texts.get("credit_per_kg", "").startswith("-"),
        follows=_follows(found, entry, texts),
        refusal=draft.refusal,
        act="Add" if new else "Keep",
        can_act=bool(texts.get("name", "").strip()) if new else texts != base,
        aside=_aside(entry),
    )


def _aside(entry: Entry | None) -> str:
    if entry is None:
        return "Leave"
    if entry.retired:
        return "Bring back"
    return "Retire" if entry.named else "Remove"


def _about(entry: Entry) -> str:
    said = f"{_counted(entry.pieces, 'piece')} weighed." if entry.pieces else "Nothing weighed yet."
    where = f" On {', '.join(entry.lists)}." if entry.lists else " On no list."
    return said + where


def _kind_fixed(pieces: int) -> str:
    if not pieces:
        return ""
    return "The kind stays, since pieces have been weighed: past costs would change."


def _columns(kind: CutKind, *, new: bool) -> frozenset[str]:
    """What is asked of a kind of cut."""
    columns = {*NUMBERS, *LINES}
    if not kind.bears_cost:
        columns -= BEARERS
    if kind is not CutKind.BYPRODUCT:
        columns.discard("credit_per_kg")
    return frozenset(columns if new else columns - ONLY_NEW)


def _follows(found: Catalogue, entry: Entry | None, texts: Mapping[str, str]) -> str:
    """What is to be said before the texts are kept."""
    try:
        card = card_of(texts, found.shop)
    except Refusal:  # it is told once it shall be kept
        return ""
    said = [*what_follows(entry.card.cut, card.cut, entry.pieces)] if entry else []
    listed = card.label.ingredients.casefold()
    missing = [w for w in allergen_words(card.label.allergens) if w.casefold() not in listed]
    if missing:
        said.append(f"The ingredients do not name {', '.join(missing)}: no label can stress it.")
    return "\n".join(said)


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def _titled(word: str) -> str:
    return word[:1].upper() + word[1:]
