"""What a shop wants on its shelf tickets. Kept as a text, read back strictly."""

from __future__ import annotations

import json
from base64 import b64decode, b64encode
from dataclasses import dataclass

from gambrel.domain.prices.unit_price import Per
from gambrel.domain.refusals import Refusal

TICKET_SETTING = "tickets"
"""The setting that keeps it, for the whole shop."""

LARGEST_LOGO = 400_000
"""Bytes of a logo's file: it is kept in the book, and read for every page that is made."""


@dataclass(frozen=True, slots=True)
class TicketSetting:
    """A second price beside the one per kilo, whether bars are printed, and the shop's logo.

    ``logo`` are the bytes of a picture's file, empty for none.
    """

    per: Per | None = None
    barcode: bool = True
    logo: bytes = b""

    def __post_init__(self) -> None:
        if len(self.logo) > LARGEST_LOGO:
            raise Refusal(
                f"The logo's file has {len(self.logo) // 1000} kB. Save the picture smaller: up to "
                f"{LARGEST_LOGO // 1000} kB."
            )


def ticket_setting_text(setting: TicketSetting) -> str:
    """The setting as the text that `read_ticket_setting` reads back."""
    row = {
        "per": setting.per.value if setting.per is not None else "",
        "barcode": setting.barcode,
        "logo": b64encode(setting.logo).decode("ascii"),
    }
    return json.dumps(row)


def read_ticket_setting(text: str) -> TicketSetting:
    """What was kept; the usual tickets where nothing was.

    Raises:
        Refusal: The text is not what `ticket_setting_text` writes.
    """
    if not text:
        return TicketSetting()
    try:
        row = json.loads(text)
        per, barcode, logo = row.pop("per"), row.pop("barcode"), row.pop("logo")
        if row or not isinstance(barcode, bool) or not isinstance(logo, str):
            raise ValueError(text)
        return TicketSetting(Per(per) if per else None, barcode, b64decode(logo, validate=True))
    except (AttributeError, KeyError, TypeError, ValueError) as error:
        raise Refusal(
            "What the shop kept about its tickets cannot be read. Choose it again under Setup."
        ) from error
