"""Allowances a maker does without on one copy of a piece: the narrower line, and what it is."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import msgspec
import shapely
from msgspec.structs import replace

from studio import numbers
from studio.block.panel import Dart
from studio.curves import Chain, Point, meetings, tolerance
from studio.cut.copies import Leg, copy_words
from studio.design.cloth import Shortage
from studio.errors import GeometryRefused
from studio.memo import Remembered
from studio.sew.cut_line import cut_outline_points
from studio.sew.mouth import Mouth, mouths_in, roof_inside, roofed_inside
from studio.sew.roof import Roof, straight_over
from studio.sew.sewn import SewnPiece
from studio.sew.stretch_words import stretch_words
from studio.sew.topstitch import moved


def shorted(sewn: SewnPiece, shortages: Sequence[Shortage], leg: Leg = "") -> SewnPiece:
    """The piece with the lines its short copies are cut to, beside its second lines, and the words
    for them; `leg` is the one its panel is drawn as. A shortage of an edge or a copy that is not
    there is left out.
    """
    names = [edge.name for edge in sewn.piece.outline]
    known = [
        one
        for one in shortages
        if one.piece == sewn.piece.name
        and one.edge in names
        and 0 <= one.copy < sewn.piece.quantity
    ]
    if not known:
        return sewn
    lines = [short_line(sewn, one) for one in known]
    return replace(
        sewn,
        second=(*sewn.second, *(line for line in lines if line is not None)),
        short=tuple(short_words(sewn, one, leg) for one in known),
    )


def short_line(sewn: SewnPiece, short: Shortage) -> Chain | None:
    """The line that is left to cut along: in from the cut line, along the edge, out again. None
    for a corner, which has no stretch of its own, and where a corner has taken all of it. Within
    0.01 mm of the true parallel.

    Over an open dart it has a roof where the cut line has one. A stretch that ends in the mouth
    takes in all of it, and goes in or out along a leg. Where the cut line is cut back by a corner,
    it ends where it meets that.
    """
    return _line(sewn, short).line


def straight_words(sewn: SewnPiece, short: Shortage) -> tuple[str, ...]:
    """Sentences on darts over which that line runs straight, though the cut line does not."""
    return tuple(straight_over("narrower line", dart) for dart in _line(sewn, short).straight)


class _ShortLine(msgspec.Struct, frozen=True):
    """A line that is left to cut along, and the darts over which it has no roof as it should."""

    line: Chain | None
    straight: tuple[Dart, ...] = ()


def _line_of(sewn: SewnPiece, short: Shortage) -> _ShortLine:
    names = [edge.name for edge in sewn.piece.outline]
    at = names.index(short.edge)
    edge, width = sewn.piece.outline.edges[at], sewn.allowances[at]
    start, end = max(short.start, 0.0), min(short.end, edge.length)
    if end - start <= tolerance.CORNER_MM:
        return _ShortLine(None)
    left = max(width - short.missing, 0.0)
    if left > 0.0:
        mouths = [one for one in mouths_in(sewn, at) if one.low <= end and start <= one.high]
        made = _roofed(sewn, edge.chain, (start, end), (left, width), mouths) if mouths else None
        if made is not None:
            return made
    stretch = edge.chain.between(start, end)
    inner = moved(stretch, -left) if left > 0.0 else stretch
    out = width - left
    first = inner.start + inner.start_tangent.right() * out
    last = inner.end + inner.end_tangent.right() * out
    return _ShortLine(_from_the_cut_line(sewn, short.edge, first, inner, last))


def _roofed(
    sewn: SewnPiece,
    edge: Chain,
    stretch: tuple[float, float],
    widths: tuple[float, float],
    mouths: Sequence[Mouth],
) -> _ShortLine | None:
    """The line of a stretch in which mouths of darts lie, or beside which: that along all of the
    edge, with its roofs, cut off where the stretch ends. `widths` (mm) are what is left and the
    whole. None where nothing of it lies outside a roof's slope.
    """
    outline, darts, name = sewn.piece.outline, sewn.piece.darts, mouths[0].dart.edge
    line, straight = roofed_inside(moved(edge, -widths[0]), widths[0], outline, mouths, darts)
    roofs = [
        (one, roof)
        for one in mouths
        if one.dart not in straight
        and (roof := roof_inside(one, widths[0], outline, darts)) is not None
    ]
    inner_first, first = _end(edge, stretch[0], widths, roofs, is_last=False)
    inner_last, last = _end(edge, stretch[1], widths, roofs, is_last=True)
    from_there, to_there = line.nearest(inner_first)[0], line.nearest(inner_last)[0]
    if to_there - from_there <= tolerance.CORNER_MM:
        return None
    told = tuple(one.dart for one in mouths if one.dart in straight and one.is_met(*stretch))
    inner = line.between(from_there, to_there)
    return _ShortLine(_from_the_cut_line(sewn, name, first, inner, last), told)


def _end(
    edge: Chain,
    at: float,
    widths: tuple[float, float],
    roofs: Sequence[tuple[Mouth, Roof]],
    *,
    is_last: bool,
) -> tuple[Point, Point]:
    """Where a stretch's line ends, and where the cut line is met from there: along the leg under
    the slope of a roof, square to the edge elsewhere.
    """
    for mouth, inside in roofs:
        leg = mouth.leg_at(at, is_last=is_last)
        if leg == "first":
            return inside.first, mouth.roof.first
        if leg == "last":
            return inside.last, mouth.roof.last
    foot, along = edge.at_and_along(at)
    return foot + along.right() * widths[0], foot + along.right() * widths[1]


def _from_the_cut_line(
    sewn: SewnPiece, name: str, first: Point, inner: Chain, last: Point
) -> Chain | None:
    """A line beside an edge with its ends led out to the cut line, or cut off where it crosses that
    of a corner or of another edge; None when all of it lies beyond that.
    """
    whole = Chain.straight(first, inner.start).then(inner).then(Chain.straight(inner.end, last))
    # Along its own edge both may run on one leg of a dart.
    met = [at for one in sewn.cut_line if one.name != name for at in _met(whole, one.chain)]
    if not met:
        return whole
    ground = shapely.Polygon(cut_outline_points(sewn.cut_line))
    inside = [
        (high - low, low, high)
        for low, high in itertools.pairwise((0.0, *sorted(met), whole.length))
        if high - low > tolerance.CORNER_MM and _covers(ground, whole.at((low + high) / 2.0))
    ]
    return whole.between(*max(inside)[1:]) if inside else None


def _covers(ground: shapely.Polygon, at: Point) -> bool:
    return bool(ground.covers(shapely.Point(at.x, at.y)))


def _met(line: Chain, other: Chain) -> list[float]:
    try:
        return [meeting.first for meeting in meetings(line, other)]
    except GeometryRefused:
        # It runs along it, at the end of an edge without allowance beside it.
        return []


def short_words(sewn: SewnPiece, short: Shortage, leg: Leg = "") -> str:
    """Such as "right: back.rise, 205 to 240 from the crotch, 6.7 mm wide instead of 12.0 mm".

    Raises:
        ValueError: the piece has no such edge.
    """
    where = stretch_words(sewn.piece.outline, short.edge, short.start, short.end)
    width = whole_width(sewn, short)
    copy = copy_words(sewn.piece, short.copy, {sewn.piece.panel: leg})
    left, whole = numbers.length(max(width - short.missing, 0.0)), numbers.length(width)
    return f"{copy + ': ' if copy else ''}{where}, {left} wide instead of {whole}"


def whole_width(sewn: SewnPiece, short: Shortage) -> float:
    """How wide the allowance would be, mm: its edge's own, or at a corner how far the cut line
    reaches out from the sewing line's corner. Raises ValueError when there is no such edge.
    """
    at = [edge.name for edge in sewn.piece.outline].index(short.edge)
    if is_corner(short):
        return corner_reach(sewn, sewn.piece.outline.edges[at].chain.end)
    return sewn.allowances[at]


def is_corner(short: Shortage) -> bool:
    """Whether it speaks of the corner at the end of its edge."""
    return short.end - short.start <= tolerance.CORNER_MM


def corner_reach(sewn: SewnPiece, corner: Point) -> float:
    """How far the cut line reaches out from a corner of the sewing line, mm: to the farthest place
    of it, looked at every millimetre, to which the corner is the nearest.
    """
    ring = shapely.linearrings(sewn.piece.outline.polyline())
    cut = shapely.Polygon(cut_outline_points(sewn.cut_line)).exterior
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(cut, 1.0)))
    far = shapely.distance(places, shapely.Point(corner.x, corner.y))
    own = far <= shapely.distance(places, ring) + tolerance.CORNER_MM
    return float(far[own].max()) if own.any() else 0.0


_line = Remembered(_line_of, 64)
