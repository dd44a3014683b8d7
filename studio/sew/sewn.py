"""A piece ready to cut: sewing line, cut line, notches, grainline, label."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from studio.curves import Chain, Edge, Point
from studio.cut.piece import Piece
from studio.design.joins import Join, NotchShape

NotchKind: TypeAlias = Literal["single", "double"]


class Notch(msgspec.Struct, frozen=True, gc=False):
    """A mark that matches two sides of a join: `at` on the sewing line, `tip` where its cut ends
    (between cut line and sewing line), `mouth` on the cut line; `join` names what it matches, and
    `shape` how it is cut.
    """

    at: Point
    mouth: Point
    tip: Point
    kind: NotchKind
    join: str
    shape: NotchShape = "slit"


class CutEdge(msgspec.Struct, frozen=True, gc=False):
    """A stretch of the cut line and the sewing edge it belongs to; joins are called `corner`."""

    name: str
    chain: Chain


class SewnPiece(msgspec.Struct, frozen=True):
    """A piece with all it needs for the shears.

    `allowances` are in mm, one for each edge of the outline in order. `grain` runs from its lower
    to its upper end along the warp. `drills` are places marked inside the piece: dart points and
    patch corners. `rows` are lines of topstitching; `second` are narrower cut lines for
    the side of a pair that is trimmed. `trouble` holds sentences on what of the cut
    line could not be made as asked.
    """

    piece: Piece
    allowances: tuple[float, ...]
    cut_line: tuple[CutEdge, ...]
    notches: tuple[Notch, ...]
    grain: tuple[Point, Point]
    label_at: Point
    drills: tuple[Point, ...] = ()
    trouble: tuple[str, ...] = ()
    rows: tuple[Chain, ...] = ()
    second: tuple[Chain, ...] = ()


class MeasuredSide(msgspec.Struct, frozen=True):
    """One side of a join as found: its stretches in sewing order with the piece each is on, and
    their length in mm with darts closed.
    """

    stretches: tuple[tuple[str, Edge], ...]
    length: float


class MeasuredJoin(msgspec.Struct, frozen=True):
    """A join with both sides measured."""

    join: Join
    a: MeasuredSide
    b: MeasuredSide

    @property
    def difference(self) -> float:
        """Length of side b less length of side a, mm."""
        return self.b.length - self.a.length
