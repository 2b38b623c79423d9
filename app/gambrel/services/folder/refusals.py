"""What is wrong with a folder, gathered until everything has been looked at."""

from __future__ import annotations

from dataclasses import dataclass, field
from operator import itemgetter
from typing import NamedTuple

from gambrel.domain.refusals import RowsRefused
from gambrel.services.folder.beside_forms import ALL_FILES


class _Sentence(NamedTuple):
    file: int
    line: int
    text: str


@dataclass(slots=True)
class Refusals:
    """Sentences ``file:line: column: what is wrong, what was expected``, in the files' order."""

    _sentences: list[_Sentence] = field(default_factory=list)

    def add(self, file: str, line: int | None, column: str, message: str) -> None:
        """Name one thing that is wrong; without a line it is the whole file."""
        place = f"{file}:{line}" if line else file
        text = f"{place}: {column}: {message}" if column else f"{place}: {message}"
        at = ALL_FILES.index(file) if file in ALL_FILES else len(ALL_FILES)
        self._sentences.append(_Sentence(at, line or 0, text))

    def __len__(self) -> int:
        return len(self._sentences)

    @property
    def first(self) -> str:
        """The sentence that stands first, in the files' order.

        Raises:
            IndexError: Nothing was named.
        """
        return self._in_order()[0]

    def raise_any(self) -> None:
        """Refuse, if anything was named.

        Raises:
            RowsRefused: With every sentence.
        """
        if self._sentences:
            raise RowsRefused(self._in_order())

    def _in_order(self) -> list[str]:
        return [sentence.text for sentence in sorted(self._sentences, key=itemgetter(0, 1))]
