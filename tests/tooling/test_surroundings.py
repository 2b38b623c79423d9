"""What every test stands on (tests/conftest.py) is really there."""

from __future__ import annotations

import os
import socket
from pathlib import Path

import platformdirs
import pytest
from hypothesis import settings

from tests.conftest import NetworkRefused


@pytest.mark.parametrize("family", [socket.AF_INET, socket.AF_INET6])
def test_the_network_is_out_of_reach(family: socket.AddressFamily) -> None:
    with socket.socket(family) as wire, pytest.raises(NetworkRefused, match="no network"):
        wire.connect(("localhost", 9))


def test_the_machines_own_sockets_work(tmp_path: Path) -> None:
    place = str(tmp_path / "s")
    with socket.socket(socket.AF_UNIX) as there, socket.socket(socket.AF_UNIX) as here:
        there.bind(place)
        there.listen()
        here.connect(place)
        assert here.getpeername() == place


def test_the_users_own_book_is_out_of_reach(tmp_path_factory: pytest.TempPathFactory) -> None:
    below = tmp_path_factory.getbasetemp()
    assert platformdirs.user_data_path("gambrel").is_relative_to(below)
    assert platformdirs.user_config_path("gambrel").is_relative_to(below)


def test_windows_open_on_no_real_screen() -> None:
    assert os.environ["QT_QPA_PLATFORM"] == "offscreen"


def test_a_slow_machine_fails_no_property() -> None:
    assert settings().deadline is None
