"""How the program says no: a sentence that says what is wrong and what to do next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


class Refusal(Exception):
    """The book or the input says no. The message is shown to the person as it stands."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a row of the book or of a folder.

    ``table`` is the plain file's name without its ending (``"pieces"``), ``row`` the row's own key
    (a tuple, since inputs are known by stage, source and key), ``column`` the column at fault.
    """

    table: str
    row: tuple[str, ...]
    column: str
    message: str


class RowsRefused(Refusal):
    """Rows that cannot be taken, all of them named at once, one sentence a line."""

    def __init__(self, sentences: Sequence[str]) -> None:
        super().__init__("\n".join(sentences))
        self.sentences = tuple(sentences)
