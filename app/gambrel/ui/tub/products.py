"""What may be weighed out of a blend: the block's look with products on its keys. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

from gambrel.domain.bench.block import CutOnBlock
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import StageKind
from gambrel.services import bench

MOST_PRODUCTS = 8
"""So many products stand on the first keys; the rest of the catalogue follows on later pages."""


@dataclass(frozen=True, slots=True)
class BlendLook(bench.Look):
    """A look at a blend, or at trays that are worked back, with its products first."""

    products: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """What was taken, each name once."""
        names = dict.fromkeys(row.cut.name for row in self.on_block.taken)
        verb = "Blend of" if self.on_block.stage.kind is StageKind.BLEND else "Worked back:"
        return f"{verb} {', '.join(names)}"


def with_products(look: bench.Look, products: Sequence[str]) -> BlendLook:
    """The same look with these products on its keys, then what was weighed all the same."""
    block = look.on_block
    rows = {row.cut.key: row for row in (*block.cuts, *block.more)}
    known = {cut.key: cut for cut in look.trade.cuts}
    first = [key for key in products if key in known]
    first += [key for key, row in rows.items() if row.weighed_g and key not in first]
    cuts = tuple(rows.get(key) or CutOnBlock(known[key]) for key in first)
    elsewhere = {*first, *look.retired}
    rest = [cut for cut in known.values() if cut.key not in elsewhere]
    rest.sort(key=lambda cut: cut.species != block.species)
    more = tuple(rows.get(cut.key) or CutOnBlock(cut) for cut in rest)
    kept = {each.name: getattr(look, each.name) for each in fields(bench.Look)}
    kept |= {"on_block": replace(block, cuts=cuts, more=more), "lists": ()}
    return BlendLook(**kept, products=tuple(products))


def products_of(look: bench.Look, made: Sequence[Cut], first: str) -> tuple[str, ...]:
    """What may be weighed out: the product that is meant, then the usual ones of that species.

    Args:
        look: The stage.
        made: What blends make, the most usual first.
        first: The key of the product that is meant, if any.
    """
    species = {row.cut.species for row in look.on_block.taken}
    if look.on_block.stage.kind is StageKind.BLEND:
        usual = [cut.key for cut in made if cut.species in species]
    else:
        kinds = (CutKind.TRIM, CutKind.BYPRODUCT, CutKind.WASTE)
        usual = [
            cut.key
            for kind in kinds
            for cut in look.trade.cuts
            if cut.kind is kind and cut.species in species
        ]
    usual = [key for key in usual if key not in look.retired]
    keys = dict.fromkeys([*([first] if first else []), *usual])
    return tuple(keys)[:MOST_PRODUCTS]
