"""A folded waistband closed, and its button: the steps and their figures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from studio.alter.kind import Say
from studio.curves import Affine, Chain, Point, Vector
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.pieces import WaistbandPiece
from studio.exchange.along import Figure, Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.along.stage import Stroke
from studio.exchange.work_sheet_figures import box_of, drawn
from studio.exchange.work_sheet_needs import buttonholes
from studio.sew import SewnPiece
from studio.sew.constructions.laid_over import BELOW_SEAM

_END_SHOWN = 60.0
"""So much of a band is shown from its ends on, mm."""

_LAYER = 4.0
"""Between layers of cloth in a drawn section, mm; in truth they touch."""

_BELOW = 34.0
"""So much of the trousers is shown below a band, mm."""


def folded_bands(design: Design) -> set[str]:
    """Waistbands that are folded, and closed once for all their free edges."""
    return {one.name for one in design.pieces if isinstance(one, WaistbandPiece)}


def band_closed(
    recipe: WaistbandPiece, piece: Piece, allowance: float, say: Say
) -> Iterator[Stage]:
    """How a folded waistband is closed (common practice, no source); `allowance` is that of its
    seam, mm.
    """
    name = recipe.name
    lower = ", and the overlap along its lower edge" if recipe.overlap > 0.0 else ""
    yield Stage(
        f"Ends of {name}",
        (
            "Press the seam of the waist up into the band, and the allowance of the inner long "
            f"edge to the wrong side, so that its fold comes to lie {say(BELOW_SEAM)} beyond the "
            "seam.",
            f"Fold the band along its fold line, right sides together. Sew both ends{lower}, in "
            "line with the edges of the opening; trim the corners, turn, and press.",
        ),
        ends_figure(recipe, piece, with_button=False),
    )
    yield Stage(
        f"Close {name}",
        (
            "Lay the inner edge over the seam and baste it. Stitch from outside in the ditch of "
            "the seam, so that the fold inside is caught.",
            "The figure is a section: outside left, inside right.",
        ),
        section_figure(recipe.width, allowance),
    )


def ends_figure(recipe: WaistbandPiece, piece: Piece, *, with_button: bool) -> Figure:
    """Both ends of a folded band beside each other, the long middle left out; what is sewn of them
    in black, or the buttonhole and the cross for the button.
    """
    box, width = piece.outline.box, recipe.width
    last = box.right - recipe.overlap - _END_SHOWN
    ends = ((box.left, box.left + _END_SHOWN, 0.0), (last, box.right, box.left + _END_SHOWN - last))
    stroke_of_ends: Stroke = "before" if with_button else "cut"
    lines, points = [], []
    for low, high, aside in ends:
        step = aside + (0.35 * _END_SHOWN if aside else 0.0)

        def level(start: float, end: float, height: float, step: float = step) -> Chain:
            return Chain.straight(Point(start + step, height), Point(end + step, height))

        lines.append(Stroked(level(low, high, width), "dashed"))
        edge = box.right - recipe.overlap
        if high > edge:
            lines += [Stroked(level(low, edge, 0.0), "before")]
            if recipe.overlap > 0.0:
                lines.append(Stroked(level(edge, high, 0.0), stroke_of_ends))
        else:
            lines.append(Stroked(level(low, high, 0.0), "before"))
        at = low if low == box.left else high
        upright = Chain.straight(Point(at + step, 0.0), Point(at + step, width))
        lines.append(Stroked(upright, stroke_of_ends))
        for mark in piece.marks if with_button else ():
            shown = low - 1.0 <= mark.chain.box.left and mark.chain.box.right <= high + 1.0
            if shown and not mark.name.endswith(".fold"):
                a, b = mark.chain.start, mark.chain.end
                moved = Chain.straight(Point(a.x + step, a.y), Point(b.x + step, b.y))
                lines.append(Stroked(moved, "cut"))
            if shown and mark.name.endswith(".buttonhole"):
                points.append(("buttonhole", Point(mark.chain.end.x + step, mark.chain.end.y)))
        if with_button:
            continue
        points.append(("fold", Point((low + high) / 2.0 + step, width)))
        if high > edge and recipe.overlap > 0.0:
            points.append(("overlap", Point((edge + high) / 2.0 + step, 0.0)))
    return figure(lines, points, (), box_of(lines))


def section_figure(width: float, allowance: float) -> Figure:
    """A closed band cut across: the seam pressed up into it, the inner fold beyond the seam, the
    row in the ditch.
    """
    up = min(allowance, 0.8 * width)
    inner = 4.0 * _LAYER
    trousers = Chain.straight(
        Point(0.0, -_BELOW),
        Point(0.0, -0.7),
        Point(2.0 * _LAYER, -0.7),
        Point(2.0 * _LAYER, up),
    )
    band = Chain.straight(
        Point(_LAYER, up),
        Point(_LAYER, 0.7),
        Point(0.0, 0.7),
        Point(0.0, width),
        Point(inner, width),
        Point(inner, -BELOW_SEAM),
        Point(3.0 * _LAYER, -BELOW_SEAM),
        Point(3.0 * _LAYER, up - BELOW_SEAM),
    )
    row = Chain.straight(Point(-2.0 * _LAYER, 0.0), Point(inner + 2.0 * _LAYER, 0.0))
    lines = [Stroked(trousers, "before"), Stroked(band, "drawn"), Stroked(row, "cut")]
    points = [
        ("fold", Point(inner / 2.0, width)),
        ("ditch", Point(0.0, 0.0)),
        ("trousers", Point(0.0, -0.7 * _BELOW)),
        ("inside", Point(inner, width / 2.0)),
    ]
    return figure(lines, points, (), box_of(lines))


def _marked_figure(shown: Sequence[Piece]) -> Figure:
    """Ends of a band that are pieces of their own, one below the other, with what is marked."""
    lines: list[Stroked] = []
    points: list[tuple[str, Point]] = []
    for piece in shown:
        box = piece.outline.box
        top = box_of(lines).bottom - _BELOW if lines else box.top
        left = box_of(lines).left if lines else box.left
        move = Affine.shift(Vector(left - box.left, top - box.top))
        lines += drawn(piece.outline, move=move)
        named = {mark.name.rpartition(".")[2]: mark.chain for mark in piece.marks}
        for name, chain in named.items():
            if name in ("buttonhole", "button"):
                points.append((name, move(chain.end)))
        lines += [
            Stroked(mark.chain.transformed(move), "cut")
            for mark in piece.marks
            if mark.name.endswith((".buttonhole", ".button"))
        ]
    return figure(lines, points, (), box_of(lines))


def buttons(design: Design, pieces: Mapping[str, SewnPiece], say: Say) -> Iterator[Stage]:
    """Of every buttonhole; its button sits on the same band, or on the piece that lies under."""
    crosses = [
        name
        for name, sewn in pieces.items()
        if any(mark.name.endswith(".button") for mark in sewn.piece.marks)
    ]
    bands = {one.name: one for one in design.pieces if isinstance(one, WaistbandPiece)}
    for name, mark in buttonholes(pieces):
        cross = "at the other end" if name in crosses else f"of {', '.join(crosses)}"
        where = f"on the cross {cross}" if crosses else "beneath it, where no cross is marked"
        if name in bands:
            drawing = ends_figure(bands[name], pieces[name].piece, with_button=True)
        else:
            drawing = _marked_figure([pieces[one].piece for one in dict.fromkeys((name, *crosses))])
        yield Stage(
            f"Button of {name}",
            (
                f"Work the buttonhole through both layers where it is marked, "
                f"{say(mark.chain.length)} long, and sew the button {where}.",
            ),
            drawing,
        )
