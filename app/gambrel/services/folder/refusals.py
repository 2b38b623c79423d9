"""What is wrong with a folder, gathered until everything has been looked at."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from gambrel.domain.refusals import RowsRefused
from gambrel.services.folder.beside_forms import ALL_FILES


class RefusedLine(NamedTuple):
    """One thing that is wrong: where, and what was expected. Line 0 is the whole file."""

    file: str
    line: int
    column: str
    message: str

    @property
    def text(self) -> str:
        """The sentence ``file:line: column: what is wrong, what was expected``."""
        column = f"{self.column}: " if self.column else ""
        return f"{self.place}: {column}{self.message}"

    @property
    def place(self) -> str:
        """``file:line``, or the file alone."""
        return f"{self.file}:{self.line}" if self.line else self.file


@dataclass(slots=True)
class Refusals:
    """Refused lines, told in the files' order."""

    _lines: list[RefusedLine] = field(default_factory=list)

    def add(self, file: str, line: int | None, column: str, message: str) -> None:
        """Name one thing that is wrong; without a line it is the whole file."""
        self._lines.append(RefusedLine(file, line or 0, column, message))

    def __len__(self) -> int:
        return len(self._lines)

    @property
    def first(self) -> str:
        """The sentence that stands first, in the files' order.

        Raises:
            IndexError: Nothing was named.
        """
        return self.in_order()[0].text

    def raise_any(self) -> None:
        """Refuse, if anything was named.

        Raises:
            RowsRefused: With every sentence.
        """
        if self._lines:
            raise RowsRefused([line.text for line in self.in_order()])

    def in_order(self) -> list[RefusedLine]:
        """Everything that was named, by file and line."""
        return sorted(self._lines, key=lambda each: (file_place(each.file), each.line))


def file_place(file: str) -> int:
    """Where a file stands among those of the form; after all of them where it is none."""
    return ALL_FILES.index(file) if file in ALL_FILES else len(ALL_FILES)
