"""What people do at the block, each in one transaction that is on the disk when it returns."""

from gambrel.services.bench.act import Act
from gambrel.services.bench.ending import LONGEST_MINUTES, Reckoning, finish, reckon, reopen
from gambrel.services.bench.keeping import Kept, keep, kept
from gambrel.services.bench.looking import (
    Look,
    Waiting,
    change_list,
    lists_for,
    look,
    people,
    set_tubs,
    waiting,
)
from gambrel.services.bench.starting import put_back, start_break, start_trimout, take_to_block
from gambrel.services.bench.weighing import (
    HEAVIEST_PIECE_G,
    UNDONE,
    VOID_REASONS,
    Weighing,
    undo_last,
    void_piece,
    weigh_in,
)

__all__ = [
    "HEAVIEST_PIECE_G",
    "LONGEST_MINUTES",
    "UNDONE",
    "VOID_REASONS",
    "Act",
    "Kept",
    "Look",
    "Reckoning",
    "Waiting",
    "Weighing",
    "change_list",
    "finish",
    "keep",
    "kept",
    "lists_for",
    "look",
    "people",
    "put_back",
    "reckon",
    "reopen",
    "set_tubs",
    "start_break",
    "start_trimout",
    "take_to_block",
    "undo_last",
    "void_piece",
    "waiting",
    "weigh_in",
]
