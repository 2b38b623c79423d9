"""What the rail shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from gambrel.domain.bench.rail import SOON_DAYS, HangingBody, day_words, reweigh_doubt
from gambrel.domain.bench.receiving import docket_claim
from gambrel.domain.bench.steady import MEANINGS, LiveWeight, WeightState
from gambrel.domain.numbers.mass import parse_kg
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.titles import body_title
from gambrel.services.rail import Rail

NO_SCALE = LiveWeight()
HEAVY_G = 40_000
"""From this weight on a card's panel reminds of the second pair of hands (common practice)."""

MINUTES_A_DAY = 24 * 60
LIFTING = "Two people for a heavy quarter. Follow local codes and your training."


@dataclass(frozen=True, slots=True)
class CardState:
    """One body. ``mark`` is a meaning's name ("fine", "watch", "stop", "info")."""

    key: str
    title: str
    under: str
    weight: str
    weight_caption: str
    cost: str
    when: str
    hang: str
    mark: str
    mark_text: str
    claim: str
    act: str
    can_reweigh: bool
    on_block: bool

    @property
    def spoken(self) -> str:
        """The card in one sentence for a screen reader."""
        weight = f"{self.weight} kg {self.weight_caption}"
        told = (self.title, self.under, weight, self.mark_text, self.when, self.hang, self.claim)
        return ", ".join(part for part in told if part)


@dataclass(frozen=True, slots=True)
class RailState:
    """All cards, what must be broken first at the head, and one line about them together."""

    summary: str = ""
    cards: tuple[CardState, ...] = ()


def describe(found: Rail, formats: Formats) -> RailState:
    """The rail's texts, with the shop's way of writing numbers."""
    cards = tuple(_card(row, found, formats) for row in found.bodies)
    return RailState(_summary(found.bodies, formats), cards)


def _summary(bodies: tuple[HangingBody, ...], formats: Formats) -> str:
    hung = [row for row in bodies if row.weight_g]
    kilos = formats.kg(sum(row.weight_g for row in hung), 1)
    money = formats.money(sum(row.left_cost for row in hung))
    count = f"{len(hung)} {'body hangs' if len(hung) == 1 else 'bodies hang'}"
    return f"{count} · {kilos} kg · {money}" if hung else ""


def _card(row: HangingBody, found: Rail, formats: Formats) -> CardState:
    body = row.body
    note = found.claims.get(body.key, "")
    title = body_title(body)
    named = "" if body.key in title else f" · {body.key}"
    lies = row.stage is not None
    mark, mark_text = _mark(row, found, formats)
    computed = docket_claim(body, formats)
    return CardState(
        key=body.key,
        title=title,
        under=f"{row.supplier}{named}",
        weight=formats.kg(row.weight_g or row.on_block_g, 2),
        weight_caption="hangs" if row.weight_g else "still on the block",
        cost=formats.per_kilo(row.cost_per_kilo) if row.weight_g else "",
        when=_when(row, found, formats),
        hang=_hang(row, formats),
        mark=mark,
        mark_text=mark_text,
        claim=note.replace("\n", " ") or (computed.sentence if computed else ""),
        act="Go on" if lies else "To the block",
        can_reweigh=bool(row.weight_g),
        on_block=lies,
    )


def _hang(row: HangingBody, formats: Formats) -> str:
    if not row.hang_loss_g:
        return "not weighed again yet" if row.weighed_at == row.body.received_at else "no hang loss"
    loss = formats.kg(abs(row.hang_loss_g), 2)
    share = formats.percent(abs(row.hang_share))
    way = "hang loss" if row.hang_loss_g > 0 else "gained on the rail"
    return f"{loss} kg {way} ({share})"


def _when(row: HangingBody, found: Rail, formats: Formats) -> str:
    if row.stage is not None:
        lies = f"{formats.kg(row.on_block_g, 2)} kg on" if row.weight_g else "on"
        since = _since(row.stage.started_at, found, formats)
        return f"{day_words(row.days)} · {lies} the block since {since}"
    by = f" · break by {formats.short_day(row.break_by)}" if row.break_by else ""
    return f"{day_words(row.days)}{by}"


def _since(moment: datetime, found: Rail, formats: Formats) -> str:
    """A time of today, or with its day where that is another."""
    time, day = formats.time(moment, found.shop), business_day(moment, found.shop)
    if day == business_day(found.now, found.shop):
        return time
    return f"{formats.short_day(day)}, {time}"


def _mark(row: HangingBody, found: Rail, formats: Formats) -> tuple[str, str]:
    if row.stage is not None:
        off = found.now - row.stage.started_at
        if off < found.off_rail:
            return "info", "on the block"
        minutes = int(off / timedelta(minutes=1))
        days = minutes // MINUTES_A_DAY
        told = _days(days) if days else formats.minutes(minutes)
        return "watch", f"{told} off the rail"
    if row.break_by is None or row.days_left is None:
        return "info", "no limit set"
    if row.days_left < 0:
        return "stop", f"{_days(-row.days_left)} over"
    if row.days_left == 0:
        return "stop", "break today"
    meaning = "watch" if row.days_left <= SOON_DAYS else "fine"
    return meaning, f"{_days(row.days_left)} left"


def _days(number: int) -> str:
    return f"{number} day" if number == 1 else f"{number} days"


@dataclass(frozen=True, slots=True)
class ReweighState:
    """The panel beside the cards while a body is weighed again."""

    title: str
    typed: str
    before: str
    difference: str
    keep: str
    can_keep: bool
    doubt: str
    caution: str
    grams: int
    meaning: str = ""
    """How grave it is that the scale's figure is no weight; empty where it may be kept."""
    trouble: tuple[str, str, str] = ("", "", "")
    """Why no scale answers: a meaning's name, a word and a sentence."""
    asks: bool = False
    """Whether the scale waits to be asked."""


def describe_reweigh(
    row: HangingBody,
    typed: str,
    formats: Formats,
    live: LiveWeight = NO_SCALE,
    *,
    by_tap: bool = False,
) -> ReweighState:
    """What a weight means for a body: what is typed, or else what the scale says.

    ``by_tap`` is true where the scale answers only when it is asked.
    """
    grams = _grams(typed)
    missing, meaning, trouble = "Type the weight", "", ("", "", "")
    if not typed and live.answers:
        grams = (live.grams or 0) if live.weighable else 0
        typed = "–" if live.grams is None else formats.kg(live.grams)
        missing = live.state.capitalize()
        meaning = "" if live.weighable else MEANINGS[live.state]
    elif not (typed or by_tap or live.state is WeightState.NONE):
        trouble = (MEANINGS[live.state], live.state.capitalize(), live.sentence)
    before = f"last time {formats.kg(row.weight_g, 2)} kg"
    return ReweighState(
        title=body_title(row.body),
        typed=typed,
        before=before,
        difference=f"{formats.kg(grams - row.weight_g, signed=True)} kg" if grams else "",
        keep=f"Keep {formats.kg(grams, 2)} kg" if grams else missing,
        can_keep=grams > 0,
        doubt=reweigh_doubt(row, grams) if grams else "",
        caution=LIFTING if row.weight_g >= HEAVY_G else "",
        grams=grams,
        meaning=meaning,
        trouble=trouble,
        asks=by_tap and not live.answers,
    )


def scale_at_door(live: LiveWeight, formats: Formats, *, by_tap: bool) -> tuple[str, bool]:
    """What the key says that takes a weight from the scale, and whether it can be tapped.

    It says nothing where no scale answers and none can be asked.
    """
    if live.weighable:
        return f"Take {formats.kg(live.grams or 0, 2)} kg from the scale", True
    if live.answers:
        return f"Scale: {live.state}", False
    return ("Ask the scale", True) if by_tap else ("", False)


def _grams(typed: str) -> int:
    """Grams of a keypad's text; 0 while it is no weight yet."""
    try:
        return parse_kg(typed.removesuffix("."))
    except ValueError:
        return 0
