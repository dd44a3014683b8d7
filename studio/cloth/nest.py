"""A piece with ever less of its allowances: the outlines by which a place is sought that loses
least.
"""

from __future__ import annotations

import msgspec

from studio.block import Dart
from studio.cloth.stance import Stance
from studio.curves import Affine, Point, tolerance
from studio.design.cloth import Place
from studio.sew import SewnPiece, cut_line
from studio.sew.roof import roofed, roofs_of

SHARES = (1.0, 0.75, 0.5, 0.25, 0.0)
"""How much of the allowances each outline of a nest has."""


class Nest(msgspec.Struct, frozen=True):
    """The outlines of a piece in its stance, with all, three quarters, half, a quarter and none of
    its allowances; closed lines, chords within `FLAT_MM`.
    """

    outlines: tuple[tuple[Place, ...], ...]

    @property
    def cut(self) -> tuple[Place, ...]:
        """With its whole allowances."""
        return self.outlines[0]

    @property
    def sewing(self) -> tuple[Place, ...]:
        """Without any."""
        return self.outlines[-1]


def nest_of(sewn: SewnPiece, stance: Stance) -> Nest:
    """The nest of a piece in a stance. Between cut line and sewing line open darts have roofs where
    the cut line has; corners are mitred, those of hems too: best effort, since only the search goes
    by them.
    """
    outline, allowances, darts = sewn.piece.outline, sewn.allowances, sewn.piece.darts
    over = tuple(dart for _, dart, _ in roofs_of(sewn.cut_line, outline, allowances, darts))
    between = [_points(sewn, over, share, stance.move) for share in SHARES[1:-1]]
    return Nest((stance.cut, *between, stance.sewing))


def _points(
    sewn: SewnPiece, over: tuple[Dart, ...], share: float, move: Affine
) -> tuple[Place, ...]:
    widths = tuple(width * share for width in sewn.allowances)
    edges, _ = cut_line(sewn.piece.outline, widths)
    edges, _ = roofed(edges, sewn.piece.outline, widths, (), over)
    found: list[Place] = []
    for edge in edges:
        places = edge.chain.polyline(tolerance.FLAT_MM)[:-1]
        found += [(at.x, at.y) for at in (move(Point(x, y)) for x, y in places)]
    return tuple(found)
