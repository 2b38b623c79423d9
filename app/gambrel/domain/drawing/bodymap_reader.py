"""Reading a body map from its TOML text, strictly.

The text has ``species``, ``portion`` and ``size`` (width, height); a table ``lines`` of named open
paths; an ``outline`` and ``regions`` whose borders are lists of those names, where ``-name`` runs
a line backwards; and ``details``. Neighbours name the same line, so their borders coincide.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from typing import get_args

from gambrel.domain.drawing.bodymap import BodyMap, Detail, DetailStyle, Label, Region
from gambrel.domain.drawing.marks import (
    LARGEST_COORDINATE,
    Path,
    area_of,
    closed_path,
    inside,
    polygon_of,
    read_path,
    reversed_path,
)
from gambrel.domain.trade.strict_toml import exact_table, list_in, text_in, toml_table

WHAT = "the body map"
MOST_REGIONS = 100
_MAP = ("species", "portion", "size", "outline", "lines", "regions", "details")
_KEY = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*", re.ASCII)


def read_map(text: str) -> BodyMap:
    """Read a body map from TOML text.

    Raises:
        ValueError: Whatever does not hold; the message is a sentence that names the place.
    """
    table = exact_table(toml_table(text, WHAT), _MAP, WHAT)
    width, height = _size(table["size"])
    lines = _lines(table["lines"])
    outline = _names(table["outline"], f"{WHAT}, outline")
    around = _border(outline, lines, f"{WHAT}, outline")
    regions: dict[str, Region] = {}
    borders = Counter(name.removeprefix("-") for name in outline)
    for value in list_in(table["regions"], f"{WHAT}, regions"):
        region, border = _region(value, lines)
        if region.region in regions:
            raise ValueError(f"In {WHAT}, region {region.region!r} is there twice: rename one.")
        regions[region.region] = region
        borders.update(name.removeprefix("-") for name in border)
    if not 1 <= len(regions) <= MOST_REGIONS:
        raise ValueError(f"In {WHAT} there should be 1 to {MOST_REGIONS} regions.")
    _check_use(borders, lines)
    return BodyMap(
        species=_key(table["species"], f"{WHAT}, species"),
        portion=_key(table["portion"], f"{WHAT}, portion"),
        width=width,
        height=height,
        outline=around,
        seams=_seams(outline, lines),
        details=_details(table["details"]),
        regions=tuple(regions.values()),
    )


def _region(value: object, lines: Mapping[str, Path]) -> tuple[Region, list[str]]:
    table = exact_table(value, ("region", "name", "label", "cuts", "border"), f"{WHAT}, a region")
    key = _key(table["region"], f"{WHAT}, a region")
    place = f"{WHAT}, region {key!r}"
    border = _names(table["border"], f"{place}, border")
    path = _border(border, lines, f"{place}, border")
    polygon = polygon_of(path)
    if area_of(polygon) == 0:
        raise ValueError(f"In {place} the border encloses no area.")
    label = _label(table["label"], f"{place}, label")
    if not inside(polygon, label.x, label.y):
        raise ValueError(f"In {place} the label stands outside the border: move it in.")
    cuts = tuple(_key(cut, f"{place}, cuts") for cut in list_in(table["cuts"], f"{place}, cuts"))
    if not cuts or len(set(cuts)) < len(cuts):
        raise ValueError(f"In {place} there should be one cut or more, each once.")
    name = text_in(table["name"], f"{place}, name")
    return Region(key, name, label, cuts, path, polygon), border


def _label(value: object, place: str) -> Label:
    names = ("x", "y", "turn", "room")
    table = exact_table(value, names, place)
    x, y, turn, room = (_number(table[name], f"{place}, {name}") for name in names)
    if room <= 0:
        raise ValueError(f"In {place} the room should be more than nothing, not {room}.")
    return Label(x, y, turn, room)


def _lines(value: object) -> dict[str, Path]:
    place = f"{WHAT}, lines"
    if not isinstance(value, dict):
        raise ValueError(f"In {place} there should be a table, not {value!r}.")
    lines = {_key(name, place): _path(path, f"{place}, {name}") for name, path in value.items()}
    for name, path in lines.items():
        if path[-1][0] == "Z":
            raise ValueError(f"In {place}, {name} is closed: take the Z off, borders close it.")
    return lines


def _path(value: object, place: str) -> Path:
    try:
        return read_path(text_in(value, place))
    except ValueError as error:
        raise ValueError(f"In {place}: {error}") from error


def _names(value: object, place: str) -> list[str]:
    return [text_in(name, place) for name in list_in(value, place)]


def _border(names: list[str], lines: Mapping[str, Path], place: str) -> Path:
    """Join the named lines into one closed path."""
    paths: list[Path] = []
    for name in names:
        plain = name.removeprefix("-")
        if plain not in lines:
            raise ValueError(f"In {place}, there is no line {plain!r}: draw it.")
        paths.append(lines[plain] if plain == name else reversed_path(lines[plain]))
    try:
        return closed_path(paths)
    except ValueError as error:
        raise ValueError(f"In {place}: {error}") from error


def _check_use(borders: Mapping[str, int], lines: Mapping[str, Path]) -> None:
    """A line parts two regions, or one region from the outside: it is used exactly twice."""
    for name in lines:
        if borders.get(name, 0) != 2:
            raise ValueError(
                f"In {WHAT}, line {name!r} borders {borders.get(name, 0)} times: it should part "
                "two regions, or a region and the outline."
            )


def _seams(outline: list[str], lines: Mapping[str, Path]) -> tuple[Path, ...]:
    around = {name.removeprefix("-") for name in outline}
    return tuple(path for name, path in lines.items() if name not in around)


def _details(value: object) -> tuple[Detail, ...]:
    details: list[Detail] = []
    for number, each in enumerate(list_in(value, f"{WHAT}, details"), start=1):
        place = f"{WHAT}, detail {number}"
        table = exact_table(each, ("style", "path"), place)
        style: DetailStyle = "bone" if table["style"] == "bone" else "dots"
        if table["style"] != style:
            known = ", ".join(get_args(DetailStyle))
            raise ValueError(f"In {place}, {table['style']!r} is no style: use one of {known}.")
        details.append(Detail(style, _path(table["path"], f"{place}, path")))
    return tuple(details)


def _size(value: object) -> tuple[float, float]:
    place = f"{WHAT}, size"
    numbers = [_number(each, place) for each in list_in(value, place)]
    if len(numbers) != 2 or min(numbers) <= 0:
        raise ValueError(f"In {place} there should be a width and a height above zero.")
    return numbers[0], numbers[1]


def _number(value: object, place: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"In {place} there should be a number, not {value!r}.")
    if not abs(value) <= LARGEST_COORDINATE:  # this way round it catches "not a number" as well
        raise ValueError(f"In {place} a number is off any sheet: stay within 100000.")
    return float(value)


def _key(value: object, place: str) -> str:
    key = text_in(value, place)
    if not _KEY.fullmatch(key):
        raise ValueError(f"In {place}, {key!r} should be small letters, digits and single hyphens.")
    return key
