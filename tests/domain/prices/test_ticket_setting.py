"""What a shop wants on its tickets, kept and read back."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.ticket_setting import (
    LARGEST_LOGO,
    TicketSetting,
    read_ticket_setting,
    ticket_setting_text,
)
from gambrel.domain.prices.unit_price import Per
from gambrel.domain.refusals import Refusal

settings = st.builds(
    TicketSetting, st.none() | st.sampled_from(Per), st.booleans(), st.binary(max_size=200)
)


@given(settings)
def test_what_is_kept_comes_back(kept: TicketSetting) -> None:
    assert read_ticket_setting(ticket_setting_text(kept)) == kept


def test_nothing_kept_is_the_usual_ticket() -> None:
    assert read_ticket_setting("") == TicketSetting(None, barcode=True, logo=b"")


GOOD = {"per": "lb", "barcode": True, "logo": ""}


@pytest.mark.parametrize(
    "row",
    [
        {},
        [],
        None,
        GOOD | {"more": 1},
        GOOD | {"per": "stone"},
        GOOD | {"barcode": 1},
        GOOD | {"logo": "not base 64!"},
        GOOD | {"logo": None},
    ],
)
def test_anything_else_is_refused(row: object) -> None:
    with pytest.raises(Refusal, match="Choose it again"):
        read_ticket_setting(json.dumps(row))
    with pytest.raises(Refusal, match="Choose it again"):
        read_ticket_setting("{")


def test_a_logo_too_large_for_the_book_is_refused() -> None:
    with pytest.raises(Refusal, match="up to 400 kB"):
        TicketSetting(logo=bytes(LARGEST_LOGO + 1))
