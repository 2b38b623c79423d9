"""The invented fortnight at the demo shop's benches: who broke, trimmed and blended what, and when.

Only the plan stands here. What the scale then read is made by `demo_bench`; the plain facts of the
shop (cuts, cutting lists, deliveries, reweighs, prices) are kept by hand in `demo_data/`.
Steps stand in the order in which they began.
"""

from __future__ import annotations

from demo_steps import Blend, Break, Slip, Step, TrimOut, WriteOff

RUMP = (("rump-steak", 62, 3), ("rump-cap", 16, 1), ("beef-trim-90", 9, 1), ("beef-fat", 12, 1))
STRIPLOIN = (("striploin-steak", 82, 3), ("beef-trim-70", 7, 1), ("beef-fat", 10, 1))
SCOTCH = (("scotch-steak", 90, 2), ("beef-trim-70", 5, 1), ("beef-fat", 4, 1))
TOPSIDE = (("schnitzel-beef", 84, 3), ("beef-trim-90", 10, 1), ("beef-fat", 5, 1))
LAMB_LEG_REST = (("lamb-trim-80", 9, 1), ("lamb-fat", 5, 1), ("lamb-bone", 18, 1))
LAMB_LEGS = (("lamb-leg-boned", 68, 2), *LAMB_LEG_REST)
LAMB_SHOULDER_REST = (("lamb-fat", 9, 1), ("lamb-bone", 21, 1))
LAMB_SHOULDERS = (("lamb-shoulder-rolled", 62, 2), ("lamb-trim-80", 8, 1), *LAMB_SHOULDER_REST)
LAMB_DICE = (("diced-lamb", 50, 2), ("lamb-trim-80", 20, 1), *LAMB_SHOULDER_REST)
PORK_BONE = (("pork-back-fat", 8, 1), ("pork-bone", 11, 1))
PORK_LEG = (("pork-leg-steaks", 66, 3), ("pork-trim-80", 14, 1), *PORK_BONE)

MINCE = (("beef-mince", 100, 4),)
LEAN_MINCE = (("beef-mince-lean", 100, 2),)
BEEF_SAUSAGES = (("beef-sausages", 100, 4),)
BEEF_SAUSAGE_GOODS = (
    ("crumb", 1_300, 416),
    ("salt and spice mix", 520, 624),
    ("ice", 1_400, 140),
    ("beef casings", 360, 1_440),
)
SECOND_SAUSAGE_GOODS = (
    ("crumb", 1_130, 362),
    ("salt and spice mix", 450, 540),
    ("ice", 1_210, 121),
    ("beef casings", 315, 1_260),
)
PORK_SAUSAGES = (("pork-sausages", 100, 2),)
PORK_SAUSAGE_GOODS = (
    ("crumb", 480, 154),
    ("salt and spice mix", 190, 228),
    ("ice", 500, 50),
    ("hog casings", 140, 770),
)
LAMB_SAUSAGE_GOODS = (
    ("crumb", 340, 109),
    ("salt and spice mix", 140, 168),
    ("ice", 350, 35),
    ("lamb casings", 90, 630),
)
BURGER_GOODS = (("burger seasoning", 330, 528), ("crumb", 260, 83))

WHOLE, TRIMMED = "Hindquarter round whole", "Hindquarter round trimmed"
FAT_SIDE = {
    "beef-fat": 1_520,
    "beef-suet": 1_400,
    "beef-trim-70": 1_120,
    "beef-trim-90": 880,
    "topside": 940,
    "chuck": 930,
}

# One line a step reads like the shop's own day book, so the formatter keeps its hands off.
# fmt: off
FIRST_WEEK: tuple[Step, ...] = (
    Break("2026-11-09 06:30", "Ana", 64, "HQ-14", WHOLE, slips=(Slip("topside", "silverside"),)),
    Break("2026-11-09 06:45", "Joss", 25, "LAMB-24", "Lamb", "block-2"),
    Break("2026-11-09 07:20", "Joss", 23, "LAMB-25", "Lamb", "block-2"),
    TrimOut("2026-11-09 08:10", "Joss", 16, "LAMB-24", "lamb-leg", LAMB_LEGS),
    TrimOut("2026-11-09 09:05", "Ana", 18, "HQ-14", "rump", RUMP, "block-1"),
    Break("2026-11-10 06:30", "Ana", 88, "SIDE-02", "Side", pause=9),
    TrimOut("2026-11-10 09:10", "Joss", 17, "SIDE-02", "striploin", STRIPLOIN),
    Blend("2026-11-10 10:30", "Bela", 25, (("beef-trim-90", 9_000),), (), LEAN_MINCE),
    Break("2026-11-11 06:40", "Joss", 61, "FQ-07", "Forequarter"),
    Blend("2026-11-11 09:30", "Bela", 42, (("beef-trim-70", 17_500), ("beef-trim-90", 1_500)),
          BEEF_SAUSAGE_GOODS, BEEF_SAUSAGES, 11),
    Break("2026-11-12 06:30", "Ana", 72, "HQ-15", TRIMMED),
    Break("2026-11-12 06:45", "Joss", 58, "PIG-05", "Pig", "block-2", slips=(Slip("pork-belly"),)),
    Break("2026-11-12 08:20", "Bela", 27, "LAMB-26", "Lamb", "block-2"),
    Blend("2026-11-12 10:15", "Bela", 34, (("beef-trim-70", 16_000), ("beef-trim-90", 3_000)),
          (), MINCE),
    TrimOut("2026-11-12 10:40", "Joss", 21, "PIG-05", "pork-leg", PORK_LEG, pieces=1),
    Break("2026-11-13 06:40", "Joss", 24, "LAMB-27", "Lamb", "block-2"),
    Blend("2026-11-13 07:40", "Bela", 36, (("pork-trim-80", 7_600),),
          PORK_SAUSAGE_GOODS, PORK_SAUSAGES, 12),
    TrimOut("2026-11-13 08:15", "Ana", 19, "HQ-15", "rump", RUMP, "block-1",
            slips=(Slip("rump-cap", "rump-steak"),)),
    Blend("2026-11-13 09:20", "Ana", 14, (("silverside", 7_000),), (("brine", 1_100, 187),),
          (("corned-silverside", 100, 2),), 7, "block-1", "SIDE-02"),
    TrimOut("2026-11-13 09:30", "Joss", 22, "LAMB-26", "lamb-shoulder", LAMB_SHOULDERS),
    Blend("2026-11-13 10:30", "Bela", 24, (("lamb-trim-80", 4_000),),
          LAMB_SAUSAGE_GOODS, (("lamb-sausages", 100, 2),), 13),
    TrimOut("2026-11-14 06:45", "Joss", 12, "FQ-07", "scotch-fillet", SCOTCH),
    Blend("2026-11-14 07:00", "Bela", 28, (("beef-trim-90", 7_500),), (), LEAN_MINCE),
    Blend("2026-11-14 08:10", "Bela", 21, (("beef-trim-70", 7_500),), (), MINCE),
)

SECOND_WEEK: tuple[Step, ...] = (
    Break("2026-11-16 06:35", "Joss", 63, "FQ-08", "Forequarter", slips=(Slip("chuck", "blade"),)),
    Break("2026-11-16 06:50", "Ana", 24, "LAMB-28", "Lamb", "block-2"),
    Break("2026-11-16 07:30", "Ana", 25, "LAMB-29", "Lamb", "block-2"),
    TrimOut("2026-11-16 08:20", "Ana", 20, "LAMB-28", "lamb-shoulder", LAMB_DICE),
    Blend("2026-11-16 09:30", "Bela", 36, (("beef-trim-70", 11_000), ("beef-trim-90", 2_500)),
          (), MINCE),
    Break("2026-11-17 06:30", "Ana", 90, "SIDE-03", "Side", bend=FAT_SIDE, pause=12),
    TrimOut("2026-11-17 09:20", "Joss", 16, "SIDE-03", "topside", TOPSIDE),
    Blend("2026-11-17 10:40", "Bela", 26, (("beef-trim-90", 6_000),), (), LEAN_MINCE),
    Break("2026-11-18 06:30", "Joss", 70, "HQ-16", WHOLE, missed=("silverside", 2_470)),
    Break("2026-11-18 06:45", "Ana", 60, "PIG-06", "Pig", "block-2"),
    Blend("2026-11-18 09:15", "Bela", 44, (("beef-trim-70", 16_500),),
          SECOND_SAUSAGE_GOODS, BEEF_SAUSAGES, 12),
    Break("2026-11-19 06:35", "Ana", 23, "LAMB-30", "Lamb", "block-1"),
    Break("2026-11-19 06:40", "Joss", 26, "LAMB-31", "Lamb", "block-2"),
    TrimOut("2026-11-19 07:40", "Ana", 18, "SIDE-03", "rump", RUMP, "block-1"),
    Blend("2026-11-19 08:10", "Bela", 35, (("pork-trim-80", 5_200),),
          PORK_SAUSAGE_GOODS, PORK_SAUSAGES, 12),
    TrimOut("2026-11-19 08:30", "Joss", 17, "LAMB-31", "lamb-leg", LAMB_LEGS),
    Break("2026-11-20 06:40", "Joss", 34, "CTN-11", "Cube roll carton", "block-2"),
    TrimOut("2026-11-20 06:50", "Ana", 18, "HQ-16", "striploin", STRIPLOIN, "block-1"),
    Blend("2026-11-20 08:00", "Bela", 22, (("beef-trim-90", 3_500), ("beef-trim-70", 1_400)),
          BURGER_GOODS, (("beef-burgers", 100, 2),), 10),
    Blend("2026-11-20 08:45", "Bela", 18, (("lamb-trim-80", 3_800),), (),
          (("lamb-mince", 100, 2),), 7),
    Blend("2026-11-21 06:45", "Bela", 33, (("beef-trim-70", 4_500), ("beef-trim-90", 1_200)),
          (), MINCE),
    Break("2026-11-21 10:05", "Ana", 66, "HQ-17", WHOLE, stop_after=64,
          slips=(Slip("tenderloin", "flank-steak"),)),
)
# fmt: on

WRITE_OFFS = (
    WriteOff("2026-11-13 14:40", "LAMB-24", "lamb-breast", 620, "past its date and not sold"),
    WriteOff("2026-11-14 13:50", "2026-11-12 10:15", "beef-mince", 1_240, "tray dropped"),
    WriteOff("2026-11-20 14:30", "FQ-08", "neck", 880, "past its date and not sold"),
    WriteOff("2026-11-21 09:20", "HQ-16", "shin", 410, "bag torn; dried at the edge"),
)
