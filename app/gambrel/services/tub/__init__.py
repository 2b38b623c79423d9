"""What people do at the tub, each in one transaction that is on the disk when it returns.

A blend is a stage like another: it is weighed out, taken back and finished by the bench's own acts.
"""

from gambrel.domain.bench.trim import Portion
from gambrel.services.tub.blending import Added, start_blend, work_back
from gambrel.services.tub.costs import BlendCost, InputCost, blend_cost
from gambrel.services.tub.limits import Limits, tub_limits
from gambrel.services.tub.looking import BlendFacts, OpenBlend, blend_facts, open_blends
from gambrel.services.tub.planning import LeanPlan, TrimStock, lean_stock, plan_lean
from gambrel.services.tub.recipes import (
    Batch,
    Written,
    batch_of,
    drop_recipe,
    ingredients,
    most_of,
    recipes,
    save_ingredient,
    save_recipe,
)
from gambrel.services.tub.standing import Stock, forget_lean, measure_lean, set_lean, standing_trim
from gambrel.services.tub.writing_off import (
    WRITE_OFF_REASONS,
    take_back_write_off,
    write_off,
)

__all__ = [
    "WRITE_OFF_REASONS",
    "Added",
    "Batch",
    "BlendCost",
    "BlendFacts",
    "InputCost",
    "LeanPlan",
    "Limits",
    "OpenBlend",
    "Portion",
    "Stock",
    "TrimStock",
    "Written",
    "batch_of",
    "blend_cost",
    "blend_facts",
    "drop_recipe",
    "forget_lean",
    "ingredients",
    "lean_stock",
    "measure_lean",
    "most_of",
    "open_blends",
    "plan_lean",
    "recipes",
    "save_ingredient",
    "save_recipe",
    "set_lean",
    "standing_trim",
    "start_blend",
    "take_back_write_off",
    "tub_limits",
    "work_back",
    "write_off",
]
