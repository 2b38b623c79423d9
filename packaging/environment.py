"""Make the project's own Python environment, `.venv`, from the lock, and keep it fresh.

Needs nothing but a Python of the right age. The lock pins every package by version and by the
hash of its files; `.venv/gambrel-stamp.json` remembers what was installed, so that a second start
costs nothing.
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any, Literal

import system_libraries
from refused import Refused

Purpose = Literal["run", "check"]

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
STAMP = VENV / "gambrel-stamp.json"
LOCKS: dict[Purpose, Path] = {
    "run": ROOT / "packaging" / "lock-run.txt",
    "check": ROOT / "packaging" / "lock-check.txt",
}


def prepare(purpose: Purpose, *, with_queue: bool = False) -> Path:
    """Bring the machine and `.venv` to where the project can run; say so only when it takes time.

    Returns:
        The Python of the environment.
    Raises:
        Refused: A package or a library is missing and could not be had.
    """
    system_libraries.bring(for_check=purpose == "check", with_queue=with_queue)
    if not usable():
        make_venv()
    if not fresh(purpose):
        install(purpose)
        stamp = {"content": fingerprint(), "place": str(ROOT), "purpose": purpose}
        STAMP.write_text(json.dumps(stamp, indent=1), encoding="utf-8")
    return python_of(VENV)


def python_of(environment: Path) -> Path:
    """Return the interpreter inside an environment; it may not be there yet."""
    if os.name == "nt":
        return environment / "Scripts" / "python.exe"
    return environment / "bin" / "python"


def usable() -> bool:
    """Whether an environment is there, made by this version of Python and in this place."""
    try:
        settings = (VENV / "pyvenv.cfg").read_text("utf-8")
    except OSError:
        return False
    version = ".".join(map(str, sys.version_info[:3]))
    made_here = read_stamp().get("place", str(ROOT)) == str(ROOT)
    return made_here and python_of(VENV).exists() and f"version = {version}" in settings.split("\n")


def fresh(purpose: Purpose) -> bool:
    """Whether what stands in the environment is what the lock and the project ask for."""
    stamp = read_stamp()
    # The check's lock holds everything of the run's.
    return stamp.get("content") == fingerprint() and stamp.get("purpose") in (purpose, "check")


def fingerprint() -> str:
    """Return one digest of all that decides what is installed."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    # The settings of tools change often and install nothing, so they do not count.
    built = [project["build-system"], project["project"], project["tool"]["setuptools"]]
    digest = hashlib.sha256(json.dumps(built, sort_keys=True).encode())
    for lock in LOCKS.values():
        digest.update(lock.read_bytes())
    return digest.hexdigest()


def read_stamp() -> dict[str, Any]:
    """Return what the last installation wrote; nothing when there was none or it is not ours."""
    try:
        stamp = json.loads(STAMP.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def make_venv() -> None:
    """Make an empty `.venv`, in the place of an older one.

    Raises:
        Refused: This Python cannot make environments, or the folder cannot be written.
    """
    if importlib.util.find_spec("ensurepip") is None:
        # Debian splits it off; the name carries the version.
        package = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
        system_libraries.bring_package(package)
    print(f"Making {VENV.name} with Python {sys.version.split()[0]}", flush=True)
    # In its own process: only a fresh one sees what was just installed.
    done = subprocess.run(
        [sys.executable, "-m", "venv", "--clear", str(VENV)],
        check=False,
        capture_output=True,
        text=True,
    )
    if done.returncode != 0:
        raise Refused(f"{VENV} could not be made: {last_words(done)}")


def install(purpose: Purpose) -> None:
    """Install what the lock names, then the project itself, editable.

    Raises:
        Refused: pip failed; its last lines are in the message.
    """
    print("Installing packages from the lock; the first time takes a minute or two", flush=True)
    STAMP.unlink(missing_ok=True)
    pip("--require-hashes", "--only-binary", ":all:", "-r", str(LOCKS[purpose]))
    pip("--no-deps", "--no-build-isolation", "--editable", str(ROOT))


def pip(*arguments: str) -> None:
    """Run pip's install inside the environment, from anywhere."""
    done = subprocess.run(
        [
            *(str(python_of(VENV)), "-m", "pip", "install"),
            *("--quiet", "--disable-pip-version-check", "--no-input"),
            *arguments,
        ],
        check=False,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
    )
    if done.returncode != 0:
        raise Refused(
            "The packages could not be installed. Look at the reason below, see that this "
            f"machine reaches the package index, and start again.\n{last_words(done)}"
        )


def last_words(done: subprocess.CompletedProcess[str]) -> str:
    """Return the end of what a failed command said."""
    return "\n".join((done.stdout + done.stderr).strip().splitlines()[-6:])
