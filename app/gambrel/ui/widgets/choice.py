"""One of several things to tap. Pure: no Qt, so that states can hold it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Choice:
    """Something to tap."""

    key: str
    text: str
    chosen: bool
