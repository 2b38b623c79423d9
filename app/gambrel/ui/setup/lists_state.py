"""What the Lists section shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from gambrel.domain.bench.usual import FEWEST, UsualYields
from gambrel.domain.trade.cut_edits import KIND_WORDS
from gambrel.domain.trade.list_edits import Lines, ListKey, in_order, norm_sum
from gambrel.services.cutting_lists import CuttingLists
from gambrel.ui.setup.rows_state import RowState
from gambrel.ui.widgets.choice import Choice

CARE = (
    "The block offers the cuts of a list in its order. A body that is on the block follows a "
    "change at once; what was weighed stays."
)
NO_LISTS = "There is no list yet. Tap “A new list”, and say what is cut by it."
TAP_ONE = "Tap a list to open or to copy it."
NO_LINES = "The list is in the book once it has its first cut. Tap “Add a cut”."
TAP_LINE = "Tap a cut to set its norm or to move it."
ALL_ON = "Every cut of this species stands on the list."
NO_MATCH = "No other cut has this in its name."
_PERCENT = "\N{NARROW NO-BREAK SPACE}%"


class Side(StrEnum):
    """What stands at the right."""

    LIST = "list"
    MAKE = "make"
    LINE = "line"
    ADD = "add"


@dataclass(frozen=True, slots=True)
class Making:
    """A list that is begun: its three words, or only its name where it copies another."""

    name: str = ""
    species: str = ""
    portion: str = ""
    copy_of: ListKey | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """The list that is chosen and whether it is open; what was typed for one of its cuts.

    ``norm`` None is untouched, ``order`` what a finger has made of the list so far. ``begun`` is a
    list without a cut, which no book holds.
    """

    chosen: ListKey | None = None
    is_open: bool = False
    begun: ListKey | None = None
    making: Making | None = None
    line: str = ""
    norm: str | None = None
    order: tuple[str, ...] | None = None
    adding: bool = False
    search: str = ""
    refusal: str = ""

    @property
    def side(self) -> Side:
        """What stands at the right."""
        if not self.is_open:
            return Side.MAKE if self.making else Side.LIST
        return Side.ADD if self.adding else Side.LINE

    def choose(self, key: ListKey | None) -> Draft:
        """With another list, closed."""
        return Draft(key, begun=self.begun)

    def opened(self, line: str = "") -> Draft:
        """With the chosen list open, and one of its cuts chosen."""
        return Draft(self.chosen, is_open=True, begun=self.begun, line=line)


@dataclass(frozen=True, slots=True)
class LineRow:
    """One line of the open list."""

    cut: str
    place: str
    name: str
    norm: str
    usual: str

    @property
    def words(self) -> str:
        """What a screen reader says."""
        norm = f"norm {self.norm} per cent" if self.norm else "no norm"
        usual = f", usually {self.usual} per cent" if self.usual else ""
        return f"{self.place}, {self.name}, {norm}{usual}"


@dataclass(frozen=True, slots=True)
class LineState:
    """The cut that is chosen on the open list."""

    title: str = ""
    about: str = ""
    norm: str = ""
    typed: str | None = None
    usual: str = ""
    can_take: bool = False
    can_up: bool = False
    can_down: bool = False
    can_keep: bool = False


@dataclass(frozen=True, slots=True)
class ListsState:
    """All of the section."""

    side: Side
    is_open: bool
    rows: tuple[RowState, ...]
    title: str
    about: str
    can_open: bool
    making: Making | None
    making_about: str
    portions: tuple[Choice, ...]
    lines: tuple[LineRow, ...]
    chosen_cut: str
    empty: str
    total: str
    all_usual: str
    line: LineState
    offered: tuple[RowState, ...]
    search: str
    none: str
    refusal: str


def key_text(key: ListKey) -> str:
    """A list's key as one text."""
    return "\n".join(key)


def text_key(text: str) -> ListKey:
    """Read back what `key_text` wrote."""
    return ListKey(*text.split("\n"))


def lines_of(found: CuttingLists, draft: Draft) -> Lines:
    """The lines of the chosen list as a finger has put them."""
    lines = found.lists.get(draft.chosen, ()) if draft.chosen else ()
    return lines if draft.order is None else in_order(lines, draft.order)


def percent(number: Decimal) -> str:
    """A per cent without needless noughts."""
    return f"{number.normalize():f}"


def describe(found: CuttingLists, draft: Draft, usual: UsualYields) -> ListsState:
    """The section's texts.

    Args:
        found: The lists.
        draft: What is chosen, typed and sought.
        usual: What the last bodies yielded by the open list.
    """
    lines = lines_of(found, draft)
    total = norm_sum(_with_typed(lines, draft))
    key = draft.chosen
    return ListsState(
        side=draft.side,
        is_open=draft.is_open,
        rows=tuple(_list_row(each, found.lists[each], draft) for each in _in_order(found)),
        title=key.name if key else "",
        about=_about(found, draft),
        can_open=key is not None,
        making=draft.making,
        making_about=_making_about(draft.making),
        portions=_portions(found, draft.making),
        lines=_line_rows(found, lines, draft, usual),
        chosen_cut=draft.line,
        empty="" if lines else NO_LINES,
        total=_total(total) if lines else "",
        all_usual=_all_usual(lines, usual),
        line=_line(found, lines, draft, usual),
        offered=_offered(found, lines, draft),
        search=draft.search,
        none=_none(found, lines, draft),
        refusal=draft.refusal,
    )


def _in_order(found: CuttingLists) -> list[ListKey]:
    return sorted(found.lists, key=lambda key: (key.species, key.portion, key.name))


def _what(key: ListKey) -> str:
    return f"{key.species} {key.portion}"


def _list_row(key: ListKey, lines: Lines, draft: Draft) -> RowState:
    about = f"{_what(key)} · {_counted(len(lines), 'cut')}"
    total = norm_sum(lines)
    return RowState(
        key_text(key), key.name, about, percent(total), "%", chosen=key == draft.chosen
    )  # fmt: skip


def _about(found: CuttingLists, draft: Draft) -> str:
    key = draft.chosen
    if key is None:
        return TAP_ONE if found.lists else NO_LISTS
    lines = found.lists.get(key, ())
    return f"For {_what(key)}: {_counted(len(lines), 'cut')}. {_total(norm_sum(lines))}"


def _making_about(making: Making | None) -> str:
    if making is None:
        return ""
    if making.copy_of is None:
        return "What is cut by it? Tap one, or type species and portion."
    return f"It begins with the cuts and norms of {making.copy_of.name}."


def _portions(found: CuttingLists, making: Making | None) -> tuple[Choice, ...]:
    if making is None or making.copy_of is not None:
        return ()
    mine = (making.species, making.portion)
    return tuple(Choice("\n".join(each), " ".join(each), each == mine) for each in found.portions)


def _total(total: Decimal) -> str:
    left = 100 - total
    if left < 0:
        return f"{percent(total)}{_PERCENT}: {percent(-left)}{_PERCENT} more than a body has."
    return f"{percent(total)}{_PERCENT} of 100; {percent(left)}{_PERCENT} left for loss."


def _with_typed(lines: Lines, draft: Draft) -> Lines:
    if draft.norm is None:
        return lines
    typed = _number(draft.norm)
    return tuple(
        replace(line, norm_percent=typed) if line.cut == draft.line else line for line in lines
    )


def _line_rows(
    found: CuttingLists, lines: Lines, draft: Draft, usual: UsualYields
) -> tuple[LineRow, ...]:
    """The lines; numbers of a column have the same decimals, so that they stand in line."""
    norms = _aligned([line.norm_percent for line in lines])
    proposed = _aligned([usual.percent.get(line.cut) for line in lines])
    return tuple(
        LineRow(
            line.cut,
            str(line.position),
            _name(found, line.cut),
            norm if draft.norm is None or line.cut != draft.line else draft.norm,
            usually,
        )
        for line, norm, usually in zip(lines, norms, proposed, strict=True)
    )


def _aligned(numbers: Sequence[Decimal | None]) -> list[str]:
    """Numbers with as many decimals as the longest of them needs; nothing where there is none."""
    texts = ["" if number is None else percent(number) for number in numbers]
    most = max((len(text.partition(".")[2]) for text in texts), default=0)
    return ["" if number is None else f"{number:.{most}f}" for number in numbers]


def _name(found: CuttingLists, cut: str) -> str:
    return found.cuts[cut].name if cut in found.cuts else cut


def _all_usual(lines: Lines, usual: UsualYields) -> str:
    count = sum(_is_new(line.cut, line.norm_percent, usual) for line in lines)
    if not count:
        return ""
    return f"Take {_counted(count, 'usual yield')} of {usual.bodies} bodies"


def _is_new(cut: str, norm: Decimal | None, usual: UsualYields) -> bool:
    return cut in usual.percent and usual.percent[cut] != norm


def _line(found: CuttingLists, lines: Lines, draft: Draft, usual: UsualYields) -> LineState:
    line = next((line for line in lines if line.cut == draft.line), None)
    if line is None:
        return LineState(about=TAP_LINE if lines else NO_LINES)
    norm = "" if line.norm_percent is None else percent(line.norm_percent)
    place = lines.index(line)
    return LineState(
        title=_name(found, line.cut),
        norm=norm if draft.norm is None else draft.norm,
        typed=draft.norm,
        usual=_usual(line.cut, usual),
        can_take=_is_new(line.cut, line.norm_percent, usual),
        can_up=place > 0,
        can_down=place < len(lines) - 1,
        can_keep=draft.norm is not None and _number(draft.norm) != line.norm_percent,
    )


def _number(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def _usual(cut: str, usual: UsualYields) -> str:
    if usual.bodies < FEWEST:
        return f"A usual yield is known from {FEWEST} bodies on."
    if cut not in usual.percent:
        return f"Most of the last {usual.bodies} bodies gave none."
    return f"The last {usual.bodies} bodies usually gave {percent(usual.percent[cut])}{_PERCENT}."


def _offered(found: CuttingLists, lines: Lines, draft: Draft) -> tuple[RowState, ...]:
    if not draft.adding or draft.chosen is None:
        return ()
    on, sought = {line.cut for line in lines}, draft.search.strip().casefold()
    free = [
        cut
        for cut in found.cuts.values()
        if cut.species == draft.chosen.species
        and cut.key not in on | found.retired
        and sought in cut.name.casefold()
    ]
    free.sort(key=lambda cut: (cut.name.casefold(), cut.key))
    return tuple(RowState(cut.key, cut.name, KIND_WORDS[cut.kind]) for cut in free)


def _none(found: CuttingLists, lines: Lines, draft: Draft) -> str:
    if not draft.adding or _offered(found, lines, draft):
        return ""
    return NO_MATCH if draft.search.strip() else ALL_ON


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"
