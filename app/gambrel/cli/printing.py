"""``gambrel prints``."""

from __future__ import annotations

import inspect
from argparse import Namespace
from typing import Any
from zoneinfo import ZoneInfo

from gambrel.cli import output
from gambrel.cli.opening import open_existing
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.prints import Job, LogLine
from gambrel.domain.trade.around import PrintedItem
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day


def json_form() -> str:
    """What ``--json`` prints, in words."""
    return inspect.cleandoc(prints_json.__doc__ or "")


def run(options: Namespace) -> int:
    """Print what was printed or saved, the newest first, and what still waits."""
    from gambrel.services.printing.queue import print_log, waiting_jobs

    with open_existing(options) as book:
        lines = print_log(book, options.day, options.cuts or ())
        waiting = waiting_jobs(book)
        with book.reading() as work:
            shop = work.shop()
    assert shop is not None  # the log refuses a book without one
    told = prints_json(lines, waiting, shop)
    if options.json:
        output.as_json(told)
        return 0
    _tables(told)
    return 0


def prints_json(lines: list[LogLine], waiting: list[Job], shop: Shop) -> dict[str, Any]:
    """Money as decimal strings, weights in grams; null where a paper says nothing of it.

    {"currency": "AUD",
     "printed": [{"job", "at", "day", "kind", "title", "paper", "printer", "copies", "by",
                  "station", "state", "cut", "price_per_kg", "piece", "net_g", "price", "lot",
                  "use_by", "number"}, ...],
     "waiting": [{"job", "at", "day", "kind", "title", "paper", "printer", "copies", "by",
                  "station", "state", "reason", "cuts"}, ...]}

    ``state`` is printed, saved, failed, or not known (it was on its way when the program stopped).
    """
    return {
        "currency": shop.currency.code,
        "printed": [_job(line.job, shop) | _item(line.item, shop.currency) for line in lines],
        "waiting": [
            _job(job, shop) | {"reason": job.reason, "cuts": list(job.cuts)} for job in waiting
        ],
    }


def _job(job: Job, shop: Shop) -> dict[str, Any]:
    row = job.job
    return {
        "job": row.key,
        "at": row.at.astimezone(ZoneInfo(shop.time_zone)).isoformat(timespec="seconds"),
        "day": business_day(row.at, shop).isoformat(),
        "kind": row.kind.value,
        "title": row.title,
        "paper": row.paper,
        "printer": row.printer or None,
        "copies": row.copies,
        "by": row.person or None,
        "station": row.station or None,
        "state": job.state.value,
    }


def _item(item: PrintedItem | None, money: Currency) -> dict[str, Any]:
    if item is None:
        names = ("cut", "price_per_kg", "piece", "net_g", "price", "lot", "use_by", "number")
        return dict.fromkeys(names)
    return {
        "cut": item.cut,
        "price_per_kg": None if item.price is None else money.text(item.price),
        "piece": item.piece or None,
        "net_g": item.grams,
        "price": None if item.amount is None else money.text(item.amount),
        "lot": item.lot or None,
        "use_by": item.use_by.isoformat() if item.use_by is not None else None,
        "number": item.number or None,
    }


def _tables(told: dict[str, Any]) -> None:
    output.table(
        "Printed and saved",
        ("day", "at<", "what<", "price/kg", "net kg", "price", "paper<", "on<", "by<"),
        [
            (
                row["day"], row["at"][11:16], row["cut"] or row["title"], row["price_per_kg"],
                None if row["net_g"] is None else kg_text(row["net_g"]), row["price"],
                row["paper"], row["printer"] or "a file", row["by"] or row["station"],
            )
            for row in told["printed"]
        ],
    )  # fmt: skip
    if told["waiting"]:
        output.table(
            "Waiting for somebody to decide",
            ("day", "what<", "on<", "state<", "reason<"),
            [
                (row["day"], row["title"], row["printer"], row["state"], row["reason"])
                for row in told["waiting"]
            ],
        )
