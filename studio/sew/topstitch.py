"""Rows of topstitching: parallels inside a piece, joined at its corners, run out into its seams."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from studio.block.panel import Dart
from studio.curves import Chain, Edge, Outline, Point
from studio.cut.piece import Piece
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused, Told
from studio.memo import remembered
from studio.sew.allowance import sides_rows
from studio.sew.ease import partner_on_a
from studio.sew.parallel import closed, joined, moved, run_out
from studio.sew.rows_at_darts import off_darts, parted
from studio.sew.rows_on import is_beyond, off_sentence, parts_on
from studio.sew.sewn import MeasuredJoin, MeasuredSide

RUNS_OUT_MM = 1.0
"""A row that ends so near to a seam runs out into it."""


def rows_of(
    outline: Outline, inside: Sequence[tuple[float, ...]], darts: Sequence[Dart] = ()
) -> tuple[Chain, ...]:
    """The rows inside the edges of a piece: `inside` gives distances (mm) for each edge of its
    outline, in order; rows of neighbouring edges at one distance are one row. Within 0.01 mm of
    the true parallel. A row that crosses one of the `darts` ends on one leg and goes on from the
    other.
    """
    found: list[Chain] = []
    for distance in sorted({row for rows in inside for row in rows}):
        stitched = [distance in rows for rows in inside]
        for first, count in _runs(stitched):
            found += _along_edges(outline, first, count, distance, darts)
    return tuple(found)


def asked_rows(piece: Piece, asked: Sequence[Topstitch]) -> tuple[Chain, ...]:
    """The rows the maker asks for along edges and marks of a piece, as far as they lie on it.

    Raises:
        GeometryRefused: the piece has no edge or mark that `asked` names, or no room beside it.
    """
    return tuple(row for one in asked for row in _asked(piece, one))


def rows_that_can_be(
    pieces: Mapping[str, Piece], asked: Sequence[Topstitch]
) -> tuple[tuple[Topstitch, ...], str]:
    """Those of the rows asked for on pieces that can be made, and sentences on the others."""
    kept, told = [], []
    for one in asked:
        try:
            _asked(pieces[one.piece], one)
        except GeometryRefused as refusal:
            told.append(refusal.message)
        else:
            kept.append(one)
    return tuple(kept), Told.joined(told)


def row_ends(
    join: MeasuredJoin, pieces: Mapping[str, Piece], asked: Sequence[Topstitch]
) -> tuple[float, ...]:
    """Where asked rows of either side run out into a join, mm along side a: there both sides are
    marked, so that stitching goes on across the seam.
    """
    if not asked:
        return ()
    found = []
    for side in (join.a, join.b):
        for passed, stretch in side.walked():
            for one in asked:
                if one.piece == stretch.piece and one.along != stretch.edge.name:
                    for row in _asked(pieces[one.piece], one):
                        for end in (row.start, row.end):
                            along = runs_out_at(stretch.edge.chain, end)
                            if along is not None:
                                found.append(_on_a(join, side, passed + stretch.sewn(along)))
    return tuple(found)


def runs_out_at(edge: Chain, end: Point) -> float | None:
    """Where on an edge a row with that end runs out, mm along; None when it does not."""
    if not edge.box.is_near(end, RUNS_OUT_MM):
        return None
    along, off = edge.nearest(end)
    return along if off < RUNS_OUT_MM else None


def _on_a(join: MeasuredJoin, side: MeasuredSide, along: float) -> float:
    """A place of either side as one of side a, mm."""
    if side is join.a:
        return along
    return partner_on_a(join.join, join.a.length, join.b.length, along)


def partial_rows(join: MeasuredJoin, standard: float) -> tuple[tuple[str, Chain], ...]:
    """Rows of a join on edges of which it takes only a part, each with its piece."""
    asked = join.join
    on_a, on_b = sides_rows(asked, standard)
    found = []
    for side, sewn, distances, against in (
        (asked.a, join.a, on_a, asked.a.mirrored),
        (asked.b, join.b, on_b, not asked.b.mirrored),
    ):
        for ref, one in zip(side.edges, sewn.stretches, strict=True):
            if distances and (ref.before or ref.after):
                chain = one.edge.chain.reversed() if against else one.edge.chain
                found += [(one.piece, moved(chain, distance)) for distance in distances]
    return tuple(found)


def _runs(wanted: Sequence[bool]) -> list[tuple[int, int]]:
    """First index and length of each run of wanted edges, round the outline."""
    count = len(wanted)
    if all(wanted):
        return [(0, count)]
    found = []
    for k in range(count):
        if wanted[k] and not wanted[k - 1]:
            length = 1
            while wanted[(k + length) % count]:
                length += 1
            found.append((k, length))
    return found


def _along_edges(
    outline: Outline, first: int, count: int, distance: float, darts: Sequence[Dart]
) -> list[Chain]:
    """Rows inside so many edges from the first on; they may cross the darts of other edges too."""
    edges = outline.edges
    along = [edges[(first + k) % len(edges)] for k in range(count)]
    rows = _from_edge_to_edge(outline, first, along, distance, darts)
    own = {edge.name for edge in along}
    others = tuple([dart for dart in darts if dart.edge not in own])
    return [part for row in rows for part in off_darts(row, others)]


def _from_edge_to_edge(
    outline: Outline,
    first: int,
    along: Sequence[Edge],
    distance: float,
    darts: Sequence[Dart],
) -> list[Chain]:
    edges, count = outline.edges, len(along)
    rows: list[Chain] = []
    for edge in along:
        parts = parted(edge.chain, tuple([d for d in darts if d.edge == edge.name]), distance)
        rows[-1:] = [joined(rows[-1], parts[0], distance)] if rows else [parts[0]]
        rows += parts[1:]
    if count < len(edges):
        before, after = edges[first - 1], edges[(first + count) % len(edges)]
        return _rows_run_out(rows, before.chain, after.chain, distance)
    if len(rows) == 1:
        return [closed(rows[0], distance)]
    last = rows.pop()
    return [joined(last, rows[0], distance), *rows[1:]]


def _rows_run_out(
    rows: list[Chain], before: Chain | None, after: Chain | None, distance: float
) -> list[Chain]:
    """Rows one after the other, the first and the last run into what lies at their outer ends."""
    if len(rows) == 1:
        return [run_out(rows[0], before, after, distance)]
    first, last = run_out(rows[0], before, None, distance), rows[-1]
    return [first, *rows[1:-1], run_out(last, None, after, distance)]


def _asked_of(piece: Piece, asked: Topstitch) -> tuple[Chain, ...]:
    chain = _named(piece, asked.along)
    high = chain.length if asked.end is None else min(asked.end, chain.length)
    if high - asked.start < 1.0:
        raise GeometryRefused(
            f"The topstitching along {asked.along} has no length.", where=piece.name
        )
    stretch = chain.between(max(0.0, asked.start), high)
    before, after = (_line_under(piece, end, asked.along) for end in (stretch.start, stretch.end))
    darts = tuple([dart for dart in piece.darts if dart.edge == asked.along])
    found: list[Chain] = []
    for row in asked.rows:
        is_outside = row < 0.0 and piece.outline.has(asked.along)
        made: list[Chain] = []
        if not is_outside and not is_beyond(piece.outline, row):
            parts = list(parted(stretch, darts, row))
            made = _rows_run_out(parts, before, after, row) if row else parts
        on = [part for one in made for part in parts_on(piece.outline, one)]
        if not on:
            raise GeometryRefused(off_sentence(piece.name, asked.along, row), where=piece.name)
        found += on
    # A line drawn on the piece may run across any of its darts, and be drawn as they lie open.
    return tuple([part for row in found for part in off_darts(row, piece.darts)])


def _line_under(piece: Piece, point: Point, along: str) -> Chain | None:
    """The edge of a piece, other than the one stitched along, on which a point lies; or a line
    drawn on the piece, such as that of a patch, of which it comes within a millimetre.
    """
    for edge in piece.outline:
        if edge.name != along and edge.chain.passes(point) is not None:
            return edge.chain
    for mark in piece.marks:
        if mark.name != along and runs_out_at(mark.chain, point) is not None:
            return mark.chain
    return None


def _named(piece: Piece, name: str) -> Chain:
    for edge in piece.outline:
        if edge.name == name:
            return edge.chain
    for mark in piece.marks:
        if mark.name == name:
            return mark.chain
    raise GeometryRefused(f"{piece.name} has no edge or mark {name} to stitch.", where=piece.name)


_asked = remembered(_asked_of, 400)
