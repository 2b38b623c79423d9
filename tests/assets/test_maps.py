"""The bundled body maps: whole, without overlap, legible, and in step with the demo's cuts."""

from __future__ import annotations

import csv
import functools
import io
import math
from importlib.resources import files

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # fontTools has no types

from gambrel import assets
from gambrel.domain.drawing.bodymap import BodyMap, Region
from gambrel.domain.drawing.bodymap_reader import read_map
from gambrel.domain.drawing.marks import area_of, inside, polygon_of

MAPS = (
    "beef-forequarter",
    "beef-hindquarter",
    "beef-side",
    "lamb-whole",
    "pork-whole",
)
BLOCK_ROOM = (732, 216)
"""Pixels that the map has at the block on a screen of 1280 by 800, less a small margin."""

STEP = 11
"""Units of the drawing between the points where the tiling is looked at."""

NOT_IN_A_PLACE = {"marrow-bones"}
"""Tray cuts that come from all over the body, so that no region is theirs."""


@functools.cache
def drawn(name: str) -> BodyMap:
    return read_map(assets.text(f"maps/{name}.toml"))


@functools.cache
def rows(name: str) -> list[dict[str, str]]:
    text = files("gambrel.demo_data").joinpath(name).read_text("utf-8")
    return list(csv.DictReader(io.StringIO(text)))


def test_every_bundled_map_is_tested() -> None:
    names = {each.name for each in files("gambrel.assets").joinpath("maps").iterdir()}
    assert names == {f"{name}.toml" for name in MAPS}


@pytest.mark.parametrize("name", MAPS)
def test_a_map_is_named_after_its_body_and_stays_on_its_sheet(name: str) -> None:
    body = drawn(name)
    assert name == f"{body.species}-{body.portion}"
    for x, y in polygon_of(body.outline):
        assert 2 <= x <= body.width - 2
        assert 2 <= y <= body.height - 2


@pytest.mark.parametrize("name", MAPS)
def test_the_regions_tile_the_body(name: str) -> None:
    """Every point of a fine grid is in exactly one region within the outline, in none outside."""
    body, outline = drawn(name), polygon_of(drawn(name).outline)
    assert sum(region.area() for region in body.regions) == pytest.approx(area_of(outline))
    counts = {0: 0, 1: 0}
    for column in range(int(body.width / STEP)):
        for row in range(int(body.height / STEP)):
            x, y = column * STEP + 0.37, row * STEP + 0.41
            found = sum(region.contains(x, y) for region in body.regions)
            assert found == inside(outline, x, y), (x, y)
            counts[found] += 1
    assert min(counts.values()) > 500, "the grid must have met both body and sheet"


@pytest.mark.parametrize("name", MAPS)
def test_no_region_is_too_small_to_see(name: str) -> None:
    body = drawn(name)
    whole = sum(region.area() for region in body.regions)
    assert min(region.area() for region in body.regions) > whole / 100


@functools.cache
def font() -> TTFont:
    return TTFont(io.BytesIO(assets.data("fonts/IBMPlexSans-Regular.ttf")))


def text_width(text: str, size: float) -> float:
    glyphs, widths = font().getBestCmap(), font()["hmtx"]
    return sum(float(widths[glyphs[ord(letter)]][0]) for letter in text) / 1000 * size


def box(region: Region, tall: float) -> list[tuple[float, float]]:
    """Points around the label's room, as tall as its letters."""
    label = region.label
    turn = math.radians(label.turn)
    return [
        (
            label.x + along * math.cos(turn) - across * math.sin(turn),
            label.y + along * math.sin(turn) + across * math.cos(turn),
        )
        for step in range(-10, 11)
        for across in (-tall / 2, tall / 2)
        for along in (step / 20 * label.room,)
    ]


@pytest.mark.parametrize("name", MAPS)
def test_every_name_fits_into_its_region_in_body_text_at_the_block(name: str) -> None:
    body = drawn(name)
    scale = min(BLOCK_ROOM[0] / body.width, BLOCK_ROOM[1] / body.height)
    for region in body.regions:
        assert text_width(region.name, 16) <= region.label.room * scale, region.name
        assert all(region.contains(x, y) for x, y in box(region, 11)), region.name


@pytest.mark.parametrize("name", MAPS)
def test_every_region_but_the_head_is_a_cut_of_the_demo(name: str) -> None:
    body = drawn(name)
    known = {row["cut"] for row in rows("cuts.csv") if row["species"] == body.species}
    lost = {region.region for region in body.regions if not known & set(region.cuts)}
    assert lost <= {"head"}


@pytest.mark.parametrize("name", MAPS)
def test_every_tray_cut_that_comes_off_has_its_place(name: str) -> None:
    body = drawn(name)
    trays = {row["cut"] for row in rows("cuts.csv") if row["kind"] == "tray"}
    listed = {
        row["cut"]
        for row in rows("cutting_lists.csv")
        if (row["species"], row["portion"]) == (body.species, body.portion)
    }
    assert listed, "the demo cuts this body"
    placed = {cut for region in body.regions for cut in region.cuts}
    assert (listed & trays) - placed <= NOT_IN_A_PLACE
