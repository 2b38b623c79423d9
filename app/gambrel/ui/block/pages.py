"""Which cuts stand on the block's keys together. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from gambrel.domain.bench.block import OnBlock
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.trade.catalogue import CutKind


@dataclass(frozen=True, slots=True)
class CutText:
    """A cut's key as it is shown: weights as texts, ``share`` of the norm for the bar.

    ``all_along`` marks what comes off during the whole work: trim, fat, bone, waste. ``listed`` is
    false for the rest of the catalogue.
    """

    key: str
    name: str
    weighed: str
    norm: str
    share: float
    all_along: bool = False
    listed: bool = True

    @property
    def spoken(self) -> str:
        """For a screen reader."""
        weighed = f"{self.weighed} kg" if self.weighed else "nothing yet"
        return f"{self.name}, {weighed}" + (f" {self.norm}" if self.norm else "")


def pages(cuts: Sequence[CutText], room: int) -> tuple[tuple[CutText, ...], ...]:
    """Divide the cuts among pages of ``room`` keys, in the order in which they come off.

    What comes off all along stands on every page of the list where all do not fit on one; the
    rest of the catalogue follows on pages of its own. A last page that would have gaps begins with
    the last cuts of the page before it.
    """
    listed = [cut for cut in cuts if cut.listed]
    rest = [cut for cut in cuts if not cut.listed]
    if len(listed) <= room:
        found = [tuple(listed)] if listed else []
    else:
        always = [cut for cut in listed if cut.all_along]
        others = [cut for cut in listed if not cut.all_along]
        if len(always) > room // 2 or not others:
            always, others = [], listed
        step = room - len(always)
        found = [(*page, *always) for page in _full(others, step)]
    return (*found, *_full(rest, room))


def _full(cuts: Sequence[CutText], step: int) -> list[tuple[CutText, ...]]:
    """Pages of ``step`` cuts each; only a single page may have fewer."""
    most = max(len(cuts) - step, 0)
    return [tuple(cuts[min(at, most) :][:step]) for at in range(0, len(cuts), step)]


def cut_texts(on_block: OnBlock) -> tuple[CutText, ...]:
    """All cuts of the block: the list's first, then the rest of the catalogue."""
    listed = [(row, True) for row in on_block.cuts] or [(row, True) for row in on_block.more]
    rest = [(row, False) for row in on_block.more] if on_block.cuts else []
    return tuple(
        CutText(
            key=row.cut.key,
            name=row.cut.name,
            weighed=_short(row.weighed_g) if row.weighed_g else "",
            norm=f"of {_short(row.norm_g)}" if row.norm_g else "",
            share=row.share,
            all_along=row.cut.kind is not CutKind.TRAY,
            listed=is_listed,
        )
        for row, is_listed in (*listed, *rest)
    )


def _short(grams: int) -> str:
    """Kilograms with three figures: a key is narrow, and the list has every gram."""
    return kg_text(grams, 2 if grams < 10_000 else 1)


def next_cut(on_block: OnBlock) -> str:
    """The cut that comes off next by the list: the first after the last tray cut weighed."""
    tray = [row for row in on_block.cuts if row.cut.kind is CutKind.TRAY and row.norm_g]
    weighed = [place for place, row in enumerate(tray) if row.weighed_g]
    place = weighed[-1] + 1 if weighed else 0
    return tray[place].cut.key if place < len(tray) else ""
