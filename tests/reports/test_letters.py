"""Letters that the papers' typeface has: checked against fontTools' reading of the fonts."""

from __future__ import annotations

import unicodedata
from io import BytesIO
from typing import Any

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # fontTools has no types
from hypothesis import given
from hypothesis import strategies as st

from gambrel.assets import data
from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats
from gambrel.reports.fitting import clean
from gambrel.reports.fonts import BOLD, REGULAR, SEMIBOLD
from gambrel.reports.labels import draw_labels
from gambrel.reports.letters import see_letters, undrawable
from gambrel.reports.papers import PAPERS, label_sheet
from gambrel.reports.tickets import draw_tickets
from tests.reports.reading import text_of
from tests.reports.test_labels import label
from tests.reports.test_tickets import ticket

AUD = Formats(Currency("AUD", 2), "$")
MAPS = [
    set(TTFont(BytesIO(data(f"fonts/{name}.ttf"))).getBestCmap())
    for name in (REGULAR, SEMIBOLD, BOLD)
]
IN_THE_FONT = ["Rump", "Σπάλα μοσχαρίσια", "Говядина", "Thịt bò", "Crème brûlée", "½ kg – “x” €"]
NOT_IN_IT = {"牛肉": "牛 肉", "בשר": "ב ש ר", "لحم": "ل ح م", "Rump 🥩": "🥩", "เนื้อ": "เ"}


@given(st.characters(min_codepoint=0xA0, exclude_categories=["Cs", "Cf", "Mn", "Me", "Cc", "Zs"]))
def test_a_letter_is_drawable_where_every_weight_has_it(letter: str) -> None:
    shown = unicodedata.normalize("NFC", letter)
    has_all = all(all(ord(each) in letters for letters in MAPS) for each in shown)
    only_letters = not any(unicodedata.category(each) in ("Mn", "Me") for each in shown)
    assert (undrawable(letter) == ()) is ((has_all and only_letters) or not clean(letter))


@pytest.mark.parametrize("name", IN_THE_FONT)
def test_names_in_the_scripts_of_the_font_are_printed(name: str) -> None:
    said = text_of(draw_tickets([ticket(name=name)], PAPERS["a4-8"], AUD, shop="Shop").pdf)
    assert name in said
    sold = draw_labels([label(name=name)], label_sheet("label-80x50"), AUD, shop="Shop").pdf
    assert name in text_of(sold)


@pytest.mark.parametrize(("name", "letters"), NOT_IN_IT.items())
def test_a_name_that_would_be_boxes_is_refused_by_its_letters(name: str, letters: str) -> None:
    for paper in PAPERS.values():
        with pytest.raises(Refusal, match=f"cannot draw {letters}.*“{name}”"):
            draw_tickets([ticket(), ticket(name=name)], paper, AUD, shop="Shop")
    with pytest.raises(Refusal, match=f"cannot draw {letters}.*“{name}”"):
        draw_labels([label(), label(name=name)], label_sheet("58x60mm"), AUD, shop="Shop")


@pytest.mark.parametrize(
    "changes", [{"lot": "牛"}, {"origin": ("Origin: 日本",)}, {"ingredients": (("麦", True),)},
                {"storage": "冷"}, {"cooking": "🔥"}],
)  # fmt: skip
def test_no_word_of_a_label_is_drawn_as_boxes(changes: dict[str, Any]) -> None:
    with pytest.raises(Refusal, match="on “Rump steak”"):
        draw_labels([label(**changes)], label_sheet("label-100x60"), AUD, shop="Shop")
    with pytest.raises(Refusal, match="店"):
        draw_labels([label()], label_sheet("label-100x60"), AUD, shop="店")


def test_all_things_are_named_and_none_twice() -> None:
    with pytest.raises(Refusal) as told:
        see_letters([("肉", ("肉",)), ("Rump", ("Rump", "x")), ("肉", ("肉",)), ("魚", ("a魚魚",))])
    assert str(told.value).count("肉 on “肉”") == 1
    assert "魚 on “魚”" in str(told.value)
    assert "Rump" not in str(told.value)


def test_an_accent_that_was_typed_by_itself_joins_its_letter_and_marks_vanish() -> None:
    assert clean("e\N{COMBINING ACUTE ACCENT}clair") == "éclair"
    assert clean("Ru\N{SOFT HYPHEN}mp\N{ZERO WIDTH SPACE}\N{RIGHT-TO-LEFT OVERRIDE}") == "Rump"
    split = clean("e\N{ZERO WIDTH JOINER}\N{COMBINING ACUTE ACCENT}")
    assert split == clean(split) == "é"
    assert undrawable("x\N{COMBINING ACUTE ACCENT}") == ("\N{COMBINING ACUTE ACCENT}",)
