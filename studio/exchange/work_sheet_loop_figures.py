"""The figures of loops: made, laid on the waist, fixed above; a tube for a tool."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial

import msgspec

from studio.alter.kind import Say
from studio.curves import Affine, Box, Chain, Point, Vector
from studio.design.joins import Finish
from studio.design.pieces import StripPiece
from studio.exchange.along import Figure, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.work_sheet_figures import box_of, drawn, laid, rectangle
from studio.sew import SewnPiece
from studio.sew.ease import partner_of
from studio.sew.loop_places import Placed, from_back
from studio.sew.sewn import MeasuredJoin
from studio.sew.walk import Walk

LOOP_STITCH = 2.0
"""A loop is stitched so far from its long edges, mm (common practice, no source)."""

_GAP = 8.0
"""Between drawings of a loop in one figure, mm."""

_SHOWN_BELOW = 130.0
"""So much of the pieces is shown below a waist, mm."""


def made_figure(strip: StripPiece) -> Figure:
    """The strip with its folds, the loop with its rows, and its folds from the end."""
    long, wide = strip.length, strip.width
    part = wide / strip.folded
    flat = [Stroked(rectangle(0.0, 0.0, long, wide), "before")]
    folds = [
        Stroked(Chain.straight(Point(0.0, part * k), Point(long, part * k)), "dashed")
        for k in range(1, strip.folded)
    ]
    low = -_GAP - part
    loop = [Stroked(rectangle(0.0, low, long, part), "drawn")]
    rows = [
        Stroked(Chain.straight(Point(0.0, low + at), Point(long, low + at)), "cut")
        for at in (LOOP_STITCH, part - LOOP_STITCH)
    ]
    right, layer = long + _GAP, part / 5.0
    end_on = Chain.straight(
        Point(right + part - 1.0, low + 1.0),
        Point(right, low + 1.0),
        Point(right, low + 1.0 + 2.0 * layer),
        Point(right + part, low + 1.0 + 2.0 * layer),
        Point(right + part, low + 1.0 + layer),
        Point(right + 1.0, low + 1.0 + layer),
    )
    lines = [*flat, *folds, *loop, *rows, Stroked(end_on, "drawn")]
    points = [("fold", Point(0.6 * long, part * (strip.folded - 1)))]
    return figure(lines, points, (), box_of(lines))


def placed_figure(
    strip: StripPiece,
    join: MeasuredJoin,
    placed: Placed,
    pieces: Mapping[str, SewnPiece],
    say: Say,
) -> Figure:
    """One half of the waist, or front or back of it, with its loops hanging down on the trousers,
    each with its distance.
    """
    waist = _waist_line(join, pieces)
    part = strip.width / strip.folded
    begins = placed.begins(join)
    start = "side" if begins else "centre back"
    points: list[tuple[str, Point]] = [(start, waist.at(from_back(join, 0.0))[0])]
    loops = []
    for mm in placed.within(join, strip.name):
        if mm == 0.0:
            continue
        at, way = waist.at(from_back(join, mm - begins))
        down = way.left() if waist.is_left else way.right()
        half = way * (part / 2.0)
        corners = (at + -half, at + half, at + half + down * strip.length)
        last = at + -half + down * strip.length
        loops.append(Stroked(Chain.straight(*corners, last, corners[0]), "drawn"))
        points.append((say(mm - begins), at + down * strip.length))
    lines, seam = waist.lines, [Stroked(chain, "cut") for chain in waist.chains]
    box = box_of([*seam, *loops])
    shown = Box(box.left, box.top - _SHOWN_BELOW, box.right, box.top)
    near = (Point(shown.left, shown.bottom), Point(shown.right, shown.top))
    return figure([*lines, *seam, *loops], points, near, box_of(lines))


class _WaistLine(msgspec.Struct, frozen=True):
    """The trousers at the waist: their pieces, the seam, whether they lie left of it, and a place
    and direction on it, mm along the first side of its join.
    """

    lines: list[Stroked]
    chains: tuple[Chain, ...]
    is_left: bool
    at: Callable[[float], tuple[Point, Vector]]


def _waist_line(join: MeasuredJoin, pieces: Mapping[str, SewnPiece]) -> _WaistLine:
    """The first side laid out as it is walked; where that is the band, the second as it is drawn,
    which then is of one panel.
    """
    if not _is_band(join, pieces):
        walk = Walk(join, pieces)
        lines = laid(((walk.still, Affine()),), pieces)
        is_left = not join.join.a.mirrored
        return _WaistLine(lines, tuple(walk.line), is_left, partial(_on_line, walk))
    names = dict.fromkeys(one.piece for one in join.b.stretches)
    lines = [line for name in names for line in drawn(pieces[name].piece.outline)]
    chains = tuple(one.edge.chain for one in join.b.stretches)

    def at(along: float) -> tuple[Point, Vector]:
        there = partner_of(join.join, join.a.length, join.b.length, along)
        passed, one = [pair for pair in join.b.walked() if pair[0] <= there or not pair[0]][-1]
        return one.edge.chain.at_and_along(one.on_edge(there - passed))

    return _WaistLine(lines, chains, join.join.b.mirrored, at)


def _is_band(join: MeasuredJoin, pieces: Mapping[str, SewnPiece]) -> bool:
    """True when the first side of a waist is the band: it has the waist itself, and is sewn on by
    another edge.
    """
    one = join.a.stretches[0]
    ground = one.ground
    waist = f"{ground.panel}.waist" if ground is not None else ""
    return one.edge.name != waist and pieces[one.piece].piece.outline.has(waist)


def _on_line(walk: Walk, along: float) -> tuple[Point, Vector]:
    """A place of the side that lies still, and the direction of the seam there."""
    at = walk.at(along).at
    chain = min(walk.line, key=lambda one: one.nearest(at)[1])
    return at, chain.tangent(chain.nearest(at)[0])


def upper_figure(width: float, room: float) -> Figure:
    """A section: the band, and the loop that comes out of its seam, over it, turned under at its
    top.
    """
    thick, out = 8.0, 5.0 + room / 2.0
    band = rectangle(0.0, 0.0, thick, width)
    trousers = Chain.straight(Point(thick / 2.0, -25.0), Point(thick / 2.0, 0.0))
    loop = Chain.straight(
        Point(thick / 2.0, 2.0),
        Point(-1.5, 0.0),
        Point(-1.5, -room / 2.0),
        Point(-out, -room / 2.0),
        Point(-out, 0.75 * width),
        Point(-3.0, width - 1.0),
        Point(-1.0, width - 1.0),
        Point(-1.0, width - 9.0),
    )
    row = Chain.straight(Point(-out, width - 5.0), Point(thick + 4.0, width - 5.0))
    lines = [
        Stroked(band, "before"),
        Stroked(trousers, "before"),
        Stroked(loop, "drawn"),
        Stroked(row, "cut"),
    ]
    points = [("loop", Point(-out, width / 2.0)), ("band", Point(thick, width / 2.0))]
    return figure(lines, points, (), box_of(lines))


def tube_figure(strip: StripPiece) -> Figure:
    """The strip folded and sewn, then turned, its two ends laid on each other."""
    long, part = strip.length, strip.width / max(strip.folded, 1)
    fold = Chain.straight(Point(0.0, part), Point(long, part))
    seam = Chain.straight(Point(0.0, 0.0), Point(long, 0.0))
    ends = [Chain.straight(Point(x, 0.0), Point(x, part)) for x in (0.0, long)]
    low = -2.0 * _GAP - part
    loop = rectangle(0.0, low, long / 2.0, part)
    lines = [
        Stroked(fold, "dashed"),
        *(Stroked(end, "before") for end in ends),
        Stroked(seam, "cut"),
        Stroked(loop, "drawn"),
    ]
    points = [
        ("fold", Point(0.75 * long, part)),
        ("both ends", Point(0.0, low + part / 2.0)),
        ("hangs", Point(long / 2.0, low + part / 2.0)),
    ]
    return figure(lines, points, (), box_of(lines))


def hung(
    walk: Walk, finishes: tuple[Finish, ...], strips: Mapping[str, StripPiece]
) -> list[tuple[str, Chain]]:
    """Loops that are caught at a distance along a seam, as they hang from it on the first side."""
    found: dict[str, Chain] = {}
    for finish in finishes:
        strip = strips.get(finish.edge.piece)
        if finish.into != walk.join.name or finish.at is None or strip is None:
            continue
        along = finish.at if finish.at >= 0.0 else walk.length_a + finish.at
        at, way = _on_line(walk, along)
        half = way * (strip.width / max(strip.folded, 1) / 2.0)
        down = (way.right() if walk.join.a.mirrored else way.left()) * (strip.length / 2.0)
        corners = (at + -half, at + half, at + half + down, at + -half + down)
        found.setdefault(strip.name, Chain.straight(*corners, corners[0]))
    return list(found.items())
