"""How the block's heights are shared out at each window size. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass

FLOOR = 88
"""15 mm on the tablet that the screen is drawn for: nothing at the block is lower."""

KEY = 118
"""20 mm there: keypad keys and cuts, where the window is 800 high."""

WIDEST_CUT = 144
ROWS = 3


@dataclass(frozen=True, slots=True)
class Right:
    """Heights of the right column, from the top."""

    weight: int
    keypad: int
    tubs: int
    weigh: int
    gap: int


@dataclass(frozen=True, slots=True)
class Left:
    """Heights of the left column, from the top; no map where there is no room for one."""

    map: int
    grid: int
    rows: int
    balance: int
    strip: int
    gap: int


def right_heights(height: int) -> Right:
    """Share out the right column: the keys grow first to 20 mm, then weigh-in, then the weight."""
    gap = 8 if height >= 640 else 4
    tubs = FLOOR
    spare = height - 3 * gap - tubs - 76 - FLOOR - (3 * FLOOR + 2 * gap)
    keys = min(max(spare, 0), 3 * (KEY - FLOOR))
    weigh = min(max(spare - keys, 0), 20)
    rest = max(spare - keys - weigh, 0)
    more_weight = min(rest, 56) + max(rest - 56, 0) // 3
    more_keys = keys + rest - more_weight
    return Right(76 + more_weight, 3 * FLOOR + 2 * gap + more_keys, tubs, FLOOR + weigh, gap)


def left_heights(height: int) -> Left:
    """Share out the left column: the map gives way first, then the cuts come in more rows."""
    gap = 8 if height >= 640 else 4
    strip, balance = FLOOR, 36
    room = height - strip - balance - 3 * gap
    grid = ROWS * KEY + (ROWS - 1) * gap
    if room - grid >= 140:
        extra = (room - grid - 210) // 2 if room - grid > 210 else 0
        extra = min(extra, ROWS * 50)
        return Left(room - grid - extra, grid + extra, ROWS, balance, strip, gap)
    room += gap
    rows = max((room + gap) // (FLOOR + gap), 1)
    return Left(0, room, rows, balance, strip, gap)


def columns(width: int, cuts: int, rows: int, gap: int) -> int:
    """How many keys stand side by side: five where they can be 144 wide, more if cuts need them."""
    most = max((width + gap) // (WIDEST_CUT + gap), 1)
    if most < 5:
        return max((width + gap) // (KEY + gap), 1)
    return min(max(5, -(-cuts // rows)), most)


def right_width(width: int) -> int:
    """The width of the right column."""
    return min(max(width * 38 // 100, 480), 640)
