from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from gambrel.domain.bench.choice import Choice, Made, Way, compare, worth_per_kilo
from gambrel.domain.bench.choice_words import choice_sentence, parts_name
from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, CutKind, Shop
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.tax import tax_scale
from tests.trades import AUD, CUTS, a_shop

SHOP = a_shop()
FORMATS = Formats(AUD, "$")
BY_KEY = {cut.key: cut for cut in CUTS}


def made(key: str, share: str = "1") -> Made:
    cut = BY_KEY[key]
    return Made(cut, cut.price, Decimal(share))


def way(*parts: Made, minutes: int | str | Decimal = 0) -> Way:
    return Way(parts_name(parts, FORMATS), parts, Decimal(minutes))


RUMP, TRIM = way(made("rump")), way(made("mince-trim"))


def told(choice: Choice) -> str:
    return choice_sentence(choice, FORMATS).replace("\N{NO-BREAK SPACE}", " ")


def test_the_last_piece_whole_against_the_tub() -> None:
    """By hand: 4.386 × (26.99 − 0.48 − 8.99) = 76.84272, less 3 / 60 of 37.50 = 1.875."""
    choice = compare(4386, replace(RUMP, minutes=Decimal(3)), TRIM, SHOP)
    assert (choice.worth, choice.other_worth, choice.work) == (11627, 3943, 188)
    assert choice.earns == 11627 - 3943 - 188
    assert choice.spare_minutes is not None
    assert choice.spare_minutes == Decimal(7684 * 60) / 3750 - 3
    assert told(choice) == (
        "As Rump it earns $74.96 more than as Mince trim: "
        "4.386 kg × ($26.51 \N{MINUS SIGN} $8.99), less 3 min of work ($1.88). "
        "It stops paying after another 1 h 59."
    )


def test_a_piece_kept_whole_against_trimming_it_out() -> None:
    """By hand, a kilo: 80 % of 14.69, 12 % of 8.99, 5 % of a credit of 0.20, 3 % of nothing."""
    trimmed = way(
        made("shin", "0.8"), made("mince-trim", "0.12"), made("fat", "0.05"),
        made("waste", "0.03"), minutes=10,
    )  # fmt: skip
    choice = compare(10_000, trimmed, TRIM, SHOP)
    assert choice.rate == Decimal("1175.2") + Decimal("107.88") + 1
    assert (choice.worth, choice.other_worth, choice.work) == (12841, 8990, 625)
    assert told(choice).startswith(
        "As 80\N{NARROW NO-BREAK SPACE}% Shin, 12\N{NARROW NO-BREAK SPACE}% Mince trim, "
    )
    assert (
        "it earns $32.26 more than as Mince trim: $128.41 \N{MINUS SIGN} $89.90 for 10.000 kg, "
        in (told(choice))
    )


def test_a_disposal_fee_is_a_loss_and_waste_is_nothing() -> None:
    fee = compare(2000, way(made("bone")), way(made("waste")), SHOP)
    assert (fee.worth, fee.other_worth, fee.earns) == (-30, 0, -30)
    assert fee.pays_within is None
    assert "It would not pay however quick it was." in told(fee)
    assert "$8.99 + $0.15" in told(compare(1000, TRIM, way(made("bone")), SHOP))


def test_a_price_with_tax_counts_before_tax() -> None:
    shop = a_shop(prices_include_tax=True, tax_percent=Decimal(10))
    rump = Made(Cut("rump", "Rump", "beef", CutKind.TRAY, 2750, 100), 2750)
    assert worth_per_kilo(rump, tax_scale(shop)) == 2400
    assert compare(500, Way("Rump", (rump,)), Way("Rump", (rump,)), shop).worth == 1200


def test_work_that_costs_nothing_is_said() -> None:
    choice = compare(1000, replace(RUMP, minutes=Decimal(30)), TRIM, a_shop(work_per_hour=0))
    assert (choice.work, choice.spare_minutes, choice.pays_within) == (0, None, None)
    assert told(choice).endswith("($26.51 \N{MINUS SIGN} $8.99). Minutes cost nothing here.")


def test_what_does_not_pay_yet_says_within_what_it_would() -> None:
    slow = replace(RUMP, minutes=Decimal(60))
    choice = compare(1000, slow, TRIM, SHOP)
    assert choice.earns == 2651 - 899 - 3750
    assert choice.spare_minutes == 0
    assert choice.pays_within == Decimal(1752 * 60) / 3750
    assert told(choice).endswith("It would pay within 28 min.")
    assert told(compare(1000, TRIM, slow, SHOP)).count("and 1 h 00 of work ($37.50) saved") == 1


def test_the_same_is_as_much() -> None:
    choice = compare(1000, RUMP, RUMP, SHOP)
    assert told(choice).startswith("As Rump it earns as much as it would as Rump: ")
    assert told(choice).endswith("With any more work it would earn less.")


def test_a_limit_under_a_minute_is_not_rounded_up() -> None:
    choice = compare(20, RUMP, TRIM, SHOP)
    assert choice.spare_minutes == Decimal("0.56")
    assert told(choice).endswith("It stops paying after less than one more minute.")


@pytest.mark.parametrize(
    ("grams", "one", "says"),
    [
        (0, RUMP, "no weight"),
        (-5, RUMP, "no weight"),
        (1000, replace(RUMP, minutes=Decimal(-1)), "-1 minutes"),
        (1000, replace(RUMP, minutes=Decimal("NaN")), "NaN minutes"),
        (1000, replace(RUMP, minutes=Decimal("1E+99")), "minutes of work cannot be"),
        (1000, Way("nothing", ()), "no parts of a whole"),
        (1000, way(made("rump", "-0.2")), "no parts of a whole"),
        (1000, way(made("rump", "0.8"), made("shin", "0.3")), "add up to 110 per cent"),
        (1000, Way("Rump", (Made(BY_KEY["rump"]),)), "Rump has no price yet. Give it one"),
        (
            1000,
            Way("both", (Made(BY_KEY["rump"], None, Decimal("0.5")),
                         Made(BY_KEY["shin"], None, Decimal("0.5")))),
            "Rump and Shin have no price yet",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_compared_is_refused_in_a_sentence(grams: int, one: Way, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        compare(grams, one, TRIM, SHOP)
    if grams > 0:
        with pytest.raises(Refusal, match=says):
            compare(grams, TRIM, one, SHOP)


def test_by_products_and_waste_need_no_price() -> None:
    assert compare(1000, way(made("fat")), way(made("waste")), SHOP).worth == 20


minutes = st.decimals(0, 600, places=2)


@st.composite
def ways(draw: st.DrawFn) -> Way:
    chosen = draw(st.lists(st.sampled_from(CUTS), min_size=1, max_size=5, unique=True))
    percent = [draw(st.integers(1, 100 // len(chosen))) for _ in chosen]
    parts = tuple(
        Made(cut, draw(st.integers(0, 9000)), Decimal(share) / 100)
        for cut, share in zip(chosen, percent, strict=True)
    )
    return Way(parts_name(parts, FORMATS), parts, draw(minutes))


kilos = st.integers(1, 200_000)
shops = st.builds(
    lambda rate, tax, within: a_shop(
        work_per_hour=rate, tax_percent=Decimal(tax) / 10, prices_include_tax=within
    ),
    st.integers(1, 20_000), st.integers(0, 250), st.booleans(),
)  # fmt: skip


@given(kilos, ways(), ways(), shops)
def test_what_one_gains_the_other_loses(grams: int, one: Way, two: Way, shop: Shop) -> None:
    there, back = compare(grams, one, two, shop), compare(grams, two, one, shop)
    assert there.earns == -back.earns
    assert type(there.earns) is int


@given(kilos, ways(), ways(), shops)
def test_at_the_last_minute_that_pays_both_are_equal(
    grams: int, one: Way, two: Way, shop: Shop
) -> None:
    choice = compare(grams, one, two, shop)
    assume(choice.pays_within is not None)
    assert choice.pays_within is not None
    assert choice.spare_minutes is not None
    at_limit = compare(grams, replace(one, minutes=choice.pays_within), two, shop)
    assert at_limit.earns == 0
    if choice.earns > 0:
        assert choice.spare_minutes > 0
        later = replace(one, minutes=one.minutes + choice.spare_minutes + 60)
        assert compare(grams, later, two, shop).earns < 0


@given(kilos, st.integers(2, 5), ways(), ways(), shops)
def test_so_many_times_the_kilos_earn_so_many_times_as_much(
    grams: int, times: int, one: Way, two: Way, shop: Shop
) -> None:
    small, large = compare(grams, one, two, shop), compare(grams * times, one, two, shop)
    gain = small.worth - small.other_worth
    assert abs((large.worth - large.other_worth) - times * gain) <= times + 1
    assert large.rate == small.rate
    assert large.work == small.work


@given(kilos, ways(), ways(), shops)
def test_a_sentence_tells_the_money_and_holds_no_bare_figure(
    grams: int, one: Way, two: Way, shop: Shop
) -> None:
    choice = compare(grams, one, two, shop)
    said = choice_sentence(choice, FORMATS)
    if choice.earns:
        assert f"earns {FORMATS.money(abs(choice.earns))} " in said
    assert "None" not in said
    assert said.endswith(".")


def test_other_currencies_have_other_decimals() -> None:
    yen = Currency("JPY", 0)
    shop = a_shop(currency=yen, work_per_hour=1800)
    one = Way("A", (Made(Cut("a", "A", "beef", CutKind.TRAY, 990), 990),), Decimal(1))
    two = Way("B", (Made(Cut("b", "B", "beef", CutKind.TRAY, 900), 900),))
    said = choice_sentence(compare(3500, one, two, shop), Formats(yen, "¥"))
    assert said.startswith(
        "As A it earns ¥285 more than as B: 3.500 kg × (¥990 \N{MINUS SIGN} ¥900)"
    )
