"""What a shop may change of a cut, and what follows from it for what has been weighed. Pure."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Iterable
from itertools import chain, count

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, CutKind

LONGEST_NAME = 100
"""Letters of a cut's, a list's or a supplier's name."""

KIND_WORDS = {
    CutKind.TRAY: "tray",
    CutKind.TRIM: "trim",
    CutKind.BYPRODUCT: "by-product",
    CutKind.WASTE: "waste",
}


def proposed_key(name: str, species: str, taken: Collection[str]) -> str:
    """A key for a new cut: its name in small letters, with the species before it if it is taken.

    Args:
        name: For example ``"Rump cap"``, which becomes ``"rump-cap"``.
        species: For example ``"beef"``.
        taken: Every key of the catalogue.
    """
    front = _plain(name)[:60] or "cut"
    longer = f"{_plain(species)[:30]}-{front}".strip("-")
    numbered = (f"{longer}-{number}" for number in count(2))
    return next(key for key in chain((front, longer), numbered) if key not in taken)


def _plain(text: str) -> str:
    """Small letters and digits of any script without their accents, hyphens between the words."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    bare = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return "-".join("".join(sign if sign.isalnum() else " " for sign in bare).split())


def fair_name(name: str, what: str, others: Iterable[str], where: str = "in the book") -> str:
    """A name as it is kept: without needless blanks, and no other's.

    Args:
        name: What was typed.
        what: The word for what it names, with its article: ``"A cut"``.
        others: The names that are taken.
        where: Among what it has to be the only one.
    Raises:
        Refusal: None is given, it is too long, or it is taken (small and large letters alike).
    """
    name = " ".join(name.split())
    if not name:
        raise Refusal(f"{what} needs a name. Type it as it is said in the shop.")
    if len(name) > LONGEST_NAME:
        raise Refusal(f"The name is longer than {LONGEST_NAME} letters. Shorten it.")
    if name.casefold() in {other.casefold() for other in others}:
        raise Refusal(
            f"There is a {name} {where} already. Choose that one, or give this one another name."
        )
    return name


def refuse_if_recosted(old: Cut, new: Cut, pieces: int) -> None:
    """Refuse a change that would make another thing of what has been weighed.

    The kind says whether a piece bears cost, takes a credit or counts for nothing, and costs are
    worked out anew from all pieces: another kind would change weeks that are long closed.

    Args:
        old: The cut as it is.
        new: As it would be.
        pieces: How many pieces of it stand.
    Raises:
        Refusal: Kind or species would change with pieces weighed, or its first price.
    """
    if (old.kind, old.species) != (new.kind, new.species) and pieces:
        raise Refusal(
            f"{_weighed(pieces)} of {old.name} as {KIND_WORDS[old.kind]}, and another kind would "
            "change what past bodies cost. Make a new cut for it, put that on the lists, and "
            "retire this one."
        )
    if old.price != new.price:
        raise Refusal(
            f"The first price of {old.name} is part of the record. Set a price in the Cabinet."
        )


def what_follows(old: Cut, new: Cut, pieces: int) -> tuple[str, ...]:
    """What a change would do to what has been weighed, to be said before it is kept.

    Args:
        old: The cut as it is.
        new: As it would be.
        pieces: How many pieces of it stand; with none nothing follows.
    """
    if not pieces:
        return ()
    said = []
    if old.finish != new.finish or old.credit != new.credit:
        said.append(f"{_weighed(pieces)}: costs change, in past weeks too.")
    if old.shelf_life_days != new.shelf_life_days:
        said.append("What stands gets another use-by; printed labels keep theirs.")
    if old.plu != new.plu:
        said.append("Printed tickets and labels keep the old PLU. Print them again.")
    if old.name != new.name:
        said.append("Past weeks show the new name; printed tickets keep the old one.")
    return tuple(said)


def _weighed(pieces: int) -> str:
    return "1 piece has been weighed" if pieces == 1 else f"{pieces} pieces have been weighed"
