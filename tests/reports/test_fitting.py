from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.reports.fitting import ELLIPSIS, clean, fit_line, fit_lines, wrap
from gambrel.reports.fonts import BOLD, REGULAR, register_fonts, width_of

register_fonts()

words = st.text(st.characters(codec="utf-8"), max_size=80)
widths = st.floats(30, 400)


@given(words=words, width=widths, size=st.floats(5, 40))
def test_a_line_never_passes_its_width(words: str, width: float, size: float) -> None:
    fitted = fit_line(words, REGULAR, size, width, size * 0.8)
    (line,) = fitted.lines
    assert fitted.size <= size
    # The first letter and an ellipsis are the least that can be said.
    least = width_of(clean(words)[:1] + ELLIPSIS, REGULAR, fitted.size)
    assert width_of(line, REGULAR, fitted.size) <= max(width, least) + 1e-6
    assert fitted.cut or line == clean(words)
    assert line.endswith(ELLIPSIS) or not fitted.cut


@given(words=words, width=widths, most=st.integers(1, 3))
def test_lines_keep_every_letter_or_say_that_they_do_not(
    words: str, width: float, most: int
) -> None:
    fitted = fit_lines(words, BOLD, 20, width, 9, most)
    assert 1 <= len(fitted.lines) <= most
    assert 9 <= fitted.size <= 20
    kept = "".join(fitted.lines).replace(" ", "")
    if fitted.cut:
        assert kept.endswith(ELLIPSIS)
    else:
        assert kept == clean(words).replace(" ", "")


@given(words=words, width=st.floats(60, 400))
def test_wrapping_loses_nothing(words: str, width: float) -> None:
    lines = wrap(clean(words), REGULAR, 9, width)
    assert "".join(lines).replace(" ", "") == clean(words).replace(" ", "")


def test_a_short_name_stays_as_it_is() -> None:
    assert fit_line("Rump", BOLD, 20, 200, 10) == (("Rump",), 20, False)
    assert fit_lines("Rump", BOLD, 20, 200, 10, 2) == (("Rump",), 20, False)


def test_a_long_word_is_broken_within_itself() -> None:
    lines = wrap("Donaudampfschifffahrtsgesellschaftsschnitzel", BOLD, 20, 200)
    assert len(lines) > 1
    assert "".join(lines) == "Donaudampfschifffahrtsgesellschaftsschnitzel"


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("Rump\tsteak\n", "Rump steak"),
        ("  Lamb   leg ", "Lamb leg"),
        ("Shin\x00\x07", "Shin"),
        ("46.5\u202f%\u00a0", "46.5\u202f%"),
    ],
)
def test_control_characters_become_single_spaces(words: str, expected: str) -> None:
    assert clean(words) == expected
