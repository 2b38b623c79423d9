"""What tickets say and refuse, and what may honestly be said of where meat came from."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from stdnum import ean

from gambrel.domain.prices.origin import blended_cuts, one_supplier
from gambrel.domain.prices.specials import AFTER_SPECIAL, SPECIAL
from gambrel.domain.prices.tickets import (
    COOK_THROUGH,
    KEEP_COLD,
    Ticket,
    TicketRules,
    Was,
    make_tickets,
)
from gambrel.domain.prices.unit_price import Per
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLabel, Origin, OriginOf
from gambrel.domain.trade.catalogue import CutKind, Supplier
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.records import PriceChange, Source, StageKind, Trade, WriteOff
from tests.trades import HOUR, Bench

BODY, PIECE = Source.BODY, Source.PIECE


def two_farms() -> tuple[Bench, str, str]:
    """A body from the farm and one from the hill, each broken into rump and trim."""
    bench = Bench()
    first = bench.stage((BODY, bench.body(10_000, 900), None))
    bench.piece(first, "rump", 4_000)
    bench.piece(first, "mince-trim", 5_000)
    second = bench.stage((BODY, bench.body(10_000, 900), None))
    bench.bodies[1] = replace(bench.bodies[1], supplier="hill")
    bench.piece(second, "shin", 4_000)
    bench.piece(second, "mince-trim", 5_000)
    return bench, "P2", "P4"


def test_meat_from_one_supplier_is_traced_to_it() -> None:
    bench, _, _ = two_farms()
    assert one_supplier(bench.trade(), bench.now) == {"rump": "farm", "shin": "hill"}


def test_a_blend_of_two_suppliers_claims_none() -> None:
    bench, first, second = two_farms()
    blend = bench.stage((PIECE, first, None), (PIECE, second, None), kind=StageKind.BLEND)
    bench.piece(blend, "mince", 9_000)
    found = one_supplier(bench.trade(), bench.now)
    assert "mince" not in found
    assert "mince-trim" not in found, "nothing of it is left"


def test_a_blend_of_one_suppliers_trim_is_traced_through() -> None:
    bench, first, _ = two_farms()
    blend = bench.stage((PIECE, first, None), kind=StageKind.BLEND)
    bench.ingredient(blend, "salt", 100, 50)
    mince = bench.piece(blend, "mince", 4_000)
    again = bench.stage((PIECE, mince, 1_000), kind=StageKind.BLEND)
    bench.piece(again, "shin", 900)
    found = one_supplier(bench.trade(), bench.now)
    assert found["mince"] == "farm"
    assert "shin" not in found, "some is from the farm and some from the hill"


def test_what_is_gone_or_past_its_life_says_nothing_of_what_is_there() -> None:
    bench, _, _ = two_farms()
    bench.cuts = tuple(replace(cut, shelf_life_days=3) for cut in bench.cuts)
    old = bench.now
    bench.now += timedelta(days=5)
    third = bench.stage((BODY, bench.body(10_000, 900), None))
    bench.bodies[2] = replace(bench.bodies[2], supplier="hill")
    bench.piece(third, "rump", 4_000)
    trade = bench.trade()
    assert one_supplier(trade, bench.now)["rump"] == "hill"
    assert one_supplier(trade, old)["rump"] == "farm"
    thrown = replace(trade, writeoffs=(WriteOff("P1", 4_000, old, "old"),))
    long_lived = replace(thrown, cuts=tuple(replace(c, shelf_life_days=None) for c in trade.cuts))
    assert one_supplier(long_lived, bench.now)["rump"] == "hill"


def test_a_piece_taken_back_counts_for_nothing() -> None:
    bench, _, _ = two_farms()
    bench.piece("S2", "rump", 1_000)
    assert "rump" not in one_supplier(bench.trade(), bench.now)
    bench.void("P5")
    assert one_supplier(bench.trade(), bench.now)["rump"] == "farm"


def test_minced_meat_is_known_by_how_it_was_made() -> None:
    bench, first, _ = two_farms()
    blend = bench.stage((PIECE, first, None), kind=StageKind.BLEND)
    bench.piece(blend, "mince", 4_000)
    whole = bench.stage((PIECE, "P1", None), kind=StageKind.BLEND)
    bench.piece(whole, "shin", 4_000)
    assert blended_cuts(bench.trade()) == {"mince"}


# Tickets


def priced() -> Trade:
    bench, first, _ = two_farms()
    blend = bench.stage((PIECE, first, None), kind=StageKind.BLEND)
    bench.piece(blend, "mince", 4_000)
    suppliers = (Supplier("farm", "A farm"), Supplier("hill", "The hill"))
    return replace(bench.trade(), suppliers=suppliers)


NOW = Bench().now + timedelta(days=1)


def test_every_tray_cut_with_a_price_gets_one() -> None:
    trade = priced()
    cuts = (*trade.cuts, replace(trade.cuts[0], key="new", name="New", price=None))
    tickets = make_tickets(replace(trade, cuts=cuts), None, NOW)
    assert [ticket.cut for ticket in tickets] == ["rump", "shin", "mince"]
    rump, shin, mince = tickets
    assert (rump.name, rump.price, rump.supplier) == ("Rump", 2699, "A farm")
    assert (shin.supplier, mince.supplier) == ("The hill", "A farm")
    assert all(ean.is_valid(ticket.number) for ticket in tickets)
    assert [ticket.number[2:7] for ticket in tickets] == ["00101", "00102", "00103"]


def test_a_ticket_shows_the_price_in_force_at_its_moment() -> None:
    change = PriceChange("rump", 2799, NOW)
    trade = replace(priced(), prices=(change,))
    assert make_tickets(trade, ["rump"], NOW)[0].price == 2799
    assert make_tickets(trade, ["rump"], NOW - HOUR)[0].price == 2699


def test_chosen_cuts_are_printed_in_the_order_given_as_often_as_given() -> None:
    tickets = make_tickets(priced(), ["shin", "rump", "shin", "mince-trim"], NOW)
    assert [ticket.cut for ticket in tickets] == ["shin", "rump", "shin", "mince-trim"]


@pytest.mark.parametrize(
    ("name", "key", "minced"),
    [
        ("Beef mince", "a", True),
        ("Ground chuck", "a", True),
        ("Breakfast sausages", "a", True),
        ("PATTIES", "a", True),
        ("Chipolata", "pork-sausage", True),
        ("Rump", "a", False),
        ("Burgundy roast", "a", False),
        ("Mincemeat-free roast", "a", False),
    ],
)
def test_minced_meat_is_to_be_cooked_through(name: str, key: str, minced: bool) -> None:
    trade = priced()
    cut = replace(trade.cuts[0], key=key, name=name)
    (ticket,) = make_tickets(replace(trade, cuts=(*trade.cuts, cut)), [key], NOW)
    assert ticket.cautions == ((KEEP_COLD, COOK_THROUGH) if minced else (KEEP_COLD,))


def test_what_a_blend_of_trim_made_is_cooked_through_whatever_its_name() -> None:
    trade = priced()
    cuts = tuple(replace(c, name="Fine brown") if c.key == "mince" else c for c in trade.cuts)
    (ticket,) = make_tickets(replace(trade, cuts=cuts), ["mince"], NOW)
    assert COOK_THROUGH in ticket.cautions


def test_a_cut_without_a_plu_has_no_number() -> None:
    trade = priced()
    cuts = (replace(trade.cuts[0], plu=""), *trade.cuts[1:])
    (ticket,) = make_tickets(replace(trade, cuts=cuts), ["rump"], NOW)
    assert ticket.number == ""


# Refusals


def test_no_price_no_ticket_and_every_culprit_is_named() -> None:
    trade = priced()
    cuts = (
        replace(trade.cuts[0], price=None),
        replace(trade.cuts[1], plu="123456"),
        *trade.cuts[2:],
    )
    with pytest.raises(Refusal) as refused:
        make_tickets(replace(trade, cuts=cuts), ["rump", "shin", "fat", "mince"], NOW)
    message = str(refused.value)
    assert "Rump has no price" in message
    assert "Fat has no price" in message
    assert "the PLU '123456' of Shin fits in no barcode" in message
    assert "Mince" not in message


@pytest.mark.parametrize("plu", ["12a", "-12", "１２", "100000", " 12"])
def test_a_plu_that_no_barcode_holds_is_refused(plu: str) -> None:
    trade = priced()
    cuts = (replace(trade.cuts[0], plu=plu), *trade.cuts[1:])
    with pytest.raises(Refusal, match="fits in no barcode; give it a number"):
        make_tickets(replace(trade, cuts=cuts), ["rump"], NOW)


def test_an_unknown_cut_is_named_with_what_exists() -> None:
    with pytest.raises(Refusal, match="no cut 'rmup'; did you mean rump"):
        make_tickets(priced(), ["shin", "rmup"], NOW)
    with pytest.raises(Refusal, match=r"no cut '☃'; the catalogue has bone, fat"):
        make_tickets(priced(), ["☃"], NOW)


def test_nothing_to_print_is_refused() -> None:
    trade = priced()
    with pytest.raises(Refusal, match="No cut was chosen"):
        make_tickets(trade, [], NOW)
    bare = tuple(replace(cut, price=None) for cut in trade.cuts)
    with pytest.raises(Refusal, match="No tray cut has a price yet"):
        make_tickets(replace(trade, cuts=bare), None, NOW)
    trim = tuple(cut for cut in trade.cuts if cut.kind is not CutKind.TRAY)
    with pytest.raises(Refusal, match="No tray cut has a price yet"):
        make_tickets(replace(trade, cuts=trim), None, NOW)


# What a shop may want besides


DAY = timedelta(days=1)
PLAIN = TicketRules()


def special(bench: Bench) -> None:
    """Rump from 26.99 to 24.99 a week ago, and to 21.99 from now until two days on."""
    bench.prices += [
        PriceChange("rump", 2499, bench.now - 7 * DAY),
        PriceChange("rump", 2199, bench.now, SPECIAL),
        PriceChange("rump", 2799, bench.now + 2 * DAY, AFTER_SPECIAL),
    ]


def rump(bench: Bench, rules: TicketRules = PLAIN) -> Ticket:
    (ticket,) = make_tickets(bench.trade(), ["rump"], bench.now, rules)
    return ticket


def test_a_special_says_what_it_was_until_when() -> None:
    bench, _, _ = two_farms()
    assert rump(bench).was is None
    special(bench)
    ticket = rump(bench)
    last = business_day(bench.now + 2 * DAY - timedelta(seconds=1), bench.shop)
    assert (ticket.price, ticket.was) == (2199, Was(2499, last))
    bench.now += 2 * DAY
    assert (rump(bench).price, rump(bench).was) == (2799, None)


def test_the_european_union_wants_the_lowest_price_of_thirty_days() -> None:
    """Directive 98/6/EC, article 6a (MEMORY); elsewhere the price just before."""
    bench, _, _ = two_farms()
    bench.prices.append(PriceChange("rump", 2299, bench.now - 20 * DAY))
    special(bench)
    elsewhere = rump(bench, TicketRules(country="NZ")).was
    assert elsewhere is not None
    assert elsewhere.price == 2499
    bench.cuts = tuple(replace(cut, species="venison") for cut in bench.cuts)
    was = rump(bench, TicketRules(country="FR")).was
    assert was is not None
    assert was.price == 2299


def test_a_price_that_never_fell_has_no_was() -> None:
    bench, _, _ = two_farms()
    bench.prices.append(PriceChange("rump", 2999, bench.now, SPECIAL))
    assert rump(bench).was == Was(None, None)


def test_second_price_bars_and_cautions_are_as_the_shop_wants() -> None:
    bench, _, _ = two_farms()
    text = CutLabel("rump", storage="Keep below 5 C", cooking="Rest before carving!")
    ticket = rump(bench, TicketRules(per=Per.HUNDRED_GRAMS, barcode=False, texts=[text]))
    assert ticket.number == ""
    assert ticket.unit_price is not None
    assert ticket.unit_price.amount == 270
    assert ticket.cautions == ("Keep below 5 C.", "Rest before carving!")


def test_beef_on_the_counter_says_its_origin_where_the_law_wants_it() -> None:
    bench, _, _ = two_farms()
    farm = Origin(OriginOf.SUPPLIER, "farm", "Ireland", "Ireland", "Ireland", "IE 303 EC")
    with pytest.raises(Refusal, match=r"the origin of Rump is not known \(B1: "):
        rump(bench, TicketRules(country="IE"))
    ticket = rump(bench, TicketRules(country="IE", origins=[farm]))
    assert ticket.origin[:2] == ("Origin: Ireland", "Slaughtered in: Ireland, IE 303 EC")
    assert rump(bench, TicketRules(country="AU", origins=[farm])).origin == ()
    rules = TicketRules(country="IE", origins=[farm])
    with pytest.raises(Refusal, match="origin of Shin is not known"):
        make_tickets(bench.trade(), ["rump", "shin"], bench.now, rules)


@pytest.mark.parametrize(
    ("price", "says"), [(0, "price of nothing"), (26_990, "10 times"), (269, "a tenth of it")]
)
def test_a_price_of_nothing_or_a_slip_is_refused_until_it_is_meant(price: int, says: str) -> None:
    bench, _, _ = two_farms()
    bench.prices.append(PriceChange("rump", price, bench.now))
    with pytest.raises(Refusal, match=says):
        rump(bench)
    bench.prices.append(PriceChange("rump", price, bench.now + DAY))
    bench.now += DAY
    if price:
        assert rump(bench).price == price
