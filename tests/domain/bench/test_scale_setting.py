"""How a scale is reached: what can be kept, and what comes back."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.scale_pattern import ALL_ENDS, ScaleWords, Unit
from gambrel.domain.bench.scale_setting import (
    NO_SCALE,
    SHAPES,
    SPEEDS,
    Asking,
    Parity,
    ScaleKind,
    ScaleSetting,
    command_bytes,
    read_setting_text,
    setting_text,
    with_shape,
)
from gambrel.domain.refusals import Refusal


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"baud": 9601}, "no speed"),
        ({"data_bits": 9}, "7 or 8"),
        ({"stop_bits": 3}, "1 or 2"),
        ({"every_ms": 10}, "Asking every 10 ms"),
        ({"kind": ScaleKind.SERIAL}, "No port"),
        ({"port": "a\nb"}, "no name of a port"),
        ({"kind": ScaleKind.SERIAL, "port": "x", "asking": Asking.TAP}, "needs a command"),
        ({"command": "W\\q"}, "backslash"),
        ({"command": "W" * 50}, "at most 40"),
        ({"zero": "Z\\q"}, "backslash"),
        ({"pattern": "{flag}"}, "no number"),
        ({"ends": ()}, "end a line"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(wrong: dict[str, Any], why: str) -> None:
    with pytest.raises(Refusal, match=why) as refused:
        replace(NO_SCALE, **wrong)
    assert str(refused.value).endswith(".")


def test_a_command_may_hold_control_characters() -> None:
    assert command_bytes("W\\r\\n") == b"W\r\n"
    assert command_bytes("\\x05") == b"\x05"
    assert command_bytes("a\\\\x05") == b"a\\x05"


def test_every_shape_can_be_used() -> None:
    for shape in SHAPES:
        assert with_shape(NO_SCALE, shape.key).pattern == shape.pattern
    assert with_shape(NO_SCALE, "bare").unit is Unit.KILOGRAM
    assert with_shape(replace(NO_SCALE, unit=Unit.GRAM), "bare").unit is Unit.GRAM
    with pytest.raises(Refusal, match="no such shape"):
        with_shape(NO_SCALE, "round")


_SETTINGS = st.builds(
    ScaleSetting,
    kind=st.sampled_from(ScaleKind),
    port=st.sampled_from(["COM3", "/dev/ttyUSB0"]),
    baud=st.sampled_from(SPEEDS),
    data_bits=st.sampled_from([7, 8]),
    parity=st.sampled_from(Parity),
    stop_bits=st.sampled_from([1, 2]),
    asking=st.sampled_from(Asking),
    command=st.sampled_from(["W\\r", "\\x05"]),
    zero=st.sampled_from(["", "Z\\r\\n"]),
    every_ms=st.integers(50, 5000),
    pattern=st.sampled_from([shape.pattern for shape in SHAPES]),
    unit=st.sampled_from(Unit),
    words=st.just(ScaleWords(("S", "ST"), (), ("^",), (), ("N",))),
    ends=st.lists(st.sampled_from(ALL_ENDS), min_size=1, unique=True).map(tuple),
)


@given(_SETTINGS)
def test_what_is_kept_comes_back(setting: ScaleSetting) -> None:
    assert read_setting_text(setting_text(setting)) == setting


KEPT = json.loads(setting_text(NO_SCALE))


@pytest.mark.parametrize("name", sorted(set(KEPT) - {"zero"}))
def test_a_name_that_is_missing_is_refused(name: str) -> None:
    rest = {key: value for key, value in KEPT.items() if key != name}
    with pytest.raises(Refusal, match="Set the scale up again"):
        read_setting_text(json.dumps(rest))


def test_what_was_kept_before_a_scale_could_be_zeroed_is_read() -> None:
    rest = {key: value for key, value in KEPT.items() if key != "zero"}
    assert read_setting_text(json.dumps(rest)) == NO_SCALE


def test_only_a_scale_on_a_line_is_zeroed() -> None:
    told = ScaleSetting(kind=ScaleKind.SERIAL, port="COM3", zero="Z\\r\\n")
    assert told.zeroes == b"Z\r\n"
    assert replace(told, kind=ScaleKind.TYPED).zeroes == b""


@pytest.mark.parametrize("wrong", [None, True, 1.5, [], {}, "?", ["?"], {"steady": "ST"}])
@pytest.mark.parametrize("name", sorted(KEPT))
def test_a_value_of_another_kind_is_refused(name: str, wrong: object) -> None:
    if name in ("port", "command", "zero", "pattern") and isinstance(wrong, str):
        return  # any text may be a port's name; a pattern is refused for what it says
    with pytest.raises(Refusal):
        read_setting_text(json.dumps({**KEPT, name: wrong}))


@pytest.mark.parametrize("text", ["", "[]", "{}", "null", "{", "[" * 100_000])
def test_what_is_no_setting_is_refused(text: str) -> None:
    with pytest.raises(Refusal, match="type the weights"):
        read_setting_text(text)


def test_a_name_that_is_not_known_is_refused() -> None:
    with pytest.raises(Refusal, match="cannot be read"):
        read_setting_text(json.dumps({**KEPT, "colour": "red"}))
