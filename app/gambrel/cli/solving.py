"""``gambrel solve``."""

from __future__ import annotations

import inspect
from argparse import Namespace
from collections import Counter

from gambrel.cli import output
from gambrel.cli.opening import open_existing
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal
from gambrel.services.cost_report import percent_text
from gambrel.services.solve import Scope, Solved, Wishes, solve
from gambrel.services.solve_report import solve_json, solve_remark


def json_form() -> str:
    """What ``--json`` prints, in words."""
    return inspect.cleandoc(solve_json.__doc__ or "")


def run(options: Namespace) -> int:
    """Print a proposed set of prices; nothing is changed."""
    wishes = Wishes(
        options.margin,
        _by_cut("pin", options.pin),
        _by_cut("floor", options.floor),
        _by_cut("ceiling", options.ceiling),
        _by_cut("sold", options.sold),
        options.ending,
    )
    scope, name = next((s, n) for s in Scope if (n := getattr(options, s.value)) is not None)
    with open_existing(options) as book:
        solved = solve(book, scope, name, wishes, options.method)
    output.notes(note.sentence for note in solved.costing.notes)
    if (remark := solve_remark(solved)) is not None:
        output.notes([remark])
    if options.json:
        output.as_json(solve_json(solved))
    else:
        _print(solved)
    return 0


def _by_cut(option: str, pairs: list[tuple[str, str]]) -> dict[str, str]:
    for cut, given in Counter(cut for cut, _ in pairs).items():
        if given > 1:
            raise Refusal(f"--{option} names {cut} twice. Give it once.")
    return dict(pairs)


def _print(solved: Solved) -> None:
    proposal, money = solved.proposal, solved.costing.shop.currency
    output.say(
        f"{solved.name}: prices per kg in {money.code}; nothing changes until they are taken"
    )
    output.table(
        "Prices",
        ("cut", "net kg", "today", "proposed", "brings in", "held by<"),
        [
            (
                line.cut,
                kg_text(line.grams),
                money.text(line.today),
                money.text(line.price),
                money.text(line.effect),
                line.hold.value,
            )
            for line in proposal.lines
        ],
    )
    today, then = money.text(proposal.takings_today), money.text(proposal.takings)
    output.table(
        f"The {solved.scope.value}",
        ("", "today", "proposed"),
        [
            ("cost", money.text(proposal.cost), money.text(proposal.cost)),
            ("takings before tax", today, then),
            ("margin %", percent_text(proposal.margin_today), percent_text(proposal.margin)),
        ],
    )
