"""Records of every kind: one small trade by hand (invented), and any that the domain allows."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal

from hypothesis import strategies as st

from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.catalogue import Cut, CutKind, ListLine, Shop, Supplier
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PriceChange,
    PricedOn,
    Reweigh,
    Source,
    Stage,
    StageKind,
    Trade,
    Void,
    WriteOff,
)
from gambrel.storage.work import Entry

START = datetime(2026, 11, 16, 6, tzinfo=UTC)


def at(minutes: int) -> datetime:
    return START + timedelta(minutes=minutes)


SHOP = Shop(
    "Test bench",
    Currency("AUD", 2),
    "Australia/Melbourne",
    time(4),
    0,
    3750,
    Decimal("7.25"),
    True,
    Decimal(38),
)
TRADE = Trade(
    SHOP,
    suppliers=(Supplier("farm", "Farm"), Supplier("hill", "Hill", "hill@farm.example")),
    cuts=(
        Cut("bone", "Bone", "beef", CutKind.BYPRODUCT, credit=-15),
        Cut("rump", "Rump", "beef", CutKind.TRAY, 2699, 48, 0, 5, "101", "2090"),
    ),
    lists=(
        ListLine("Hind", "beef", "hindquarter", 1, "rump", Decimal("5.125")),
        ListLine("Hind", "beef", "hindquarter", 2, "bone"),
        ListLine("Other", "beef", "hindquarter", 1, "bone"),
    ),
    bodies=(
        Body("B1", "beef", "hindquarter", "hill", at(0), 82400, 980),
        Body(
            "B2",
            "beef",
            "hindquarter",
            "",
            at(1),
            80000,
            990,
            PricedOn.DOCKET,
            80400,
            600,
            "X-7",
            date(2026, 11, 12),
        ),
    ),
    reweighs=(Reweigh("B1", at(5), 82000), Reweigh("B1", at(9), 81500)),
    stages=(
        Stage("S1", StageKind.BREAK, at(10), at(40), "Ana", Decimal("29.5"), "Hind"),
        Stage("S2", StageKind.TRIMOUT, at(50), None, "Joss", Decimal(4)),
        Stage("S10", StageKind.BLEND, at(50)),
    ),
    inputs=(
        Input("S1", Source.BODY, "B1"),
        Input("S10", Source.INGREDIENT, "salt", 200, 45),
        Input("S2", Source.PIECE, "P1", 1500),
    ),
    pieces=(
        Piece("P1", "S1", "rump", 4506, 120, at(12), "Ana", "block-1"),
        Piece("P2", "S1", "rump", 4400, 0, at(13), "Ana", "block-2"),
        Piece("P10", "S1", "bone", 2310, 0, at(13), "Ana", "block-1"),
        Piece("P11", "S1", "bone", 2311, 0, at(14)),
        Piece("P3", "S2", "rump", 700, 20, at(55)),
    ),
    voids=(Void("P11", at(15), "Ana", "wrong cut"),),
    prices=(
        PriceChange("rump", 2799, at(20), "dearer"),
        PriceChange("rump", 2599, at(30)),
    ),
    writeoffs=(
        WriteOff("P2", 300, at(60), "dropped"),
        WriteOff("P2", 100, at(60), "trimmed"),
    ),
)


def entries(trade: Trade) -> list[Entry]:
    """All rows of a trade but the shop, those that name others first: `add` must sort them."""
    return [
        *trade.writeoffs,
        *trade.prices,
        *trade.voids,
        *trade.inputs,
        *trade.pieces,
        *trade.stages,
        *trade.reweighs,
        *trade.bodies,
        *trade.lists,
        *trade.cuts,
        *trade.suppliers,
    ]


# NUL cannot be stored anywhere, and half a surrogate pair is no text.
texts = st.text(st.characters(exclude_characters="\x00", exclude_categories=["Cs"]), max_size=30)
_seen = st.characters(categories=["L", "M", "N", "P", "S"], include_characters=" ")
names = st.text(_seen, max_size=30)
keys = st.text(_seen, min_size=1, max_size=30)
grams = st.integers(1, 10_000_000)
prices = st.integers(0, 10**13)
money = st.integers(-(10**13), 10**13)
exact = st.decimals(0, 10**9, places=6)
moments = st.datetimes(datetime(1902, 1, 1), datetime(9000, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001

suppliers = st.builds(Supplier, keys, texts, texts)
cuts = st.builds(
    Cut,
    keys,
    texts,
    names,
    st.sampled_from(CutKind),
    st.none() | prices,
    prices,
    money,
    st.none() | st.integers(0, 10_000),
    names,
    names,
)
lists = st.builds(
    ListLine, keys, names, names, st.integers(0, 10**6), st.just("rump"), st.none() | exact
)
bodies = st.builds(
    Body,
    keys,
    names,
    names,
    st.sampled_from(["", "farm"]),
    moments,
    grams,
    prices,
    st.sampled_from(PricedOn),
    st.none() | grams,
    money,
    texts,
    st.none() | st.dates(),
)
reweighs = st.builds(Reweigh, st.just("B1"), moments, grams)
stages = st.builds(
    Stage, keys, st.sampled_from(StageKind), moments, st.none() | moments, texts, exact, names
)
taken = st.builds(
    Input, st.just("S10"), st.just(Source.BODY), st.just("B2"), st.none() | grams, st.just(0)
)
taken |= st.builds(
    Input, st.just("S10"), st.just(Source.PIECE), st.just("P1"), st.none() | grams, st.just(0)
)
taken |= st.builds(Input, st.just("S10"), st.just(Source.INGREDIENT), keys, grams, prices)


@st.composite
def pieces(draw: st.DrawFn) -> Piece:
    gross = draw(grams)
    tare = draw(st.integers(0, gross - 1))
    return Piece(draw(keys), "S1", "rump", gross, tare, draw(moments), draw(texts), draw(texts))


voids = st.builds(Void, st.just("P1"), moments, texts, texts)
changes = st.builds(PriceChange, st.just("rump"), prices, moments, texts)
writeoffs = st.builds(WriteOff, st.just("P1"), grams, moments, texts)
shops = st.builds(
    Shop,
    texts,
    st.builds(Currency, st.text("ABCXYZ", min_size=3, max_size=3), st.integers(0, 4)),
    texts,
    st.builds(time, st.integers(0, 23), st.integers(0, 59)),
    st.integers(0, 6),
    prices,
    exact,
    st.booleans(),
    st.decimals(-1000, Decimal("99.999999"), places=6),
)
