"""What of a piece is not on the cloth where it lies: which stretch of which allowance, how deep."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import msgspec
import numpy as np
import shapely
from msgspec.structs import replace
from shapely import MultiPolygon, Polygon
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from studio import numbers
from studio.cloth.bed import Bed, areas_of
from studio.cloth.enclosed import enclosed
from studio.cloth.items import Way
from studio.cloth.over_mouth import depth_lost
from studio.cloth.stance import lying
from studio.curves import Affine, Chain, Outline, Point, tolerance
from studio.design.cloth import Placement, Shortage
from studio.errors import Told
from studio.sew import SewnPiece, cut_outline_points
from studio.sew.mouth import Mouth, mouths_in
from studio.sew.stretch_words import stretch_words

STATION_MM = 5.0
"""Allowances are looked at so often along an edge."""

TOLD_MM = 0.05
"""What is missing by less is not told: half of the last digit shown."""

PLAY_MM = 0.3
"""So much more than is missing is given up, so that the piece can be laid by hand."""

_CORNER_STEP = 1.0


class Missing(msgspec.Struct, frozen=True):
    """A stretch of an edge, from `start` to `end` mm counter-clockwise, along which up to `depth`
    of the `of` mm of its allowance are not there; all of it where the sewing line itself is not.
    A stretch of no length is the corner at that end, measured out from the sewing line's corner to
    the farthest place of the cut line there.
    """

    edge: str
    start: float
    end: float
    depth: float
    of: float
    left: float | None = None
    """Of a corner: how far out from the sewing line's corner all of it is there."""

    @property
    def crosses(self) -> bool:
        """Whether the sewing line is reached."""
        return self.depth >= self.of - TOLD_MM

    @property
    def is_corner(self) -> bool:
        """Whether it is a corner beyond the end of the edge."""
        return self.end - self.start <= tolerance.CORNER_MM


class Lying(msgspec.Struct, frozen=True):
    """A piece where it lies, exactly: what is `missing`, run by run; its whole cut outline lacks
    `area` mm2 and what its sewing line encloses lacks `inside` mm2. `hole` is how far across the
    largest place is, mm, that is not there although no stretch of an edge tells of it: a hole, or
    another piece, inside the sewing line.
    """

    placement: Placement
    missing: tuple[Missing, ...]
    area: float
    inside: float
    hole: float = 0.0

    @property
    def fits(self) -> bool:
        """Whether nothing is missing that could be told."""
        return not self.missing and not self.hole

    @property
    def crosses(self) -> bool:
        """Whether what the sewing line encloses is not all there: never a matter of allowances."""
        return bool(self.hole) or any(one.crosses for one in self.missing)


def missing_at(sewn: SewnPiece, way: Way, placement: Placement, bed: Bed) -> Lying:
    """What of a piece is not on a bed's usable cloth where it is placed. Depths are exact at every
    station; a run begins and ends half a station off at most. Lengths are those of the piece as it
    is sewn, before its cloth shrinks.
    """
    there = way.stance.move.then(lying(way.stance, placement, bed.warp))
    back = there.inverse()
    ground = shapely.make_valid(affine_transform(bed.usable, _numbers(back)))
    cut = enclosed(cut_outline_points(sewn.cut_line, tolerance.FLAT_MM))
    ground = areas_of(ground.intersection(shapely.box(*cut.buffer(1.0).bounds)))
    lost = cut.difference(ground)
    seam = enclosed(sewn.piece.outline.polyline())
    inside = float(seam.difference(ground).area)
    if lost.is_empty:
        return Lying(placement, (), 0.0, 0.0)
    shapely.prepare(ground)
    found: list[Missing] = []
    for index, (edge, width) in enumerate(zip(sewn.piece.outline, sewn.allowances, strict=True)):
        mouths = mouths_in(sewn, index)
        depths = _beside_mouths(_depths(edge.chain, width, cut, ground), mouths)
        runs = _runs(edge.name, depths, edge.length, width)
        if mouths:
            runs += _over_mouths(mouths, sewn.piece.outline, width, lost)
            runs = _as_one(sorted(runs, key=lambda one: one.start), STATION_MM / 2.0)
        found += runs
    found += _corners(sewn.piece.outline, cut, ground, lost)
    hole = 0.0
    if not any(one.crosses for one in found):
        hole = _across(seam.difference(ground))
        if not found and not hole and _across(lost):
            found.append(_between_stations(sewn, seam, lost))
    scale = abs(there.xx * there.yy - there.xy * there.yx)
    return Lying(placement, tuple(found), float(lost.area) * scale, inside * scale, hole)


def missing_words(missing: Missing, outline: Outline) -> Told:
    """Such as "back.rise, 205 to 240 mm from the crotch: up to 5.3 mm of 12.0 mm missing"."""
    where = stretch_words(outline, missing.edge, missing.start, missing.end)
    if missing.crosses:
        return Told(f"{where}: the sewing line is off the cloth", where.exact)
    depth, whole = numbers.length(missing.depth), numbers.length(missing.of)
    lengths = (*where.exact, missing.depth, missing.of)
    return Told(f"{where}: up to {depth} of {whole} missing", lengths)


def hole_words(found: Lying) -> tuple[Told, ...]:
    """A sentence on what is not there inside the sewing line; none where all of it is, or where
    stretches of edges tell of it.
    """
    if not found.hole:
        return ()
    across = numbers.length(found.hole)
    return (Told(f"inside its sewing line a place {across} across is not free", (found.hole,)),)


def shortages_of(lying_there: Lying, outline: Outline) -> tuple[Shortage, ...]:
    """The shortages a maker would accept to cut a piece of that outline where it lies: `PLAY_MM`
    deeper, rounded up to a tenth, and stretches longer by a station at both ends, so that it lies
    there with a little play. None when the sewing line is off the cloth, which is no matter of
    allowances.
    """
    if lying_there.crosses:
        return ()
    at = lying_there.placement
    # Two that overlap would be one and the same to whoever takes them.
    runs = _as_one(_longer(one, outline) for one in lying_there.missing if not one.is_corner)
    corners = (one for one in lying_there.missing if one.is_corner)
    return tuple(
        Shortage(at.piece, at.copy, one.edge, one.start, one.end, _given_up(one))
        for one in (*runs, *corners)
    )


def _across(lost: BaseGeometry) -> float:
    """The diameter of the largest circle in what is lost, mm; 0 where that is not told."""
    parts = [part for part in getattr(lost, "geoms", (lost,)) if isinstance(part, Polygon)]
    circles = (
        shapely.maximum_inscribed_circle(part, TOLD_MM / 4.0)
        for part in parts
        if part.area > TOLD_MM**2
    )
    radius = max((float(circle.length) for circle in circles), default=0.0)
    return 2.0 * radius if radius > TOLD_MM else 0.0


def _between_stations(sewn: SewnPiece, seam: Polygon, lost: BaseGeometry) -> Missing:
    """What is lost of an allowance between two stations: a small flaw, or a corner of the cloth."""
    _, there = nearest_points(seam, lost)
    at = Point(there.x, there.y)
    index, (along, off) = min(
        enumerate(edge.chain.nearest(at)[:2] for edge in sewn.piece.outline),
        key=lambda one: one[1][1],
    )
    edge, width = sewn.piece.outline.edges[index], sewn.allowances[index]
    half = STATION_MM / 2.0
    start, end = max(along - half, 0.0), min(along + half, edge.length)
    return Missing(edge.name, start, end, max(width - off, TOLD_MM), width)


def _longer(run: Missing, outline: Outline) -> Missing:
    """A run longer by a station at both ends, as far as its edge goes."""
    end = min(run.end + STATION_MM, outline.edge(run.edge).length)
    return replace(run, start=max(run.start - STATION_MM, 0.0), end=end)


def _given_up(one: Missing) -> float:
    """`PLAY_MM` more than is missing, rounded up to a tenth; something is left."""
    depth = one.depth if one.left is None else one.of - one.left
    return min(math.ceil((depth + PLAY_MM) * 10.0 - 1e-6) / 10.0, one.of - TOLD_MM)


def _depths(
    chain: Chain, width: float, cut: Polygon, ground: Polygon | MultiPolygon
) -> list[tuple[float, float]]:
    """Every station with how much is missing there, mm; infinite where the sewing line is."""
    length = chain.length
    count = max(1, math.ceil(length / STATION_MM))
    stations = [length * k / count for k in range(count + 1)]
    # The ends themselves lie in two edges: a hair inside they belong to one.
    hair = min(tolerance.CORNER_MM * 2.0, length / 4.0)
    places = [min(max(at, hair), length - hair) for at in stations]
    feet = [chain.at(at) for at in places]
    out = [chain.tangent(at).right() for at in places]
    starts = np.array([(at.x, at.y) for at in feet])
    ends = starts + np.array([(way.x, way.y) for way in out]) * max(width, TOLD_MM)
    rays = shapely.linestrings(np.stack([starts, ends], axis=1))
    points = shapely.points(starts)
    off = ~shapely.intersects(ground, points)
    # A sewing line that runs along the cloth's edge is still on it.
    off &= shapely.distance(ground, points) > TOLD_MM
    depths = np.where(off, math.inf, 0.0)
    look = ~off & ~shapely.covers(ground, rays)
    if width > 0.0 and look.any():
        needed = shapely.intersection(rays[look], cut)
        lost = shapely.difference(needed, ground)
        near = shapely.distance(points[look], lost)
        far = shapely.hausdorff_distance(points[look], needed)
        depths[look] = np.nan_to_num(far - near, nan=0.0)
    return list(zip(stations, (float(depth) for depth in depths), strict=True))


def _runs(
    edge: str, depths: Sequence[tuple[float, float]], length: float, width: float
) -> list[Missing]:
    """Stations with something missing, run by run."""
    found: list[Missing] = []
    half = length / max(1, len(depths) - 1) / 2.0
    run: list[tuple[float, float]] = []
    for station in (*depths, (math.inf, 0.0)):
        if station[1] > TOLD_MM:
            run.append(station)
        elif run:
            start, end = max(0.0, run[0][0] - half), min(length, run[-1][0] + half)
            worst = max(depth for _, depth in run)
            found.append(Missing(edge, start, end, min(worst, width), width))
            run = []
    return found


def _beside_mouths(
    depths: Iterable[tuple[float, float]], mouths: Sequence[Mouth]
) -> list[tuple[float, float]]:
    """Stations with what is missing there, but none of the allowance over mouths, which is measured
    where the folded dart lies.
    """
    return [
        (at, depth if math.isinf(depth) or not any(m.start <= at <= m.end for m in mouths) else 0.0)
        for at, depth in depths
    ]


def _over_mouths(
    mouths: Iterable[Mouth], outline: Outline, width: float, lost: BaseGeometry
) -> list[Missing]:
    """What is missing of the allowance over the mouths of an edge, over all their width."""
    found = []
    for mouth in mouths:
        depth = depth_lost(mouth, outline, width, lost)
        if depth > TOLD_MM:
            found.append(Missing(mouth.dart.edge, mouth.start, mouth.end, depth, width))
    return found


def _as_one(runs: Iterable[Missing], apart: float = 0.0) -> list[Missing]:
    """Runs in the order of their edges; those no further `apart` as one, as deep as the deepest."""
    found: list[Missing] = []
    for run in runs:
        if found and run.edge == found[-1].edge and run.start <= found[-1].end + apart:
            last = found.pop()
            end, depth = max(last.end, run.end), max(last.depth, run.depth)
            run = replace(last, end=end, depth=depth)
        found.append(run)
    return found


def _corners(
    outline: Outline,
    cut: Polygon,
    ground: BaseGeometry,
    lost: BaseGeometry,
) -> list[Missing]:
    """What is missing of corners beyond the ends of both edges: along lines from the corner of the
    sewing line to every place of the cut line to which it is the nearest.
    """
    ring = shapely.linearrings(outline.polyline())
    places = shapely.get_coordinates(shapely.segmentize(cut.exterior, _CORNER_STEP))
    reaches = shapely.distance(shapely.points(places), ring)
    found = []
    for edge in outline:
        corner = np.array((edge.chain.end.x, edge.chain.end.y))
        far = np.hypot(*(places - corner).T)
        own = (far <= reaches + tolerance.CORNER_MM) & (far > TOLD_MM)
        if not own.any() or lost.distance(shapely.Point(corner)) > far[own].max():
            continue
        rays = shapely.linestrings(
            np.stack([np.broadcast_to(corner, places[own].shape), places[own]], axis=1)
        )
        near = shapely.distance(shapely.Point(corner), shapely.difference(rays, ground))
        depths = np.nan_to_num(far[own] - near, nan=0.0)
        if depths.max() > TOLD_MM:
            worst, of = float(depths.max()), float(far[own].max())
            left = float(near[depths > TOLD_MM].min())
            found.append(Missing(edge.name, edge.length, edge.length, worst, of, left))
    return found


def _numbers(move: Affine) -> list[float]:
    return [move.xx, move.xy, move.yx, move.yy, move.dx, move.dy]


def sentences(found: Iterable[Missing], outline: Outline) -> tuple[Told, ...]:
    """What is missing in words, the deepest first."""
    ordered = sorted(found, key=lambda one: one.of - one.depth)
    return tuple(missing_words(one, outline) for one in ordered)
