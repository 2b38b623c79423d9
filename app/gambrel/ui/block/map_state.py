"""Which drawing belongs to a body, and how far its regions are filled. Pure: no Qt."""

from __future__ import annotations

from contextlib import suppress
from typing import NamedTuple

from gambrel import assets
from gambrel.domain.bench.block import CutOnBlock, OnBlock
from gambrel.domain.drawing.bodymap import BodyMap, Region
from gambrel.domain.drawing.bodymap_reader import read_map
from gambrel.domain.trade.records import Body

STEPS = 25
"""A region fills in so many steps: fewer gram's worth cannot be seen."""


class MapFill(NamedTuple):
    """What the drawing shows: by region how much is weighed, the chosen one, and words."""

    filled: dict[str, float]
    chosen: str
    words: dict[str, str]


def map_of(body: Body | None) -> BodyMap | None:
    """The drawing of a body, where there is one."""
    if body is None:
        return None
    with suppress(FileNotFoundError):
        return read_map(assets.text(f"maps/{body.species}-{body.portion}.toml"))
    return None


def map_fill(body_map: BodyMap, on_block: OnBlock, cut: str) -> MapFill:
    """Fill each region by the first of its cuts that stands on the list."""
    shown = MapFill({}, "", {})
    chosen = ""
    for region in body_map.regions:
        row = _listed(region, on_block)
        if row is None:
            continue
        share = int(min(row.share, 1.0) * STEPS) / STEPS
        shown.filled[region.region] = share
        shown.words[region.region] = f"{row.cut.name}, {share:.0%} of the norm"
        if row.cut.key == cut:
            chosen = region.region
    return shown._replace(chosen=chosen)


def cut_of_region(body_map: BodyMap, on_block: OnBlock, region_key: str) -> str:
    """The cut that a tap on a region means; empty where none of its cuts is on the list."""
    region = next((each for each in body_map.regions if each.region == region_key), None)
    row = _listed(region, on_block) if region else None
    return row.cut.key if row else ""


def _listed(region: Region, on_block: OnBlock) -> CutOnBlock | None:
    rows = {row.cut.key: row for row in on_block.cuts}
    return next((rows[cut] for cut in region.cuts if cut in rows), None)
