from __future__ import annotations

import pytest

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Trade
from tests.reports.reading import demo_trade, ledger_of


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Trade:
    return demo_trade(tmp_path_factory.mktemp("demo") / "demo.gambrel")


@pytest.fixture(scope="session")
def ledger(demo: Trade) -> Ledger:
    return ledger_of(demo)


@pytest.fixture(scope="session")
def formats() -> Formats:
    return Formats(Currency("AUD", 2), "$")
