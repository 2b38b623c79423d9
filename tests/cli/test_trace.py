"""``gambrel trace``: what it prints, what it refuses, and its exit status."""

from __future__ import annotations

from pathlib import Path

import pytest

from gambrel.cli import main
from tests.cli.conftest import Gambrel
from tests.reports.reading import text_of
from tests.small_shop import FILES, replaced, write_shop


def test_a_body_is_told_from_docket_to_tray_with_a_balance(gambrel: Gambrel, loaded: Path) -> None:
    said = gambrel("trace", "hq-1", "--book", loaded)
    assert (said.status, said.err) == (0, "")
    lines = said.out.splitlines()
    assert lines[0] == "HQ-1 is a body: hindquarter of beef from A farm."
    assert max(map(len, lines)) <= 80
    rows = [" ".join(line.split()) for line in lines]
    assert "docket F-1, slaughtered 2026-11-14, received 2026-11-16 07:00" in rows
    assert "docket 82.600 kg, weighed 82.400 kg" in rows
    # 0.2 of 4.386 kg rump was written off; 10 of 60 kg trim went into the mince with 0.1 kg salt.
    assert "P1 Rump 08:10 Ana 4.186 4.186 2026-11-22" in rows
    assert "0.200 kg written off 2026-11-22 10:00: old" in rows
    assert "P2 Mince trim 08:20 Ana 50.000 50.000 -" in rows
    assert "of 60.000 kg: 10.000 kg to S2" in rows
    assert "P4 Rump, taken back 2026-11-18 08:32 by Ana: weighed twice" in rows
    assert "P5 Mince 08:40 Joss 10.000 9.901 2026-11-21" in rows
    assert "At the end: 4 pieces, 79.186 kg left" in rows
    balance = rows[rows.index("Balance, kg of it") + 1 :]
    assert balance[: balance.index("")] == [
        "came in 82.400", "dried on the rail 1.200", "on the block 0.099", "lost at work 1.814",
        "written off 0.200", "left as trays 14.087", "left as trim 50.000",
        "left as by-products 15.000", "difference 0.000",
    ]  # fmt: skip


def test_the_json_says_the_same(gambrel: Gambrel, loaded: Path) -> None:
    told = gambrel("trace", "F-1", "--json", "--book", loaded).json
    assert told["key"] == "F-1"
    [found] = told["found"]
    assert (found["kind"], found["name"], found["of"]) == ("supplier_ref", "F-1", "farm")
    [body] = found["back"]["bodies"]
    assert (body["body"], body["docket_g"], body["hang_loss_g"]) == ("HQ-1", 82_600, 1_200)
    assert body["received_at"] == "2026-11-16T07:00:00+11:00"
    [rump, trim, bone, mince] = found["forward"]["pieces"]
    assert (trim["taken_g"], trim["left_g"], trim["at_end"]) == (10_000, 50_000, True)
    assert rump["writeoffs"] == [
        {"at": "2026-11-22T10:00:00+11:00", "weight_g": 200, "reason": "old"}
    ]
    assert (mince["share_percent"], mince["traced_left_g"]) == ("99.01", 9_901)
    assert (bone["kind"], bone["use_by"], mince["use_by"]) == ("byproduct", None, "2026-11-21")
    assert found["forward"]["stages"][1]["took"] == [
        {"source": "piece", "key": "P2", "weight_g": 10_000}
    ]
    assert [row["piece"] for row in found["forward"]["taken_back"]] == ["P4"]
    assert found["balance"] == {
        "went_in_g": 82_400, "hang_loss_g": 1_200, "on_rail_g": 0, "on_block_g": 99,
        "lost_g": 1_814, "written_off_g": 200, "at_end_g": 79_087,
        "at_end": {"tray": 14_087, "trim": 50_000, "byproduct": 15_000, "waste": 0},
        "difference_g": 0,
    }  # fmt: skip


def test_all_that_a_word_names_is_told_one_after_the_other(
    gambrel: Gambrel, tmp_path: Path
) -> None:
    """Here a docket bears the name of a stage."""
    folder = write_shop(tmp_path / "in", bodies=replaced("bodies.csv", ",F-1,", ",S1,"))
    assert main(["load", str(folder), "--book", str(tmp_path / "b.gambrel")]) == 0
    said = gambrel("trace", "S1", "--book", tmp_path / "b.gambrel")
    assert said.status == 0
    first, second = said.out.split("=" * 80)
    assert first.startswith("S1 is a stage (break).")
    assert second.strip().startswith("S1 is a docket of A farm with 1 body.")
    told = gambrel("trace", "s1", "--json", "--book", tmp_path / "b.gambrel").json
    assert [found["kind"] for found in told["found"]] == ["stage", "supplier_ref"]


def test_a_word_that_is_a_cut_too_is_noted(gambrel: Gambrel, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in", bodies=replaced("bodies.csv", ",F-1,", ",rump,"))
    assert main(["load", str(folder), "--book", str(tmp_path / "b.gambrel")]) == 0
    said = gambrel("trace", "rump", "--book", tmp_path / "b.gambrel")
    assert said.status == 0
    assert said.err == (
        "Note: Rump is a cut, too, and no lot; what is told is what else 'rump' names.\n"
    )


@pytest.mark.parametrize(
    ("word", "sentence"),
    [
        ("Rump", ("Rump is a cut, not a lot: many bodies have gone into it. "
         "Type the lot on its label, or a stage that made it: S1.\n")),
        ("HQ-2", ("Nothing in this book is called 'HQ-2'; did you mean 'HQ-1'? Type the lot of a "
         "label or of an ingredient, a body, a supplier's reference, a piece, a stage, or a day "
         "like 2026-11-20.\n")),
    ],
)  # fmt: skip
def test_what_cannot_be_traced_says_what_to_type_instead(
    gambrel: Gambrel, loaded: Path, word: str, sentence: str
) -> None:
    for more in ((), ("--json",)):
        said = gambrel("trace", word, *more, "--book", loaded)
        assert (said.status, said.out, said.err) == (1, "", sentence)


@pytest.mark.parametrize("words", [(), ("",), ("  ",), ("HQ-1", "HQ-2")])
def test_wrong_usage(gambrel: Gambrel, loaded: Path, words: tuple[str, ...]) -> None:
    said = gambrel("trace", *words, "--book", loaded)
    assert (said.status, said.out) == (2, "")


def test_long_names_are_cut_where_they_would_break_the_lines(
    gambrel: Gambrel, tmp_path: Path
) -> None:
    cuts = FILES["cuts.csv"].replace("Rump", "Rump of the widest and longest hindquarter we get")
    folder = write_shop(tmp_path / "in", cuts=cuts)
    assert main(["load", str(folder), "--book", str(tmp_path / "b.gambrel")]) == 0
    said = gambrel("trace", "HQ-1", "--book", tmp_path / "b.gambrel")
    lines = said.out.splitlines()
    assert max(map(len, lines)) <= 80
    assert any("Rump of the widest and longe" in line for line in lines)


def test_the_paper_is_written_whole_or_not_at_all(
    gambrel: Gambrel, loaded: Path, tmp_path: Path
) -> None:
    paper = tmp_path / "away" / "trace.pdf"
    said = gambrel("trace", "HQ-1", "--pdf", paper, "--book", loaded)
    assert (said.status, said.out, said.err) == (0, f"Wrote {paper}.\n", "")
    text = text_of(paper.read_bytes())
    assert "HQ-1 is a body: hindquarter of beef from A farm." in text
    assert "difference 0.000" in text
    told = gambrel("trace", "HQ-1", "--pdf", paper, "--json", "--book", loaded)
    assert told.json == {"written": [str(paper)]}
    none = tmp_path / "none.pdf"
    assert gambrel("trace", "HQ-2", "--pdf", none, "--book", loaded).status == 1
    assert not none.exists()
    folder = gambrel("trace", "HQ-1", "--pdf", tmp_path, "--book", loaded)
    assert (folder.status, folder.out) == (1, "")
    assert "is a folder" in folder.err


def test_the_help_tells_the_form_of_the_json(gambrel: Gambrel) -> None:
    said = gambrel("trace", "--help")
    assert said.status == 0
    assert '"balance": {"went_in_g"' in said.out
