"""Allowances a maker does without on one copy of a piece: the narrower line, and what it is."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import msgspec
import shapely
from msgspec.structs import replace

from studio import numbers
from studio.block.panel import Dart
from studio.curves import Chain, Point, crossings, tolerance
from studio.cut.copies import Leg, copy_words
from studio.design.cloth import Shortage
from studio.errors import Told
from studio.memo import remembered
from studio.numbers import LengthUnit
from studio.sew.cut_line import cut_outline_points
from studio.sew.joint import LONGEST_MITRE
from studio.sew.mouth import Mouth, mouths_in, roof_inside, roofed_inside
from studio.sew.parallel import moved
from studio.sew.roof import Roof, straight_over
from studio.sew.sewn import SewnPiece
from studio.sew.stretch_words import stretch_words

_SEEN_MM = 0.5
"""A line that ends so near the cut line reaches it for the shears, mm: a fine pencil line."""

_LOOKED_AT = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Where along a line that crosses no cut line it is asked whether it lies inside, as a share."""


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
    it ends where it meets that, and where a corner reaches further out, it goes on to there.
    """
    return _line(sewn, short).line


def straight_words(sewn: SewnPiece, short: Shortage) -> tuple[str, ...]:
    """Sentences on darts over which that line runs straight, though the cut line does not."""
    return tuple(straight_over("narrower line", dart) for dart in _line(sewn, short).straight)


class Fault(msgspec.Struct, frozen=True):
    """What keeps shears from following a line: how much of it is wanting, mm, and a sentence."""

    wanting: float
    words: str


def faults(sewn: SewnPiece, short: Shortage) -> tuple[Fault, ...]:
    """Where the line of a shortage cannot be followed from cut line to cut line."""
    made = _line(sewn, short)
    left = numbers.length(max(whole_width(sewn, short) - short.missing, 0.0))
    if made.line is None:
        return () if is_corner(short) else (_none_drawn(short, left),)
    found = [
        Fault(
            gap,
            f"The narrower line ends {numbers.length(gap)} short of the cut line at its {end}: "
            "prolong it there with a ruler before you cut along it.",
        )
        for end, gap in zip(("start", "end"), made.apart, strict=True)
        if gap > 0.0
    ]
    if made.lost > 0.0:
        found.append(
            Fault(
                made.lost,
                f"The cut line crosses the narrower line: {numbers.length(made.lost)} of it beyond "
                f"are not drawn. Mark them {left} outside the sewing line by hand.",
            )
        )
    if made.looped > 0.0:
        found.append(
            Fault(
                made.looped,
                f"The narrower line crosses itself, {numbers.length(made.looped)} of it in a loop: "
                f"{left} is wider than the hollow is round. Cut past the loop, from the crossing "
                "on.",
            )
        )
    return tuple(found)


def _none_drawn(short: Shortage, left: str) -> Fault:
    wanting = short.end - short.start
    return Fault(
        wanting,
        f"No narrower line is drawn for the {numbers.length(wanting)} of it: a corner has cut them "
        f"off, or leaves no more than {left}. Cut that copy along the cut line there.",
    )


class _ShortLine(msgspec.Struct, frozen=True):
    """A line that is left to cut along, and the darts over which it has no roof as it should; how
    far its start and end lie inside the cut line, how much of it beyond a crossing is not drawn and
    how much runs round in loops, all in mm.
    """

    line: Chain | None
    straight: tuple[Dart, ...] = ()
    apart: tuple[float, float] = (0.0, 0.0)
    lost: float = 0.0
    looped: float = 0.0


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
    first = inner.start.off(inner.start_tangent.right(), out)
    last = inner.end.off(inner.end_tangent.right(), out)
    return _from_the_cut_line(sewn, short.edge, first, inner, last)


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
    return replace(_from_the_cut_line(sewn, name, first, inner, last), straight=told)


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
    return foot.off(along.right(), widths[0]), foot.off(along.right(), widths[1])


def _from_the_cut_line(
    sewn: SewnPiece, name: str, first: Point, inner: Chain, last: Point
) -> _ShortLine:
    """A line beside an edge with its ends led out to the cut line, or cut off where it crosses that
    of a corner or of another edge; none when all of it lies beyond that.
    """
    whole = Chain.straight(first, inner.start).then(inner).then(Chain.straight(inner.end, last))
    # Along its own edge both may run on one leg of a dart.
    met = [at for one in sewn.cut_line if one.name != name for at in crossings(whole, one.chain)]
    ground = shapely.Polygon(cut_outline_points(sewn.cut_line))
    line, lost = whole, 0.0
    if met:
        inside = [
            (high - low, low, high)
            for low, high in itertools.pairwise((0.0, *sorted(met), whole.length))
            if high - low > tolerance.CORNER_MM and _covers(ground, whole.at((low + high) / 2.0))
        ]
        if not inside:
            return _ShortLine(None)
        longest = max(inside)
        line = whole.between(*longest[1:])
        own = (first.distance_to(inner.start), whole.length - inner.end.distance_to(last))
        lost = sum(_shared(part, own) for part in inside if part != longest)
    elif not any(_covers(ground, inner.at(share * inner.length)) for share in _LOOKED_AT):
        return _ShortLine(None)
    backwards, from_start = _led_out(line.reversed(), sewn, ground)
    line, to_end = _led_out(backwards.reversed(), sewn, ground)
    lost = lost if lost > _SEEN_MM else 0.0
    return _ShortLine(line, (), (from_start, to_end), lost, _looped(inner))


def _led_out(line: Chain, sewn: SewnPiece, ground: shapely.Polygon) -> tuple[Chain, float]:
    """A line that goes on as it ends up to the cut line, and how far from that it ends after all,
    mm; one that ends on it, or beyond, as it is.
    """
    end = line.end
    apart = float(ground.exterior.distance(shapely.Point(end.x, end.y)))
    if apart <= _SEEN_MM or not _covers(ground, end):
        return line, 0.0
    reach = LONGEST_MITRE * max(sewn.allowances)
    ray = Chain.straight(end, end + line.end_tangent * reach)
    met = [
        at for one in sewn.cut_line for at in crossings(ray, one.chain) if at > tolerance.CORNER_MM
    ]
    return (line.then(ray.between(0.0, min(met))), 0.0) if met else (line, apart)


def _shared(part: tuple[float, float, float], own: tuple[float, float]) -> float:
    """How much of a part of a line, from and to mm along it, lies between two places of it."""
    return max(0.0, min(part[2], own[1]) - max(part[1], own[0]))


def _looped(line: Chain) -> float:
    """How much of a line runs round in loops where it crosses itself, mm."""
    flat = shapely.LineString(line.polyline(tolerance.FLAT_MM))
    if flat.is_simple:
        return 0.0
    rings = shapely.polygonize([shapely.unary_union(flat)])
    return float(sum(ring.exterior.length for ring in rings.geoms))


def _covers(ground: shapely.Polygon, at: Point) -> bool:
    return bool(ground.covers(shapely.Point(at.x, at.y)))


def short_words(sewn: SewnPiece, short: Shortage, leg: Leg = "") -> Told:
    """Such as "right: back.rise, 205 to 240 mm from the crotch, 6.7 mm wide instead of 12.0 mm".

    Raises:
        ValueError: the piece has no such edge.
    """
    where = stretch_words(sewn.piece.outline, short.edge, short.start, short.end)
    whole = whole_width(sewn, short)
    left = max(whole - short.missing, 0.0)
    copy = copy_words(sewn.piece, short.copy, {sewn.piece.panel: leg})
    return Told(
        f"{copy + ': ' if copy else ''}{where}, {numbers.length(left)} wide instead of "
        f"{numbers.length(whole)}",
        (*where.exact, left, whole),
    )


def short_in(sewn: SewnPiece, unit: LengthUnit) -> tuple[str, ...]:
    """Which copy is cut with less allowance, where and how much, lengths in a unit."""
    names = [sewn.piece.name, *(edge.name for edge in sewn.piece.outline)]
    return tuple(numbers.retold(said, unit, names=names) for said in sewn.short)


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


_line = remembered(_line_of, 64)
