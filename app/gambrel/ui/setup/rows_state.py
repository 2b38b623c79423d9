"""What a row of a section shows. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RowState:
    """A thing that is set up: its name, a line under it, and its value with a unit, if it has one.

    ``fixed`` is told apart: it stands in the list and cannot be changed.
    """

    key: str
    name: str
    about: str = ""
    value: str = ""
    unit: str = ""
    chosen: bool = False
    fixed: bool = False

    @property
    def spoken(self) -> str:
        """What a screen reader says."""
        value = " ".join(part for part in (self.value, self.unit) if part)
        return ", ".join(part for part in (self.name, value, self.about) if part)
