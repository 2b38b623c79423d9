"""Clocks that differ or are put back, midnight, and two stations at the end of one body."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.services import bench
from gambrel.storage.book import Book
from gambrel.ui.block.place import BlockPlace
from tests.block_shop import NOW, Hand
from tests.ui.block.conftest import Clock
from tests.ui.block.fingers import Make, said, tap, weigh, weighed


def other(place: BlockPlace) -> Hand:
    """Somebody at another station."""
    return Hand(NOW + timedelta(minutes=30), "Bela", "block-2")


def stage_of(place: BlockPlace) -> str:
    return place.look.on_block.stage.key


def test_after_a_clock_was_put_back_the_last_piece_is_still_the_last(
    place: BlockPlace, clock: Clock
) -> None:
    weigh(place, "rump", "4.386")
    weigh(place, "topside", "6.812")
    clock.now -= timedelta(hours=3)
    weigh(place, "shin", "2.104")
    assert weighed(place)[0] == ("shin", 2_104)
    assert place.view.work.bottom.undo_key.caption == "Shin 2.104"
    tap(place.view.work.bottom.undo_key)
    assert weighed(place) == [("topside", 6_812), ("rump", 4_386)]


def test_another_stations_clock_moves_nothing_here(place: BlockPlace, clock: Clock) -> None:
    weigh(place, "rump", "4.386")
    ahead = Hand(clock.now + timedelta(hours=2), "Bela", "block-2")
    bench.weigh_in(place._book, stage_of(place), "shin", bench.Weighing(900), ahead.act())
    place._tick()
    weigh(place, "topside", "6.812")
    own = next(row for row in place.look.on_block.standing if row.cut.key == "topside")
    assert own.piece.weighed_at < clock.now


def test_a_body_that_came_later_than_the_clock_shows_is_told_so(
    place: BlockPlace, clock: Clock
) -> None:
    assert "day 6" in place.view.top.more.text()
    clock.now -= timedelta(days=7)
    place._show()
    assert "came later than this clock shows" in place.view.top.more.text()


def test_the_day_changes_at_the_shops_own_hour(place: BlockPlace, clock: Clock) -> None:
    clock.now = datetime(2026, 11, 21, 16, 59, tzinfo=UTC)  # 03:59 on the 22nd at the shop
    place._show()
    assert "day 6" in place.view.top.more.text()
    clock.now = datetime(2026, 11, 21, 17, 0, tzinfo=UTC)  # 04:00
    place._show()
    assert "day 7" in place.view.top.more.text()


def test_the_end_follows_what_another_station_weighs(place: BlockPlace) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    place.view.end.minutes_stepped.emit(5)
    minutes = place.view.end.minutes.text()
    came_off = place.view.end.figures[1]
    assert came_off.value == "4.39"
    bench.weigh_in(place._book, stage_of(place), "shin", bench.Weighing(900), other(place).act())
    place._tick()
    assert came_off.value == "5.29"
    assert place.view.end.minutes.text() == minutes


def test_the_end_follows_another_stations_reopening(place: BlockPlace) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    tap(place.view.end.finish_key)
    bench.reopen(place._book, stage_of(place), "a piece was forgotten", other(place).act())
    place._tick()
    assert place.view.working
    weigh(place, "shin", "2.1")
    assert weighed(place) == [("shin", 2_100), ("rump", 4_386)]


def test_who_reopens_a_little_late_goes_on_with_a_sentence(place: BlockPlace) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    tap(place.view.end.finish_key)
    bench.reopen(place._book, stage_of(place), "a piece was forgotten", other(place).act())
    tap(place.view.end.reopen_key)
    assert place.view.working
    assert said(place) == "This body is open already. Go on with it."


def test_who_finishes_a_little_late_sees_it_finished(place: BlockPlace, book: Book) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    bench.finish(book, stage_of(place), place.look.clock(NOW).minutes, other(place).act())
    with pytest.raises(Refusal, match="This body is finished"):
        place._finish()  # the window says it
    assert place.view.end.title.text() == "Finished: what every cut costs"


def test_what_was_finished_a_little_ago_can_be_reopened_from_the_free_block(
    place: BlockPlace, clock: Clock
) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    tap(place.view.end.finish_key)
    tap(place.view.end.rail_key)
    place.refresh()
    choice = place.view.waits.keys[-1]
    assert (choice.text(), choice.caption) == ("Hindquarter 17", "finished · look or reopen")
    tap(choice)
    assert place.view.end.title.text() == "Finished: what every cut costs"
    tap(place.view.end.reopen_key)
    weigh(place, "shin", "2.1")
    assert weighed(place) == [("shin", 2_100), ("rump", 4_386)]


def test_after_a_day_it_is_offered_no_more(place: BlockPlace, clock: Clock) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    tap(place.view.end.finish_key)
    tap(place.view.end.rail_key)
    clock.now += timedelta(hours=25)
    place.refresh()
    assert all("finished" not in key.caption for key in place.view.waits.keys)


def test_a_new_station_takes_up_no_finished_body(place: BlockPlace, make: Make, book: Book) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    tap(place.view.end.finish_key)
    with book.transaction() as work:
        work.set_setting("block:block-1", "")  # a station without memory
    assert make().view.waits.isVisible()
