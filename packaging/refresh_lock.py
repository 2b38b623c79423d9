"""Write the lock files anew from pyproject.toml: `python3 packaging/refresh_lock.py [--upgrade]`.

Without `--upgrade` every version stays where it may; with it each goes to the newest that
pyproject.toml allows. Resolves for every system and every Python from 3.11 on, with the hashes of
all files of a version, and with no address of any index, so that a mirror serves as well.
Wants the network, and makes itself a throw-away environment for the tool that resolves.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

from environment import LOCKS, ROOT, python_of

HEADER = "packaging/refresh_lock.py"
RESOLVER = "uv>=0.9"


def main(arguments: list[str]) -> int:
    """Make the resolver's environment, then write the run's lock and the check's on top of it."""
    with tempfile.TemporaryDirectory(prefix="gambrel-lock-") as folder:
        home = Path(folder)
        subprocess.run([sys.executable, "-m", "venv", str(home)], check=True)
        python = python_of(home)
        subprocess.run([python, "-m", "pip", "install", "--quiet", RESOLVER], check=True)
        run, check = LOCKS["run"], LOCKS["check"]
        resolve(python, run, ["--extra", "build", *arguments])
        # The check's packages stand on the same versions as the run's.
        over = ["--extra", "build", "--extra", "check", "--constraint", relative(run)]
        resolve(python, check, [*over, *arguments])
    return 0


def resolve(python: Path, lock: Path, wishes: list[str]) -> None:
    """Write one lock file."""
    # This machine's own indexes and options must leave no trace in the lock.
    clean = {name: value for name, value in os.environ.items() if not name.startswith("UV_")}
    fixed = [
        *("--no-config", "--quiet", "--universal", "--python-version", "3.11"),
        *("--generate-hashes", "--no-emit-index-url", "--no-emit-find-links"),
        *("--custom-compile-command", HEADER, "--output-file", relative(lock)),
    ]
    command = [str(python), "-m", "uv", "pip", "compile", "pyproject.toml", *fixed, *wishes]
    subprocess.run(command, check=True, cwd=ROOT, env=clean)


def relative(lock: Path) -> str:
    """Return the name that the lock's own comments may carry: never a path of this machine."""
    return lock.relative_to(ROOT).as_posix()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
