"""The small drawings of the work sheet: what is sewn, on the pieces as they lie by then.

Pieces are dashed, what is sewn is black, what is laid on or caught is blue.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from typing import TypeAlias

from msgspec.structs import replace

from studio.curves import Affine, Box, Chain, Outline, Point, Vector
from studio.curves.point import turn_between
from studio.cut.piece import Piece
from studio.exchange.along import Figure, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.along.stage import Stroke
from studio.exchange.shut_darts import parted_lines, runs_of, shut_lines
from studio.sew import SewnPiece, darts_name
from studio.sew.sewn import MeasuredJoin, MeasuredSide
from studio.sew.walk import Laid, Step, Walk

_Sides: TypeAlias = tuple[list[Stroked], list[Stroked]]

START = "A"
"""The letter at which a seam begins."""

_TICK = 0.03
"""Half a stroke across a seam where it is notched, as a share of the figure's size."""

_SHORT = 0.5
"""A seam is short that takes up less than this share of its pieces."""

_NAME_INSIDE = 30.0
"""The name of a piece stands so far inside its edge, mm."""

_NAMED_FROM = 60.0
"""A stretch of a seam is as long as this, mm, where its piece is named."""

_NEARER = 12.0
"""A notch nearer to the end of a seam is that end, mm."""


def drawn(outline: Outline, stroke: Stroke = "before", move: Affine | None = None) -> list[Stroked]:
    """The edges of a piece, where it lies."""
    chains = [edge.chain for edge in outline]
    return [Stroked(chain.transformed(move) if move else chain, stroke) for chain in chains]


def box_of(lines: Iterable[Stroked]) -> Box:
    """The box round lines, of which there is at least one."""
    return Box.round_all([line.chain.box for line in lines])


def closed(*corners: Point) -> Chain:
    """A straight line round and back to the first corner."""
    return Chain.straight(*corners, corners[0])


def rectangle(left: float, bottom: float, width: float, height: float) -> Chain:
    """An upright rectangle, mm."""
    right, top = left + width, bottom + height
    return closed(Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top))


def other_leg(made: Figure) -> Figure:
    """A figure as the other leg has it: mirrored."""
    flip = Affine.mirror_x()
    lines = tuple(Stroked(line.chain.transformed(flip), line.stroke) for line in made.lines)
    points = tuple((letter, flip(point)) for letter, point in made.points)
    view = made.view
    return Figure(lines, points, Box(-view.right, view.bottom, -view.left, view.top))


def drawn_shut(piece: Piece, move: Affine | None = None) -> list[Stroked]:
    """A piece where it lies whose darts are sewn: they are gaps between their legs."""
    lines = shut_lines(piece)
    return [Stroked(line.transformed(move) if move else line, "before") for line in lines]


def shut_by(done: Set[str], pieces: Mapping[str, SewnPiece]) -> set[str]:
    """The pieces whose darts are sewn when these steps are done."""
    return {name for name in pieces if darts_name(name) in done}


def _walked(walk: Walk, pieces: Mapping[str, SewnPiece], shut: Set[str], step: Step) -> _Sides:
    """Both sides of a seam laid together. A piece whose darts are shut lies along all of the seam:
    parted below the darts that it passes.
    """
    sides: list[list[Stroked]] = []
    for still, side, last in ((True, walk.still, Affine()), (False, walk.rolling, step.move)):
        lines: list[Stroked] = []
        for one in side:
            piece = pieces[one.piece].piece
            if one.piece not in shut or not piece.darts:
                lines += drawn(piece.outline, move=one.move.then(last))
                continue
            lies = [
                (chain, lay.move) for chain, lay in walk.runs(still=still) if lay.piece == one.piece
            ]
            chains = parted_lines(piece, lies) or [
                line.transformed(one.move) for line in shut_lines(piece)
            ]
            lines += [Stroked(chain.transformed(last), "before") for chain in chains]
        sides.append(lines)
    return sides[0], sides[1]


def laid(
    sides: Iterable[tuple[Sequence[Laid], Affine]], pieces: Mapping[str, SewnPiece]
) -> list[Stroked]:
    """Pieces where a walk lays them."""
    return [
        line
        for side, last in sides
        for one in side
        for line in drawn(pieces[one.piece].piece.outline, move=one.move.then(last))
    ]


def notches_met(walk: Walk) -> list[float]:
    """Where notches of a seam meet, mm along its first side; its ends are not among them."""
    inside = walk.length_a - _NEARER
    return [met.along_a for met in walk.met if _NEARER <= met.along_a <= inside]


def seam_figure(
    walk: Walk,
    pieces: Mapping[str, SewnPiece],
    *,
    alone: bool,
    also: Sequence[tuple[str, Chain]] = (),
    shut: Set[str] = frozenset(),
) -> Figure:
    """Both sides laid together along the seam at its middle; only the first, `alone`, where the
    second lies on it edge on edge. `also` are things caught there, by name. Of a short seam only
    what lies round it is shown; of a patch all, so that one sees where it lies. The darts of the
    pieces named in `shut` are sewn by then.
    """
    step = walk.at(walk.length_a / 2.0)
    lying, rolling = _walked(walk, pieces, shut, step)
    lines = lying if alone else [*lying, *rolling]
    whole = box_of(lines)
    lines += [Stroked(chain, "drawn") for _, chain in also]
    seam = [Stroked(chain, "cut") for chain in walk.line]
    places = [walk.at(along).at for along in notches_met(walk)]
    points = [(START, walk.at(0.0).at), *((name, chain.start) for name, chain in also)]
    box = box_of(seam)
    is_short = max(box.width, box.height) < _SHORT * max(whole.width, whole.height)
    near = (Point(box.left, box.bottom), Point(box.right, box.top))
    shown = near if is_short and not walk.lays_on else ()
    return _with_ticks(lines, seam, places, points, whole, near=shown)


def centre_figure(
    join: MeasuredJoin, pieces: Mapping[str, SewnPiece], shut: Set[str] = frozenset()
) -> Figure:
    """The seam of left with right on one leg, its pieces upright as they were drawn, one at the end
    of the other: the other leg lies on it. It shows what lies round the seam.
    """
    lines: list[Stroked] = []
    seam: list[Stroked] = []
    points: list[tuple[str, Point]] = []
    start: Point | None = None
    end: Point | None = None
    way = Vector(0.0, 0.0)
    seen: dict[str, Affine] = {}
    for stretch in join.a.stretches:
        chain = stretch.edge.chain
        move = seen.get(stretch.piece)
        if move is None:
            move = Affine() if end is None else _run_on(chain, end, way)
            seen[stretch.piece] = move
            piece = pieces[stretch.piece].piece
            by_then = stretch.piece in shut
            lines += drawn_shut(piece, move) if by_then else drawn(piece.outline, move=move)
        seam.append(Stroked(chain.transformed(move), "cut"))
        if chain.length >= _NAMED_FROM:
            at, along = chain.at_and_along(0.5 * chain.length)
            inside = along.right() if join.join.a.mirrored else along.left()
            points.append((stretch.piece, move(at + inside * _NAME_INSIDE)))
        start = start or move(chain.start)
        end, way = move(chain.end), move.vector(chain.end_tangent)
    whole = box_of(lines)
    places = list(_notched(join.a, pieces, seen))
    if start is not None:
        points.append((START, start))
    box = box_of(seam)
    near = (Point(box.left, box.bottom), Point(box.right, box.top))
    return _with_ticks(lines, seam, places, points, whole, near=near)


def _run_on(chain: Chain, end: Point, way: Vector) -> Affine:
    """The move that makes a chain begin where another ends; one that would run back on it, as that
    of a facing drawn the other way round, is turned to run on.
    """
    shift = Affine.shift(end - chain.start)
    if way.dot(chain.start_tangent) >= 0.0:
        return shift
    return Affine.turn(turn_between(chain.start_tangent, way), chain.start).then(shift)


def _notched(
    side: MeasuredSide, pieces: Mapping[str, SewnPiece], moves: Mapping[str, Affine]
) -> Iterator[Point]:
    """Notches along a side, where its pieces are moved to, clear of its ends."""
    for passed, stretch in side.walked():
        for notch in pieces[stretch.piece].notches:
            along = stretch.edge.chain.passes(notch.at)
            if along is not None and _NEARER <= passed + along <= side.length - _NEARER:
                yield moves[stretch.piece](notch.at)


def _with_ticks(
    lines: Sequence[Stroked],
    seam: Sequence[Stroked],
    places: Iterable[Point],
    points: Sequence[tuple[str, Point]],
    whole: Box,
    *,
    near: Sequence[Point],
) -> Figure:
    """A figure of a seam with a stroke across it at every place."""
    made = figure([*lines, *seam], points, near, whole)
    half = _TICK * max(made.view.width, made.view.height)
    ticks = []
    for place in places:
        chain = min((one.chain for one in seam), key=lambda one: one.nearest(place)[1])
        across = chain.tangent(chain.nearest(place)[0]).left() * half
        ticks.append(Stroked(Chain.straight(place + -across, place + across), "cut"))
    return replace(made, lines=(*made.lines, *ticks))


def edge_figure(edges: Sequence[tuple[Piece, str]], shut: Set[str] = frozenset()) -> Figure:
    """Pieces side by side, the edge of each that is finished in black; the darts of those named in
    `shut` are sewn by then.
    """
    lines: list[Stroked] = []
    for piece, edge in edges:
        box = piece.outline.box
        gap = 0.12 * max(box.width, 0.5 * box.height)
        right = box_of(lines).right + gap if lines else box.left
        move = Affine.shift(Vector(right - box.left, 0.0))
        if piece.name in shut:
            lines += drawn_shut(piece, move)
            black = runs_of(piece, edge)
        else:
            lines += drawn(piece.outline, move=move)
            black = [one.chain for one in piece.outline if one.name == edge]
        lines += [Stroked(chain.transformed(move), "cut") for chain in black]
    return figure(lines, (), (), box_of(lines))
