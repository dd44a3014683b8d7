"""Rows of topstitching at the darts of a piece: they end on one leg and go on from the other."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from studio.block.panel import Dart
from studio.curves import Box, Chain, Point, meetings, tolerance
from studio.errors import GeometryRefused
from studio.memo import remembered
from studio.sew.parallel import BEYOND, moved


def parted(chain: Chain, darts: tuple[Dart, ...], distance: float) -> tuple[Chain, ...]:
    """The parallel of an edge inside its piece, in parts from leg to leg of its darts."""
    return _at_legs(chain, darts, distance) if darts else (moved(chain, distance),)


def _at_legs_of(chain: Chain, darts: tuple[Dart, ...], distance: float) -> tuple[Chain, ...]:
    """As `_parted`: beside a mouth the row is the parallel of what is sewn there, prolonged to the
    leg. A dart that is not all in the edge, or so short that the row passes below its point, does
    not part it.
    """
    cuts = []
    for dart in darts:
        mouth = dart.mouth_on(chain)
        if mouth is not None and mouth[1] - mouth[0] > tolerance.CORNER_MM:
            cuts.append((*mouth, dart))
    cuts.sort(key=lambda cut: cut[0])
    while cuts:
        rows, missed = _from_leg_to_leg(chain, cuts, distance)
        if missed is None:
            return rows
        cuts = [cut for cut in cuts if cut[2] is not missed]
    return (moved(chain, distance),)


def _from_leg_to_leg(
    chain: Chain, cuts: Sequence[tuple[float, float, Dart]], distance: float
) -> tuple[tuple[Chain, ...], Dart | None]:
    """The rows between the mouths of darts (where each begins and ends, mm), in order; or the dart
    of which a row meets no leg.
    """
    rows: list[Chain] = []
    at, behind = 0.0, None
    for low, high, dart in (*cuts, (chain.length, chain.length, None)):
        if low - at <= tolerance.CORNER_MM:
            return (), behind or dart
        row: Chain | None = moved(chain.between(at, low), distance)
        if dart is not None and row is not None:
            row = _to_leg(row, dart.first, dart.point, distance)
            if row is None:
                return (), dart
        if behind is not None and row is not None:
            row = _to_leg(row.reversed(), behind.last, behind.point, distance)
            if row is None:
                return (), behind
            row = row.reversed()
        if row is not None:
            rows.append(row)
        at, behind = high, dart
    return tuple(rows), None


def _to_leg(row: Chain, mouth: Point, point: Point, distance: float) -> Chain | None:
    """A row cut back or prolonged to a leg; None when it does not meet it."""
    long = row.prolonged(0.0, abs(distance) * 2.0 + BEYOND)
    found = meetings(long, Chain.straight(mouth, point))
    if not found:
        return None
    end = min(found, key=lambda meeting: abs(meeting.first - row.length)).first
    return long.between(0.0, end) if end > tolerance.CORNER_MM else None


def off_darts(row: Chain, darts: Sequence[Dart]) -> tuple[Chain, ...]:
    """A row that is drawn across darts of a piece, or ends inside one, without what lies between
    their legs.
    """
    if darts and any([row.box.meets(_legs_box(dart)) for dart in darts]):
        return _off_darts(row, tuple(darts))
    return (row,)


def _off_darts_of(row: Chain, darts: tuple[Dart, ...]) -> tuple[Chain, ...]:
    near = [dart for dart in darts if row.box.meets(_legs_box(dart))]
    taken = [part for dart in near for part in _between_legs(row, dart)]
    rows, at = [], 0.0
    for low, high in (*sorted(taken), (row.length, row.length)):
        if low - at > tolerance.CORNER_MM:
            rows.append(row.between(at, low))
        at = max(at, high)
    return tuple(rows)


def _between_legs(row: Chain, dart: Dart) -> Iterator[tuple[float, float]]:
    """From where to where a row lies between the legs of a dart, mm along it. The legs are thought
    as much longer as the mouth is wide: a curved mouth lies outside the line from leg to leg.
    """
    point, further = dart.point, dart.intake
    ends = [mouth + (mouth - point).unit() * further for mouth in (dart.first, dart.last)]
    legs = [Chain.straight(end, point) for end in ends]
    try:
        met = [meeting.first for leg in legs for meeting in meetings(row, leg)]
    except GeometryRefused:
        # It runs along a leg, and so does not cross it.
        return
    for low, high in itertools.pairwise(sorted({0.0, *met, row.length})):
        if high - low > tolerance.CORNER_MM:
            middle = row.at((low + high) / 2.0)
            if _is_between(middle, ends[0], point, ends[1]):
                yield low, high


def _is_between(at: Point, first: Point, point: Point, last: Point) -> bool:
    """Whether a place lies inside the triangle of a dart."""
    corners = (first, point, last)
    turns = [
        (to - corner).cross(at - corner)
        for corner, to in zip(corners, (point, last, first), strict=True)
    ]
    return min(turns) > 0.0 or max(turns) < 0.0


def _legs_box_of(dart: Dart) -> Box:
    return Chain.straight(dart.first, dart.point, dart.last).box


_at_legs = remembered(_at_legs_of, 400)
_off_darts = remembered(_off_darts_of, 400)
_legs_box = remembered(_legs_box_of, 400)
