"""Start Gambrel on a machine that has only Python: `python3 packaging/start.py [ARGUMENTS]`.

Makes what is missing, then passes its arguments on to `gambrel`; without any it shows the demo.
"""

import os
import subprocess
import sys

import python_version

python_version.stop_if_old()

import environment  # noqa: E402 - an old Python could not read these
from refused import Refused  # noqa: E402


def main(arguments: "list[str]") -> int:
    """Prepare, then become `gambrel`; return its exit status."""
    try:
        python = str(environment.prepare("run"))
    except Refused as no:
        print(no, file=sys.stderr)
        return 1
    # -P: a file in the user's folder must not pass for one of the program's modules.
    command = [python, "-P", "-m", "gambrel", *(arguments or ["demo"])]
    if os.name != "nt":
        # Become the program, so that a signal to this process reaches it.
        os.execv(python, command)  # noqa: S606 - no shell is wanted
    return subprocess.call(command)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
