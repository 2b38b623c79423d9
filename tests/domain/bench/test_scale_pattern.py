"""What a shop may write as its pattern, and that no line can make it hang."""

from __future__ import annotations

from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.scale_pattern import (
    FIELDS,
    LONGEST_LINE,
    LineEnd,
    ScalePattern,
    ScaleWords,
    Unit,
)
from gambrel.domain.refusals import Refusal


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "no number"),
        ("{flag},{unit}", "no number"),
        ("{number}", "in which unit"),
        ("{number}[{unit}]", "in which unit"),
        ("[{number}]{unit}", "never be missing"),
        ("{number}{unit}{unit}", "twice"),
        ("{weight}{unit}", r"no field \{weight\}"),
        ("{number}{unit", "brace"),
        ("{number}}{unit}", "brace"),
        ("[[{flag}],]{number}{unit}", "do not pair"),
        ("[{flag}{number}{unit}", "do not pair"),
        ("]{number}{unit}[", "do not pair"),
        ("[ ]{number}{unit}", "hold nothing"),
        ("{skip}{number}{unit}", "No line could ever fit"),
        ("[{skip}]{number}{unit}", "No line could ever fit"),
        ("{number}€{unit}", "no scale sends"),
        ("{number}\n{unit}", "no scale sends"),
        ("x" * 130 + "{number}{unit}", "longer than"),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence(text: str, why: str) -> None:
    with pytest.raises(Refusal, match=why) as refused:
        ScalePattern(text)
    assert str(refused.value).endswith(".")


def test_words_that_cannot_be_are_refused() -> None:
    with pytest.raises(Refusal, match="stands for two things"):
        ScaleWords(steady=("S",), unsteady=("S",))
    with pytest.raises(Refusal, match="cannot be a word"):
        ScaleWords(net=("N T",))
    with pytest.raises(Refusal, match="More than"):
        ScaleWords(gross=tuple("ABCDEFGHI"))
    with pytest.raises(Refusal, match="no word means steady"):
        ScalePattern("{flag},{number}{unit}", words=ScaleWords(steady=()))
    with pytest.raises(Refusal, match="no word means gross or net"):
        ScalePattern("{mode},{number}{unit}", words=ScaleWords(gross=(), net=()))
    with pytest.raises(Refusal, match="would end a line"):
        ScalePattern("{number}{unit}", ends=())


def test_the_groups_are_named() -> None:
    pattern = ScalePattern("[{flag},][{mode},]{sign}{number}{unit}")
    match = pattern.regex.fullmatch("ST,NT,- 1.5 KG")
    assert match is not None
    assert match.groupdict() == {
        "st": "ST",
        "mode": "NT",
        "sign": "-",
        "val": "1.5",
        "unit": "KG",
    }


@pytest.mark.parametrize(
    "shop_s", ["N.W.: {number}{unit}", "({number}{unit})", "a+b*{number}{unit}"]
)
def test_what_is_no_field_stands_for_itself(shop_s: str) -> None:
    line = shop_s.replace("{number}", "1.5").replace("{unit}", " kg")
    regex = ScalePattern(shop_s).regex
    assert regex.fullmatch(line)
    assert not regex.fullmatch("x" + line)


def test_a_longer_word_wins_over_its_own_beginning() -> None:
    words = ScaleWords(steady=("S", "ST"), unsteady=("SU",))
    pattern = ScalePattern("{flag}{number}{unit}", words=words)
    found = [pattern.regex.fullmatch(line) for line in ("S1kg", "ST1kg", "SU1kg")]
    assert [match and match["st"] for match in found] == ["S", "ST", "SU"]


_PARTS = st.sampled_from([*(f"{{{name}}}" for name in FIELDS), ",", " ", "[", "]", ":", "+", "x"])


@given(
    parts=st.lists(_PARTS, max_size=30),
    line=st.text(alphabet=" ,1.+kgSTx:\xff", max_size=LONGEST_LINE),
)
def test_whatever_is_written_is_refused_or_reads_any_line_at_once(
    parts: list[str], line: str
) -> None:
    try:
        pattern = ScalePattern("".join(parts), Unit.KILOGRAM, ends=(LineEnd.CR,))
    except Refusal:
        return
    began = perf_counter()
    for each in (line, " " * LONGEST_LINE, "1" * LONGEST_LINE, "x" * LONGEST_LINE + "!"):
        pattern.regex.fullmatch(each)
    assert perf_counter() - began < 0.25
