"""Which tickets have to be printed anew."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.prints import Job, JobState
from gambrel.domain.prices.reprint import Reprint, Standing, Why, standing_tickets, to_reprint
from gambrel.domain.prices.specials import AFTER_SPECIAL, SPECIAL
from gambrel.domain.trade.around import PrintedItem, PrintJob, PrintKind
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import PriceChange
from tests.trades import CUTS

RUMP, SHIN = CUTS[0], CUTS[1]
FRIDAY = datetime(2026, 11, 20, tzinfo=UTC)
DAY = timedelta(days=1)
WEEKEND = (
    PriceChange("rump", 2299, FRIDAY, SPECIAL),
    PriceChange("rump", 2699, FRIDAY + 3 * DAY, AFTER_SPECIAL),
)


def a_job(
    at: datetime,
    *items: tuple[str, int | None],
    state: JobState = JobState.PRINTED,
    kind: PrintKind = PrintKind.TICKET,
) -> Job:
    key = f"{at:%m%d%H%M%S}-{state}-{kind}"
    job = PrintJob(key, kind, "Tickets", "a4-15", "Office", 1, at)
    rows = tuple(PrintedItem(key, n, cut, price) for n, (cut, price) in enumerate(items))
    return Job(job, state, at, items=rows)


def reprints(
    at: datetime, printed: datetime, *changes: PriceChange, cuts: tuple[Cut, ...] = CUTS
) -> list[Reprint]:
    """What has to be printed at a moment, when all was printed at another by the same prices."""
    return to_reprint(cuts, changes, standing_tickets([printing(printed, changes)]).values(), at)


def printing(at: datetime, changes: tuple[PriceChange, ...]) -> Job:
    book = PriceBook(CUTS, changes)
    return a_job(at, *((cut.key, price) for cut in CUTS if (price := book.at(cut.key, at))))


def told(found: list[Reprint]) -> list[tuple[str, int, int | None, Why]]:
    return [(each.cut.key, each.printed, each.now, each.why) for each in found]


def test_the_last_ticket_that_went_out_stands() -> None:
    jobs = [
        a_job(FRIDAY + DAY, ("rump", 2799)),
        a_job(FRIDAY, ("rump", 2699), ("shin", 1499)),
        a_job(FRIDAY + 2 * DAY, ("rump", 2899), state=JobState.FAILED),
        a_job(FRIDAY + 3 * DAY, ("rump", 2999), state=JobState.QUEUED),
        a_job(FRIDAY + 4 * DAY, ("rump", 3099), kind=PrintKind.LABEL),
        a_job(FRIDAY + 5 * DAY, ("shin", None)),
    ]
    found = standing_tickets(jobs)
    assert {cut: (each.price, each.at) for cut, each in found.items()} == {
        "rump": (2799, FRIDAY + DAY),
        "shin": (1499, FRIDAY),
    }
    saved = a_job(FRIDAY + 6 * DAY, ("rump", 2599), state=JobState.SAVED)
    assert standing_tickets([*jobs, saved])["rump"].price == 2599


def test_a_changed_price_is_printed_anew_and_one_that_came_back_is_not() -> None:
    up = PriceChange("rump", 2799, FRIDAY + DAY)
    back = PriceChange("rump", 2699, FRIDAY + 2 * DAY)
    assert told(reprints(FRIDAY + DAY, FRIDAY, up)) == [("rump", 2699, 2799, Why.DEARER)]
    assert reprints(FRIDAY + 2 * DAY, FRIDAY, up, back) == []
    assert told(reprints(FRIDAY + 2 * DAY, FRIDAY + DAY, up, back)) == [
        ("rump", 2799, 2699, Why.CHEAPER)
    ]


def test_a_special_that_begins_and_one_that_goes_by_itself_are_printed_anew() -> None:
    before, within, after = FRIDAY - DAY, FRIDAY + DAY, FRIDAY + 3 * DAY
    assert told(reprints(within, before, *WEEKEND)) == [("rump", 2699, 2299, Why.SPECIAL_BEGAN)]
    assert told(reprints(after, within, *WEEKEND)) == [("rump", 2299, 2699, Why.SPECIAL_ENDED)]
    assert reprints(after, before, *WEEKEND) == []
    last_moment = after - timedelta(microseconds=1)
    assert reprints(last_moment, within, *WEEKEND) == []


def test_a_special_price_that_stays_loses_its_was() -> None:
    stays = PriceChange("rump", 2299, FRIDAY + DAY, "it sells")
    assert told(reprints(FRIDAY + 2 * DAY, FRIDAY, *WEEKEND[:1], stays)) == [
        ("rump", 2299, 2299, Why.SPECIAL_ENDED)
    ]


def test_a_special_anew_from_another_price_has_another_was() -> None:
    anew = (
        PriceChange("rump", 2499, FRIDAY + 2 * DAY, "usual again"),
        PriceChange("rump", 2299, FRIDAY + 4 * DAY, SPECIAL),
    )
    found = reprints(FRIDAY + 4 * DAY, FRIDAY, *WEEKEND[:1], *anew)
    assert told(found) == [("rump", 2299, 2299, Why.WAS_CHANGED)]


def test_a_cut_without_a_price_any_more_and_one_that_is_gone() -> None:
    ticket = Standing("rump", 2699, FRIDAY, "J")
    unpriced = Cut("rump", "Rump", "beef", RUMP.kind, None)
    assert told(to_reprint([unpriced], [], [ticket], FRIDAY)) == [
        ("rump", 2699, None, Why.NO_PRICE)
    ]
    assert to_reprint([SHIN], [], [ticket], FRIDAY) == []


moments = st.integers(0, 12).map(lambda hours: FRIDAY + hours * timedelta(hours=6))
rows = st.builds(
    PriceChange,
    st.sampled_from(["rump", "shin", "mince"]),
    st.sampled_from([1399, 1499, 2299, 2699, 2799]),
    moments,
    st.sampled_from(["", SPECIAL, AFTER_SPECIAL]),
)
price_rows = st.lists(rows, max_size=9, unique_by=lambda row: (row.cut, row.since)).map(tuple)


@given(price_rows, moments, moments)
def test_printing_the_list_empties_it(
    changes: tuple[PriceChange, ...], printed: datetime, later: datetime
) -> None:
    now = max(printed, later)
    first = printing(printed, changes)
    found = to_reprint(CUTS, changes, standing_tickets([first]).values(), now)
    anew = a_job(now, *((each.cut.key, each.now) for each in found))
    assert to_reprint(CUTS, changes, standing_tickets([first, anew]).values(), now) == []
    assert reprints(printed, printed, *changes) == []


@given(price_rows, moments, moments)
def test_no_wrong_price_stays_unseen(
    changes: tuple[PriceChange, ...], printed: datetime, later: datetime
) -> None:
    now = max(printed, later)
    listed = {each.cut.key: each for each in reprints(now, printed, *changes)}
    book = PriceBook(CUTS, changes)
    for cut in CUTS:
        then, today = book.at(cut.key, printed), book.at(cut.key, now)
        if then is not None and then != today:
            assert (listed[cut.key].printed, listed[cut.key].now) == (then, today)
        elif cut.key in listed:
            assert listed[cut.key].why in (
                Why.SPECIAL_BEGAN,
                Why.SPECIAL_ENDED,
                Why.WAS_CHANGED,
            )


@given(price_rows, st.randoms(use_true_random=False))
def test_the_order_of_the_rows_does_not_matter(
    changes: tuple[PriceChange, ...], chance: Random
) -> None:
    mixed = list(changes)
    chance.shuffle(mixed)
    late = FRIDAY + 4 * DAY
    assert reprints(late, FRIDAY, *mixed) == reprints(late, FRIDAY, *changes)


@pytest.mark.parametrize("kind", [PrintKind.LABEL, PrintKind.SHEET])
def test_only_tickets_stand_in_the_cabinet(kind: PrintKind) -> None:
    assert standing_tickets([a_job(FRIDAY, ("rump", 2699), kind=kind)]) == {}
