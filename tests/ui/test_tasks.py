"""Work off the GUI thread, its answer on it."""

from __future__ import annotations

import threading

import pytest
from PySide6.QtCore import QThreadPool
from pytestqt.qtbot import QtBot

from gambrel.ui.tasks import PoolTasks, SyncTasks


def fail(error: Exception) -> None:
    raise AssertionError(error)


def never(value: object) -> None:
    raise AssertionError(value)


def refuse() -> int:
    raise ValueError("no")


def test_work_runs_elsewhere_and_its_answer_comes_home(qtbot: QtBot) -> None:
    here = threading.get_ident()
    told: list[tuple[int, int]] = []
    tasks = PoolTasks(QThreadPool())
    tasks.run_task(
        threading.get_ident, lambda where: told.append((where, threading.get_ident())), fail
    )
    qtbot.waitUntil(lambda: bool(told))
    (where, answered) = told[0]
    assert where != here
    assert answered == here


def test_what_goes_wrong_comes_home_too(qtbot: QtBot) -> None:
    failed: list[tuple[Exception, int]] = []
    tasks = PoolTasks(QThreadPool())

    def answer(error: Exception) -> None:
        failed.append((error, threading.get_ident()))

    tasks.run_task(refuse, never, answer)
    qtbot.waitUntil(lambda: bool(failed))
    assert str(failed[0][0]) == "no"
    assert failed[0][1] == threading.get_ident()


def test_waiting_ends_when_all_work_has(qtbot: QtBot) -> None:
    tasks, go = PoolTasks(QThreadPool()), threading.Event()
    done: list[bool] = []
    tasks.run_task(lambda: go.wait(10), done.append, fail)
    assert not tasks.wait(1)
    go.set()
    assert tasks.wait()
    qtbot.waitUntil(lambda: done == [True])


def test_work_at_once_answers_before_it_returns() -> None:
    told: list[object] = []
    tasks = SyncTasks()
    tasks.run_task(lambda: 7, told.append, fail)
    assert told == [7]
    tasks.run_task(refuse, never, told.append)
    assert isinstance(told[1], ValueError)


def test_a_mistake_in_what_is_done_with_the_answer_is_not_swallowed() -> None:
    failed: list[Exception] = []
    with pytest.raises(AssertionError):
        SyncTasks().run_task(lambda: 7, never, failed.append)
    assert not failed
