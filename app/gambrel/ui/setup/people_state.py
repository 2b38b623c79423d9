"""What the People section shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from gambrel.domain.trade.around import Person
from gambrel.domain.trade.pins import FEWEST, MOST
from gambrel.ui.block.pins import DOT
from gambrel.ui.setup.rows_state import RowState

NO_LOCK = (
    "A PIN keeps a name from being used by mistake. It is no lock: whoever holds the book's file "
    "can try them all."
)
NOBODY_YET = "Nobody is in the team yet. Type the first name, then Add."
TAP_ONE = "Tap a name to give or change a PIN, or to take it off the team."


@dataclass(frozen=True, slots=True)
class NewPin:
    """A PIN on its way: typed once, then once more. None of it is shown."""

    typed: str = field(default="", repr=False)
    first: str = field(default="", repr=False)
    refusal: str = ""

    def type(self, text: str) -> NewPin:
        """With other digits."""
        return self if text == self.typed else replace(self, typed=text, refusal="")

    @property
    def again(self) -> bool:
        """Whether it is typed for the second time."""
        return bool(self.first)

    def agreed(self) -> bool:
        """Whether both are there and the same."""
        return self.again and self.typed == self.first

    def further(self) -> NewPin:
        """After OK: to the second time, or back to the first where the two differ."""
        if not self.again:
            return NewPin(first=self.typed)
        return NewPin(refusal="The two were not the same. Type the new PIN from the beginning.")


@dataclass(frozen=True, slots=True)
class Draft:
    """The name that is typed, who is chosen, and the PIN that is given to them."""

    name: str = ""
    chosen: str = ""
    pin: NewPin | None = None
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class PinState:
    """The pad for a new PIN."""

    told: str
    dots: str
    typed: str = field(repr=False)
    refusal: str
    act: str
    can_act: bool


@dataclass(frozen=True, slots=True)
class PeopleState:
    """All of the section. With nobody chosen ``title`` is empty and ``about`` says what to do."""

    rows: tuple[RowState, ...]
    name: str
    can_add: bool
    refusal: str
    title: str
    about: str
    give: str
    can_take_away: bool
    pin: PinState | None


def describe(team: Sequence[Person], draft: Draft) -> PeopleState:
    """The section's texts.

    Args:
        team: Who works in the shop, by name.
        draft: What is chosen and typed.
    """
    chosen = next((person for person in team if person.name == draft.chosen), None)
    about = (TAP_ONE if team else NOBODY_YET) if chosen is None else _about(chosen)
    return PeopleState(
        rows=tuple(_row(person, draft.chosen) for person in team),
        name=draft.name,
        can_add=bool(draft.name.strip()),
        refusal=draft.refusal,
        title=chosen.name if chosen else "",
        about=about,
        give="Change the PIN" if chosen and chosen.pin else "Give a PIN",
        can_take_away=bool(chosen and chosen.pin),
        pin=_pin(draft.pin) if chosen and draft.pin else None,
    )


def _row(person: Person, chosen: str) -> RowState:
    about = "asked for a PIN" if person.pin else "no PIN"
    return RowState(person.name, person.name, about, chosen=person.name == chosen)


def _about(person: Person) -> str:
    if person.pin:
        return "Asked for a PIN at the block."
    return "Chosen at the block by one tap, without a PIN."


def _pin(pin: NewPin) -> PinState:
    told = "The same digits once more." if pin.again else f"A new PIN: {FEWEST} to {MOST} digits."
    dots = " ".join(DOT * len(pin.typed))
    act = "Keep the PIN" if pin.again else "Next"
    return PinState(told, dots, pin.typed, pin.refusal, act, len(pin.typed) >= FEWEST)
