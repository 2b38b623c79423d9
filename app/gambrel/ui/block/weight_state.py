"""The live weight as the block shows it: typed, or from the scale. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gambrel.domain.bench.steady import MEANINGS, LiveWeight, WeightState
from gambrel.domain.bench.tubs import NO_TUB, Tub
from gambrel.domain.trade.formats import Formats
from gambrel.services.bench.looking import Look

if TYPE_CHECKING:
    from gambrel.ui.block.state import Hands

_WHY_NOT = {
    WeightState.ZERO: "Put it on the scale",
    WeightState.UNSTEADY: "Wait, not steady yet",
    WeightState.UNIT_CHANGED: "Look at the scale",
    WeightState.NEGATIVE: "Below zero",
    WeightState.OVERLOAD: "Too much for the scale",
}
"""What stands on WEIGH IN while a scale answers and its weight cannot be weighed in."""


@dataclass(frozen=True, slots=True)
class InHand:
    """What WEIGH IN would take: grams with the tub, grams of the tub, and whether it may."""

    gross_g: int
    tare_g: int
    ready: bool
    on_scale: bool

    @property
    def net_g(self) -> int:
        """Gross less tare."""
        return self.gross_g - self.tare_g


@dataclass(frozen=True, slots=True)
class WeightText:
    """The live weight: net large, gross and tare beside it.

    ``hint`` says what to do where there is no net weight. ``word`` and ``sentence`` tell how it
    stands with the scale, with a ``meaning``; all empty where no scale is set up. ``large`` is
    true while a scale answers and the keypad is folded away; ``dim`` while the figure is not to
    be taken for a weight.
    """

    net: str
    gross: str
    tare: str
    hint: str
    empty: bool
    spoken: str
    word: str = ""
    meaning: str = ""
    sentence: str = ""
    large: bool = False
    dim: bool = False


@dataclass(frozen=True, slots=True)
class WeighText:
    """The live weight and what WEIGH IN says and does about it."""

    weight: WeightText
    can_weigh: bool
    act: str
    asked: bool
    scale_key: str
    zero_key: bool
    """Whether there is a key that sets the scale to zero."""
    zero_hint: str
    """Why that may not be tapped now; empty where it may."""
    """What the key between scale and keypad says; empty where there is no use for one."""


def tub_of(look: Look, hands: Hands) -> Tub:
    """The tub on the scale: the one chosen, while the shop still has it."""
    return next((tub for tub in look.tubs if tub.name == hands.tub), NO_TUB)


def by_scale(hands: Hands, live: LiveWeight) -> bool:
    """Whether the weight comes from the scale now."""
    return live.answers and not hands.by_hand and not hands.typed


def in_hand(look: Look, hands: Hands, live: LiveWeight) -> InHand:
    """What would be weighed in now; a scale that took its own tare off needs no tub."""
    tare = tub_of(look, hands).grams
    if by_scale(hands, live):
        return InHand(live.grams or 0, 0 if live.net else tare, live.weighable, True)
    return InHand(hands.gross_g, tare, hands.gross_g > 0, False)


def weigh_text(look: Look, hands: Hands, live: LiveWeight, formats: Formats) -> WeighText:
    """All that changes with every reading of a scale and every digit that is typed."""
    held = in_hand(look, hands, live)
    row = look.on_block.cut(hands.cut)
    name = row.cut.name if row else ""
    return WeighText(
        weight=_weight(held, look, hands, live, formats),
        can_weigh=bool(name) and held.ready,
        act=_act(name, held, hands, live),
        asked=hands.asked,
        scale_key=_scale_key(hands, live),
        zero_key=hands.can_zero and held.on_scale,
        zero_hint=_zero_hint(live),
    )


def _zero_hint(live: LiveWeight) -> str:
    if live.zeroable:
        return ""
    return "it is at zero" if live.grams == 0 else "take everything off first"


def _scale_key(hands: Hands, live: LiveWeight) -> str:
    if live.answers:
        return "Use scale" if hands.by_hand else "Type instead"
    return "Ask scale" if hands.by_tap else ""


def _act(name: str, held: InHand, hands: Hands, live: LiveWeight) -> str:
    if not name:
        return "Choose a cut"
    if held.ready:
        return f"YES, WEIGH IN · {name}" if hands.asked else f"WEIGH IN · {name}"
    if held.on_scale:
        return f"{_WHY_NOT.get(live.state, live.state)} · {name}"
    return f"Type the weight · {name}"


def _weight(
    held: InHand, look: Look, hands: Hands, live: LiveWeight, formats: Formats
) -> WeightText:
    tub = tub_of(look, hands)
    tare = f"{tub.name} {formats.kg(tub.grams)}" if tub.grams else tub.name
    meaning = "" if live.state is WeightState.NONE else MEANINGS[live.state]
    word, sentence = (str(live.state), live.sentence) if meaning else ("", "")
    if held.on_scale:
        tare = "by the scale" if live.net else tare
        return _from_scale(held, live, tare, (word, meaning, sentence), formats)
    if live.answers:  # it is typed all the same, so the scale's word is not about this weight
        word = meaning = sentence = ""
    if not held.gross_g:
        hint = "Type what the scale shows" if hands.cut else "Choose a cut"
        spoken = f"{word}: {sentence}" if word else hint
        return WeightText("0.000", hands.typed, tare, hint, True, spoken, word, meaning, sentence)
    if held.net_g <= 0:
        hint = "under the tub"
        return WeightText("0.000", hands.typed, tare, hint, False, hint, word, meaning)
    net = formats.kg(held.net_g)
    spoken = f"net {net} kg, gross {formats.kg(held.gross_g)} kg, tare {tare}"
    return WeightText(net, hands.typed, tare, "", False, spoken, word, meaning)


def _from_scale(
    held: InHand, live: LiveWeight, tare: str, said: tuple[str, str, str], formats: Formats
) -> WeightText:
    word, meaning, sentence = said
    if live.grams is None:
        spoken = f"{word}: {sentence}"
        return WeightText("", "", tare, "", False, spoken, word, meaning, sentence, large=True)
    gross = formats.kg(held.gross_g)
    hint = ""
    if live.weighable and held.net_g <= 0:
        hint, sentence = "under the tub", "The tub weighs more than this. Choose another tub."
        meaning, word = "watch", "under the tub"
    net = formats.kg(held.net_g if live.grams > 0 else held.gross_g)
    spoken = f"{word}, net {net} kg, gross {gross} kg, tare {tare}"
    return WeightText(
        net, gross, tare, hint, False, spoken, word, meaning, sentence,
        large=True, dim=not live.weighable or bool(hint),
    )  # fmt: skip
