from __future__ import annotations

from gambrel.domain.trade.near import did_you_mean, nearest


def test_a_slip_finds_its_word_whatever_the_case() -> None:
    assert nearest("RMP", ["shin", "Rump"]) == "Rump"
    assert did_you_mean("gros_kg", ["gross_kg", "tare_kg"]) == "; did you mean 'gross_kg'?"


def test_nothing_near_or_too_much_known_gives_no_guess() -> None:
    assert nearest("feather", ["rump", "shin"]) is None
    assert nearest("rmp", ["rump", *map(str, range(600))]) is None
    assert did_you_mean("x", []) == ""
