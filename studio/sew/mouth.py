"""Mouths of open darts under the roofs of a cut line, for narrower lines inside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from studio.block.panel import Dart
from studio.curves import Chain, Outline, tolerance
from studio.sew.pressing import Leg
from studio.sew.roof import Roof, laid_in, roof_over, roofs_of
from studio.sew.sewn import CutEdge, SewnPiece


class Mouth(msgspec.Struct, frozen=True):
    """The mouth of a dart, from `start` to `end` mm along its edge, which is at `index` in its
    outline. The cut line has a `roof` over it, which reaches from `low` to `high`, seen square from
    the edge.
    """

    dart: Dart
    index: int
    start: float
    end: float
    low: float
    high: float
    roof: Roof

    def is_met(self, start: float, end: float) -> bool:
        """Whether any of it lies in a stretch of its edge, mm along."""
        room = tolerance.CORNER_MM
        return start < self.end - room and end > self.start + room

    def leg_at(self, at: float, *, is_last: bool) -> Leg | None:
        """The leg along which a stretch of the edge ends that starts, or ends (`is_last`), on the
        roof, mm along; None when it does so elsewhere.
        """
        if not self.low <= at <= self.high:
            return None
        return "first" if at <= self.start or (at < self.end and not is_last) else "last"


def mouths_on(
    index: int,
    line: Sequence[CutEdge],
    outline: Outline,
    allowances: Sequence[float],
    darts: Sequence[Dart],
) -> tuple[Mouth, ...]:
    """The mouths in one edge of an outline over which its cut line has roofs, in no order. A line
    inside goes straight over the others, as the cut line does.
    """
    edge = outline.edges[index]
    chain, own = edge.chain, [dart for dart in darts if dart.edge == edge.name]
    found = []
    for at, dart, roof in roofs_of(line, outline, allowances, own):
        if at != index:
            continue
        start, end = chain.distance_of(dart.first), chain.distance_of(dart.last)
        low = chain.between(0.0, start).nearest(roof.first)[0]
        high = end + chain.between(end, chain.length).nearest(roof.last)[0]
        found.append(Mouth(dart, index, start, end, low, high, roof))
    return tuple(found)


def mouths_in(sewn: SewnPiece, index: int) -> tuple[Mouth, ...]:
    """The mouths in one edge of a piece over which its cut line has roofs, in no order."""
    piece = sewn.piece
    return mouths_on(index, sewn.cut_line, piece.outline, sewn.allowances, piece.darts)


def roof_inside(mouth: Mouth, width: float, outline: Outline, darts: Sequence[Dart]) -> Roof | None:
    """The roof of the line `width` mm outside a mouth's edge, under that of the cut line; None when
    none can be made.
    """
    return roof_over(outline, mouth.index, mouth.dart, darts, width) if width > 0.0 else None


def roofed_inside(
    line: Chain, width: float, outline: Outline, mouths: Iterable[Mouth], darts: Sequence[Dart]
) -> tuple[Chain, tuple[Dart, ...]]:
    """The line `width` mm outside an edge with a roof over each of the mouths, and the darts over
    which it stays straight, because no roof can be made. Folded, a roof lies on the line within
    0.01 mm.
    """
    straight = []
    for mouth in mouths:
        name = mouth.dart.edge
        roof = roof_inside(mouth, width, outline, darts)
        laid = None if roof is None else laid_in((CutEdge(name, line),), name, roof)
        if laid is None:
            straight.append(mouth.dart)
        else:
            line = laid[0].chain
    return line, tuple(straight)
