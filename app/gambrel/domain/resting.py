"""Letting the cyclic garbage collector rest while very many plain values are made."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collector_resting() -> Iterator[None]:
    """Switch the collector off, and on again if it was on.

    For work that makes hundreds of thousands of tuples without a cycle among them: the collector
    would walk them all again and again and find nothing, which costs a third of the time.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
