import numpy
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.codes import check_digit
from gambrel.domain.sheets.bars import MODULES, ean13_bars, ean13_modules

numbers = st.text("0123456789", min_size=12, max_size=12).map(lambda n: f"{n}{check_digit(n)}")


@given(number=numbers)
def test_another_writer_has_the_same_modules(number: str) -> None:
    """A second source: the writer of the ZXing library, one pixel a module."""
    code = zxingcpp.create_barcode(number, zxingcpp.BarcodeFormat.EAN13)
    pixels = numpy.asarray(code.to_image(scale=1, add_quiet_zones=False))[0]
    assert ean13_modules(number) == "".join("1" if pixel < 128 else "0" for pixel in pixels)


@given(number=numbers)
def test_bars_and_modules_are_the_same_thing(number: str) -> None:
    dark = set()
    for at, width, guard in ean13_bars(number):
        assert 1 <= width <= 4
        assert guard == (at in (0, 2, 46, 48, 92, 94))
        dark |= set(range(at, at + width))
    modules = ean13_modules(number)
    assert len(modules) == MODULES
    assert {n for n, module in enumerate(modules) if module == "1"} == dark


@pytest.mark.parametrize("number", ["", "123456789012", "12345678901234", "12345678901２3", "abc"])
def test_only_thirteen_digits_have_bars(number: str) -> None:
    with pytest.raises(ValueError, match="not an EAN-13"):
        ean13_modules(number)
