"""Contrast ratios that others have published, with where each was seen.

Published figures are rounded by their authors; each is compared at its own number of decimals.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from gambrel.domain.drawing.contrast import contrast

COLOUR_LIBRARY = "ColorfulSwift colour library wiki, page Contrast"
ANALYSER = "ThePacielloGroup/CCAe issue 300"
DOCS_SITE = "withastro/docs issue 112"


@pytest.mark.parametrize(
    ("foreground", "background", "published", "source"),
    [
        ("#000000", "#ffffff", "21", COLOUR_LIBRARY),
        ("#767676", "#ffffff", "4.54", COLOUR_LIBRARY),
        ("#ffff00", "#ffffff", "1.07", COLOUR_LIBRARY),
        ("#959595", "#ffffff", "2.995", ANALYSER),
        ("#ff5d01", "#ffffff", "3.08", DOCS_SITE),
        ("#9ca3af", "#ffffff", "2.53", DOCS_SITE),  # cut off there: to nearest it is 2.54
    ],
)
def test_published_ratio(foreground: str, background: str, published: str, source: str) -> None:
    ratio, wanted = contrast(foreground, background), Decimal(published)
    one_in_the_last_place = 10.0 ** int(wanted.as_tuple().exponent)
    assert abs(ratio - float(wanted)) < one_in_the_last_place, source


def test_the_grey_that_just_misses() -> None:
    """#777777 on white is "just below 4.5": ThePacielloGroup/CCAe issue 300."""
    assert 4.47 < contrast("#777777", "#ffffff") < 4.5
