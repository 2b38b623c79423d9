"""The command line: the same services without a window.

Exit status: 0 done; 1 the book or the input says no (a sentence on standard error); 2 wrong usage.
"""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Sequence

from gambrel.cli.output import say_no, speak_plainly
from gambrel.cli.parser import make_parser
from gambrel.domain.refusals import Refusal

DONE, REFUSED, INTERRUPTED = 0, 1, 130


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Args:
        argv: The arguments after the program's name; None for those of the process.
    Returns:
        The exit status.
    """
    speak_plainly()
    try:
        options = _options(sys.argv[1:] if argv is None else argv)
        status: int = options.run(options)
        if sys.stdout is not None:  # it was closed before we began
            sys.stdout.flush()
    except SystemExit as told:  # argparse has said what is wrong, or shown its help
        return told.code if isinstance(told.code, int) else REFUSED
    except Refusal as refusal:
        say_no(str(refusal))
        return REFUSED
    except BrokenPipeError:
        _close_quietly()
        return REFUSED
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        say_no(f"{where}{error.strerror or error}. Check the place, its rights and its free space.")
        return REFUSED
    except KeyboardInterrupt:
        return INTERRUPTED
    return status


def _options(words: Sequence[str]) -> Namespace:
    """What was asked. Argparse would hand on ``--body=--`` as a list that holds nothing."""
    parser = make_parser()
    lost = next((word for word in words if word[:2] == "--" and word[-3:] == "=--"), None)
    if lost is not None:
        parser.error(f"{lost}: expected a value behind the equals sign")
    return parser.parse_args(words)


def _close_quietly() -> None:
    """Nobody reads any more; keep Python from complaining of it while it ends."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        return
