"""Who acts, where, and when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.keys import new_key
from gambrel.domain.trade.records import Stage

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.work import Work


@dataclass(frozen=True, slots=True)
class Act:
    """One act of one person at one station.

    ``now`` is an aware moment in UTC; ``random`` are the bytes
    (`gambrel.domain.trade.keys.RANDOM_BYTES` of them, new for each act) that
    keep its key apart from every other station's.
    """

    person: str
    station: str
    now: datetime
    random: bytes

    @property
    def key(self) -> str:
        """The key of the row that this act makes: sent again, it is the same."""
        return new_key(self.now, self.random)


def open_stage(work: Work, key: str) -> Stage:
    """A stage that can be worked on.

    Raises:
        Refusal: There is no such stage, or it is finished.
    """
    stage = work.stage(key)
    if stage is None:
        raise Refusal("This work is not in the book any more. Choose it again on the rail.")
    if not stage.is_open:
        raise Refusal("This body is finished. Reopen it to weigh or take back.")
    return stage
