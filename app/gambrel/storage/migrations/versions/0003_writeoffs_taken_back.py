"""A write-off can be taken back, by a row that names it. All that were written so far stand."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from gambrel.storage.guards import drop_guards, restore_guards

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

TABLE = "writeoff_withdrawn"
TEXT = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
MOMENT = "LIKE '____-__-__T__:__:__.______Z'"
COLUMNS = "piece", "written_off_at", "why", "at", "person"
NAMES = COLUMNS[:3]
NAMED = [f"writeoff.{column}" for column in ("piece", "at", "reason")]


def upgrade() -> None:
    op.create_table(
        TABLE,
        *(sa.Column(name, TEXT, nullable=False) for name in COLUMNS),
        sa.PrimaryKeyConstraint(*NAMES),
        sa.ForeignKeyConstraint(NAMES, NAMED),
        *(
            sa.CheckConstraint(f"{name} {MOMENT}", name=f"{name}_written")
            for name in ("written_off_at", "at")
        ),
        sqlite_strict=True,
    )
    restore_guards(op.get_bind(), TABLE)


def downgrade() -> None:
    drop_guards(op.get_bind(), TABLE)
    op.drop_table(TABLE)
