"""What the tests of the Tub's texts share."""

from __future__ import annotations

from gambrel.services.words import formats_for
from gambrel.ui.tub.blend_state import Beside, BlendState, describe_blend
from gambrel.ui.tub.draft import Draft
from gambrel.ui.tub.shelf import Shelf
from tests.trades import a_shop

FORMATS = formats_for(a_shop())


def blend(draft: Draft, shelf: Shelf, before: str = "beef") -> BlendState:
    beside = Beside(shelf.costs, shelf.cuts, 3750, before)
    return describe_blend(draft, shelf.classes, beside, FORMATS)
