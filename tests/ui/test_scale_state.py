"""The scale's page as texts and flags, without a window."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.scale_bytes import hexed, named
from gambrel.domain.bench.scale_line import read_line
from gambrel.domain.bench.scale_pattern import ScaleWords, Unit
from gambrel.domain.bench.scale_setting import NO_SCALE, SHAPES, Asking, ScaleKind, ScaleSetting
from gambrel.domain.bench.steady import MEANINGS, LiveWeight, WeightState
from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.ui.scale.draft import IN_LINE, changed, draft_of, setting_of, shape_of
from gambrel.ui.scale.state import (
    describe_form,
    describe_heard,
    describe_live,
)

FORMATS = Formats(Currency("AUD", 2), "$")
SERIAL = ScaleSetting(
    kind=ScaleKind.SERIAL,
    port="COM3",
    baud=4800,
    asking=Asking.ASKED,
    command="W\\r",
    unit=Unit.GRAM,
    words=ScaleWords(("S", "ST"), (), ("OL",), (), ("N",)),
)


@pytest.mark.parametrize("setting", [NO_SCALE, SERIAL, replace(SERIAL, kind=ScaleKind.TYPED)])
def test_a_setting_goes_through_the_form_unchanged(setting: ScaleSetting) -> None:
    assert setting_of(draft_of(setting)) == setting


def test_words_are_told_apart_by_blanks() -> None:
    draft = changed(draft_of(SERIAL), "steady", "  S   OK ")
    assert setting_of(draft).words.steady == ("S", "OK")


def test_a_shape_writes_its_pattern_and_is_marked() -> None:
    draft = changed(draft_of(NO_SCALE), "shape", "bare")
    assert (draft.pattern, draft.unit) == ("{sign}{number}", "kg")
    assert shape_of(draft) == "bare"
    assert shape_of(changed(draft, "pattern", "x{number}")) == ""
    assert changed(draft, "shape", "plain").unit == "kg"  # what was chosen stays
    with pytest.raises(KeyError):
        changed(draft, "colour", "red")


@pytest.mark.parametrize(("name", "value"), [("baud", "fast"), ("parity", "X"), ("unit", "stone")])
def test_what_is_not_offered_is_refused(name: str, value: str) -> None:
    with pytest.raises(Refusal, match="one of those shown"):
        setting_of(changed(draft_of(SERIAL), name, value))


def test_the_form_shows_what_matters_and_what_is_chosen() -> None:
    state = describe_form(draft_of(SERIAL), SERIAL, [("COM3", "USB"), ("COM4", "")])
    assert (state.serial, state.any_scale, state.asks, state.asks_often) == (True,) * 4
    chosen = {
        name: [choice.key for choice in choices if choice.chosen]
        for name, choices in state.choices.items()
    }
    assert chosen["kind"] == ["serial"]
    assert chosen["baud"] == ["4800"]
    assert chosen["found_port"] == ["COM3"]
    assert chosen["unit"] == ["g"]
    assert (state.problem, state.told) == ("", "Kept for this station.")
    assert (state.can_keep, state.can_leave) == (False, False)
    none = describe_form(draft_of(NO_SCALE), NO_SCALE, [])
    assert (none.serial, none.any_scale, none.asks) == (False, False, False)


def test_a_change_can_be_kept_and_a_wrong_one_says_why() -> None:
    draft = changed(draft_of(SERIAL), "baud", "9600")
    state = describe_form(draft, SERIAL, [])
    assert (state.told, state.can_keep, state.can_leave) == ("Tried now, not kept yet.", True, True)
    wrong = describe_form(changed(draft, "pattern", "{flag}"), SERIAL, [])
    assert "no number" in wrong.problem
    assert (wrong.told, wrong.can_keep, wrong.can_leave) == ("", False, True)
    trouble = describe_form(draft, None, [], "The book is locked.")
    assert (trouble.problem, trouble.can_keep) == ("The book is locked.", True)


def test_no_maker_is_named_and_shapes_are_told_by_their_parts() -> None:
    words = {word.strip(",").lower() for shape in SHAPES for word in shape.name.split()}
    parts = {"flag", "gross", "net", "number", "unit", "only"}
    assert words - parts == {"or", "not", "and"}


def test_every_state_has_its_mark_and_only_a_number_that_holds_is_shown() -> None:
    assert set(MEANINGS) == set(WeightState)
    steady = LiveWeight(WeightState.STEADY, "Steady.", 4386, Unit.POUND, net=True)
    shown = describe_live(steady, FORMATS, asked_by_tap=False)
    assert (shown.figure, shown.meaning, shown.word) == ("4.386", "fine", "steady")
    assert shown.about == "sent in lb, net of its own tare"
    lost = describe_live(LiveWeight(WeightState.LOST, "Gone."), FORMATS, asked_by_tap=True)
    assert (lost.figure, lost.about, lost.meaning, lost.can_ask) == (DASH, "", "stop", True)


def test_lines_stand_newest_first_beside_what_was_understood() -> None:
    pattern = SERIAL.line
    raws = (b"?", b"ST,GS,+1.0 kg")
    state = describe_heard(b"ST\r\n", [read_line(pattern, raw) for raw in raws], 1, 1, 1234)
    assert state.stream == "ST‹CR›‹LF›"
    assert state.counts == "1,234 bytes · 1 lines understood · 1 not understood"
    assert [line.text for line in state.lines] == ["ST,GS,+1.0 kg", "?"]
    assert state.lines[1].hex == "3F"
    assert describe_heard(b"", [], 0, 0, 0).counts == "Nothing has come yet."


def test_control_characters_have_their_names() -> None:
    """Source: ECMA-48, the C0 set."""
    assert named(b"\x00\x02\x03\x05\x0d\x0a\x1b\x1f\x7f\xe9 a") == (
        "‹NUL›‹STX›‹ETX›‹ENQ›‹CR›‹LF›‹ESC›‹US›‹DEL›‹E9› a"
    )


@given(st.binary(max_size=60))
def test_any_bytes_can_be_shown(raw: bytes) -> None:
    assert named(raw).isprintable()
    assert bytes.fromhex(hexed(raw)) == raw


def test_the_unit_s_choices_hold_every_unit() -> None:
    state = describe_form(draft_of(NO_SCALE), NO_SCALE, [])
    assert [each.key for each in state.choices["unit"]] == [IN_LINE, *(unit.value for unit in Unit)]
