"""Rows of topstitching: parallels inside a piece, joined at its corners, run out into its seams."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from studio.block.panel import Dart
from studio.curves import Box, Chain, Cubic, Outline, Point, meetings, tolerance
from studio.curves.offset import offset_left
from studio.cut.piece import Piece
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused
from studio.memo import Remembered
from studio.sew.allowance import sides_rows
from studio.sew.ease import partner_on_a
from studio.sew.sewn import MeasuredJoin, MeasuredSide

RUNS_OUT_MM = 1.0
"""A row that ends so near to a seam runs out into it."""

_BEYOND = 30.0
"""A row is prolonged by so much, and by twice its distance, to find where it runs out, mm."""


def rows_of(
    outline: Outline, inside: Sequence[tuple[float, ...]], darts: Sequence[Dart] = ()
) -> tuple[Chain, ...]:
    """The rows inside the edges of a piece: `inside` gives distances (mm) for each edge of its
    outline, in order; rows of neighbouring edges at one distance are one row. Within 0.01 mm of
    the true parallel. A row that crosses one of the `darts` of its edge ends on one leg and goes on
    from the other.
    """
    found: list[Chain] = []
    for distance in sorted({row for rows in inside for row in rows}):
        stitched = [distance in rows for rows in inside]
        for first, count in _runs(stitched):
            found += _along_edges(outline, first, count, distance, darts)
    return tuple(found)


def asked_rows(piece: Piece, asked: Sequence[Topstitch]) -> tuple[Chain, ...]:
    """The rows the maker asks for along edges and marks of a piece.

    Raises:
        GeometryRefused: the piece has no edge or mark that `asked` names.
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
    return tuple(kept), " ".join(told)


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
    edges = outline.edges
    rows: list[Chain] = []
    for k in range(count):
        edge = edges[(first + k) % len(edges)]
        parts = _parted(edge.chain, tuple([d for d in darts if d.edge == edge.name]), distance)
        rows[-1:] = [_joined(rows[-1], parts[0], distance)] if rows else [parts[0]]
        rows += parts[1:]
    if count < len(edges):
        before, after = edges[first - 1], edges[(first + count) % len(edges)]
        return _rows_run_out(rows, before.chain, after.chain, distance)
    if len(rows) == 1:
        return [_closed(rows[0], distance)]
    last = rows.pop()
    return [_joined(last, rows[0], distance), *rows[1:]]


def _rows_run_out(
    rows: list[Chain], before: Chain | None, after: Chain | None, distance: float
) -> list[Chain]:
    """Rows one after the other, the first and the last run into what lies at their outer ends."""
    if len(rows) == 1:
        return [_run_out(rows[0], before, after, distance)]
    first, last = _run_out(rows[0], before, None, distance), rows[-1]
    return [first, *rows[1:-1], _run_out(last, None, after, distance)]


def _parted(chain: Chain, darts: tuple[Dart, ...], distance: float) -> tuple[Chain, ...]:
    """The parallel of an edge inside its piece, in parts from leg to leg of its darts."""
    return _at_legs(chain, darts, distance) if darts else (moved(chain, distance),)


def _at_legs_of(chain: Chain, darts: tuple[Dart, ...], distance: float) -> tuple[Chain, ...]:
    """As `_parted`: beside a mouth the row is the parallel of what is sewn there, prolonged to the
    leg. A dart that is not all in the edge, or so short that the row passes below its point, does
    not part it.
    """
    cuts = []
    for dart in darts:
        low, high = chain.passes(dart.first), chain.passes(dart.last)
        if low is not None and high is not None and high - low > tolerance.CORNER_MM:
            cuts.append((low, high, dart))
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
    long = prolonged(row, 0.0, abs(distance) * 2.0 + _BEYOND)
    found = meetings(long, Chain.straight(mouth, point))
    if not found:
        return None
    end = min(found, key=lambda meeting: abs(meeting.first - row.length)).first
    return long.between(0.0, end) if end > tolerance.CORNER_MM else None


def off_darts(row: Chain, darts: Sequence[Dart]) -> tuple[Chain, ...]:
    """A row that is drawn across darts of a piece, without what lies between their legs."""
    if darts and any(row.box.meets(_legs_box(dart)) for dart in darts):
        return _off_darts(row, tuple(darts))
    return (row,)


def _off_darts_of(row: Chain, darts: tuple[Dart, ...]) -> tuple[Chain, ...]:
    taken = []
    for dart in darts:
        ends = [
            meeting.first
            for mouth in (dart.first, dart.last)
            for meeting in meetings(row, Chain.straight(mouth, dart.point))[:1]
        ]
        if len(ends) == 2 and abs(ends[0] - ends[1]) > tolerance.CORNER_MM:
            taken.append((min(ends), max(ends)))
    rows, at = [], 0.0
    for low, high in (*sorted(taken), (row.length, row.length)):
        if low - at > tolerance.CORNER_MM:
            rows.append(row.between(at, low))
        at = max(at, high)
    return tuple(rows)


def _legs_box_of(dart: Dart) -> Box:
    return Chain.straight(dart.first, dart.point, dart.last).box


def moved(chain: Chain, distance: float) -> Chain:
    """The parallel of a chain, `distance` mm to its left (negative: right), its cubics joined."""
    parts = [Chain(offset_left(cubic, distance).cubics) for cubic in chain.cubics]
    whole = parts[0]
    for part in parts[1:]:
        whole = _joined(whole, part, distance)
    return whole


def _joined(one: Chain, two: Chain, distance: float) -> Chain:
    """Two parallels as one: cut back where they cross, prolonged where they do not meet."""
    # Only the cubics beside the corner can meet there.
    corner = _corner(one.cubics[-2:], two.cubics[:2], distance)
    return Chain((*one.cubics[:-2], *corner, *two.cubics[2:]))


def _corner_of(
    before: tuple[Cubic, ...], after: tuple[Cubic, ...], distance: float
) -> tuple[Cubic, ...]:
    one, two = Chain(before), Chain(after)
    if one.end.distance_to(two.start) < tolerance.OFFSET_MM:
        return one.then(two.with_ends(one.end, two.end)).cubics
    reach = abs(distance) * 2.0 + _BEYOND
    first, second = prolonged(one, 0.0, reach), prolonged(two, reach, 0.0)
    middle = one.end.toward(two.start, 0.5)
    found = [m for m in meetings(first, second) if m.first > 0.0]
    if not found:
        return one.then(Chain.straight(one.end, two.start)).then(two).cubics
    best = min(found, key=lambda meeting: meeting.point.distance_to(middle))
    head, tail = first.between(0.0, best.first), second.between(best.second, second.length)
    return (*head.cubics, *tail.with_ends(head.end, tail.end).cubics)


def _closed(chain: Chain, distance: float) -> Chain:
    """A row all round: opened at its middle, its two ends joined like any others."""
    cubics = chain.cubics
    if len(cubics) == 1 or chain.end.distance_to(chain.start) < tolerance.OFFSET_MM:
        return chain
    half = len(cubics) // 2
    turned = _joined(Chain(cubics[half:]), Chain(cubics[:half]), distance)
    return turned.with_ends(turned.start, turned.start)


def _run_out(chain: Chain, before: Chain | None, after: Chain | None, distance: float) -> Chain:
    """A row run into the seams or lines at its ends, where there are any."""
    reach = abs(distance) * 2.0 + _BEYOND
    long = prolonged(chain, reach, reach)
    low, high = reach, long.length - reach
    if before is not None:
        low += _off_start(covering(chain.cubics, reach), before, reach)
    if after is not None:
        high += _off_end(covering(chain.cubics[::-1], reach)[::-1], after, reach)
    return long.between(low, high) if high - low > 1.0 else chain


def covering(cubics: tuple[Cubic, ...], reach: float) -> tuple[Cubic, ...]:
    """As many cubics as are at least so long together, mm."""
    passed = 0.0
    for count, cubic in enumerate(cubics, 1):
        passed += cubic.length
        if passed >= reach:
            return cubics[:count]
    return cubics


def _off_start_of(cubics: tuple[Cubic, ...], edge: Chain, reach: float) -> float:
    """How far from its start (mm, negative before it) a row meets an edge; 0 when it does not."""
    long = prolonged(Chain(cubics), reach, 0.0)
    return _nearest_meeting(long.between(0.0, min(2.0 * reach, long.length)), edge, reach)


def _off_end_of(cubics: tuple[Cubic, ...], edge: Chain, reach: float) -> float:
    """How far from its end (mm, negative before it) a row meets an edge; 0 when it does not."""
    long = prolonged(Chain(cubics), 0.0, reach)
    tail = long.between(max(0.0, long.length - 2.0 * reach), long.length)
    return _nearest_meeting(tail, edge, tail.length - reach)


def _nearest_meeting(tail: Chain, edge: Chain, place: float) -> float:
    """How far behind a place of a row it meets an edge, nearest to that place; 0 when nowhere."""
    found = [meeting.first - place for meeting in meetings(tail, edge)]
    return min(found, key=abs, default=0.0)


def prolonged(chain: Chain, before: float, after: float) -> Chain:
    """A chain with straight stretches along its end directions."""
    cubics = list(chain.cubics)
    if before > 0.0:
        ahead = chain.start + chain.start_tangent * -before
        cubics.insert(0, Cubic.straight(ahead, chain.start))
    if after > 0.0:
        cubics.append(Cubic.straight(chain.end, chain.end + chain.end_tangent * after))
    return Chain(tuple(cubics))


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
        parts = list(_parted(stretch, darts, row))
        found += _rows_run_out(parts, before, after, row) if row else parts
    return tuple(found)


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


_at_legs = Remembered(_at_legs_of, 400)
_off_darts = Remembered(_off_darts_of, 400)
_legs_box = Remembered(_legs_box_of, 400)
_asked = Remembered(_asked_of, 400)
_corner = Remembered(_corner_of, 1600)
_off_start = Remembered(_off_start_of, 800)
_off_end = Remembered(_off_end_of, 800)
