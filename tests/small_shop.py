"""A shop in a few lines of plain files, for tests that spoil one of them."""

from __future__ import annotations

from pathlib import Path

SHOP = """\
name = "Test bench"
currency = "AUD"
time_zone = "Australia/Melbourne"
day_starts = "04:00"
week_starts = "monday"
work_per_hour = "37.50"
tax_percent = "0"
prices_include_tax = false
target_margin_percent = "38"
"""

FILES = {
    "shop.toml": SHOP,
    "suppliers.csv": "supplier,name,contact\nfarm,A farm,\n",
    "cuts.csv": """\
cut,name,species,kind,price_per_kg,finish_per_kg,credit_per_kg,shelf_life_days,plu,unece
rump,Rump,beef,tray,26.99,0.48,,4,101,
trim,Mince trim,beef,trim,8.99,,,,,
mince,Mince,beef,tray,13.99,0.25,,2,103,
bone,Bone,beef,byproduct,,,-0.15,,,
""",
    "cutting_lists.csv": """\
list,species,portion,position,cut,norm_percent
Hind,beef,hindquarter,1,rump,8.5
Hind,beef,hindquarter,2,bone,18
""",
    "bodies.csv": """\
body,species,portion,supplier,supplier_ref,killed_on,received_at,docket_kg,received_kg,\
price_per_kg,priced_on,other_cost
HQ-1,beef,hindquarter,farm,F-1,2026-11-14,2026-11-16T07:00:00+11:00,82.6,82.4,9.80,docket,4.92
""",
    "reweighs.csv": "body,weighed_at,kg\nHQ-1,2026-11-18T07:00:00+11:00,81.2\n",
    "stages.csv": """\
stage,kind,started_at,finished_at,person,minutes,list
S1,break,2026-11-18T08:00:00+11:00,2026-11-18T09:00:00+11:00,Ana,22.5,Hind
S2,blend,2026-11-19T08:00:00+11:00,,Joss,10,
""",
    "pieces.csv": """\
piece,stage,cut,gross_kg,tare_kg,weighed_at,person,station
P1,S1,rump,4.506,0.120,2026-11-18T08:10:00+11:00,Ana,1
P2,S1,trim,60.000,0,2026-11-18T08:20:00+11:00,Ana,1
P3,S1,bone,15.000,,2026-11-18T08:30:00+11:00,Ana,1
P4,S1,rump,4.506,0.120,2026-11-18T08:31:00+11:00,Ana,1
P5,S2,mince,10.000,,2026-11-19T08:40:00+11:00,Joss,1
""",
    "inputs.csv": """\
stage,body,piece,ingredient,kg,cost
S1,HQ-1,,,,
S2,,P2,,10,
S2,,,salt,0.1,0.40
""",
    "voids.csv": "piece,voided_at,person,reason\nP4,2026-11-18T08:32:00+11:00,Ana,weighed twice\n",
    "prices.csv": "cut,price_per_kg,from,reason\nrump,27.99,2026-11-20,dearer\n",
    "writeoffs.csv": "piece,kg,written_off_at,reason\nP1,0.2,2026-11-22T10:00:00+11:00,old\n",
}


def write_shop(folder: Path, **changes: str | None) -> Path:
    """Write the shop's files into a folder that is not there yet.

    A change is named by the file without its ending; None leaves the file out.
    """
    folder.mkdir()
    for name, text in FILES.items():
        changed = changes.get(name.partition(".")[0], text)
        if changed is not None:
            (folder / name).write_bytes(changed.encode())
    return folder


def replaced(name: str, old: str, new: str) -> str:
    """One of the files with a piece of its text replaced; the text must be there."""
    assert old in FILES[name], (name, old)
    return FILES[name].replace(old, new)
