"""The head of a body's section: its name, where it came from, what it weighed and cost."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.sheets.cut_rows import earning
from gambrel.domain.sheets.day_sheet import DaySheet
from gambrel.domain.sheets.sections import Section
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.domain.trade.records import Body, Source
from gambrel.reports.fitting import clean
from gambrel.reports.look import WIDTH, look
from gambrel.reports.pen import Pen

_DOT = " \N{MIDDLE DOT} "


@dataclass(frozen=True, slots=True)
class BodyHead:
    """A block: what the body is, how it came here, and six figures that tell how it went."""

    title: str
    about: str
    history: str
    facts: tuple[tuple[str, str, str], ...]
    gap: float = 18.0
    width: float = WIDTH

    @property
    def height(self) -> float:
        """Name, history and figures."""
        return 82.0

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The bar above, then the words."""
        shown = look()
        pen.rule(x, y - 5, self.width, shown.accent, 1.4)
        used = pen.fit(x, y + 17, self.width * 0.6, self.title, shown.title.at(19))
        pen.fit(x + used + 9, y + 17, self.width - used - 9, self.about, shown.strong.at(9.5))
        pen.fit(x, y + 31, self.width, self.history, shown.note.at(8))
        span = self.width / len(self.facts)
        for n, (name, value, note) in enumerate(self.facts):
            left = x + span * n
            pen.fit(left, y + 49, span - 6, name, shown.label)
            pen.fit(left, y + 63, span - 6, value, shown.strong.at(12))
            pen.fit(left, y + 74, span - 6, note, shown.note)


def body_head(sheet: DaySheet, section: Section, formats: Formats) -> BodyHead:
    """Gather a head's words from a section."""
    bodies = [cost.body for cost in section.bodies]
    kinds = dict.fromkeys(f"{body.portion.capitalize()}, {body.species}" for body in bodies)
    suppliers = dict.fromkeys(sheet.supplier_names.get(b.supplier, b.supplier) for b in bodies)
    about = _DOT.join([*kinds, *suppliers])
    return BodyHead(
        title=clean(" + ".join(body.key for body in bodies)),
        about=clean(about),
        history=_history(sheet, section, formats),
        facts=_facts(section, formats),
    )


def _history(sheet: DaySheet, section: Section, formats: Formats) -> str:
    """How the body came here, and who cut it how."""
    came = []
    if len(section.bodies) == 1:
        body = section.bodies[0].body
        if body.supplier_ref:
            came.append(f"docket {body.supplier_ref}")
        if body.killed_on:
            came.append(f"killed {formats.short_day(body.killed_on)}")
        arrived = business_day(body.received_at, sheet.shop)
        came.append(f"came {formats.short_day(arrived)}, {_hung(arrived, sheet, section)}")
    stage = section.stage
    work = [f"cut as {stage.list}"] if stage.list else []
    started = f"{formats.time(stage.started_at, sheet.shop)}"
    work.append(f"{stage.person or DASH} from {started}, {formats.minutes(stage.minutes)}")
    return clean(_DOT.join([*came, *work]))


def _hung(came: date, sheet: DaySheet, section: Section) -> str:
    days = (business_day(section.stage.started_at, sheet.shop) - came).days
    return "hung a day" if days == 1 else f"hung {days} days"


def _facts(section: Section, formats: Formats) -> tuple[tuple[str, str, str], ...]:
    """What was paid, came, was lost to the air, went on the block, came off it, and earns."""
    bodies = [cost.body for cost in section.bodies]
    taken = [row for row in section.inputs if row.source is Source.BODY]
    grams, cost = sum(row.grams for row in taken), sum(row.cost for row in taken)
    received = sum(body.received_g for body in bodies)
    dried = sum(body.hang_loss_g for body in section.bodies)
    rate = f"{formats.per_kilo(per_kilo(cost, grams))} a kilo" if grams else ""
    bought = formats.money(sum(body.bought for body in bodies))
    earned = earning(section.rows)
    sales = f"of {formats.money(earned.net_sales)} sales" if earned.net_sales else ""
    lost = formats.percent(Decimal(dried) / received) if received else ""
    return (
        ("Bought for", bought, _price(bodies, formats)),
        ("Received", f"{formats.kg(received)} kg", _docket(bodies, formats)),
        ("Lost on the rail", f"{formats.kg(dried)} kg", lost),
        ("To the block", f"{formats.kg(grams)} kg", rate),
        (
            "Saleable so far" if section.balance.open else "Came off saleable",
            *_saleable(section, formats),
        ),
        ("Expected margin", formats.percent(earned.share), sales),
    )


def _saleable(section: Section, formats: Formats) -> tuple[str, str]:
    """Tray and trim as a part of what was cut, and in kilograms."""
    grams, whole = section.saleable_g, section.balance.input_g
    return (
        formats.percent(Decimal(grams) / whole if whole else None),
        f"{formats.kg(grams)} kg",
    )


def _price(bodies: list[Body], formats: Formats) -> str:
    if len(bodies) != 1:
        return ""
    (body,) = bodies
    other = f" + {formats.money(body.other_cost)}" if body.other_cost else ""
    return f"{formats.per_kilo(body.price)} a kilo{other}"


def _docket(bodies: list[Body], formats: Formats) -> str:
    if any(body.docket_g is None for body in bodies):
        return ""
    short = sum((body.docket_g or 0) - body.received_g for body in bodies)
    if not short:
        return "as on the docket"
    return f"docket {formats.kg(short, signed=True)}"
