"""The demo keeps every rule that a folder must keep, seen without any of our own loader."""

from __future__ import annotations

import re
import tomllib
from collections import Counter, defaultdict
from datetime import date, datetime, timedelta
from decimal import Decimal
from itertools import pairwise
from zoneinfo import ZoneInfo

from tests.demo_data.reading import FOLDER, Demo, grams

DEMO = Demo()
SUNDAY = 6


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def test_the_shop_says_that_it_is_invented() -> None:
    shop = tomllib.loads((FOLDER / "shop.toml").read_text(encoding="utf-8"))
    assert "demo" in shop["name"]
    assert "invented" in (FOLDER / "README.md").read_text(encoding="utf-8").lower()
    for supplier in DEMO.rows("suppliers"):
        # `.example` can never be somebody's real address (RFC 2606).
        assert supplier["contact"].endswith(".example")


def test_keys_are_unique() -> None:
    files = {
        "suppliers": "supplier",
        "cuts": "cut",
        "bodies": "body",
        "stages": "stage",
        "pieces": "piece",
        "voids": "piece",
    }
    for name, key in files.items():
        assert max(Counter(row[key] for row in DEMO.rows(name)).values()) == 1, name
    plus = Counter(row["plu"] for row in DEMO.rows("cuts") if row["kind"] == "tray")
    assert max(plus.values()) == 1
    assert "" not in plus


def test_every_name_is_known() -> None:
    known = {
        "cut": set(DEMO.kinds),
        "body": set(DEMO.bodies),
        "stage": set(DEMO.stages),
        "supplier": {row["supplier"] for row in DEMO.rows("suppliers")},
        "list": {row["list"] for row in DEMO.rows("cutting_lists")},
        "piece": {row["piece"] for row in DEMO.rows("pieces")},
    }
    names = ("cutting_lists", "bodies", "reweighs", "stages", "inputs", "pieces", "voids", "prices")
    for name in (*names, "writeoffs"):
        for row in DEMO.rows(name):
            for column in known.keys() & row.keys():
                assert row[column] in known[column] | {""}, (name, row)


def test_weights_are_weights() -> None:
    for row in DEMO.rows("pieces"):
        assert 0 < grams(row["tare_kg"]) < grams(row["gross_kg"]), row
    for name in ("bodies", "reweighs", "inputs", "pieces", "writeoffs"):
        for row in DEMO.rows(name):
            for column, cell in row.items():
                if column.endswith("kg") and "price" not in column and cell:
                    assert re.fullmatch(r"\d+(\.\d{1,3})?", cell), row
                    assert grams(cell) > 0, row


def test_norms_leave_an_ordinary_loss() -> None:
    lists: dict[str, list[Decimal]] = defaultdict(list)
    places: dict[str, list[int]] = defaultdict(list)
    for row in DEMO.rows("cutting_lists"):
        lists[row["list"]].append(Decimal(row["norm_percent"]))
        places[row["list"]].append(int(row["position"]))
    for name, norms in lists.items():
        assert Decimal("0.3") <= 100 - sum(norms) <= 1, name
        assert places[name] == list(range(1, len(norms) + 1)), name
    rounds = {n for n in lists if n.startswith("Hindquarter")}
    assert len(rounds) == 2


def test_money_is_where_its_kind_wants_it() -> None:
    for row in DEMO.rows("cuts"):
        priced = row["kind"] in ("tray", "trim")
        assert bool(row["price_per_kg"]) == priced, row
        assert bool(row["credit_per_kg"]) == (row["kind"] == "byproduct"), row
    fees = [r for r in DEMO.rows("cuts") if r["credit_per_kg"].startswith("-")]
    assert len(fees) == 1


def test_times_are_melbournes_and_never_on_a_sunday() -> None:
    zone = ZoneInfo("Australia/Melbourne")
    for name in ("bodies", "reweighs", "stages", "pieces", "voids", "writeoffs"):
        for row in DEMO.rows(name):
            for column, cell in row.items():
                if column.endswith("_at") and cell:
                    at = moment(cell)
                    assert at.utcoffset() == at.astimezone(zone).utcoffset(), row
                    assert at.weekday() != SUNDAY, row
                    assert 6 <= at.hour < 17, row


def test_the_fortnight_is_two_weeks() -> None:
    weeks = Counter(moment(s["started_at"]).isocalendar()[:2] for s in DEMO.rows("stages"))
    assert set(weeks) == {(2026, 46), (2026, 47)}
    assert min(weeks.values()) > 15


def test_work_ends_after_it_began_and_pieces_lie_between() -> None:
    for row in DEMO.rows("pieces"):
        stage = DEMO.stages[row["stage"]]
        assert moment(stage["started_at"]) < moment(row["weighed_at"])
        if stage["finished_at"]:
            assert moment(row["weighed_at"]) <= moment(stage["finished_at"])
            worked = timedelta(minutes=int(stage["minutes"]))
            assert moment(stage["started_at"]) + worked <= moment(stage["finished_at"])
    order = [moment(row["weighed_at"]) for row in DEMO.rows("pieces")]
    assert order == sorted(order)


def test_nobody_works_in_two_places_at_once() -> None:
    end_of_time = "2027-01-01T00:00:00+11:00"
    for column in ("person", "station"):
        spans: dict[str, list[tuple[datetime, datetime]]] = defaultdict(list)
        at_station = {row["stage"]: row["station"] for row in DEMO.rows("pieces")}
        for key, row in DEMO.stages.items():
            who = row["person"] if column == "person" else at_station[key]
            end = moment(row["finished_at"] or end_of_time)
            spans[who].append((moment(row["started_at"]), end))
        for who, times in spans.items():
            times.sort()
            for (_, end), (start, _) in pairwise(times):
                assert end <= start, (who, start)


def test_nothing_is_taken_twice_and_nothing_voided_is_taken() -> None:
    left = {k: grams(p["gross_kg"]) - grams(p["tare_kg"]) for k, p in DEMO.pieces.items()}
    acts = [(DEMO.stages[row["stage"]]["started_at"], row) for row in DEMO.rows("inputs")]
    acts += [(row["written_off_at"], row) for row in DEMO.rows("writeoffs")]
    for at, row in sorted(acts, key=lambda act: moment(act[0])):
        if not row["piece"]:
            continue
        made_in = DEMO.stages[DEMO.pieces[row["piece"]]["stage"]]
        assert moment(made_in["finished_at"]) <= moment(at), row
        taken = grams(row["kg"]) if row["kg"] else left[row["piece"]]
        assert 0 < taken <= left[row["piece"]], row
        left[row["piece"]] -= taken


def test_no_stage_makes_more_than_it_took() -> None:
    taken: dict[str, int] = defaultdict(int)
    left = {k: grams(p["gross_kg"]) - grams(p["tare_kg"]) for k, p in DEMO.pieces.items()}
    for row in DEMO.rows("inputs"):
        if row["body"]:
            taken[row["stage"]] += DEMO.input_g(row["body"])
        else:
            weight = grams(row["kg"]) if row["kg"] else left[row["piece"]]
            taken[row["stage"]] += weight
    for stage, row in DEMO.stages.items():
        made = sum(DEMO.made(stage).values())
        if row["finished_at"]:
            assert Decimal("0.95") * taken[stage] < made < taken[stage], stage
        else:
            assert Decimal("0.4") * taken[stage] < made < Decimal("0.8") * taken[stage], stage


def test_trim_is_used_within_its_days() -> None:
    days = {row["cut"]: int(row["shelf_life_days"] or 0) for row in DEMO.rows("cuts")}
    for row in DEMO.rows("inputs"):
        if row["piece"]:
            piece = DEMO.pieces[row["piece"]]
            age = moment(DEMO.stages[row["stage"]]["started_at"]) - moment(piece["weighed_at"])
            assert age <= timedelta(days=days[piece["cut"]]), row


def test_something_hangs_and_something_is_on_the_block() -> None:
    hanging = DEMO.bodies.keys() - DEMO.stage_of.keys()
    assert {DEMO.bodies[key]["species"] for key in hanging} == {"beef", "lamb"}
    still_open = [row for row in DEMO.rows("stages") if not row["finished_at"]]
    assert [moment(row["started_at"]).date() for row in still_open] == [date(2026, 11, 21)]


def test_specials_end_by_a_later_row() -> None:
    first = {row["cut"]: row["price_per_kg"] for row in DEMO.rows("cuts")}
    specials = [row for row in DEMO.rows("prices") if row["reason"].startswith("special")]
    assert len(specials) == 2
    for special in specials:
        begins = date.fromisoformat(special["from"])
        back = [
            row
            for row in DEMO.rows("prices")
            if row["cut"] == special["cut"] and date.fromisoformat(row["from"]) > begins
        ]
        assert begins.weekday() == 4
        assert date.fromisoformat(back[0]["from"]) == begins + timedelta(days=3)
        assert back[0]["price_per_kg"] == first[special["cut"]]


# Codes as published: beef of UNECE (ECE/TRADE/C/WP.7/GE.2/2012/INF.4, paperzz.com/doc/7299561)
# and AUS-MEAT (beef cuts poster 2012, studylib.net/doc/8360746; primal guide,
# docslib.org/doc/2235867); sheepmeat of the AUS-MEAT poster, paperzz.com/doc/8184214.
CODES = {
    "1694": "Short ribs",
    "2000": "Topside",
    "2020": "Silverside",
    "2070": "Knuckle",
    "2090": "Rump",
    "2091": "Rump cap",
    "2140": "Striploin",
    "2150": "Tenderloin",
    "2210": "Flank steak",
    "2240": "Cube roll",
    "2260": "Chuck",
    "2280": "Neck",
    "2300": "Blade",
    "2310": "Chuck tender",
    "2320": "Brisket",
    "2360": "Shin-shank",
    "4800": "Leg chump on",
    "4880": "Short loin",
    "4932": "Rack",
    "4990": "Square-cut shoulder",
    "5010": "Breast and flap",
    "5020": "Neck",
    "5030": "Foreshank",
    "5050": "Shoulder square-cut rolled/netted",
}


def test_codes_belong_to_their_cuts() -> None:
    other_names = {"Scotch fillet": "cube roll", "Lamb loin chops": "short loin"}
    used = 0
    for row in DEMO.rows("cuts"):
        if row["unece"]:
            used += 1
            ours = set(re.findall("[a-z]+", other_names.get(row["name"], row["name"]).lower()))
            published = set(re.findall("[a-z]+", CODES[row["unece"]].lower()))
            published |= {"shanks"} if "foreshank" in published else set()
            assert ours & published, row
    assert used == len(CODES)
