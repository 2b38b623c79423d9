"""What to mind at the block, in its place and short. Pure.

These are reminders of common practice, with no source; local codes and the shop's own training
decide.
"""

from __future__ import annotations

from datetime import timedelta

from gambrel.domain.bench.block import OnBlock
from gambrel.domain.trade.formats import Formats

OFF_RAIL_MINUTES = 60
"""After so many minutes out of the cold the block says so (common practice, no source)."""

OFF_RAIL_SETTING = "off-rail-minutes"

PAUSE_SETTING = "pause-minutes"
"""For how many minutes work counts on after a weighing that no other follows."""

HEAVY_G = 25_000
"""More than this is lifted by two (common practice, no source)."""

FOLLOW = "Follow local codes and your training."

CARE = (
    "Mesh glove on, guard down at the saw. Dry the handle after opening a joint. "
    f"Two people for a heavy quarter. {FOLLOW}"
)
"""While the block is free."""


def off_rail_limit(kept: str | None) -> timedelta:
    """How long something may be out of the cold, as the book's setting has it."""
    return minutes_kept(kept, timedelta(minutes=OFF_RAIL_MINUTES))


def minutes_kept(kept: str | None, usual: timedelta) -> timedelta:
    """A span that the shop has set in whole minutes (1 to 999); the usual where it has not."""
    text = kept or ""
    sound = text.isascii() and text.isdigit() and len(text) <= 3 and int(text) > 0
    return timedelta(minutes=int(text)) if sound else usual


def care_at_start(on_block: OnBlock) -> str:
    """What to mind before the first cut of what lies there."""
    parts = ["Mesh glove on, guard down.", "Dry the handle after opening a joint."]
    if on_block.body is not None and on_block.input_g > HEAVY_G:
        parts.insert(0, "Two people to lift it.")
    return " ".join([*parts, FOLLOW])


def nothing_to_choose(on_block: OnBlock) -> str:
    """What to do where the catalogue has no cut of what lies there; nothing where it has one."""
    if on_block.cuts or on_block.more:
        return ""
    return f"No cut of {on_block.species} is in the catalogue. Add its cuts under Setup."


def wash_caution(before: str, after: str) -> str:
    """What to do between two species; nothing where there is one."""
    if not before or not after or before == after:
        return ""
    return f"{after.capitalize()} after {before}: wash block, knives and hands first. {FOLLOW}"


def cold_caution(off_rail: timedelta, limit: timedelta, formats: Formats) -> str:
    """What to do when something has been out of the cold too long; nothing before that."""
    if off_rail < limit:
        return ""
    minutes = int(limit / timedelta(minutes=1))
    return (
        f"More than {formats.minutes(minutes)} off the rail: put back in the cold what you are not "
        f"cutting now. {FOLLOW}"
    )
