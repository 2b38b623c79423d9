"""The map of a body: which region of the drawing is which cut. Geometry only, no painting."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from gambrel.domain.drawing.marks import Path, Point, area_of, centroid_of, inside

DetailStyle = Literal["bone", "dots"]


@dataclass(frozen=True, slots=True)
class Label:
    """Where a region's name stands: its middle, its turn in degrees clockwise, and its room.

    `room` is the widest text, in units of the drawing, that stays within the region there.
    """

    x: float
    y: float
    turn: float
    room: float


@dataclass(frozen=True, slots=True)
class Region:
    """One part of the drawing: a closed path, and the cuts that come from there.

    `cuts` are keys of the catalogue, the most usual first. `polygon` is the path with its curves
    cut into straight pieces, for hits and areas.
    """

    region: str
    name: str
    label: Label
    cuts: tuple[str, ...]
    path: Path
    polygon: tuple[Point, ...] = field(repr=False, compare=False)

    def contains(self, x: float, y: float) -> bool:
        """Tell whether a point of the drawing lies within this region."""
        return inside(self.polygon, x, y)

    def centroid(self) -> Point:
        """Return the region's centre of gravity (which may lie outside a bent region)."""
        return centroid_of(self.polygon)

    def area(self) -> float:
        """Return the region's area in square units of the drawing."""
        return area_of(self.polygon)


@dataclass(frozen=True, slots=True)
class Detail:
    """A line that only helps the eye: a bone (fine) or a muscle's seam or grain (dotted)."""

    style: DetailStyle
    path: Path


@dataclass(frozen=True, slots=True)
class BodyMap:
    """A whole drawing, `width` by `height` units, its origin at the top left.

    `seams` are the lines between two regions, each once, so that a border is never painted twice.
    """

    species: str
    portion: str
    width: float
    height: float
    outline: Path
    seams: tuple[Path, ...]
    details: tuple[Detail, ...]
    regions: tuple[Region, ...]

    def region_at(self, x: float, y: float) -> Region | None:
        """Return the region under a point of the drawing, or None beside the body."""
        return next((region for region in self.regions if region.contains(x, y)), None)

    def regions_of(self, cut: str) -> tuple[Region, ...]:
        """Return the regions that a cut comes from, in the order of the drawing; often one."""
        return tuple(region for region in self.regions if cut in region.cuts)
