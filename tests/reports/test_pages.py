from __future__ import annotations

from dataclasses import dataclass, field

from hypothesis import given
from hypothesis import strategies as st

from gambrel.reports.pages import Block, Fresh, Stack, set_pages
from gambrel.reports.pen import Pen
from gambrel.reports.tables import Column, Row, Table

FIRST, TOP, BOTTOM = 120.0, 40.0, 800.0


@dataclass(frozen=True)
class Brick:
    """A block that cannot be broken."""

    height: float
    gap: float = 0
    key: int = field(default=0)

    def draw(self, pen: Pen, x: float, y: float) -> None:
        raise NotImplementedError


def rows_of(block: Block) -> list[Row]:
    if isinstance(block, Table):
        return list(block.rows)
    if isinstance(block, Stack):
        return [row for part in block.blocks for row in rows_of(part)]
    return []


@given(heights=st.lists(st.floats(1, 700), max_size=30), gap=st.floats(0, 30))
def test_bricks_keep_their_order_and_stay_on_the_page(heights: list[float], gap: float) -> None:
    bricks = [Brick(height, gap, key) for key, height in enumerate(heights)]
    pages = set_pages(bricks, FIRST, TOP, BOTTOM)
    assert [brick for page in pages for brick, _ in page] == bricks
    for number, page in enumerate(pages):
        y = TOP if number else FIRST
        for brick, at in page:
            assert at >= y
            y = at + brick.height
            assert y <= BOTTOM + 1e-6
    assert all(page for page in pages[1:])


@given(count=st.integers(1, 300), above=st.floats(0, 600))
def test_a_long_table_goes_on_and_no_row_is_lost(count: int, above: float) -> None:
    rows = [Row((str(n),)) for n in range(count)]
    heading = Brick(18)
    blocks: list[Block] = [Brick(above), Stack([heading, Table((Column("A", 1),), rows)])]
    pages = set_pages(blocks, FIRST, TOP, BOTTOM)
    placed = [(block, y) for page in pages for block, y in page]
    assert [row for block, _ in placed for row in rows_of(block)] == rows
    for block, y in placed:
        assert y + block.height <= BOTTOM + 1e-6
    for block, _ in placed:
        if isinstance(block, Stack) and heading in block.blocks:
            assert len(block.blocks) > 1, "a heading stands alone"


def test_what_belongs_together_moves_on_together() -> None:
    stack = Stack([Brick(100), Brick(200)])
    pages = set_pages([Brick(500), stack], FIRST, TOP, BOTTOM)
    assert [[block for block, _ in page] for page in pages] == [[Brick(500)], [stack]]


def test_what_is_fresh_begins_a_page_and_leaves_none_empty() -> None:
    fresh = [Fresh(Brick(10, key=n)) for n in range(3)]
    pages = set_pages([*fresh[:2], Brick(10, key=9), fresh[2]], FIRST, TOP, BOTTOM)
    assert [[block.key for block, _ in page if isinstance(block, Brick)] for page in pages] == [
        [0], [1, 9], [2],
    ]  # fmt: skip
    tall = set_pages([Brick(10), Fresh(Brick(2000)), Brick(10, key=1)], FIRST, TOP, BOTTOM)
    assert [[block.height for block, _ in page] for page in tall] == [[10], [2000], [10]]


def test_a_brick_too_tall_for_any_page_stands_alone() -> None:
    pages = set_pages([Brick(10), Brick(2000), Brick(10, key=1)], FIRST, TOP, BOTTOM)
    assert [[block.height for block, _ in page] for page in pages] == [[10], [2000], [10]]


def test_a_group_row_is_not_left_at_the_foot() -> None:
    rows = [Row(("a",)) for _ in range(5)] + [Row(("Lamb",), "group")] + [Row(("b",))] * 5
    table = Table((Column("A", 1),), rows)
    parts = table.split(table.head + 6 * table.row)
    assert parts is not None
    assert [len(part.rows) for part in parts] == [5, 6]
