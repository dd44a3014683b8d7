"""Pieces made by hand for the files: curved edges, a dart, a mark, notches of both kinds."""

import msgspec

from studio.block.panel import Dart
from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, Vector
from studio.cut.piece import Mark, Piece
from studio.sew.cut_line import cut_line
from studio.sew.sew_piece import grainline
from studio.sew.sewn import CutEdge, Notch, SewnPiece

ALLOWANCES = (15.0, 10.0, 10.0, 10.0)


def flap(name="flap", *, scale=1.0, **changed):
    """About 120 wide and 180 high: straight hem, bowed sides, a top with a dart of 12."""
    outline = Outline.of(
        (
            Edge.whole("hem", Chain.straight(Point(-50, 0), Point(50, 0))),
            Edge.whole(
                "right",
                Chain((Cubic(Point(50, 0), Point(75, 50), Point(70, 120), Point(60, 180)),)),
            ),
            Edge.whole(
                "top",
                Chain.straight(Point(60, 180), Point(6, 180), Point(-6, 180), Point(-60, 180)),
            ),
            Edge.whole(
                "left",
                Chain((Cubic(Point(-60, 180), Point(-40, 120), Point(-62, 50), Point(-50, 0)),)),
            ),
        )
    )
    dart = Dart("top-dart", "top", Point(6, 180), Point(-6, 180), Point(0, 120))
    mark = Mark(
        "placement",
        Chain((Cubic(Point(-40, 60), Point(-15, 75), Point(15, 75), Point(45, 60)),)),
    )
    piece = Piece(name, outline, marks=(mark,), darts=(dart,))
    move = Affine.scale(scale)
    piece = msgspec.structs.replace(
        piece,
        outline=Outline.of(Edge.whole(e.name, e.chain.transformed(move)) for e in outline),
        marks=(Mark("placement", mark.chain.transformed(move)),),
        darts=(Dart(dart.name, "top", move(dart.first), move(dart.last), move(dart.point)),),
        **changed,
    )
    line, trouble = cut_line(piece.outline, ALLOWANCES)
    assert trouble == ()
    right = piece.outline.edge("right")
    notches = (
        notch_on(right, 60.0 * scale, ALLOWANCES[1], "single"),
        notch_on(right, 120.0 * scale, ALLOWANCES[1], "double"),
    )
    grain = grainline(piece.outline, 90.0)
    label = grain[0].toward(grain[1], 0.5) + Vector(6, 0)
    drills = (piece.darts[0].point,)
    return SewnPiece(piece, ALLOWANCES, line, notches, grain, label, drills)


def band(length, width, name="band"):
    """A straight band without allowances: what is sewn is what is cut."""
    corners = (Point(0, 0), Point(length, 0), Point(length, width), Point(0, width))
    chains = [
        Chain.straight(one, two)
        for one, two in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]
    outline = Outline.of(Edge.whole(f"side-{k}", chain) for k, chain in enumerate(chains))
    middle = Point(length / 2, width / 2)
    return SewnPiece(
        Piece(name, outline, cut="single", warp=0.0),
        (0.0,) * 4,
        tuple(CutEdge(f"side-{k}", chain) for k, chain in enumerate(chains)),
        (),
        (Point(length * 0.2, width / 2), Point(length * 0.8, width / 2)),
        middle,
    )


def notch_on(edge, along, allowance, kind):
    at = edge.chain.at(along)
    outward = edge.chain.tangent(along).right()
    mouth = at + outward * allowance
    return Notch(at, mouth, mouth + outward * -5.0, kind, "seam")
