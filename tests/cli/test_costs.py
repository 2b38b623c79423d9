from __future__ import annotations

from pathlib import Path

import pytest

from gambrel.domain.costing.methods import Method
from tests.cli.conftest import Gambrel
from tests.small_shop import FILES, replaced, write_shop

KEYS = {
    "bodies": [
        "body", "portion", "bought", "input_g", "output_g", "unexplained_g", "hang_loss_g",
        "saleable_percent",
    ],
    "stages": [
        "stage", "kind", "input_cost", "work_cost", "credit", "joint_cost", "input_g", "output_g",
        "open",
    ],
    "pieces": [
        "piece", "stage", "cut", "net_g", "consumed_g", "joint_share", "finish_cost", "cost",
        "cost_per_kg", "price_per_kg", "margin_percent",
    ],
    "cuts": ["cut", "net_g", "cost", "cost_per_kg", "price_per_kg", "margin_percent"],
}  # fmt: skip
TOTALS = [
    "bought", "work", "ingredients", "credit", "finish", "end_cost", "on_rail", "stranded",
    "difference",
]  # fmt: skip


def test_the_json_has_the_keys_of_the_contract_in_its_order(gambrel: Gambrel, loaded: Path) -> None:
    report = gambrel("cost", "--book", loaded, "--json").json
    assert list(report) == ["currency", "method", "at", *KEYS, "totals"]
    assert (report["currency"], report["method"], report["at"]) == ("AUD", "nrv", None)
    for table, keys in KEYS.items():
        assert report[table]
        assert all(list(row) == keys for row in report[table])
    assert list(report["totals"]) == TOTALS


def test_the_figures_by_hand_shared_by_weight(gambrel: Gambrel, loaded: Path) -> None:
    """Docket 82.6 kg at 9.80 and 4.92: 814.40. Work 22.5 and 10 minutes at 37.50: 14.06, 6.25.

    Bone 15 kg at -0.15 is a fee of 2.25, so 830.71 over 64.386 kg; the trim that S2 took is 10 of
    60 kg.
    """
    report = gambrel("cost", "--book", loaded, "--json", "--method", "weight").json
    [body] = report["bodies"]
    assert body == {
        "body": "HQ-1", "portion": "hindquarter", "bought": "814.40", "input_g": 81200,
        "output_g": 79386, "unexplained_g": 1814, "hang_loss_g": 1200, "saleable_percent": "79.29",
    }  # fmt: skip
    first, second = report["stages"]
    assert (first["credit"], first["joint_cost"], first["open"]) == ("-2.25", "830.71", False)
    assert (second["input_g"], second["open"]) == (10100, True)
    assert second["input_cost"] == "129.42"  # 10 of 60 kg of 774.12 is 129.02; salt 0.40
    by_key = {row["piece"]: row for row in report["pieces"]}
    assert set(by_key) == {"P1", "P2", "P3", "P5"}
    rump = by_key["P1"]
    assert (rump["joint_share"], rump["finish_cost"], rump["cost"]) == ("56.59", "2.11", "58.70")
    assert rump["cost_per_kg"] == "13.38"
    assert (rump["price_per_kg"], rump["margin_percent"]) == ("26.99", "50.4")
    assert (by_key["P2"]["joint_share"], by_key["P2"]["consumed_g"]) == ("774.12", 10_000)
    bone = by_key["P3"]
    assert (bone["joint_share"], bone["cost"], bone["price_per_kg"]) == ("0.00", "0.00", None)
    assert bone["margin_percent"] is None
    assert report["totals"]["difference"] == "0.00"


@pytest.mark.parametrize("method", list(Method))
@pytest.mark.parametrize("body", [[], ["--body", "HQ-1"]])
def test_no_cent_is_lost_by_any_method(
    gambrel: Gambrel, loaded: Path, method: Method, body: list[str]
) -> None:
    report = gambrel("cost", "--book", loaded, "--json", "--method", method.value, *body).json
    assert report["method"] == method.value
    assert report["totals"]["difference"] == "0.00"
    assert report["totals"]["bought"] == "814.40"


def test_at_revalues_all_at_that_days_end(gambrel: Gambrel, loaded: Path) -> None:
    for day, price in (("2026-11-19", "26.99"), ("2026-11-20", "27.99")):
        report = gambrel("cost", "--book", loaded, "--json", "--at", day).json
        assert report["at"] == day
        assert report["pieces"][0]["price_per_kg"] == price


def test_one_body_brings_what_its_stages_took_from_outside(
    gambrel: Gambrel, tmp_path: Path
) -> None:
    bodies = FILES["bodies.csv"] + "B2,beef,side,farm,,,2026-11-16T07:00,,50,10.00,received,\n"
    folder = write_shop(
        tmp_path / "in",
        bodies=bodies,
        stages=FILES["stages.csv"] + "S3,break,2026-11-18T10:00,2026-11-18T11:00,,0,\n",
        inputs=FILES["inputs.csv"] + "S3,B2,,,20,\nS2,,P6,,5,\n",
        pieces=FILES["pieces.csv"] + "P6,S3,trim,20,,2026-11-18T10:30,,\n",
    )
    gambrel("load", folder, "--book", tmp_path / "b")
    one = gambrel("cost", "--book", tmp_path / "b", "--json", "--body", "HQ-1").json
    assert [row["body"] for row in one["bodies"]] == ["HQ-1"]
    assert [row["stage"] for row in one["stages"]] == ["S1", "S2"]
    assert one["totals"]["bought"] == "864.40"  # its 814.40 and 5 of 20 kg of 200.00 of B2
    assert one["totals"]["difference"] == "0.00"
    other = gambrel("cost", "--book", tmp_path / "b", "--json", "--body", "B2").json
    assert other["totals"]["on_rail"] == "300.00"
    assert other["totals"]["difference"] == "0.00"
    whole = {
        row["piece"]: row
        for row in gambrel("cost", "--book", tmp_path / "b", "--json").json["pieces"]
    }
    assert all(row == whole[row["piece"]] for row in one["pieces"] + other["pieces"])


def test_notes_go_to_standard_error_in_both_forms(gambrel: Gambrel, loaded: Path) -> None:
    for form in ([], ["--json"]):
        said = gambrel("cost", "--book", loaded, *form)
        assert "Note: S2 is still open: its cost per kilo falls" in said.err
        assert "Note" not in said.out


def test_the_human_form_lists_pieces_for_one_body_only(gambrel: Gambrel, loaded: Path) -> None:
    said = gambrel("cost", "--book", loaded)
    titles = [line for line in said.out.splitlines() if line and not line.startswith(" ")]
    assert titles[1:] == ["Bodies", "Stages", "Cuts (what no stage has taken)", "Totals"]
    assert "Pieces" in gambrel("cost", "--book", loaded, "--body", "HQ-1").out
    assert "\x1b" not in said.out


def test_a_missing_price_is_refused_by_the_cuts_name(gambrel: Gambrel, tmp_path: Path) -> None:
    cuts = replaced("cuts.csv", "beef,tray,13.99", "beef,tray,")
    gambrel("load", write_shop(tmp_path / "in", cuts=cuts), "--book", tmp_path / "b")
    said = gambrel("cost", "--book", tmp_path / "b")
    assert (said.status, said.out) == (1, "")
    assert "no price for Mince" in said.err
    assert gambrel("cost", "--book", tmp_path / "b", "--method", "weight").status == 0
    checked = gambrel("check", "--book", tmp_path / "b")
    assert checked.status == 0
    assert "not checked  the money shared by nrv: no price for Mince" in checked.out


def test_an_unknown_body_is_refused_with_a_guess(gambrel: Gambrel, loaded: Path) -> None:
    said = gambrel("cost", "--book", loaded, "--body", "HQ1")
    assert said.status == 1
    assert said.err == "There is no body 'HQ1' in this book; did you mean 'HQ-1'?\n"


def test_solve_meets_its_margin_with_a_pin_and_an_ending(gambrel: Gambrel, loaded: Path) -> None:
    command = ("solve", "--book", loaded, "--body", "HQ-1", "--margin", "45")
    said = gambrel(*command, "--pin", "rump=29.95", "--ending", ".99", "--json")
    assert said.status == 0
    prices = {line["cut"]: line for line in said.json["prices"]}
    assert (prices["rump"]["price_per_kg"], prices["rump"]["held_by"]) == ("29.95", "pin")
    assert prices["trim"]["price_per_kg"].endswith(".99")
    assert float(said.json["margin_percent"]) >= 45
    assert "proposed" in gambrel(*command).out


@pytest.mark.parametrize(
    ("extra", "says"),
    [
        (["--pin", "rum=2"], "did you mean 'rump'"),
        (["--pin", "rump=x"], "AUD such as"),
        (["--pin", "rump=0"], "more than zero"),
        (["--floor", "rump=30", "--ceiling", "rump=20"], "floor stands above"),
        (["--sold", "rump=101"], "0 to 100"),
        (["--pin", "rump=20", "--pin", "rump=30"], "--pin names rump twice"),
        (["--sold", "rump=50", "--sold", "rump=50"], "--sold names rump twice"),
        (["--ending", "1.99"], "ending"),
    ],
)
def test_solve_says_no_in_a_sentence(
    gambrel: Gambrel, loaded: Path, extra: list[str], says: str
) -> None:
    said = gambrel("solve", "--book", loaded, "--body", "HQ-1", "--margin", "35", *extra)
    assert (said.status, said.out) == (1, "")
    assert says in said.err


def test_solve_says_by_how_much_it_falls_short(gambrel: Gambrel, loaded: Path) -> None:
    said = gambrel(
        "solve", "--book", loaded, "--body", "HQ-1", "--margin", "60", "--ceiling", "rump=20",
        "--ceiling", "trim=9", "--ceiling", "mince=9",
    )  # fmt: skip
    assert said.status == 0
    assert "60.0 % is out of reach by" in said.err
    assert "a kilo" in said.err


@pytest.mark.parametrize(("of", "name"), [("species", "beef"), ("week", "2026-W47")])
def test_a_species_and_a_week_are_solved_like_a_body(
    gambrel: Gambrel, loaded: Path, of: str, name: str
) -> None:
    command = ("solve", "--book", loaded, f"--{of}", name, "--margin", "45")
    said = gambrel(*command, "--json")
    assert said.status == 0
    assert said.json[of] == name
    assert float(said.json["margin_percent"]) >= 45
    assert said.json["purchase_per_kg"] is None
    effects = sum(float(line["effect"]) for line in said.json["prices"])
    more = float(said.json["takings"]) - float(said.json["takings_today"])
    assert abs(effects - more) < 0.01 * len(said.json["prices"])
    assert f"The {of}" in gambrel(*command).out


def test_the_purchase_price_that_is_named_meets_the_margin(
    gambrel: Gambrel, tmp_path: Path
) -> None:
    bounds = ("--ceiling", "rump=20", "--ceiling", "trim=9", "--ceiling", "mince=9")
    asked = ("--body", "HQ-1", "--margin", "60", *bounds, "--json")
    gambrel("load", write_shop(tmp_path / "in"), "--book", tmp_path / "b")
    short = gambrel("solve", "--book", tmp_path / "b", *asked).json
    assert short["bought_per_kg"] == "9.80"
    dearest = short["purchase_per_kg"]
    for price, enough in ((dearest, True), (f"{float(dearest) + 0.01:.2f}", False)):
        bodies = replaced("bodies.csv", "9.80", price)
        book = tmp_path / price
        gambrel("load", write_shop(tmp_path / f"in-{price}", bodies=bodies), "--book", book)
        again = gambrel("solve", "--book", book, *asked).json
        assert (again["shortfall"] == "0.00" or float(again["shortfall"]) <= 0) is enough


@pytest.mark.parametrize(
    ("of", "says"),
    [
        (("--species", "beaf"), "did you mean 'beef'"),
        (("--week", "2020-W01"), "Nothing of 2020-W01 stands for sale"),
    ],
)
def test_what_is_not_there_cannot_be_solved(
    gambrel: Gambrel, loaded: Path, of: tuple[str, str], says: str
) -> None:
    said = gambrel("solve", "--book", loaded, *of, "--margin", "35")
    assert (said.status, said.out) == (1, "")
    assert says in said.err


@pytest.mark.parametrize("of", [(), ("--body", "HQ-1", "--species", "beef"), ("--week", "47")])
def test_one_thing_is_solved_at_a_time(gambrel: Gambrel, loaded: Path, of: tuple[str, ...]) -> None:
    assert gambrel("solve", "--book", loaded, *of, "--margin", "35").status == 2


@pytest.mark.parametrize("of", [("--species", "beef"), ("--week", "2026-W47")])
def test_where_nothing_was_weighed_nothing_is_solved(
    gambrel: Gambrel, tmp_path: Path, of: tuple[str, str]
) -> None:
    folder = write_shop(tmp_path / "in")
    for name in ("stages", "inputs", "pieces", "voids", "writeoffs"):
        (folder / f"{name}.csv").unlink(missing_ok=True)
    assert gambrel("load", folder, "--book", tmp_path / "b").status == 0
    said = gambrel("solve", "--book", tmp_path / "b", *of, "--margin", "35")
    assert (said.status, said.out) == (1, "")
    assert f"Nothing of {of[1]} stands for sale" in said.err
