"""What may be changed of a cut: keys proposed from names, fair names, what follows for the past."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.cut_edits import (
    LONGEST_NAME,
    fair_name,
    proposed_key,
    refuse_if_recosted,
    what_follows,
)
from gambrel.domain.trade.keys import fits_key
from gambrel.domain.trade.retired import read_retired, retired_text

RUMP = Cut("rump", "Rump", "beef", CutKind.TRAY, 2699, 48, 0, 4, "101")


@pytest.mark.parametrize(
    ("name", "taken", "key"),
    [
        ("Rump cap", (), "rump-cap"),
        ("Rump  Cap (aged)", (), "rump-cap-aged"),
        ("Rump cap", ("rump-cap",), "beef-rump-cap"),
        ("Rump cap", ("rump-cap", "beef-rump-cap"), "beef-rump-cap-2"),
        ("Côte à l’os", (), "cote-a-l-os"),
        ("Лопатка", (), "лопатка"),
        ("!!!", (), "cut"),
    ],
)
def test_a_key_is_proposed_from_the_name(name: str, taken: tuple[str, ...], key: str) -> None:
    assert proposed_key(name, "beef", set(taken)) == key


@given(st.text(), st.text(), st.sets(st.text(), max_size=5))
def test_a_proposed_key_is_free_and_fits(name: str, species: str, taken: set[str]) -> None:
    key = proposed_key(name, species, taken)
    assert key
    assert key not in taken
    assert fits_key(key)


def test_a_name_is_given_short_and_its_own() -> None:
    assert fair_name("  Rump   cap ", "A cut", ["Rump"]) == "Rump cap"
    with pytest.raises(Refusal, match="A cut needs a name"):
        fair_name("  ", "A cut", [])
    with pytest.raises(Refusal, match="There is a RUMP in the book already"):
        fair_name("RUMP", "A cut", ["Rump"])
    assert fair_name("x" * LONGEST_NAME, "A cut", [])
    with pytest.raises(Refusal, match="longer than 100 letters"):
        fair_name("x" * (LONGEST_NAME + 1), "A cut", [])


def test_the_kind_stays_once_pieces_were_weighed() -> None:
    other = replace(RUMP, kind=CutKind.BYPRODUCT)
    refuse_if_recosted(RUMP, other, 0)
    with pytest.raises(Refusal, match=r"1 piece has been weighed of Rump as tray.*Make a new cut"):
        refuse_if_recosted(RUMP, other, 1)
    with pytest.raises(Refusal, match="3 pieces"):
        refuse_if_recosted(RUMP, replace(RUMP, species="lamb"), 3)
    with pytest.raises(Refusal, match="Cabinet"):
        refuse_if_recosted(RUMP, replace(RUMP, price=1), 0)


def test_what_follows_is_said_of_each_thing_that_bears_on_the_past() -> None:
    assert what_follows(RUMP, replace(RUMP, finish=60), 0) == ()
    assert what_follows(RUMP, replace(RUMP, unece="2090"), 7) == ()
    assert "7 pieces have been weighed" in what_follows(RUMP, replace(RUMP, finish=60), 7)[0]
    assert "cost" in what_follows(RUMP, replace(RUMP, credit=-5), 7)[0]
    assert "use-by" in what_follows(RUMP, replace(RUMP, shelf_life_days=None), 7)[0]
    both = what_follows(RUMP, replace(RUMP, plu="7", name="Rump heart"), 7)
    assert ["PLU" in both[0], "name" in both[1], len(both)] == [True, True, 2]


def test_retired_cuts_are_read_back_and_rubbish_is_none() -> None:
    assert read_retired(retired_text({"b", "a"})) == {"a", "b"}
    assert retired_text(()) == ""
    for text in (None, "", "?", "7", "[1]", '{"a": 1}', "[" * 100_000):
        assert read_retired(text) == frozenset()
