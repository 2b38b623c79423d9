"""Lines out of bytes, and weights out of lines, however they come."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.scale_line import (
    GRAMS_IN,
    Flag,
    LineReader,
    Reading,
    Wrong,
    read_line,
    to_grams,
)
from gambrel.domain.bench.scale_pattern import (
    LONGEST_LINE,
    LineEnd,
    ScalePattern,
    ScaleWords,
    Unit,
)

PATTERN = ScalePattern("[{flag},][{mode},]{sign}{number}{unit}")
PLAIN = ScalePattern("{sign}{number}{unit}")


def read(chunk: bytes, pattern: ScalePattern = PATTERN) -> list[Reading]:
    return LineReader(pattern, midway=False).feed(chunk)


@pytest.mark.parametrize(
    ("raw", "grams", "flag", "net"),
    [
        (b"ST,GS,+  4.386 kg", 4386, Flag.STEADY, False),
        (b"US,NT,-  0.120 kg", -120, Flag.UNSTEADY, True),
        (b"ST,+4386g", 4386, Flag.STEADY, False),
        (b"  4,386 KG ", 4386, Flag.NONE, False),
        (b"GS,0.5kg", 500, Flag.NONE, False),
        (b"ST,GS,-0.000kg", 0, Flag.STEADY, False),
        (b"1.000 lb", 454, Flag.NONE, False),
        (b"1.5 oz", 43, Flag.NONE, False),
        (b"0.0005 kg", 1, Flag.NONE, False),
        (b"-0.0005 kg", -1, Flag.NONE, False),
    ],
)
def test_a_line_is_a_weight(raw: bytes, grams: int, flag: Flag, net: bool) -> None:
    found = read_line(PATTERN, raw)
    assert (found.grams, found.flag, found.net) == (grams, flag, net)
    assert found.understood
    assert found.raw == raw


@pytest.mark.parametrize(
    "raw",
    [
        b"4.386",  # no unit, and none is set
        b"4. kg",
        b".386 kg",
        b"4.386.1 kg",
        b"4 386 kg",
        b"1,234.5 kg",  # grouping is never guessed at
        b"ST,GS,+ kg",
        b"SX,GS,+1kg",
        b"4.386 kgs",
        b"4.386 st",
        b"\xff\xfe\x80",
        b"1234567890 kg",
    ],
)
def test_a_line_that_does_not_fit_is_no_weight(raw: bytes) -> None:
    found = read_line(PATTERN, raw)
    assert found.grams is None
    assert found.wrong is Wrong.NO_FIT
    assert found.words.startswith("not understood")


@pytest.mark.parametrize("raw", [b"ST,GS,+ 1,234 g", b"1.234 g", b"12,500g"])
def test_grams_that_may_be_grouped_are_not_guessed_at(raw: bytes) -> None:
    assert read_line(PATTERN, raw).wrong is Wrong.GROUPED
    assert read_line(PATTERN, raw.replace(b"g", b"kg")).understood


@pytest.mark.parametrize(
    ("raw", "grams"), [(b"1234.000 g", 1234), (b"1234,5 g", 1235), (b"1.2340 g", 1), (b"12 g", 12)]
)
def test_grams_with_decimals_are_grams(raw: bytes, grams: int) -> None:
    assert read_line(PATTERN, raw).grams == grams


def test_more_than_a_shop_weighs_is_no_weight() -> None:
    assert read_line(PATTERN, b"10000 kg").grams == 10_000_000
    assert read_line(PATTERN, b"10000.001 kg").wrong is Wrong.NO_WEIGHT


@pytest.mark.parametrize("raw", [b"OL", b"OL,GS,+  -.--- kg", b"OL,GS,+ 99.999 kg", b"GS, OL"])
def test_an_overload_never_has_a_number(raw: bytes) -> None:
    found = read_line(PATTERN, raw)
    assert found.overload
    assert (found.grams, found.stable, found.words) == (None, False, "overload")


def test_a_line_without_its_unit_has_the_shops() -> None:
    bare = ScalePattern("{sign}{number}", Unit.GRAM)
    assert read_line(bare, b"004386").grams == 4386
    either = ScalePattern("{number}[{unit}]", Unit.KILOGRAM)
    assert [read_line(either, raw).grams for raw in (b"2.5", b"2.5lb")] == [2500, 1134]


def test_the_shops_own_words_count() -> None:
    words = ScaleWords(("S",), ("M", "D"), ("^^^",), (), ("N",))
    pattern = ScalePattern("{sign}{number}{unit}{flag}[{mode}]", words=words)
    found = [read_line(pattern, raw) for raw in (b"1.0kg S", b"1.0kg M N", b"^^^")]
    assert [each.flag for each in found] == [Flag.STEADY, Flag.UNSTEADY, Flag.OVERLOAD]
    assert [each.net for each in found] == [False, True, False]


# --- Units ---


@given(st.integers(0, 10**7), st.sampled_from(list(Unit)))
def test_units_are_exact_to_half_a_gram(thousandths: int, unit: Unit) -> None:
    """Against fractions. Source: International yard and pound agreement 1959, exact."""
    one_lb = Fraction(45359237, 100000)
    exact = {Unit.GRAM: Fraction(1), Unit.KILOGRAM: Fraction(1000), Unit.POUND: one_lb}
    exact[Unit.OUNCE] = one_lb / 16
    true = exact[unit] * Fraction(thousandths, 1000)
    found = to_grams(Decimal(thousandths).scaleb(-3), unit)
    assert abs(found - true) <= Fraction(1, 2)
    if abs(found - true) == Fraction(1, 2):
        assert found > true  # a half goes away from zero


def test_the_units_stand_as_they_were_agreed() -> None:
    assert GRAMS_IN[Unit.POUND] == Decimal("453.59237")
    assert GRAMS_IN[Unit.OUNCE] * 16 == GRAMS_IN[Unit.POUND]


# --- Streams ---

_STREAM = (
    b"ST,GS,+  4.386 kg\r\nUS,GS,+  4.390 kg\r\x02ST,NT,-  0.120 kg\x03\n"
    b"\x00\x00OL\r\njunk\xff\r\n\r\n  \r\nST,GS,1.0 lb\n"
)


@given(st.lists(st.integers(1, 20), max_size=60))
def test_it_does_not_matter_in_which_pieces_bytes_come(sizes: list[int]) -> None:
    reader, found, at = LineReader(PATTERN, midway=False), [], 0
    for size in sizes:
        found += reader.feed(_STREAM[at : at + size])
        at += size
    found += reader.feed(_STREAM[at:])
    assert found == read(_STREAM)
    assert (reader.good, reader.bad) == (5, 1)
    assert [each.grams for each in found] == [4386, 4390, -120, None, None, 454]


@given(st.lists(st.binary(max_size=400), max_size=8), st.booleans())
def test_whatever_comes_nothing_is_raised_and_nothing_grows(
    chunks: list[bytes], midway: bool
) -> None:
    reader = LineReader(PATTERN, midway=midway)
    for chunk in chunks:
        for found in reader.feed(chunk):
            assert len(found.raw) <= LONGEST_LINE
            assert found.words
        assert len(reader._line) <= LONGEST_LINE


@given(st.integers(-99_999, 99_999), st.sampled_from(["ST", "US"]), st.binary(max_size=300))
def test_a_good_line_is_read_whatever_stood_before_its_beginning(
    grams: int, flag: str, before: bytes
) -> None:
    """STX shows where it begins."""
    sign = "-" if grams < 0 else "+"
    line = f"{flag},GS,{sign}{abs(grams) / 1000:9.3f} kg".encode()
    found = read(before + b"\x02" + line + b"\r\n")
    assert found[-1].grams == grams
    assert found[-1].raw == line


def test_the_first_line_is_dropped_where_it_may_have_begun_before() -> None:
    reader = LineReader(PLAIN)
    found = reader.feed(b"4.386 kg\r\n14.386 kg\r\n")
    assert [each.grams for each in found] == [None, 14386]
    assert found[0].wrong is Wrong.MIDWAY
    assert (reader.good, reader.bad) == (1, 0)  # joining midway is nobody's fault


def test_the_first_line_counts_after_a_silence_and_after_stx() -> None:
    reader = LineReader(PLAIN)
    reader.pause()
    assert [each.grams for each in reader.feed(b"4.386 kg\r")] == [4386]
    assert [each.grams for each in LineReader(PLAIN).feed(b"\x024.386 kg\x03")] == [4386]


def test_the_beginning_of_one_line_and_the_end_of_another_are_no_number() -> None:
    reader = LineReader(PLAIN, midway=False)
    assert reader.feed(b"1") == []
    reader.pause()
    (found,) = reader.feed(b"4.386 kg\r\n")
    assert found.wrong is Wrong.HALF
    assert reader.bad == 1
    assert [each.grams for each in reader.feed(b"4.386 kg\r\n")] == [4386]


def test_a_line_without_an_end_is_dropped_up_to_its_end_and_told_once() -> None:
    reader = LineReader(PATTERN, midway=False)
    found = reader.feed(b"9" * 1000 + b"\r\nST,GS,+1.000 kg\r\n")
    assert [each.wrong for each in found] == [Wrong.TOO_LONG, None]
    assert len(found[0].raw) == LONGEST_LINE
    assert found[1].grams == 1000


def test_only_the_ends_that_were_chosen_end_a_line() -> None:
    pattern = ScalePattern("{flag}{number}{unit}", ends=(LineEnd.ETX,))
    found = read(b"\x02ST\r\n1.000\r\nkg\x03", pattern)
    assert [each.grams for each in found] == [1000]
