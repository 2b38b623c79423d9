from __future__ import annotations

from datetime import timedelta

import pytest

from gambrel.domain.bench.block import block_state
from gambrel.domain.bench.cautions import (
    CARE,
    FOLLOW,
    care_at_start,
    cold_caution,
    wash_caution,
)
from gambrel.domain.trade.records import Input, Source, Stage, StageKind, Trade
from gambrel.services.words import formats_for
from tests.block_shop import BODIES, CUTS, LISTS, NOW
from tests.trades import a_shop

FORMATS = formats_for(a_shop())
HOUR = timedelta(hours=1)


def care_for(body: str) -> str:
    stage = Stage("s1", StageKind.BREAK, NOW)
    trade = Trade(
        a_shop(), cuts=CUTS, lists=LISTS, bodies=BODIES, stages=(stage,),
        inputs=(Input("s1", Source.BODY, body),),
    )  # fmt: skip
    return care_at_start(block_state(trade, "s1"))


def test_a_heavy_quarter_is_lifted_by_two_and_a_lamb_is_not() -> None:
    assert care_for("HQ-17").startswith("Two people to lift it.")
    assert "Two people" not in care_for("LAMB-26")


@pytest.mark.parametrize("minutes", [0, 30, 59])
def test_within_the_limit_nothing_is_said(minutes: int) -> None:
    assert cold_caution(timedelta(minutes=minutes), HOUR, FORMATS) == ""


def test_past_the_limit_it_says_what_to_do() -> None:
    told = cold_caution(HOUR, HOUR, FORMATS)
    assert told.startswith("More than 1\N{NO-BREAK SPACE}h\N{NO-BREAK SPACE}00 off the rail")


def test_every_caution_defers_to_local_codes() -> None:
    told = [
        CARE,
        care_for("HQ-17"),
        wash_caution("beef", "lamb"),
        cold_caution(HOUR, HOUR, FORMATS),
    ]
    assert all(sentence.endswith(FOLLOW) for sentence in told)
    assert max(map(len, told)) < 160  # short enough to be read at a block
