"""Make tests/data/schema_NNNN.sqlite: a filled book of today's revision, for later upgrades.

Run it once, when a revision is released: ``python tests/storage/keep_schema.py``. Every file kept
so is upgraded and used by test_migrations.py for ever after.
"""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from gambrel.storage.book import open_book  # noqa: E402 - the tests' own folder comes first
from gambrel.storage.history import HISTORY  # noqa: E402
from tests.storage import beside_samples  # noqa: E402
from tests.storage.samples import SHOP, TRADE, at, entries  # noqa: E402


def keep() -> Path:
    """Write the file; never over one that is kept already."""
    path = ROOT / "tests" / "data" / f"schema_{HISTORY.newest}.sqlite"
    path.parent.mkdir(exist_ok=True)
    assert not path.exists(), f"{path} is kept already"
    with open_book(str(path)) as book, book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
        work.finish_stage("S2", at(70), Decimal("19.5"), "Joss")
        work.reopen_stage("S2", at(72), "Joss", "one more")
        work.set_setting("hook", "one")
        beside_samples.fill(work)
    return path


if __name__ == "__main__":
    print(keep())
