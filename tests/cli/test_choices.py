from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Gambrel

ASK = ("choice", "--from", "trim", "--to", "rump", "--kg", "4.386", "--at", "2026-11-18")


def test_a_choice_in_a_sentence_and_a_table(gambrel: Gambrel, loaded: Path) -> None:
    """By hand: 4.386 × 26.51 = 116.27, 4.386 × 8.99 = 39.43, three minutes of 37.50 are 1.88."""
    said = gambrel(*ASK, "--minutes", "3", "--book", loaded)
    assert (said.status, said.err) == (0, "")
    assert said.out.startswith("As Rump it earns $74.96 more than as Mince trim: 4.386 kg × ")
    assert said.out.count("  rump ") == 1


def test_the_json_has_the_figures(gambrel: Gambrel, loaded: Path) -> None:
    told = gambrel(*ASK, "--minutes", "3", "--book", loaded, "--json").json
    assert (told["currency"], told["weight_g"]) == ("AUD", 4386)
    assert (told["work"], told["earns"]) == ("1.88", "74.96")
    assert (told["spare_minutes"], told["pays_within_minutes"]) == ("119.94", "122.94")
    assert (told["to"]["worth"], told["from"]["worth"]) == ("116.27", "39.43")
    assert told["to"]["parts"] == [
        {"cut": "rump", "share_percent": "100.00", "price_per_kg": "26.99", "worth_per_kg": "26.51"}
    ]
    later = gambrel(*ASK[:-1], "2026-11-20", "--book", loaded, "--json").json
    assert later["to"]["parts"][0]["price_per_kg"] == "27.99"


def test_a_piece_is_taken_by_what_is_left_of_it(gambrel: Gambrel, loaded: Path) -> None:
    """P1 has 4.386 kg of rump, of which 0.2 kg was thrown away."""
    shares = ("--to", "mince=80", "--to", "trim=15", "--to", "bone=2.5")
    told = gambrel("choice", "--piece", "P1", *shares, "--book", loaded, "--json").json
    assert told["weight_g"] == 4186
    assert told["from"]["parts"][0]["cut"] == "rump"
    assert told["to"]["name"] == "80\u202f% Mince, 15\u202f% Mince trim and 2.5\u202f% Bone"
    # 0.8 × 13.74 + 0.15 × 8.99 − 0.025 × 0.15
    assert told["to"]["worth_per_kg"] == "12.34"
    assert told["pays_within_minutes"] is None


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--from", "rmp", "--to", "trim", "--kg", "1"], "did you mean 'rump'"),
        (["--piece", "P99", "--to", "trim"], "no piece 'P99' in the book. Give the key"),
        (["--piece", "P4", "--to", "trim"], "was taken back"),
        (["--piece", "P1", "--kg", "4.2", "--to", "trim"], "Only 4.186 kg is left"),
        (["--piece", "P1", "--kg", "0", "--to", "trim"], "no weight"),
        (["--piece", "P1", "--to", "trim", "--to", "bone"], "trim=80"),
        (["--piece", "P1", "--to", "trim=50", "--to", "trim=20"], "trim is named twice"),
        (["--piece", "P1", "--to", "trim=0.8", "--to", "bone=0.2"], "80, not 0.8"),
        (["--piece", "P1", "--to", "trim=80", "--to", "bone=30"], "add up to 110 per cent"),
    ],
)
def test_what_cannot_be_is_a_sentence(
    gambrel: Gambrel, loaded: Path, arguments: list[str], says: str
) -> None:
    said = gambrel("choice", *arguments, "--book", loaded)
    assert (said.status, said.out) == (1, "")
    assert says in said.err


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--to", "trim"], "--from and --kg, or --piece"),
        (["--to", "trim", "--from", "rump"], "--from and --kg, or --piece"),
        (["--from", "rump", "--kg", "1"], "--to"),
        (["--to", "trim", "--from", "rump", "--kg", "-1"], "is negative"),
        (["--to", "trim=much", "--from", "rump", "--kg", "1"], "steaks=80"),
        (["--to", "trim", "--piece", "P1", "--minutes", "-2"], "minutes"),
        (["--to", "trim", "--piece", "P1", "--minutes", "nan"], "zero or more, like 2.5"),
    ],
)
def test_wrong_usage_has_status_two(gambrel: Gambrel, arguments: list[str], says: str) -> None:
    said = gambrel("choice", *arguments)
    assert (said.status, said.out) == (2, "")
    assert says in said.err
