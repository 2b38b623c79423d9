"""What a keypad's keys make of the text before them. Pure: no Qt.

Only digits and one decimal mark can be typed, never grouping; ``.`` and ``,`` both mean the mark.
"""

from __future__ import annotations

BACK = "back"
CLEAR = "clear"
MARK = "."
_MARKS = {".", ","}


def press(text: str, key: str, *, decimals: int = 3, longest: int = 5) -> str:
    """The text after a key.

    Args:
        text: What has been typed, for example ``"4.38"``.
        key: One digit, ``"."`` or ``","``, `BACK` or `CLEAR`; anything else changes nothing.
        decimals: How many digits may follow the mark; 0 refuses the mark.
        longest: How many digits may stand before it.
    """
    if key == CLEAR:
        return ""
    if key == BACK:
        return text[:-1]
    if key in _MARKS:
        return text if MARK in text or not decimals else f"{text or '0'}{MARK}"
    if len(key) != 1 or key not in "0123456789":
        return text
    whole, mark, part = text.partition(MARK)
    if mark:
        return text if len(part) >= decimals else text + key
    if whole == "0":
        return key
    return text if len(whole) >= longest else text + key


def press_code(text: str, key: str, *, longest: int = 8) -> str:
    """The same for digits that are no number, such as a PIN: none of them is dropped, no mark.

    Args:
        text: What has been typed.
        key: One digit, `BACK` or `CLEAR`; anything else changes nothing.
        longest: How many digits may stand.
    """
    if key in (BACK, CLEAR):
        return text[:-1] if key == BACK else ""
    digit = len(key) == 1 and key in "0123456789"
    return text + key if digit and len(text) < longest else text
