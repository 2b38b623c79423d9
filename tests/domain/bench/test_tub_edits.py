"""Changing the tubs: the list stays one that the block can read, whatever is done to it."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.tub_edits import added, changed, moved, removed, tubs_in
from gambrel.domain.bench.tubs import MOST_TUBS, NO_TUB, USUAL_TUBS, Tub, tubs_text
from gambrel.domain.refusals import Refusal


def edited(tubs: tuple[Tub, ...], edit: tuple[object, ...]) -> tuple[Tub, ...]:
    match edit:
        case ("add", str(name), int(grams)):
            return added(tubs, name, grams)
        case ("change", str(old), str(name), int(grams)):
            return changed(tubs, old, name, grams)
        case ("remove", str(name)):
            return removed(tubs, name)
        case ("move", str(name), int(steps)):
            after = moved(tubs, name, steps)
            assert sorted(after, key=lambda tub: tub.name) == sorted(tubs, key=lambda tub: tub.name)
            return after
    raise AssertionError(edit)


def test_a_tub_comes_last_changes_in_its_place_and_goes() -> None:
    more = added(USUAL_TUBS, "  blue   tub ", 700)
    assert more == (*USUAL_TUBS, Tub("blue tub", 700))
    other = changed(more, "tub", "big tub", 651)
    assert [tub.name for tub in other] == ["no tub", "tray", "big tub", "bone crate", "blue tub"]
    assert other[2] == Tub("big tub", 651)
    assert removed(other, "big tub") == removed(more, "tub")


def test_it_may_keep_its_name_or_change_its_letters() -> None:
    assert changed(USUAL_TUBS, "tub", "tub", 700)[2] == Tub("tub", 700)
    assert changed(USUAL_TUBS, "tub", "TUB", 650)[2] == Tub("TUB", 650)


@pytest.mark.parametrize(
    ("name", "grams", "says"),
    [
        ("", 500, "needs a name"),
        ("  ", 500, "needs a name"),
        ("x" * 25, 500, "longer than 24"),
        ("Tray", 500, "already"),
        ("No tub", 500, "already"),
        ("crate", 0, "more than nothing"),
        ("crate", -1, "more than nothing"),
        ("crate", 50_001, "at most 50"),
    ],
)
def test_names_and_weights_that_cannot_be_are_refused(name: str, grams: int, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        added(USUAL_TUBS, name, grams)
    with pytest.raises(Refusal, match=says):
        changed(USUAL_TUBS, "tub", name, grams)


def test_the_block_has_room_for_so_many() -> None:
    tubs: tuple[Tub, ...] = (NO_TUB,)
    for number in range(MOST_TUBS - 1):
        tubs = added(tubs, f"tub {number}", 100)
    with pytest.raises(Refusal, match="room for 12"):
        added(tubs, "one more", 100)


@pytest.mark.parametrize("name", ["anvil", "no tub", ""])
def test_a_tub_that_is_not_there_and_the_one_of_no_weight_stay_as_they_are(name: str) -> None:
    for edit in (("change", name, "crate", 5), ("remove", name), ("move", name, 1)):
        with pytest.raises(Refusal, match="no tub"):
            edited(USUAL_TUBS, edit)


def test_what_a_book_keeps_is_read_or_refused_in_a_sentence() -> None:
    assert tubs_in(None) == tubs_in("") == USUAL_TUBS
    with pytest.raises(Refusal, match=r"^The list of tubs cannot be read"):
        tubs_in("{")
    with pytest.raises(Refusal, match="'Big Crate'"):
        tubs_in(json.dumps([["Big Crate", -1]]))


NAMES = st.sampled_from(["tray", "tub", "bone crate", "blue tub", "crate", "no tub", " "])
EDITS = st.one_of(
    st.tuples(st.just("add"), NAMES, st.integers(-1, 60_000)),
    st.tuples(st.just("change"), NAMES, NAMES, st.integers(-1, 60_000)),
    st.tuples(st.just("remove"), NAMES),
    st.tuples(st.just("move"), NAMES, st.integers(-20, 20)),
)


@given(st.lists(EDITS, max_size=25))
def test_after_any_edits_the_block_reads_the_same_tubs_no_tub_first(
    edits: list[tuple[object, ...]],
) -> None:
    tubs: tuple[Tub, ...] = USUAL_TUBS
    for edit in edits:
        try:
            tubs = edited(tubs, edit)
        except Refusal:
            continue
        assert tubs[0] == NO_TUB
        assert tubs_in(tubs_text(tubs)) == tubs
