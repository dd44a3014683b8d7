"""Notches at the mouths of darts left open in a piece, so that their legs are found again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from studio.block.panel import Dart
from studio.curves import Cubic, Edge, Outline, Point
from studio.curves.cubics_meet import cubic_meetings
from studio.curves.tolerance import CORNER_MM
from studio.design.joins import NotchShape
from studio.memo import remembered
from studio.sew.notches import SAME_MM, WIDE, NotchPlace, cut_notch, slit_out
from studio.sew.sewn import CutEdge, Notch

_TWO_FROM = 7.0
"""A dart at least this wide is notched at both legs: on a hollow edge they come nearer, mm."""

_LEG_BEYOND = 5.0
"""The leg of a dart is followed out by so many allowances to find the cut line."""

_HAIR = CORNER_MM
"""So far beside a mouth's end its edge has the direction it comes in with, or goes on with, mm."""


def dart_notches(
    name: str,
    outline: Outline,
    darts: Sequence[Dart],
    allowances: Sequence[float],
    line: Sequence[CutEdge],
    shape: NotchShape = "slit",
) -> tuple[tuple[NotchPlace, Notch], ...]:
    """The notches of the darts of piece `name`, where each stands on its edge and as cut.

    They stand at both ends of a mouth; of a dart too narrow for two, in its middle. Each is cut on
    the leg prolonged from the dart's point to the cut `line`, where it is nearest; square to the
    edge, as any notch, where the leg meets none. Where the leg lies so aslant that a wider shape
    would reach past the sewing line, it is a slit. `allowances` in mm, one an edge; an edge without
    allowance is not notched.
    """
    widths = {edge.name: width for edge, width in zip(outline.edges, allowances, strict=True)}
    found = []
    for dart in darts:
        width = widths.get(dart.edge, 0.0)
        if width > 0.0:
            for place, at in dart_places(name, outline, dart):
                found.append((place, _cut(place, at, dart.point, line, width, shape)))
    return tuple(found)


def on_leg(notch: Notch, of_darts: Sequence[tuple[NotchPlace, Notch]]) -> Notch:
    """A notch of a join as that of a dart is cut, when it stands where one does."""
    at = notch.at
    for _, one in of_darts:
        if abs(one.at.y - at.y) < SAME_MM and one.at.distance_to(at) < SAME_MM:
            return replace(one, kind=notch.kind, join=notch.join)
    return notch


def dart_places(name: str, outline: Outline, dart: Dart) -> Iterator[tuple[NotchPlace, Point]]:
    """Where piece `name` is to be notched for a dart, and the point of its edge there."""
    edge = _edge_at(outline, dart.edge, dart.first)
    if edge is None:
        return
    if dart.intake >= _TWO_FROM:
        for end in (dart.first, dart.last):
            yield NotchPlace(name, edge, edge.chain.distance_of(end), "single", dart.name), end
        return
    along = edge.chain.distance_of(dart.first.toward(dart.last, 0.5))
    yield NotchPlace(name, edge, along, "single", dart.name), edge.chain.at(along)


def _edge_at(outline: Outline, name: str, point: Point) -> Edge | None:
    """The edge of that name on which a point lies."""
    for edge in outline:
        if edge.name == name and edge.chain.passes(point) is not None:
            return edge
    return None


def _cut(
    place: NotchPlace,
    at: Point,
    apex: Point,
    line: Sequence[CutEdge],
    width: float,
    shape: NotchShape,
) -> Notch:
    if apex.distance_to(at) > CORNER_MM:
        way = (at - apex).unit()
        leg = Cubic.straight(at, at.off(way, _LEG_BEYOND * width))
        # Only what lies near is read, so that the notch is known again when the line is cut or
        # drawn anew elsewhere.
        near = [
            cubic
            for stretch in line
            if stretch.name == place.edge.name
            for _, cubic in stretch.chain.curves_near(leg.box)
        ]
        out = _out(at.x, at.y, way.x, way.y, leg.length, tuple(near))
        if out is not None:
            mouth, tip = slit_out(at, way, out)
            fitting: NotchShape = shape if _clears(place, at, mouth, tip, shape) else "slit"
            return Notch(at, mouth, tip, place.kind, place.join, fitting)
    return cut_notch(place, width, shape)


def _clears(place: NotchPlace, at: Point, mouth: Point, tip: Point, shape: NotchShape) -> bool:
    """Whether all of a notch's shape lies outside its edge, which may have a corner there."""
    if shape == "slit":
        return True
    across = (mouth - tip).unit().left()
    before, after = (place.edge.chain.tangent(place.along + step) for step in (-_HAIR, _HAIR))
    farthest = (
        (mouth.off(across, WIDE),)
        if shape == "check"
        else (tip.off(across, WIDE / 2.0), tip.off(across, WIDE / -2.0))
    )
    return all(
        (one - at).dot((after if (one - at).dot(after) > 0.0 else before).right()) > 0.0
        for one in farthest
    )


def _out_of(
    x: float, y: float, way_x: float, way_y: float, reach: float, near: tuple[Cubic, ...]
) -> float | None:
    """How far out from a place a leg meets curves first, mm, within `reach`."""
    leg = Cubic.straight(Point(x, y), Point(x + way_x * reach, y + way_y * reach))
    met = [t for cubic in near for t, _ in cubic_meetings(leg, cubic)]
    return min(met) * reach if met else None


_out = remembered(_out_of, 400)
