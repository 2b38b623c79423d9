"""What the machine must bring beside Python: the libraries that Qt loads, and tools for the check.

A library is asked for by loading it, so the answer is right on every Linux. Only Debian and its
kin are helped further: their package names stand here, and root gets them installed. Other systems
(macOS, Windows) carry what Qt needs in its wheel.
"""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

from refused import Refused

# Each was seen to be needed: without it Qt's import, or its start, fails on a bare Debian 12.
QT_ALWAYS = {
    "libglib-2.0.so.0": "libglib2.0-0",
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libfontconfig.so.1": "libfontconfig1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
}
# For a real window under X11, also under a virtual screen.
QT_X11 = {
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-shape.so.0": "libxcb-shape0",
}
CHECK_TOOLS = {"Xvfb": "xvfb", "xdotool": "xdotool"}
# A real print queue for the tests that start one, which only root can; without it they are skipped.
PRINT_QUEUE = {
    "/usr/sbin/cupsd": "cups-daemon",
    "/usr/sbin/lpadmin": "cups-client",
    "/usr/lib/cups/filter/pdftopdf": "cups-filters",
}
# Newer releases renamed this one when times grew to 64 bits.
RENAMED = {"libglib2.0-0": "libglib2.0-0t64"}


@dataclass(frozen=True)
class Missing:
    """Debian's names of what is not there.

    Attributes:
        needed: Without these nothing can be shown or checked.
        for_window: Only a window on an X11 screen wants these.
        for_queue: Tests of a real print queue are skipped without these.
    """

    needed: tuple[str, ...]
    for_window: tuple[str, ...]
    for_queue: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        """Every missing package, the needed ones first."""
        return self.needed + self.for_window + self.for_queue


def bring(*, for_check: bool, with_queue: bool = False) -> None:
    """See that the libraries are there; install them where that is possible.

    Args:
        for_check: Also what the check needs.
        with_queue: Also a print queue, for the tests of one.

    Raises:
        Refused: Something that is needed is missing and could not be installed; the message names
            the command that installs it.
    """
    if not sys.platform.startswith("linux"):
        return
    missing = find_missing(for_check=for_check, with_queue=with_queue)
    if missing.all and may_install():
        # The queue by itself, so that its failing takes nothing else along.
        for packages in filter(None, (missing.needed + missing.for_window, missing.for_queue)):
            install_as_root(packages)
        missing = find_missing(for_check=for_check, with_queue=with_queue)
    if missing.needed or (missing.for_window and wants_x11()):
        raise Refused(how_to_install(missing.needed + missing.for_window))


def bring_package(package: str) -> None:
    """Install one package by its Debian name.

    Raises:
        Refused: This is not root, or not such a system; the message names the command.
    """
    if not may_install():
        raise Refused(how_to_install((package,)))
    install_as_root((package,))


def may_install() -> bool:
    """Whether this is root on Debian or its kin."""
    return shutil.which("apt-get") is not None and os.geteuid() == 0


def find_missing(*, for_check: bool, with_queue: bool) -> Missing:
    """Look for every library and tool, and name the packages of those that are not there."""
    needed = [package for soname, package in QT_ALWAYS.items() if not can_load(soname)]
    for_window = [package for soname, package in QT_X11.items() if not can_load(soname)]
    for_queue: list[str] = []
    if for_check:
        needed += [package for tool, package in CHECK_TOOLS.items() if not shutil.which(tool)]
        needed += [] if has_postgresql() else ["postgresql"]
        needed, for_window = needed + for_window, []
        if with_queue and may_install():
            for_queue = [name for file, name in PRINT_QUEUE.items() if not Path(file).exists()]
    return Missing(tuple(needed), tuple(for_window), tuple(for_queue))


def can_load(soname: str) -> bool:
    """Whether the system's loader finds this library."""
    try:
        ctypes.CDLL(soname)
    except OSError:
        return False
    return True


def has_postgresql() -> bool:
    """Whether the server's programs are there; Debian keeps them off the PATH."""
    debian = any(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    return debian or shutil.which("initdb") is not None


def wants_x11() -> bool:
    """Whether Qt would open a window on an X11 screen."""
    platform = os.environ.get("QT_QPA_PLATFORM", "")
    if platform:
        return platform.startswith("xcb")
    return bool(os.environ.get("DISPLAY")) and not os.environ.get("WAYLAND_DISPLAY")


def how_to_install(packages: tuple[str, ...]) -> str:
    """Say in a sentence which command installs these packages."""
    names = " ".join(packages)
    if shutil.which("apt-get"):
        sudo = "" if os.geteuid() == 0 else "sudo "
        return (
            "Some system packages are missing. Run this, then start again:\n"
            f"  {sudo}apt-get update && {sudo}apt-get install -y --no-install-recommends {names}"
        )
    return (
        "Some system packages are missing. Install what your system calls these (the names are "
        f"Debian's), then start again: {names}"
    )


def install_as_root(packages: tuple[str, ...]) -> None:
    """Install Debian packages; what fails shows up when the caller looks again."""
    print(f"Installing system packages: {' '.join(packages)}", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    run_quietly(["apt-get", "update", "-q"], quiet)
    names = [current_name(package) for package in packages]
    run_quietly(["apt-get", "install", "-q", "-y", "--no-install-recommends", *names], quiet)


def run_quietly(command: list[str], environment: dict[str, str]) -> None:
    """Run a command and show its last words only when it fails."""
    done = subprocess.run(
        command,
        check=False,
        env=environment,
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
    )
    if done.returncode != 0:
        print("\n".join((done.stdout + done.stderr).splitlines()[-8:]), flush=True)


def current_name(package: str) -> str:
    """Return the name that this release gives to a package that was renamed."""
    newer = RENAMED.get(package)
    if newer is None:
        return package
    known = subprocess.run(["apt-cache", "show", newer], check=False, capture_output=True)
    return newer if known.returncode == 0 else package
