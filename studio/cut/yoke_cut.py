"""A yoke asked for: a seam line from rise to side, the piece divided along it, and the darts of
what lies above it shut.
"""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from studio.alter.closing import waist_neighbours
from studio.block.panel import Panel
from studio.block.places import place_on_edge
from studio.curves import Vector
from studio.cut.divide import divided
from studio.cut.split import Side
from studio.design.design import Design
from studio.design.lines import AnchoredPath, Node, OnEdge, StyleLine
from studio.design.pieces import Bound, PanelPiece, PieceRecipe, RestAt
from studio.errors import GeometryRefused


class Yoke(msgspec.Struct, frozen=True):
    """A yoke as asked for: how far down rise and side its line runs (mm), how far the line bows
    down in its middle (a share of its length), and where the darts' rest below is taken out.
    """

    name: str = "yoke"
    panel: str = "back"
    at_rise: float = 80.0
    at_side: float = 30.0
    bow: float = 0.03
    rest_at: RestAt = "side"


def with_yoke(design: Design, panel: Panel, asked: Yoke) -> Design:
    """The design with a yoke cut from the piece that holds the panel's waist, its darts closed,
    its long edges redrawn fair, its seam felled.

    Raises:
        GeometryRefused: the name is empty or taken, an amount is too large, the panel's waist does
            not lie between a rise and a side (as on a drawn panel whose edges have no names yet),
            or no piece of the panel reaches from rise to side.
    """
    waist_neighbours(panel)
    rise, side, waist = (f"{panel.name}.{edge}" for edge in ("rise", "side", "waist"))
    _refuse_taken(design, asked.name)
    line = StyleLine(
        asked.name,
        panel.name,
        "seam",
        AnchoredPath(
            OnEdge(rise, waist, mm=asked.at_rise),
            OnEdge(side, waist, mm=asked.at_side),
            (Node(Vector(0.5, _down(panel) * asked.bow)),) if asked.bow else (),
        ),
    )
    path = line.path
    assert isinstance(path, AnchoredPath)
    place_on_edge(panel, path.start)
    place_on_edge(panel, path.end)
    drawn = replace(design, lines=(*design.lines, line))
    body = _piece_with(design, panel, waist)
    made = divided(drawn, panel, body.name, line, asked.name)
    upper: Side = "right" if _rise_first(panel) else "left"
    pieces: list[PieceRecipe] = []
    for piece in made.pieces:
        if isinstance(piece, PanelPiece) and piece.bounds[-1:] == (Bound(line.name, upper),):
            pieces.append(replace(piece, close_darts=True, marks=()))
        elif isinstance(piece, PanelPiece) and any(b.line == line.name for b in piece.bounds):
            pieces.append(replace(piece, rest_at=asked.rest_at))
        else:
            pieces.append(piece)
    # The lines that were drawn on the piece are not drawn on the yoke, whose darts are closed.
    edges = {edge.name for edge in panel.outline}
    kept = tuple(one for one in made.topstitching if one.piece != asked.name or one.along in edges)
    return replace(made, pieces=tuple(pieces), topstitching=kept)


def _rise_first(panel: Panel) -> bool:
    """True when the outline meets rise, waist, side in this order."""
    return waist_neighbours(panel)[0] == f"{panel.name}.rise"


def _down(panel: Panel) -> float:
    """The sign of a step to the left of the line from rise to side that leads down."""
    return 1.0 if _rise_first(panel) else -1.0


def _piece_with(design: Design, panel: Panel, waist: str) -> PanelPiece:
    """The piece of a panel that has its waist and no bound yet that takes rise or side from it."""
    found = [
        piece
        for piece in design.pieces
        if isinstance(piece, PanelPiece) and piece.panel == panel.name and not piece.bounds
    ]
    if len(found) != 1:
        raise GeometryRefused(
            f"No one piece holds the whole {panel.name} with {waist}: a yoke is cut first.",
            where=panel.name,
        )
    return found[0]


def _refuse_taken(design: Design, name: str) -> None:
    if not name:
        raise GeometryRefused("The yoke needs a name.")
    if any(line.name == name for line in design.lines):
        raise GeometryRefused(f"There is a line called {name} already.", where=name)
    if any(piece.name == name for piece in design.pieces):
        raise GeometryRefused(f"There is a piece called {name} already.", where=name)
