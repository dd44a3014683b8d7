"""Where stitching that ends at the edge of a patch goes on, marked on the piece it is laid on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from studio.curves import Point
from studio.cut.piece import Piece
from studio.design.topstitch import Topstitch
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.notches import APART
from studio.sew.sewn import MeasuredJoin, Stretch
from studio.sew.topstitch import RUNS_OUT_MM, asked_rows

INSIDE_MM = 3.0
"""A match mark lies so far inside the patch's edge, as those of its corners do: the patch covers
the hole (practice)."""


def match_marks(
    join: MeasuredJoin, pieces: Mapping[str, Piece], asked: Sequence[Topstitch]
) -> tuple[tuple[str, Point], ...]:
    """Places to drill where rows the maker asks for on a patch run out at its edge, each with the
    piece that bears the line along which the patch is laid: no notch can be cut there.

    Rows nearer to each other than notches may be share one; the corner of a patch, which is drilled
    anyway, stands for a row that ends near it.

    Raises:
        GeometryRefused: a piece has no edge or mark that `asked` names.
    """
    if not asked or CONSTRUCTIONS[join.join.construction].is_notched:
        return ()
    found: list[tuple[str, Point]] = []
    for side, mirrored, other in (
        (join.a, join.join.a.mirrored, join.b),
        (join.b, not join.join.b.mirrored, join.a),
    ):
        marks = {one.edge.name: one for one in other.stretches if one.ground is None}
        for one in side.stretches:
            mark = marks.get(one.edge.name)
            if one.ground is not None and mark is not None:
                ends = _ends_on(one, pieces[one.piece], asked)
                found += _drilled(one, mark, ends, is_against=mirrored)
    return tuple(found)


def _ends_on(one: Stretch, piece: Piece, asked: Sequence[Topstitch]) -> list[float]:
    """Where rows run out on a stretch, mm on the edge first drawn, in order and apart."""
    found: list[float] = []
    for place in sorted(_places(one, piece, asked)):
        if not found or place - found[-1] > APART:
            found.append(place)
    return found


def _places(one: Stretch, piece: Piece, asked: Sequence[Topstitch]) -> Iterator[float]:
    chain = one.edge.chain
    for row in asked:
        if row.piece != piece.name or row.along == one.edge.name:
            continue
        for line in asked_rows(piece, (row,)):
            for end in (line.start, line.end):
                along, off = chain.nearest(end)
                if off < RUNS_OUT_MM and APART < along < chain.length - APART:
                    yield one.edge.place(along)


def _drilled(
    one: Stretch, mark: Stretch, places: Sequence[float], *, is_against: bool
) -> Iterator[tuple[str, Point]]:
    """Places of a patch's edge on the line it is laid along, moved inside the patch, which lies to
    the left of its edges walked counter-clockwise; `is_against` when the stretch is not.
    """
    line = mark.edge.chain
    is_left = (one.edge.start <= one.edge.end) != is_against
    for place in places:
        along = mark.edge.along(place)
        if 0.0 <= along <= line.length:
            at, way = line.at_and_along(along)
            way = way if mark.edge.start <= mark.edge.end else way * -1.0
            yield mark.piece, at + (way.left() if is_left else way.right()) * INSIDE_MM
