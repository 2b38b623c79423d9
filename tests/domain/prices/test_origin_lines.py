"""What a label says of where meat is from, by country and kind of meat."""

from __future__ import annotations

from dataclasses import replace

import pytest

from gambrel.domain.prices.origin_lines import OriginRule, origin_rule, origin_text
from gambrel.domain.trade.around import Origin, OriginOf

IRISH = Origin(
    OriginOf.BODY, "HQ-1", "Ireland", "Ireland", "Ireland", "IE 303 EC", "Ireland", "IE 411 EC"
)
FRENCH = replace(IRISH, key="HQ-2", born="France", reared="France")
UNKNOWN = Origin(OriginOf.BODY, "HQ-3")

BEEF = "Regulation (EC) 1760/2000, article 13; legal-limits.csv, SEEN"
MINCED = "Regulation (EC) 1760/2000, article 14; text read on wordscope.be and artisanfoodlaw.co.uk"
OTHER = "Regulation (EU) 1337/2013, article 5; MEMORY"


@pytest.mark.parametrize(
    ("country", "species", "rule"),
    [
        ("IE", "beef", OriginRule.BEEF),
        ("ie", "Veal", OriginRule.BEEF),
        ("GB", "lamb", OriginRule.OTHER_MEAT),
        ("FR", "pork", OriginRule.OTHER_MEAT),
        ("FR", "venison", OriginRule.NONE),
        ("AU", "beef", OriginRule.NONE),
        ("", "beef", OriginRule.NONE),
    ],
)
def test_which_rule_holds(country: str, species: str, rule: OriginRule) -> None:
    assert origin_rule(country, species) is rule


def test_beef_of_one_country_says_origin_once_and_both_plants() -> None:
    told = origin_text(OriginRule.BEEF, [IRISH], "IE", minced=False)
    assert told.lines == (
        "Origin: Ireland",
        "Slaughtered in: Ireland, IE 303 EC",
        "Cut in: Ireland, IE 411 EC",
    ), BEEF


def test_beef_of_two_countries_says_each_step() -> None:
    told = origin_text(OriginRule.BEEF, [FRENCH], "IE", minced=False)
    assert told.lines[:2] == ("Born in: France", "Reared in: France"), BEEF
    assert told.lines[2] == "Slaughtered in: Ireland, IE 303 EC", BEEF


def test_beef_that_the_shop_cuts_itself_is_cut_in_its_own_country() -> None:
    told = origin_text(OriginRule.BEEF, [replace(IRISH, cut_in="", plant="")], "GB", minced=False)
    assert told.lines[-1] == "Cut in: United Kingdom"


def test_minced_beef_says_where_it_was_prepared() -> None:
    told = origin_text(OriginRule.BEEF, [IRISH], "IE", minced=True)
    assert told.lines == ("Prepared in: Ireland", "Slaughtered in: Ireland"), MINCED
    told = origin_text(OriginRule.BEEF, [IRISH, FRENCH], "IE", minced=True)
    assert told.lines[1] == "Origin: France / Ireland", MINCED


def test_other_meat_says_reared_and_slaughtered_or_one_origin() -> None:
    told = origin_text(OriginRule.OTHER_MEAT, [IRISH], "IE", minced=False)
    assert told.lines == ("Origin: Ireland",), OTHER
    told = origin_text(OriginRule.OTHER_MEAT, [replace(IRISH, born="")], "IE", minced=False)
    assert told.lines == ("Reared in: Ireland", "Slaughtered in: Ireland"), OTHER


@pytest.mark.parametrize("rule", [OriginRule.BEEF, OriginRule.OTHER_MEAT])
def test_what_nobody_wrote_down_is_missed_by_body_and_no_line_is_made(rule: OriginRule) -> None:
    told = origin_text(rule, [IRISH, UNKNOWN], "IE", minced=False)
    assert told.lines == ()
    (missed,) = told.missing
    assert missed.startswith("HQ-3: ")
    assert "slaughtered" in missed


def test_without_a_rule_only_what_is_true_of_all_is_said() -> None:
    assert origin_text(OriginRule.NONE, [UNKNOWN], "AU", minced=False).lines == ()
    assert origin_text(OriginRule.NONE, [], "AU", minced=False).lines == ()
    assert origin_text(OriginRule.NONE, [IRISH, UNKNOWN], "AU", minced=False).lines == ()
    assert origin_text(OriginRule.NONE, [IRISH], "AU", minced=False).lines == ("Origin: Ireland",)
    assert origin_text(OriginRule.NONE, [FRENCH], "AU", minced=False).lines == (
        "Born in: France", "Reared in: France", "Slaughtered in: Ireland",
    )  # fmt: skip
