"""The kit that every screen is built from.

Each widget is given the `Theme` first, paints itself with it, repaints when it changes, and has
an accessible name. The modules are imported one by one, so that a screen loads what it shows:

- ``button``: `Button`, `BigButton` (block sizes), `ActionButton`, `Role`
- ``card``: `Card`, `label`; ``figure``: `Figure`; ``banner``: `Banner`; ``empty``: `EmptyState`;
  ``chip``: `Chip`
- ``keypad``: `Keypad` (``entry`` is what its keys do, without Qt)
- ``balance_bar``: `BalanceBar`, `Segment`; ``spark_line``: `SparkLine`
- ``fields``: `NumberField`, `TextField`, `Chips`, `DayStepper` (``choice`` is one of the chips,
  without Qt)
- ``body_map``: `BodyMapView`
- ``flow_picture``: `FlowPicture`; ``yield_rows``, ``cost_rows``: rows that are painted and open
  (``picture_rows`` is their ground, ``pictured`` what they show, without Qt)
- ``table``: `ReadTable`; ``long_table``: `LongTable`, for thousands of rows
- ``painting``: text that fits, boxes; ``scroll``: `touch_scroll`
"""
