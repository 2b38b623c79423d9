"""Refuse an old Python in a sentence.

The two commands of the README load this before anything else, so it keeps to what a much older
Python can still read: otherwise its user would see a syntax error instead.
"""

import sys

OLDEST = (3, 11)


def refusal(major: int, minor: int) -> str:
    """Return the sentence for a Python that is too old, or nothing when it will do."""
    if (major, minor) >= OLDEST:
        return ""
    return (
        f"Gambrel needs Python {OLDEST[0]}.{OLDEST[1]} or newer, and this is Python "
        f"{major}.{minor}. Install a newer Python and start again with it, "
        f"for example: python{OLDEST[0]}.{OLDEST[1]} {sys.argv[0]}"
    )


def stop_if_old() -> None:
    """End the program with the sentence and status 1 when this Python is too old."""
    words = refusal(sys.version_info[0], sys.version_info[1])
    if words:
        sys.exit(words)
