"""GS1 check digits that others have published, each with where it was seen.

"Computed" means: the number was printed there, its digit worked out by hand from the published
rule. "Memory" means: remembered from the GS1 General Specifications and worked out again.
python-stdnum is the second source for every mod-10 digit.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import ean

from gambrel.domain.prices.codes import check_digit, in_store_number, price_check_digit

GS1 = "gs1.org, How to calculate a check digit manually"
GS1_UK = "GS1 UK how-to leaflet, studylib.net/doc/18603056"
GS1_SWEDEN = "GS1 Sweden support page"
CPAN = "CPAN Algorithm::CheckDigits M10_004 manual"
DOCS_RS = "docs.rs codes-check-digits, gs1 module"
WIKIPEDIA = "Wikipedia, check digit (mirrored search page), with its intermediate sums"
AIDC_WEIGHTS = "aidc-toolkit/gs1 test/variable-measure-rcn.test.ts; digit computed"
OWN = "computed by hand, not published"


@pytest.mark.parametrize(
    ("number", "digit", "source"),
    [
        ("629104150021", 3, GS1),
        ("501234567890", 0, GS1_UK),
        ("501234567421", 6, GS1_UK),
        ("730001100001", 7, GS1_SWEDEN),
        ("762220000460", 7, CPAN),
        ("943646579210", 4, DOCS_RS),
        ("03600024145", 7, WIKIPEDIA),
        ("25432112345", 4, AIDC_WEIGHTS),
        ("275432112345", 7, AIDC_WEIGHTS),
        ("200001012345", 2, OWN),
    ],
)
def test_published_check_digit(number: str, digit: int, source: str) -> None:
    assert check_digit(number) == digit, source


AIDC = "aidc-toolkit/gs1 test/check.test.ts (cites GS1 General Specifications 7.9.3); computed"
MEMORY = "GS1 General Specifications 7.9, the printed example; from memory, computed again"


@pytest.mark.parametrize(
    ("field", "digit", "source"),
    [
        ("0123", 6, AIDC),
        ("1234", 9, AIDC),
        ("2345", 5, AIDC),
        ("3456", 8, AIDC),
        ("4567", 1, AIDC),
        ("5678", 1, AIDC),
        ("6789", 7, AIDC),
        ("7890", 5, AIDC),
        ("8901", 1, AIDC),
        ("9012", 7, AIDC),
        ("4321", 5, AIDC),
        ("2875", 9, MEMORY),
        ("01234", 1, AIDC),
        ("12345", 8, AIDC),
        ("23456", 6, AIDC),
        ("34567", 6, AIDC),
        ("45678", 2, AIDC),
        ("56789", 2, AIDC),
        ("67890", 2, AIDC),
        ("78901", 3, AIDC),
        ("89012", 0, AIDC),
        ("90123", 2, AIDC),
        ("54321", 4, AIDC),
        ("14685", 6, MEMORY),
    ],
)
def test_published_price_check_digit(field: str, digit: int, source: str) -> None:
    assert price_check_digit(field) == digit, source


LAYOUTS = "layouts of aidc-toolkit/gs1 test/variable-measure-rcn.test.ts"


@pytest.mark.parametrize(
    ("layout", "item", "price", "number", "source"),
    [
        ("24IIIIIVPPPPC", 12345, 4321, "2412345543216", f"{LAYOUTS}; computed"),
        ("21IIIIPPPPPVC", 1234, 54321, "2112345432144", f"{LAYOUTS}; computed"),
        ("27PPPPPIIIIIC", 12345, 54321, "2754321123457", f"{LAYOUTS}; number printed there"),
    ],
)
def test_published_in_store_number(
    layout: str, item: int, price: int, number: str, source: str
) -> None:
    assert in_store_number(layout, item=item, price=price) == number, source


@given(number=st.text("0123456789", min_size=7, max_size=17))
def test_python_stdnum_agrees(number: str) -> None:
    assert str(check_digit(number)) == ean.calc_check_digit(number)


@given(item=st.integers(0, 99999))
def test_python_stdnum_takes_every_shelf_number(item: int) -> None:
    assert ean.is_valid(in_store_number("20IIIII00000C", item=item))
