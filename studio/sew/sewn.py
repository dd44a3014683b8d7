"""A piece ready to cut: sewing line, cut line, notches, grainline, label."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

import msgspec

from studio.curves import Chain, Edge, Point
from studio.cut.piece import Piece
from studio.design.joins import Join, NotchShape
from studio.errors import Told
from studio.memo import Made

NotchKind: TypeAlias = Literal["single", "double"]


class Notch(Made, frozen=True, gc=False):
    """A mark that matches two sides of a join: `at` on the sewing line, `tip` where its cut ends
    (between cut line and sewing line), `mouth` on the cut line; `join` names what it matches (a
    join, or the dart at whose mouth it stands), and `shape` how it is cut.
    """

    at: Point
    mouth: Point
    tip: Point
    kind: NotchKind
    join: str
    shape: NotchShape = "slit"


class CutEdge(Made, frozen=True, gc=False):
    """A stretch of the cut line and the sewing edge it belongs to; joins are called `corner`."""

    name: str
    chain: Chain


class SewnPiece(Made, frozen=True):
    """A piece with all it needs for the shears.

    `allowances` are in mm, one for each edge of the outline in order. `grain` runs from its lower
    to its upper end along the warp. `drills` are places marked inside the piece: dart points,
    patch corners, and where a patch's stitching goes on. `rows` are lines of topstitching; `second`
    are narrower cut lines for the side of a pair that is trimmed. `trouble` holds sentences on what
    of the cut line could not be made as asked. `made_for` is whose pattern it is, or its size.
    `short` says which copy is cut with less allowance, where and how much. `folds` are the lines in
    an allowance along which it is folded, but for the sewing line.
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
    made_for: str = ""
    short: tuple[Told, ...] = ()
    folds: tuple[Chain, ...] = ()


class Lined(Made, frozen=True):
    """An outline with its allowances (mm), cut line, grainline, rows and second lines; `trouble` is
    what of the cut line could not be made as asked, `off` what is told of rows it has no room for,
    `folds` the lines along which its allowances are folded.
    """

    widths: tuple[float, ...]
    line: tuple[CutEdge, ...]
    trouble: tuple[str, ...]
    grain: tuple[Point, Point]
    rows: tuple[Chain, ...] = ()
    off: str = ""
    second: tuple[Chain, ...] = ()
    folds: tuple[Chain, ...] = ()


class Ground(msgspec.Struct, frozen=True):
    """What a stretch of a seam lies on, for notching: the whole edge of its piece, the panel, where
    on that edge as first drawn lines of the panel end, mm, the heights of its level lines, whether
    the outline runs on without a corner before that edge and after it, and which edges those are.
    """

    whole: Edge
    panel: str = ""
    ends: tuple[float, ...] = ()
    levels: dict[str, float] = {}
    runs_on: tuple[bool, bool] = (False, False)
    beside: tuple[str, str] = ("", "")


class Stretch(Made, frozen=True):
    """A stretch of a side: the piece, the edge in the sewing direction, where on it the mouths of
    darts begin and end, mm along, in order, its length with them closed, and what it lies on (None
    for a mark). A mouth is passed over: sewn, it has no length.
    """

    piece: str
    edge: Edge
    mouths: tuple[tuple[float, float], ...]
    length: float
    ground: Ground | None = None

    @staticmethod
    def of(
        piece: str,
        edge: Edge,
        mouths: tuple[tuple[float, float], ...] = (),
        ground: Ground | None = None,
    ) -> Stretch:
        """A stretch with its length, mm."""
        taken = sum(high - low for low, high in mouths)
        return Stretch(piece, edge, mouths, edge.length - taken, ground)

    def sewn(self, along: float) -> float:
        """What is sewn, mm, when `along` mm of the open edge are passed."""
        if not self.mouths:
            return along
        return along - sum(min(along, high) - low for low, high in self.mouths if low < along)

    def on_edge(self, sewn: float) -> float:
        """Where on the open edge, mm, so much is sewn: the near leg, where a dart stands there."""
        along = sewn
        for low, high in self.mouths:
            if low >= along:
                break
            along += high - low
        return along


class MeasuredSide(msgspec.Struct, frozen=True):
    """One side of a join as found: its stretches in sewing order, and their length in mm with
    darts closed.
    """

    stretches: tuple[Stretch, ...]
    length: float

    @staticmethod
    def of(stretches: tuple[Stretch, ...]) -> MeasuredSide:
        """A side with its length, mm."""
        return MeasuredSide(stretches, sum([one.length for one in stretches]))

    def walked(self) -> Iterator[tuple[float, Stretch]]:
        """Every stretch with what is sewn before it, mm."""
        passed = 0.0
        for stretch in self.stretches:
            yield passed, stretch
            passed += stretch.length

    def joints(self) -> list[float]:
        """Where one stretch ends and the next begins, mm along."""
        return [passed for passed, _ in self.walked()][1:]


class MeasuredJoin(Made, frozen=True):
    """A join with both sides measured."""

    join: Join
    a: MeasuredSide
    b: MeasuredSide

    @property
    def pieces(self) -> set[str]:
        """The names of the pieces it sews."""
        return {one.piece for side in (self.a, self.b) for one in side.stretches}

    @property
    def difference(self) -> float:
        """Length of side b less length of side a, mm."""
        return self.b.length - self.a.length
