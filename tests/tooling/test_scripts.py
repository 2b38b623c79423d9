"""The scripts that start and check the project: what they say no to, and what they count."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import check_steps
import environment
import python_version
import system_libraries
from check_steps import Run, Step
from refused import Refused

PACKAGING = Path(environment.__file__).parent


@pytest.mark.parametrize(("major", "minor"), [(2, 7), (3, 6), (3, 10)])
def test_an_old_python_is_refused_in_a_sentence(major: int, minor: int) -> None:
    words = python_version.refusal(major, minor)
    assert words.startswith(
        f"Gambrel needs Python 3.11 or newer, and this is Python {major}.{minor}."
    )
    assert "Install a newer Python and start again" in words


@pytest.mark.parametrize(("major", "minor"), [(3, 11), (3, 14), (4, 0)])
def test_a_new_python_will_do(major: int, minor: int) -> None:
    assert python_version.refusal(major, minor) == ""


def test_an_old_python_ends_the_program(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (3, 9, 1))
    with pytest.raises(SystemExit, match="Gambrel needs Python"):
        python_version.stop_if_old()


@pytest.mark.parametrize("script", ["start.py", "check.py", "python_version.py"])
def test_an_old_python_can_read_far_enough_to_be_refused(script: str) -> None:
    text = (PACKAGING / script).read_text("utf-8")
    ast.parse(text, feature_version=(3, 6))
    # Neither this nor any other statement may come between: 3.6 would stop with a syntax error.
    assert "from __future__" not in text


def missing(*packages: str) -> system_libraries.Missing:
    return system_libraries.Missing(packages, ())


@pytest.fixture
def bare_machine(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
    """A machine with nothing on it; returns what root was asked to install."""
    asked: list[tuple[str, ...]] = []
    monkeypatch.setattr(system_libraries, "can_load", lambda soname: False)
    monkeypatch.setattr(system_libraries, "install_as_root", asked.append)
    monkeypatch.setattr(shutil, "which", lambda name: None)
    monkeypatch.setattr(sys, "platform", "linux")
    return asked


def test_root_on_debian_gets_what_is_missing(
    bare_machine: list[tuple[str, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(system_libraries, "may_install", lambda: True)
    with pytest.raises(Refused):  # still not there: the installation here is a pretence
        system_libraries.bring(for_check=False)
    wanted = {*system_libraries.QT_ALWAYS.values(), *system_libraries.QT_X11.values()}
    assert set(bare_machine[0]) == wanted


def test_the_check_runs_without_a_print_queue_and_the_long_one_brings_it_where_it_can(
    bare_machine: list[tuple[str, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(system_libraries, "can_load", lambda soname: True)
    monkeypatch.setattr(system_libraries, "has_postgresql", lambda: True)
    monkeypatch.setattr(shutil, "which", lambda name: f"bin/{name}")
    monkeypatch.setattr(Path, "exists", lambda path: path.name != "cupsd")
    monkeypatch.setattr(system_libraries, "may_install", lambda: False)
    system_libraries.bring(for_check=True, with_queue=True)
    assert bare_machine == []
    monkeypatch.setattr(system_libraries, "may_install", lambda: True)
    system_libraries.bring(for_check=True)
    assert bare_machine == []
    system_libraries.bring(
        for_check=True, with_queue=True
    )  # not there afterwards either: its tests are skipped
    assert bare_machine[-1] == ("cups-daemon",)


@pytest.mark.usefixtures("bare_machine")
def test_anybody_else_is_told_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: f"bin/{name}")
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    with pytest.raises(Refused) as no:
        system_libraries.bring(for_check=False)
    command = "sudo apt-get install -y --no-install-recommends libglib2.0-0 libgl1 libegl1"
    assert command in str(no.value)


@pytest.mark.usefixtures("bare_machine")
def test_without_a_screen_the_libraries_of_windows_may_be_missing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(
        system_libraries, "can_load", lambda soname: soname in system_libraries.QT_ALWAYS
    )
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    system_libraries.bring(for_check=False)
    monkeypatch.setenv("DISPLAY", ":0")
    with pytest.raises(Refused, match="libxcb-cursor0"):
        system_libraries.bring(for_check=False)


@pytest.fixture
def run(tmp_path: Path) -> Run:
    return Run(python=Path(sys.executable), scratch=tmp_path, keep_going=False)


def python(code: str, **more: str) -> Step:
    return Step(code, [sys.executable, "-c", code], extra=more)


def test_the_check_stops_at_the_first_failure(run: Run, capfd: pytest.CaptureFixture[str]) -> None:
    run.all([python("pass"), python("raise SystemExit(3)"), python("print('not reached')")])
    run.sum_up()
    assert (run.passed, run.failed, run.broken) == (1, 1, ["raise SystemExit(3)"])
    assert capfd.readouterr().out.splitlines()[-1] == "1 passed, 1 failed"


def test_the_check_goes_on_when_asked(run: Run) -> None:
    run.keep_going = True
    run.all([python("raise SystemExit(3)"), python("pass")])
    assert (run.passed, run.failed) == (1, 1)


def test_a_step_can_take_a_variable_away(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("DISPLAY", ":0")
    run.all([python("import os; raise SystemExit('DISPLAY' in os.environ)", DISPLAY="")])
    assert run.failed == 0


@pytest.mark.parametrize(
    ("tests", "counts"),
    [
        ("def test_a(): pass\ndef test_b(): assert 0\n", (1, 1, 0)),
        ("import pytest\ndef test_a(): pass\ndef test_b(): pytest.skip('why')\n", (1, 0, 1)),
        ("import nothing_of_this_name\n", (0, 1, 0)),
        ("", (0, 1, 0)),  # nothing was tested, so nothing passed
    ],
)
def test_tests_are_counted_as_pytest_counts_them(
    run: Run,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    tests: str,
    counts: tuple[int, int, int],
) -> None:
    monkeypatch.setenv("PYTEST_DISABLE_PLUGIN_AUTOLOAD", "1")  # Qt and others: slow, not wanted
    (tmp_path / "test_x.py").write_text(tests, "utf-8")
    (tmp_path / "pytest.ini").write_text("[pytest]\n", "utf-8")
    step = check_steps.pytest_step(run, "tests", "not slow", {})
    command = [*step.command, "-p", "no:cacheprovider", f"--rootdir={tmp_path}"]
    run.all(
        [Step("tests", [*command, f"-c{tmp_path / 'pytest.ini'}", str(tmp_path)], step.counts_in)]
    )
    assert (run.passed, run.failed, run.skipped) == counts


def test_a_failed_installation_is_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(environment, "python_of", lambda folder: Path(sys.executable))
    with pytest.raises(Refused, match="could not be installed") as no:
        environment.pip("--no-index", "no-package-has-this-name-here")
    assert "no-package-has-this-name-here" in str(no.value)


def test_an_environment_from_another_place_is_made_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    version = ".".join(map(str, sys.version_info[:3]))
    monkeypatch.setattr(environment, "VENV", tmp_path)
    monkeypatch.setattr(environment, "STAMP", tmp_path / "stamp.json")
    monkeypatch.setattr(environment, "python_of", lambda folder: Path(sys.executable))
    assert not environment.usable()
    (tmp_path / "pyvenv.cfg").write_text(f"home = x\nversion = {version}\n", "utf-8")
    assert environment.usable()
    (tmp_path / "stamp.json").write_text('{"place": "elsewhere"}', "utf-8")
    assert not environment.usable()
    (tmp_path / "stamp.json").unlink()
    (tmp_path / "pyvenv.cfg").write_text("version = 3.2.1\n", "utf-8")
    assert not environment.usable()


def test_what_the_check_installed_serves_the_run_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(environment, "STAMP", tmp_path / "stamp.json")
    content = environment.fingerprint()
    stamps = {"run": (True, False), "check": (True, True)}
    for purpose, expected in stamps.items():
        text = f'{{"content": "{content}", "purpose": "{purpose}"}}'
        (tmp_path / "stamp.json").write_text(text, "utf-8")
        assert (environment.fresh("run"), environment.fresh("check")) == expected
    (tmp_path / "stamp.json").write_text('{"content": "older", "purpose": "check"}', "utf-8")
    assert not environment.fresh("run")


def test_the_build_machine_runs_the_same_check() -> None:
    script = PACKAGING.parent / ".ci" / "run"
    assert os.access(script, os.X_OK)
    here = {**os.environ, "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"}
    done = subprocess.run([script, "--help"], check=True, capture_output=True, text=True, env=here)
    assert "--keep-going" in done.stdout
