from __future__ import annotations

from decimal import Decimal

import pytest

from gambrel.domain.bench.legal import ADVICE, LIMITS, Kind, Measure, information, kind_of


def test_every_limit_tells_its_source_and_date() -> None:
    for limit in LIMITS:
        assert limit.source
        assert limit.dated
        assert limit.places
        assert limit.most > 0
    assert len(set(LIMITS)) == len(LIMITS)


def test_limits_are_chosen_by_the_shops_country() -> None:
    irish, american = information("ie "), information("US")
    assert (irish.country, irish.sentence) == ("IE", ADVICE)
    assert all("IE" in limit.places for limit in irish.limits)
    assert {limit.kind for limit in american.limits} == {Kind.BEEF, Kind.LEAN}
    assert not set(irish.limits) & set(american.limits)


@pytest.mark.parametrize("country", ["AU", "GB", "ZZ"])
def test_of_a_country_that_is_not_on_file_nothing_is_claimed(country: str) -> None:
    found = information(country, ["beef"])
    assert found.limits == ()
    assert found.sentence == f"Nothing is on file here for {country}. {ADVICE}"
    assert information("").limits == ()
    assert "no country yet" in information("").sentence


@pytest.mark.parametrize(
    ("species", "kind", "fat"),
    [
        (["beef"], Kind.BEEF, 20),
        (["Beef", "pork"], Kind.PORK, 30),
        (["pork"], Kind.PORK, 30),
        (["beef", "lamb"], Kind.OTHER, 25),
        (["lamb"], Kind.OTHER, 25),
    ],
)
def test_the_kind_of_meat_chooses_the_line(species: list[str], kind: Kind, fat: int) -> None:
    assert kind_of(species) is kind
    found = information("DE", species)
    assert {limit.kind for limit in found.limits} <= {kind, Kind.LEAN, Kind.ANY}
    line = found.most_fat(kind)
    assert line is not None
    assert (line.most, line.measure) == (Decimal(fat), Measure.FAT)
    assert f"fat at most {fat} %" in line.sentence
    assert information("US", ["lamb"]).most_fat(Kind.OTHER) is None
