"""What stands on what in both themes, and that it can be read.

Limits: 7:1 for text at the block, 4.5:1 for text elsewhere, 3:1 for the edges of controls (the
AAA, AA and non-text thresholds of WCAG 2.2, from memory; the project's design asks for the same).
"""

from __future__ import annotations

from itertools import combinations

import pytest

from gambrel import assets
from gambrel.domain.drawing.contrast import contrast
from gambrel.domain.drawing.tokens import Kinds, Theme, read_tokens

TOKENS = read_tokens(assets.text("tokens.toml"))
THEMES = [pytest.param(TOKENS.light, id="light"), pytest.param(TOKENS.dark, id="dark")]
KINDS = ("tray", "trim", "byproduct", "waste", "loss")
MEANINGS = ("fine", "watch", "stop", "info")

BLOCK_TEXT = [
    *[("ink", ground) for ground in ("paper", "card", "chosen", "weighed")],
    *[("ink", f"{meaning}_tint") for meaning in MEANINGS],
    *[("soft_ink", ground) for ground in ("paper", "card", "chosen")],
    *[("accent", ground) for ground in ("paper", "card", "chosen")],
    ("on_accent", "accent"),
    *[(meaning, ground) for meaning in MEANINGS for ground in ("paper", "card")],
]
TEXT_ELSEWHERE = [(meaning, f"{meaning}_tint") for meaning in MEANINGS]
EDGES = [
    *[("edge", ground) for ground in ("paper", "card", "chosen")],
    *[("accent", ground) for ground in ("paper", "card", "chosen", "weighed")],
    ("ink", "weighed"),
]


def ratio(theme: Theme, above: str, below: str) -> float:
    return contrast(getattr(theme, above), getattr(theme, below))


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("text", "ground"), BLOCK_TEXT)
def test_text_at_the_block(theme: Theme, text: str, ground: str) -> None:
    assert ratio(theme, text, ground) >= 7


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("text", "ground"), TEXT_ELSEWHERE)
def test_a_meaning_in_large_type_on_its_tint(theme: Theme, text: str, ground: str) -> None:
    assert ratio(theme, text, ground) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("edge", "ground"), EDGES)
def test_edges_of_controls(theme: Theme, edge: str, ground: str) -> None:
    assert ratio(theme, edge, ground) >= 3


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("kind", KINDS)
def test_words_on_picture_colours_can_be_read_at_the_block(theme: Theme, kind: str) -> None:
    colours = getattr(theme.kinds, kind)
    assert contrast(colours.fill, colours.text) >= 7


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("one", "other"), list(combinations(KINDS, 2)))
def test_kinds_are_told_apart_without_colour(theme: Theme, one: str, other: str) -> None:
    """A ratio of 1.3 is about 13 steps of lightness in 100 between mid greys: plain in print."""
    kinds: Kinds = theme.kinds
    assert contrast(getattr(kinds, one).fill, getattr(kinds, other).fill) >= 1.3


@pytest.mark.parametrize("theme", THEMES)
def test_a_weighed_region_stands_out_from_an_empty_and_a_chosen_one(theme: Theme) -> None:
    assert ratio(theme, "weighed", "card") >= 1.5
    assert ratio(theme, "weighed", "chosen") >= 1.3
