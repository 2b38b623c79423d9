"""A body map of two squares: what it answers, and every way in which its file can be wrong."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.drawing.bodymap import BodyMap
from gambrel.domain.drawing.bodymap_reader import read_map

GOOD = """
species = "goat"
portion = "side"
size = [20, 10]
outline = ["left-edge", "right-edge"]

[lines]
left-edge = "M 10 10 L 0 10 L 0 0 L 10 0"
right-edge = "M 10 0 L 20 0 L 20 10 L 10 10"
middle = "M 10 0 L 10 10"

[[regions]]
region = "hind"
name = "Hind"
label = { x = 5, y = 4, turn = 0, room = 8 }
cuts = ["leg", "loin"]
border = ["left-edge", "middle"]

[[regions]]
region = "fore"
name = "Fore"
label = { x = 15, y = 5.5, turn = -90, room = 6 }
cuts = ["neck", "leg"]
border = ["right-edge", "-middle"]

[[details]]
style = "dots"
path = "M 1 1 L 4 4"
"""


def edited(old: str, new: str) -> str:
    assert GOOD.count(old) == 1, "the edit must hit one place"
    return GOOD.replace(old, new)


def test_the_map_is_read() -> None:
    drawn = read_map(GOOD)
    assert (drawn.species, drawn.portion, drawn.width, drawn.height) == ("goat", "side", 20, 10)
    assert [region.region for region in drawn.regions] == ["hind", "fore"]
    assert drawn.regions[1].label.turn == -90
    assert drawn.details[0].style == "dots"
    assert drawn.outline[-1][0] == "Z"


def test_only_what_parts_two_regions_is_a_seam() -> None:
    assert read_map(GOOD).seams == ((("M", ((10, 0),)), ("L", ((10, 10),))),)


@given(x=st.floats(-5, 25), y=st.floats(-5, 15))
def test_a_tap_finds_its_region(x: float, y: float) -> None:
    drawn = read_map(GOOD)
    if min(abs(x), abs(x - 10), abs(x - 20), abs(y), abs(y - 10)) < 1e-9:
        return
    within = 0 < x < 20 and 0 < y < 10
    found = drawn.region_at(x, y)
    assert (found and found.region) == (("hind" if x < 10 else "fore") if within else None)


def test_a_cut_finds_its_regions() -> None:
    drawn = read_map(GOOD)
    assert [region.region for region in drawn.regions_of("leg")] == ["hind", "fore"]
    assert [region.region for region in drawn.regions_of("neck")] == ["fore"]
    assert drawn.regions_of("tail") == ()


def test_a_region_knows_its_area_and_middle() -> None:
    hind, fore = read_map(GOOD).regions
    assert (hind.area(), hind.centroid()) == (100, (5, 5))
    assert (fore.area(), fore.centroid()) == (100, (15, 5))


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ('species = "goat"\n', "", "'species' is missing"),
        ('species = "goat"', 'species = "Goat"', "small letters"),
        ('species = "goat"', 'species = "goat"\nbreed = "x"', "'breed' is not known"),
        ("size = [20, 10]", "size = [20]", "a width and a height above zero"),
        ("size = [20, 10]", "size = [20, 0]", "a width and a height above zero"),
        ("size = [20, 10]", "size = [20, nan]", "off any sheet"),
        ("size = [20, 10]", "size = [20, inf]", "off any sheet"),
        ("size = [20, 10]", "size = [20, 1" + "0" * 400 + "]", "off any sheet"),
        ("size = [20, 10]", "size = [20, true]", "should be a number"),
        ("size = [20, 10]", "size = 20", "should be a list"),
        ('["left-edge", "right-edge"]', '["left-edge"]', "outline: The border is not closed"),
        ('["left-edge", "right-edge"]', '["left-edge", "top"]', "there is no line 'top'"),
        ('["left-edge", "right-edge"]', "[]", "needs at least one line"),
        ('["left-edge", "right-edge"]', "[7]", "should be text, not 7"),
        ('"M 10 0 L 10 10"', '"M 10 0 Q 9 5 10 10"', "lines, middle: 'Q' is not what"),
        ('"M 10 0 L 10 10"', '"M 10 0 L 10 10 Z"', "middle is closed: take the Z off"),
        ('"M 10 0 L 10 10"', '"M 10 0 L 10 9"', "'hind', border: The border is not closed"),
        ('"M 10 0 L 10 10"', '"M 10 0 L 10 10"\nodd = "M 0 0 L 1 1"', "'odd' borders 0 times"),
        ('"right-edge", "-middle"', '"right-edge", "middle"', "'fore', border: The border is not"),
        ('"right-edge", "-middle"', '"middle", "-middle"', "encloses no area"),
        ('region = "fore"', 'region = "hind"', "region 'hind' is there twice"),
        ('region = "fore"', 'region = "fore "', "small letters"),
        ('name = "Fore"', 'name = ""', "'fore', name there should be text"),
        ("x = 15", "x = 5", "the label stands outside the border"),
        ("room = 6", "room = 0", "room should be more than nothing"),
        ("turn = -90", 'turn = "up"', "turn there should be a number"),
        ('cuts = ["neck", "leg"]', "cuts = []", "one cut or more"),
        ('cuts = ["neck", "leg"]', 'cuts = ["leg", "leg"]', "each once"),
        ('cuts = ["neck", "leg"]', 'cuts = "leg"', "should be a list"),
        ('style = "dots"', 'style = "wave"', "'wave' is no style: use one of bone, dots"),
        ('style = "dots"', "style = []", "[] is no style"),
        ("M 1 1 L 4 4", "M 1 1", "detail 1, path: A path reads 'M'"),
    ],
)
def test_a_bad_map_is_refused_in_a_sentence(old: str, new: str, why: str) -> None:
    with pytest.raises(ValueError, match=r"^In the body map.*\.$") as refused:
        read_map(edited(old, new))
    assert why in str(refused.value)


def test_a_map_without_regions_is_refused() -> None:
    top, _, rest = GOOD.partition("[[regions]]")
    with pytest.raises(ValueError, match="should be 1 to 100 regions"):
        read_map("regions = []\n" + top + "[[details]]" + rest.partition("[[details]]")[2])


@given(cut=st.integers(0, len(GOOD) - 1), put=st.text(max_size=3))
def test_a_damaged_file_is_read_or_refused(cut: int, put: str) -> None:
    try:
        outcome: object = read_map(GOOD[:cut] + put + GOOD[cut + 1 :])
    except ValueError as error:
        outcome = str(error)
    assert isinstance(outcome, BodyMap) or "the body map" in str(outcome)
