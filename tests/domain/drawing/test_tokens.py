"""Reading the design tokens: the bundled file, and files that went wrong."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel import assets
from gambrel.domain.drawing.tokens import Spaces, Tokens, read_tokens

GOOD = assets.text("tokens.toml")


def refusal(text: str) -> str:
    with pytest.raises(ValueError, match=r"the design tokens") as refused:
        read_tokens(text)
    return str(refused.value)


def edited(old: str, new: str) -> str:
    assert GOOD.count(old) == 1, "the edit must hit one place"
    return GOOD.replace(old, new)


def test_the_bundled_file_is_read_into_frozen_values() -> None:
    tokens = read_tokens(GOOD)
    assert tokens.type.family == "IBM Plex Sans"
    assert tokens.light.kinds.tray.fill == tokens.light.accent
    assert read_tokens(GOOD) == tokens
    with pytest.raises(FrozenInstanceError):
        tokens.light = tokens.dark  # type: ignore[misc]


def test_the_sizes_are_those_that_hands_need() -> None:
    tokens = read_tokens(GOOD)
    assert (tokens.target.key, tokens.target.block, tokens.target.elsewhere) == (118, 88, 44)
    assert tokens.type.body >= 16
    assert tokens.type.label >= 22
    assert tokens.type.live >= 96
    gaps = [getattr(tokens.space, field.name) for field in fields(Spaces)]
    assert all(gap % tokens.space.grid == 0 for gap in gaps)


def test_colours_come_back_in_capitals() -> None:
    text = edited('card = "#FFFDF9"\nink = "#1D1A16"', 'card = "#fffdf9"\nink = "#1D1A16"')
    assert read_tokens(text).light.card == "#FFFDF9"


@pytest.mark.parametrize(
    ("old", "new", "named"),
    [
        ('card = "#211E1A"\n', "", "the design tokens, dark, 'card' is missing"),
        (
            'card = "#211E1A"',
            'card = "#211E1A"\nmood = "#211E1A"',
            "the design tokens, dark, 'mood' is not known",
        ),
        ('card = "#211E1A"', 'card = "black"', "tokens, dark, card there should be a colour"),
        ('card = "#211E1A"', 'card = "#211E1"', "tokens, dark, card there should be a colour"),
        ('card = "#211E1A"', 'card = "#٢11E1A"', "tokens, dark, card there should be a colour"),
        ('card = "#211E1A"', "card = 211", "tokens, dark, card there should be a colour"),
        ("body = 16 ", "body = 0", "tokens, type, body there should be whole pixels"),
        ("body = 16 ", "body = -16", "tokens, type, body there should be whole pixels"),
        ("body = 16 ", "body = 16.5", "tokens, type, body there should be whole pixels"),
        ("body = 16 ", "body = nan", "tokens, type, body there should be whole pixels"),
        ("body = 16 ", "body = true", "tokens, type, body there should be whole pixels"),
        ("body = 16 ", "body = 1001", "tokens, type, body there should be whole pixels"),
        ("body = 16 ", 'body = "16"', "tokens, type, body there should be whole pixels"),
        ('family = "IBM Plex Sans"', 'family = " "', "tokens, type, family there should be text"),
        ("[radius]", "[other]\nx = 1\n[radius]", "the design tokens, 'other' is not known"),
        ("[dark.kinds]", "[dark.sorts]", "dark, 'kinds' is missing"),
        (
            'loss = { fill = "#FBF0EC", text = "#1D1A16" }',
            "loss = 1",
            "kinds, loss there should be a table",
        ),
        (
            'loss = { fill = "#FBF0EC", text = "#1D1A16" }',
            'loss = { fill = "#FBF0EC" }',
            "light, kinds, loss, 'text' is missing",
        ),
    ],
)
def test_a_bad_token_is_refused_by_its_name(old: str, new: str, named: str) -> None:
    assert named in refusal(edited(old, new))


@pytest.mark.parametrize("text", ["[", "a = ", "\x00", "a = 1\na = 2", "x = " + "[" * 5000])
def test_what_is_not_toml_is_refused(text: str) -> None:
    assert "the text is not TOML" in refusal(text)


def test_an_empty_file_is_refused() -> None:
    assert "'type' is missing" in refusal("")


@given(cut=st.integers(0, len(GOOD) - 1), put=st.text(max_size=3))
def test_a_damaged_file_is_read_whole_or_refused_in_a_sentence(cut: int, put: str) -> None:
    damaged = GOOD[:cut] + put + GOOD[cut + 1 :]
    try:
        outcome: object = read_tokens(damaged)
    except ValueError as error:
        outcome = str(error)
    assert isinstance(outcome, Tokens) or "the design tokens" in str(outcome)
