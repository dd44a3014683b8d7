"""A piece made ready for the shears: cut line, notches, grainline, drill marks, label."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence

from studio.block.panel import Dart
from studio.curves import Affine, Chain, Outline, Point
from studio.curves.tolerance import CORNER_MM, SCAN_MM
from studio.cut.piece import Mark, Piece
from studio.design.joins import NotchShape
from studio.memo import remembered
from studio.sew.dart_notches import dart_notches, on_leg
from studio.sew.notches import Notched, NotchPlace, cut_notch
from studio.sew.sewn import Lined, SewnPiece

_INSIDE = 3.0
"""A drill place lies so far inside a patch's corner, mm (practice)."""

_CORNER_FROM = 0.3
"""Sine of the least turn (17 degrees) that is a corner to be drilled."""

_SCANS = 6
_GRAIN_SHARE = 0.6


def sew_piece(
    piece: Piece,
    lined: Lined,
    places: Iterable[NotchPlace] = (),
    rows: tuple[Chain, ...] = (),
    drills: tuple[Point, ...] = (),
    *,
    shape: NotchShape = "slit",
    made_for: str = "",
) -> SewnPiece:
    """Put together what was made for a piece: the lines of its outline, its notches cut to a shape,
    of two at one place the first, all its rows, what is drilled beside darts and corners of
    patches, and whose it is. A notch of a join at the mouth of a dart is cut along the dart's leg.
    """
    outline, allowances = piece.outline, lined.widths
    widths = {edge.name: width for edge, width in zip(outline.edges, allowances, strict=True)}
    notched = Notched(places)
    notches = [
        cut_notch(place, widths[place.edge.name], shape)
        for place in notched.places
        if widths[place.edge.name] > 0.0
    ]
    if piece.darts:
        # Marks that move on a piece leave its darts as they were.
        of_darts = _dart_notches(piece.name, outline, piece.darts, allowances, lined.line, shape)
        notches = [on_leg(notch, of_darts) for notch in notches]
        notches += [notch for place, notch in of_darts if not notched.has(place)]
    low, high = lined.grain
    across = (high - low).unit().right()
    return SewnPiece(
        piece,
        allowances,
        lined.line,
        tuple(notches),
        lined.grain,
        low.toward(high, 0.5) + across * 6.0,
        (*_points_inside(outline, piece.darts), *_patch_corners(piece.marks), *drills),
        lined.trouble,
        rows,
        lined.second,
        made_for,
        folds=lined.folds,
    )


def _points_inside_of(outline: Outline, darts: tuple[Dart, ...]) -> tuple[Point, ...]:
    """The points of darts that lie on a piece: through the edge of a bag or a patch one may run as
    a pleat, and its point is not there to be drilled. Of a pleat, where its stitching ends.
    """
    places = outline.polyline(SCAN_MM) if darts else []
    return tuple(
        [
            end
            for dart in darts
            for end in _sewn_to(dart)
            if any(low < end.y < high for low, high in _inside(places, (end.x,))[0])
        ]
    )


def _sewn_to(dart: Dart) -> tuple[Point, ...]:
    if dart.pleat is None:
        return (dart.point,)
    down = dart.pleat.down
    if down <= 0.0:
        return ()
    legs = (dart.first, dart.last)
    return tuple([end.toward(dart.point, down / end.distance_to(dart.point)) for end in legs])


def patch_corners(marks: tuple[Mark, ...]) -> tuple[Point, ...]:
    """Places to drill for the patches marked on a piece: inside each corner of a patch's outline,
    so that the patch covers the hole.
    """
    found: list[Point] = []
    by_line: dict[str, list[Chain]] = {}
    for mark in marks:
        line, _, stretch = mark.name.rpartition(".")
        if stretch and not stretch.startswith("fold"):
            by_line.setdefault(line, []).append(mark.chain)
    for chains in by_line.values():
        found += _corners_inside(tuple(chains))
    return tuple(found)


def _corners_inside_of(chains: tuple[Chain, ...]) -> list[Point]:
    found = []
    for one, two in zip(chains, (*chains[1:], chains[0]), strict=True):
        meets = one.end.distance_to(two.start) < CORNER_MM
        a, b = one.end_tangent, two.start_tangent
        if meets and one is not two and abs(a.cross(b)) > _CORNER_FROM:
            found.append(one.end + (a.left() + b.left()).unit() * _INSIDE)
    return found


def grainline(outline: Outline, warp: float) -> tuple[Point, Point]:
    """The grainline: three fifths of the longest run along the warp near the piece's middle.

    `warp` is in degrees from +x. Both ends lie inside the piece; measured by scans, best
    effort for the longest.
    """
    turn = Affine.turn(90.0 - warp, Point(0.0, 0.0))
    xx, xy, yx, yy, dx, dy = turn.xx, turn.xy, turn.yx, turn.yy, turn.dx, turn.dy
    points = [(xx * x + xy * y + dx, yx * x + yy * y + dy) for x, y in outline.polyline(SCAN_MM)]
    left, right = min(points)[0], max(points)[0]
    best = (-1.0, Point(*points[0]), Point(*points[0]))
    shares = [(k + 1) / (_SCANS + 1) for k in range(_SCANS)]
    scans = [left + (right - left) * share for share in shares]
    for share, x, runs in zip(shares, scans, _inside(points, scans), strict=True):
        for low, high in runs:
            worth = (high - low) * (1.0 - abs(share - 0.5))
            if worth > best[0]:
                best = (worth, Point(x, low), Point(x, high))
    back = turn.inverse()
    _, low_end, high_end = best
    margin = (1.0 - _GRAIN_SHARE) / 2.0
    return (
        back(low_end.toward(high_end, margin)),
        back(low_end.toward(high_end, 1.0 - margin)),
    )


def _inside(
    points: Sequence[tuple[float, float]], scans: Sequence[float]
) -> list[list[tuple[float, float]]]:
    """Of upright lines, given from left to right, the stretches inside a closed polygon."""
    heights: list[list[float]] = [[] for _ in scans]
    before_x, before_y = points[-1]
    passed = bisect_right(scans, before_x)
    for x, y in points:
        here = bisect_right(scans, x)
        if here != passed:
            for k in range(passed, here) if passed < here else range(here, passed):
                share = (scans[k] - before_x) / (x - before_x)
                heights[k].append(before_y + (y - before_y) * share)
            passed = here
        before_x, before_y = x, y
    for cuts in heights:
        cuts.sort()
    return [list(zip(cuts[::2], cuts[1::2], strict=True)) for cuts in heights]


_dart_notches = remembered(dart_notches, 400)
_patch_corners = remembered(patch_corners, 400)
_points_inside = remembered(_points_inside_of, 400)
_corners_inside = remembered(_corners_inside_of, 400)
