from __future__ import annotations

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.limits import NO_LIMIT, Limit, SolveRules, read_rules, rules_text
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats

FORMATS = Formats(Currency("AUD", 2), "$")

bounds = st.none() | st.integers(1, 10**7)


@st.composite
def limits(draw: st.DrawFn) -> Limit:
    floor, ceiling = draw(bounds), draw(bounds)
    if floor is not None and ceiling is not None:
        floor, ceiling = min(floor, ceiling), max(floor, ceiling)
    sold = Decimal(draw(st.integers(1, 1000))) / 1000
    return Limit(draw(st.booleans()), floor, ceiling, sold)


endings = st.sampled_from([Endings(), Endings(100, (49, 99)), Endings(5, (0,))])


@given(endings, st.dictionaries(st.text(min_size=1, max_size=8), limits(), max_size=5))
def test_what_is_kept_is_read_back(ends: Endings, by_cut: dict[str, Limit]) -> None:
    rules = SolveRules(ends, by_cut)
    assert read_rules(rules_text(rules)) == rules


def test_a_cut_without_bounds_is_not_kept() -> None:
    rules = SolveRules(Endings(), {}).with_limit("rump", Limit(floor=2000))
    assert rules.limit("rump").floor == 2000
    assert rules.with_limit("rump", NO_LIMIT) == SolveRules(Endings(), {})
    assert rules.limit("shin") == NO_LIMIT


GOOD = json.loads(rules_text(SolveRules(Endings(), {"rump": Limit(floor=100, ceiling=200)})))


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("endings", "modulus"), 1.0),
        (("endings", "modulus"), True),
        (("endings", "residues"), [5]),
        (("endings", "residues"), 3),
        (("limits",), []),
        (("limits", "rump", "floor"), 201),
        (("limits", "rump", "floor"), 0),
        (("limits", "rump", "floor"), "100"),
        (("limits", "rump", "held"), 1),
        (("limits", "rump", "sold"), 1),
        (("limits", "rump", "sold"), "nan"),
        (("limits", "rump", "sold"), "x"),
        (("limits", "rump", "sold"), "0"),
        (("limits", "rump", "sold"), "1.01"),
        (("limits", "rump", "more"), 1),
        (("more",), 1),
    ],
)
def test_anything_else_is_refused(where: tuple[str, ...], value: object) -> None:
    spoilt = json.loads(json.dumps(GOOD))
    at = spoilt
    for name in where[:-1]:
        at = at[name]
    at[where[-1]] = value
    with pytest.raises(Refusal, match="Set them again"):
        read_rules(json.dumps(spoilt))


@pytest.mark.parametrize("text", ["", "{", "[]", "null", "{}", "[" * 100_000])
def test_so_is_what_is_no_such_text(text: str) -> None:
    with pytest.raises(Refusal):
        read_rules(text)


@pytest.mark.parametrize(
    ("limit", "said"),
    [
        (Limit(floor=1200, ceiling=1000), r"The floor of Rump, \$12.00, stands above its ceiling"),
        (Limit(floor=0), "A floor of nothing"),
        (Limit(ceiling=0), "A ceiling of nothing"),
        (Limit(sold=Decimal(0)), "share sold"),
        (Limit(sold=Decimal("1.1")), "share sold"),
    ],
)
def test_bounds_that_cannot_be_are_told(limit: Limit, said: str) -> None:
    import re

    assert re.search(said, limit.fault("Rump", FORMATS))


@given(limits())
def test_bounds_that_can_be_have_no_fault(limit: Limit) -> None:
    assert limit.fault("Rump", FORMATS) == ""
