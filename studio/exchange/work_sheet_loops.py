"""Loops: belt loops made, set on the waist and fixed above; a tube for a tool; with figures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from studio.alter.kind import Say
from studio.curves import Affine, Box, Chain, Point, Vector
from studio.design.design import Design
from studio.design.joins import Finish, Join
from studio.design.pieces import StripPiece, WaistbandPiece
from studio.exchange.along import Figure, Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.work_sheet_figures import box_of, laid, rectangle
from studio.pattern import Pattern
from studio.sew import SewnPiece
from studio.sew.legs import is_other_leg
from studio.sew.sewn import MeasuredJoin
from studio.sew.spread import from_back, from_centre_back, spread_in, spread_places
from studio.sew.walk import Walk

LOOP_STITCH = 2.0
"""A loop is stitched so far from its long edges, mm (common practice, no source)."""

_GAP = 8.0
"""Between drawings of a loop in one figure, mm."""

_SHOWN_BELOW = 130.0
"""So much of the pieces is shown below a waist, mm."""


def folded_strips(design: Design) -> dict[str, StripPiece]:
    """Strips whose long edges stay raw inside their folds, by the seam they are caught in first."""
    raw = {one.edge.text for one in design.finishes if one.how == "raw"}
    return {
        one.name: one
        for one in design.pieces
        if isinstance(one, StripPiece)
        and one.folded > 2
        and {f"{one.name}:{one.name}.one", f"{one.name}:{one.name}.two"} <= raw
    }


def loops_before(
    join: Join, pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say
) -> Iterator[Stage]:
    """Loops that are caught in a join, made before it and laid where they are caught."""
    design = pattern.design
    caught = {one.edge.piece for one in design.finishes if one.into == join.name}
    measured = {one.join.name: one for one in pattern.measured}
    for name, strip in folded_strips(design).items():
        if name not in caught:
            continue
        yield Stage(
            f"Make {name}",
            (
                f"Fold each of the {strip.count} along its two fold lines, right side out, one "
                "raw edge inside, the other beneath, and press. Topstitch both long edges at "
                f"{say(LOOP_STITCH)}.",
                "The figure shows a strip with its folds, the loop when it is stitched, and how "
                "it is folded, seen from its end.",
            ),
            _made_figure(strip),
        )
        if join.name in measured:
            yield _places(strip, measured[join.name], design, pieces, say)


def _places(
    strip: StripPiece,
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    say: Say,
) -> Stage:
    """Where belt loops are laid on the waist, by their notches, or by eye where there are none."""
    name, seam = strip.name, join.join.name
    others = [one.name for one in design.joins if is_other_leg(one, join.join)]
    count = spread_in(join.join, design.joins, design.finishes)
    along = from_centre_back(join, count)
    hang = (
        "Lay each right side down on the right side of the trousers, hanging down, its end level "
        f"with the raw edge of the waist, and baste it; the end is caught in {seam}"
        f"{''.join(f', or in {other}' for other in others)}."
    )
    if not along:
        where = (
            "Spread them round the waist, the first at the centre back, the front ones clear of "
            "the fly and where a pocket's mouth is not in their way."
        )
        hang = (
            "Lay each right side down on the right side of the trousers, hanging down, its end "
            "level with the raw edge, and baste it; the end is caught in the seam by which the "
            "band is sewn on."
        )
        return Stage(f"Place {name}", (where, hang))
    apart = [mm for mm in along if mm > 0.0]
    told = ["One sits at the centre back, on the seam."] if len(apart) < len(along) else []
    if apart:
        told.append(
            f"The middles of the {'others' if told else 'loops'} lie "
            f"{' and '.join(map(say, apart))} from the centre back, measured along the sewing line "
            "of the waist, on either side. They are notched there, on the trousers and on the band."
        )
    told.append(hang)
    marked = 2 * len(apart) + len(along) - len(apart)
    if marked != strip.count:
        told.insert(-1, f"{strip.count} are cut, and {marked} places are marked: see to the rest.")
    return Stage(f"Place {name}", tuple(told), _placed_figure(strip, join, count, pieces, say))


def loop_ends(pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say) -> Iterator[Stage]:
    """The upper ends of belt loops, last of all."""
    for name, strip in folded_strips(pattern.design).items():
        width = _band_width(name, pattern, pieces)
        sentences = [
            "Lay each up over the finished band, with room for the belt, turn its end under, "
            "and stitch it down at the band's top, to and fro.",
        ]
        drawing = None
        if width is not None:
            room = strip.length - width
            if room > 0.0:
                sentences.append(
                    f"Each is {say(room)} longer than the band is wide: that is the room, below "
                    "or above it, for a thick belt."
                )
            sentences.append("The figure is a section through the band: outside left.")
            drawing = _upper_figure(width, max(room, 0.0))
        yield Stage(f"Upper ends of {name}", tuple(sentences), drawing)


def _band_width(loop: str, pattern: Pattern, pieces: Mapping[str, SewnPiece]) -> float | None:
    """How wide the band is over which a loop is laid, mm: as folded, or, of one cut off the top,
    from the middle of the edge by which it is sewn on up to the waist. None where there is none.
    """
    into = {one.into for one in pattern.design.finishes if one.edge.piece == loop}
    folded = {
        one.name: one.width for one in pattern.design.pieces if isinstance(one, WaistbandPiece)
    }
    for join in pattern.measured:
        if join.join.name not in into:
            continue
        for stretch in (*join.b.stretches, *join.a.stretches):
            if stretch.piece in folded:
                return folded[stretch.piece]
            chain = stretch.edge.chain
            for edge in pieces[stretch.piece].piece.outline:
                if edge.name.endswith(".waist") and edge.name != stretch.edge.name:
                    return edge.chain.nearest(chain.at(chain.length / 2.0))[1]
    return None


def _made_figure(strip: StripPiece) -> Figure:
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


def _placed_figure(
    strip: StripPiece, join: MeasuredJoin, count: int, pieces: Mapping[str, SewnPiece], say: Say
) -> Figure:
    """One half of the waist with its loops hanging down, each with its distance."""
    walk = Walk(join, pieces)
    lines = laid(((walk.still, Affine()),), pieces)
    part = strip.width / strip.folded
    seam = [Stroked(chain, "cut") for chain in walk.line]
    points: list[tuple[str, Point]] = [("centre back", walk.at(from_back(join, 0.0)).at)]
    loops = []
    for mm, along in zip(
        [one for one in from_centre_back(join, count) if one > 0.0],
        spread_places(join, count),
        strict=True,
    ):
        at, way = _on_line(walk, along)
        down = way.left() if not join.join.a.mirrored else way.right()
        half = way * (part / 2.0)
        corners = (at + -half, at + half, at + half + down * strip.length)
        last = at + -half + down * strip.length
        loops.append(Stroked(Chain.straight(*corners, last, corners[0]), "drawn"))
        points.append((say(mm), at + down * strip.length))
    box = box_of([*seam, *loops])
    shown = Box(box.left, box.top - _SHOWN_BELOW, box.right, box.top)
    near = (Point(shown.left, shown.bottom), Point(shown.right, shown.top))
    return figure([*lines, *seam, *loops], points, near, box_of(lines))


def _on_line(walk: Walk, along: float) -> tuple[Point, Vector]:
    """A place of the side that lies still, and the direction of the seam there."""
    at = walk.at(along).at
    chain = min(walk.line, key=lambda one: one.nearest(at)[1])
    return at, chain.tangent(chain.nearest(at)[0])


def _upper_figure(width: float, room: float) -> Figure:
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


def is_tube(join: Join) -> bool:
    """True for a strip whose long edges are sewn to each other."""
    return join.construction == "plain" and len({ref.piece for ref in join.refs}) == 1


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
