"""Check the whole project on a machine that has only Python: `python3 packaging/check.py`.

Runs every check in order and stops at the first that fails. The last line says how many passed and
failed: tests, and each other check counted as one. The exit status is 0 only when all passed.
"""

import sys

import python_version

python_version.stop_if_old()

import argparse  # noqa: E402 - an old Python could not read what follows
import tempfile  # noqa: E402
from pathlib import Path  # noqa: E402

import environment  # noqa: E402
from check_steps import Run, steps_for  # noqa: E402
from refused import Refused  # noqa: E402


def main(arguments: "list[str]") -> int:
    """Prepare, run the steps and sum up; return the exit status."""
    wishes = parse(arguments)
    try:
        python = environment.prepare("check", with_queue=wishes.long)
    except Refused as no:
        print(no, file=sys.stderr)
        return 1
    with tempfile.TemporaryDirectory(prefix="gambrel-check-") as folder:
        run = Run(python=python, scratch=Path(folder), keep_going=wishes.keep_going)
        run.all(steps_for(run, quick=wishes.quick, long=wishes.long))
        run.sum_up()
    return 1 if run.failed else 0


def parse(arguments: "list[str]") -> argparse.Namespace:
    """Read the switches of the command line."""
    parser = argparse.ArgumentParser(
        prog="check.py", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--quick", action="store_true", help="leave out the bench and the demo")
    parser.add_argument(
        "--long",
        action="store_true",
        help="also run the tests marked slow, and bring a print queue for those of one",
    )
    parser.add_argument("--keep-going", action="store_true", help="go on after a failure")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
