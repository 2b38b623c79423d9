import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.codes import (
    SHELF_NUMBER,
    check_digit,
    in_store_number,
    price_check_digit,
)


@given(item=st.integers(0, 99999))
def test_a_shelf_number_carries_its_item_and_nothing_else(item: int) -> None:
    number = in_store_number(SHELF_NUMBER, item=item)
    assert (len(number), number[:2], int(number[2:7]), number[7:12]) == (13, "20", item, "00000")


@given(item=st.integers(0, 9999), grams=st.integers(0, 9999))
def test_a_weight_is_guarded_by_its_own_digit(item: int, grams: int) -> None:
    number = in_store_number("28IIIIVWWWW0C", item=item, grams=grams)
    assert int(number[7:11]) == grams
    assert int(number[6]) == price_check_digit(number[7:11])


@given(number=st.text("0123456789", min_size=12, max_size=12), place=st.integers(0, 11))
def test_one_wrong_digit_never_passes(number: str, place: int) -> None:
    wrong = str((int(number[place]) + 1) % 10)
    assert check_digit(number[:place] + wrong + number[place + 1 :]) != check_digit(number)


@given(
    field=st.text("0123456789", min_size=4, max_size=5),
    place=st.integers(0, 3),
    step=st.integers(1, 9),
)
def test_one_wrong_digit_of_a_price_never_passes(field: str, place: int, step: int) -> None:
    wrong = str((int(field[place]) + step) % 10)
    assert price_check_digit(field[:place] + wrong + field[place + 1 :]) != price_check_digit(field)


@pytest.mark.parametrize("number", ["", "12a", "１２３", "-12", "1 2"])
def test_only_plain_digits_have_a_check_digit(number: str) -> None:
    with pytest.raises(ValueError, match="digits only"):
        check_digit(number)


@pytest.mark.parametrize("field", ["123", "123456"])
def test_a_price_field_has_four_or_five_digits(field: str) -> None:
    with pytest.raises(ValueError, match="four or five digits"):
        price_check_digit(field)


@pytest.mark.parametrize(
    "layout",
    [
        "20IIIII0000C",  # twelve places
        "93IIIII00000C",  # a prefix that is somebody else's
        "20IIIII00000I",  # no check digit
        "20PPPPP00000C",  # no item
        "20III00III00C",  # the item in two parts
        "20IIIIIVVPPPC",  # two digits that guard
        "20IIIIIV0000C",  # a guard with nothing to guard
        "20IIIII?0000C",
        "20IIIIICCCCCC",
    ],
)
def test_a_layout_that_is_none_is_refused(layout: str) -> None:
    with pytest.raises(ValueError, match="not a layout"):
        in_store_number(layout, item=1, price=1, grams=1)


@pytest.mark.parametrize(
    ("item", "price", "culprit"), [(100000, 1, "100000"), (1, 10000, "10000"), (1, None, "None")]
)
def test_what_does_not_fit_is_named(item: int, price: int | None, culprit: str) -> None:
    with pytest.raises(ValueError, match=f"{culprit} does not fit"):
        in_store_number("24IIIIIVPPPPC", item=item, price=price)
