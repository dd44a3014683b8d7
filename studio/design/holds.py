"""Holds: what the maker said of style lines and what must keep holding when anything moves.

A point of a line is told by the line's name and its node: 0 is the start, the last one the end.
Every hold may bear a name, can be switched off, and most have one number to type. How they are
met lives in `studio.constrain`.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from studio.curves.point import Point
from studio.design.kept import Kept

EndName: TypeAlias = Literal["start", "end"]


class LinePoint(Kept, frozen=True):
    """A node of a style line, or the tip of one of its handles."""

    line: str
    node: int
    part: Literal["node", "in", "out"] = "node"


class _Hold(Kept, frozen=True, kw_only=True, tag_field="hold"):
    """What every hold has."""

    active: bool = True
    name: str = ""


class Fixed(_Hold, frozen=True, tag="fixed"):
    """A point stays at a place on its panel (mm)."""

    point: LinePoint
    at: Point


class Level(_Hold, frozen=True, tag="level"):
    """Two points lie level, across the grain."""

    a: LinePoint
    b: LinePoint


class Upright(_Hold, frozen=True, tag="upright"):
    """Two points lie upright, along the grain."""

    a: LinePoint
    b: LinePoint


class Slides(_Hold, frozen=True, tag="slides"):
    """A point lies anywhere on an edge of its panel; an end of a line so held is not kept at its
    distance from a corner.
    """

    point: LinePoint
    edge: str


class FromCorner(_Hold, frozen=True, tag="from-corner"):
    """A node lies on an edge, so far along it from the corner it shares with `corner`: exactly one
    of `mm` and `share` is given.
    """

    point: LinePoint
    edge: str
    corner: str
    mm: float | None = None
    share: float | None = None

    def __post_init__(self) -> None:
        if (self.mm is None) == (self.share is None):
            raise ValueError(f"give either mm or share for the place on {self.edge}")


class Distance(_Hold, frozen=True, tag="distance"):
    """Two points are `mm` apart."""

    a: LinePoint
    b: LinePoint
    mm: float


class Angle(_Hold, frozen=True, tag="angle"):
    """The direction from `a` to `b`, counter-clockwise from across the grain or, when they are
    given, from the direction `c` to `d`.
    """

    a: LinePoint
    b: LinePoint
    degrees: float
    c: LinePoint | None = None
    d: LinePoint | None = None


class Parallel(_Hold, frozen=True, tag="parallel"):
    """The straight line `a` to `b` runs `mm` to the left of the one from `c` to `d`."""

    a: LinePoint
    b: LinePoint
    c: LinePoint
    d: LinePoint
    mm: float


class Mirrored(_Hold, frozen=True, tag="mirrored"):
    """`a` and `b` mirror each other about the line from `c` to `d`, or about the crease line."""

    a: LinePoint
    b: LinePoint
    c: LinePoint | None = None
    d: LinePoint | None = None


class Square(_Hold, frozen=True, tag="square"):
    """A line meets the edge its start or end lies on square."""

    line: str
    at: EndName


class Smooth(_Hold, frozen=True, tag="smooth"):
    """A line passes a node without a corner, whatever its handles are drawn to."""

    line: str
    node: int


class Length(_Hold, frozen=True, tag="length"):
    """A line is `mm` long."""

    line: str
    mm: float


class SameLength(_Hold, frozen=True, tag="same-length"):
    """A line is as long as another line or an edge, and `ease` mm more."""

    line: str
    other: str
    ease: float = 0.0


class CornersAdd(_Hold, frozen=True, tag="corners-add"):
    """The angles at which two lines leave their edges add up, so that the seam across runs on."""

    line: str
    at: EndName
    other: str
    other_at: EndName
    degrees: float = 180.0


Hold: TypeAlias = (
    Fixed
    | Level
    | Upright
    | Slides
    | FromCorner
    | Distance
    | Angle
    | Parallel
    | Mirrored
    | Square
    | Smooth
    | Length
    | SameLength
    | CornersAdd
)


def lines_in(hold: Hold) -> tuple[str, ...]:
    """The names of the lines a hold speaks of; the other of a `SameLength` may be an edge."""
    found = []
    for field in msgspec.structs.fields(hold):
        value = getattr(hold, field.name)
        if isinstance(value, LinePoint):
            found.append(value.line)
        elif field.name in ("line", "other"):
            found.append(value)
    return tuple(dict.fromkeys(found))


def title_of(hold: Hold) -> str:
    """What a hold is called: by the maker, else by what it says."""
    lines = " and ".join(lines_in(hold))
    return hold.name or f"{_WORDS[type(hold)]}, {lines}"


def title_beside(hold: Hold, line: str) -> str:
    """What a hold is called where it is plain that it speaks of a line."""
    others = " and ".join(name for name in lines_in(hold) if name != line)
    return hold.name or f"{_WORDS[type(hold)]}{', ' if others else ''}{others}"


_WORDS: dict[type[Hold], str] = {
    Fixed: "Fixed",
    Level: "Level",
    Upright: "Upright",
    Slides: "Slides on its edge",
    FromCorner: "At a distance from a corner",
    Distance: "Distance",
    Angle: "Angle",
    Parallel: "Parallel",
    Mirrored: "Mirrored",
    Square: "Square to its edge",
    Smooth: "Smooth",
    Length: "Length",
    SameLength: "As long as",
    CornersAdd: "Runs on",
}


def value_field(hold: Hold) -> str | None:
    """The name of the field that holds a hold's number; None when it has none."""
    for name in ("mm", "degrees", "ease", "share"):
        if getattr(hold, name, None) is not None:
            return name
    return None


def renumbered(asked: tuple[Hold, ...], line: str, at: int, by: int) -> tuple[Hold, ...]:
    """Holds after a node was put in before node `at` of a line (`by` 1), or node `at` was taken
    away (-1): later nodes count on, and what spoke of the lost node is dropped.
    """
    found: list[Hold] = []
    for hold in asked:
        changes: dict[str, object] = {}
        lost = False
        for field in msgspec.structs.fields(hold):
            value = getattr(hold, field.name)
            if isinstance(value, LinePoint) and value.line == line:
                lost = lost or (by < 0 and value.node == at)
                if value.node >= at:
                    changes[field.name] = msgspec.structs.replace(value, node=value.node + by)
        if isinstance(hold, Smooth) and hold.line == line:
            lost = lost or (by < 0 and hold.node == at)
            if hold.node >= at:
                changes["node"] = hold.node + by
        if not lost:
            found.append(msgspec.structs.replace(hold, **changes))
    return tuple(found)
