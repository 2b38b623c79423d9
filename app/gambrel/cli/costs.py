"""``gambrel cost``."""

from __future__ import annotations

from argparse import Namespace

from gambrel.cli import output
from gambrel.cli.opening import open_existing
from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.numbers.mass import kg_text
from gambrel.services.cost_report import (
    Json,
    cost_book,
    cost_json,
    decimal_text,
    percent_text,
    price_text,
    rate_text,
)


def run(options: Namespace) -> int:
    """Print what everything cost; pieces are listed for one body, or in JSON."""
    with open_existing(options) as book:
        costing = cost_book(book, options.method, options.at, options.body)
    output.notes(note.sentence for note in costing.notes)
    if options.json:
        output.as_json(cost_json(costing))
        return 0
    at = f", at the prices of {costing.at}" if costing.at else ""
    output.say(
        f"{costing.shop.name}: money in {costing.shop.currency.code}, weights in kg, "
        f"joint cost shared by {costing.method.value}{at}"
    )
    _bodies(costing)
    _stages(costing)
    if options.body is not None:
        _pieces(cost_json(costing))
    _cuts(costing)
    _totals(cost_json(costing)["totals"])
    return 0


def _bodies(costing: Costing) -> None:
    money = costing.shop.currency
    output.table(
        "Bodies",
        (
            "body",
            "portion<",
            "bought",
            "taken",
            "came off",
            "unexplained",
            "hang loss",
            "saleable %",
        ),
        [
            (
                cost.body.key,
                cost.body.portion,
                money.text(cost.body.bought),
                kg_text(cost.input_g),
                kg_text(cost.output_g),
                kg_text(cost.unexplained_g),
                kg_text(cost.hang_loss_g),
                decimal_text(cost.saleable_percent, 2),
            )
            for cost in costing.bodies
        ],
    )  # fmt: skip


def _stages(costing: Costing) -> None:
    money = costing.shop.currency
    output.table(
        "Stages",
        (
            "stage",
            "kind<",
            "inputs",
            "work",
            "credit",
            "joint cost",
            "went in",
            "came out",
            "state<",
        ),
        [
            (
                cost.stage.key,
                cost.stage.kind.value,
                money.text(cost.input_cost),
                money.text(cost.work),
                money.text(cost.credit),
                money.text(cost.joint),
                kg_text(cost.input_g),
                kg_text(cost.output_g),
                "open" if cost.stage.is_open else "finished",
            )
            for cost in costing.stages
        ],
    )  # fmt: skip


def _pieces(report: Json) -> None:
    output.table(
        "Pieces",
        ("piece", "stage<", "cut<", "net", "consumed", "share", "finish", "cost", "per kg", "price",
         "margin %"),
        [
            (
                row["piece"], row["stage"], row["cut"], kg_text(row["net_g"]),
                kg_text(row["consumed_g"]), row["joint_share"], row["finish_cost"], row["cost"],
                row["cost_per_kg"], row["price_per_kg"], row["margin_percent"],
            )
            for row in report["pieces"]
        ],
    )  # fmt: skip


def _cuts(costing: Costing) -> None:
    money = costing.shop.currency
    output.table(
        "Cuts (what no stage has taken)",
        ("cut", "name<", "net", "cost", "per kg", "price", "margin %"),
        [
            (
                line.cut.key,
                line.cut.name,
                kg_text(line.net_g),
                money.text(line.cost),
                rate_text(line.cost, line.net_g, money),
                price_text(line.price, money),
                percent_text(line.margin),
            )
            for line in cut_lines(costing)
        ],
    )


def _totals(totals: dict[str, str]) -> None:
    names = {"end_cost": "cost of what stands", "on_rail": "on the rail"}
    output.table(
        "Totals",
        ("total", "money"),
        [(names.get(name, name), amount) for name, amount in totals.items()],
    )
