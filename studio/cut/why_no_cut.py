"""Why no piece can be cut along a seam line, told so that the maker knows what to do."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from studio.block.panel import Panel
from studio.curves import tolerance
from studio.cut.divide import is_off_panel
from studio.cut.draw import draw_line
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.lines import StyleLine
from studio.design.pieces import PanelPiece
from studio.errors import GeometryRefused

_SLACK_MM = 2.0 * tolerance.FLAT_MM
"""What is no further off its panel counts as on it: chords stand for both."""


def why_no_cut(
    design: Design,
    panel: Panel,
    pieces: Sequence[Piece],
    drawn: DrawnLine,
    along: Sequence[Piece],
) -> str:
    """The reason and what to do, in sentences; "" when `along`, as `pieces_along` finds them, is
    the one piece. `pieces` are those of the design, cut. Places are judged within twice `FLAT_MM`;
    raises nothing.
    """
    found = [piece.name for piece in along]
    if len(found) == 1:
        return ""
    line = shapely.LineString(drawn.chain.polyline())
    if not shapely.Polygon(panel.outline.polyline()).buffer(_SLACK_MM).covers(line):
        return (
            f"It cuts no piece: it leaves the {panel.name} on its way. Drag its nodes or handles "
            "until all of it lies inside."
        )
    if found:
        return (
            f"It cuts no one piece: {' and '.join(found)} lie one over the other there. Drag it to "
            "where it runs through one of them only."
        )
    crossed = [one.name for one in _bounding(design, panel) if _crosses(one, panel, line)]
    if crossed:
        return (
            f"It cuts no piece: it runs across {' and '.join(crossed)}, where the {panel.name} is "
            "cut already. Drag its ends until all of it lies on one side."
        )
    return _why_ends(design, pieces, drawn)


def _why_ends(design: Design, pieces: Sequence[Piece], drawn: DrawnLine) -> str:
    """Why a line that crosses nothing does not reach from edge to edge of a piece."""
    edges = [place.edge for place in drawn.ends]
    recipes = {one.name: one for one in design.pieces if isinstance(one, PanelPiece)}
    for piece in pieces:
        recipe = recipes.get(piece.name)
        if recipe is None or recipe.panel != drawn.panel or not is_off_panel(recipe):
            continue
        if all(piece.outline.has(edge) for edge in edges):
            return (
                f"It cuts no piece: {piece.name} no longer lies as it does on the {drawn.panel}. "
                f"Cut along this line first, and {piece.name} after."
            )
    return (
        f"It cuts no piece: none reaches along it from {' to '.join(edges)}. Drag its ends to "
        "edges of one piece."
    )


def _bounding(design: Design, panel: Panel) -> list[StyleLine]:
    """The lines that a panel is cut apart along; a patch lies over it."""
    names = {
        bound.line
        for piece in design.pieces
        if isinstance(piece, PanelPiece) and piece.panel == panel.name
        for bound in piece.bounds
    }
    return [line for line in design.lines if line.name in names and line.kind != "patch"]


def _crosses(other: StyleLine, panel: Panel, line: shapely.LineString) -> bool:
    """Whether two lines meet within the panel; one that cannot be drawn is crossed by none."""
    try:
        drawn = draw_line(other, panel)
    except GeometryRefused:
        return False
    return bool(shapely.LineString(drawn.chain.polyline()).intersects(line))
