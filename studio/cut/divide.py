"""A piece divided along a line that runs from edge to edge: two pieces, their join, and every seam
that spoke of the one piece taught to speak of both. A yoke is such a division with its darts shut.
"""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from studio.alter.closing import waist_neighbours
from studio.block.panel import Panel
from studio.block.places import place_on_edge
from studio.curves import Vector
from studio.cut.facing import refuse_faced
from studio.cut.sharing import with_shares
from studio.cut.split import Side
from studio.design.design import Design
from studio.design.joins import EdgeRef, Join, JoinSide
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
        GeometryRefused: a name is taken, an amount is too large, the panel's waist does not lie
            between a rise and a side (as on a drawn panel whose edges have no names yet), or no
            piece of the panel reaches from rise to side.
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
    return replace(made, pieces=tuple(pieces))


def divided(
    design: Design, panel: Panel, piece_name: str, line: StyleLine, new_name: str
) -> Design:
    """The design with a piece cut in two along a line of its panel; the part with the waist, or
    else the smaller count of edges, is the new piece.

    Raises:
        GeometryRefused: the line is a closed shape or runs along one edge, the name is taken, or
            a seam speaks of only a part of an edge the line ends on.
    """
    old = next(
        (p for p in design.pieces if isinstance(p, PanelPiece) and p.name == piece_name), None
    )
    if old is None or old.panel != panel.name:
        raise GeometryRefused(f"{piece_name} is not cut from {panel.name}.", where=piece_name)
    refuse_faced(design, piece_name)
    if any(piece.name == new_name for piece in design.pieces):
        raise GeometryRefused(f"There is a piece called {new_name} already.", where=new_name)
    path = line.path
    if not isinstance(path, AnchoredPath) or path.start.edge == path.end.edge:
        raise GeometryRefused(
            f"{line.name} does not run from one edge to another.", where=line.name
        )
    right = _right_of(panel, path)
    waist = f"{panel.name}.waist"
    new_is_right = waist in right if panel.outline.has(waist) else len(right) <= 2
    keep_new: Side = "right" if new_is_right else "left"
    keep_old: Side = "left" if new_is_right else "right"
    cut_old = replace(old, bounds=(*old.bounds, Bound(line.name, keep_old)))
    cut_new = replace(old, name=new_name, bounds=(*old.bounds, Bound(line.name, keep_new)))
    pieces = [cut_old if piece is old else piece for piece in design.pieces]
    pieces.insert(pieces.index(cut_old) + 1, cut_new)
    owner = _Owner(piece_name, new_name, new_is_right, right, path)
    seam = Join(
        f"{line.name} seam",
        JoinSide((EdgeRef(new_name, line.name),)),
        JoinSide((EdgeRef(piece_name, line.name),)),
        construction="felled",
    )
    if not new_is_right:
        seam = replace(seam, a=seam.b, b=seam.a)
    taught = with_shares(design, owner.refs)
    return replace(taught, pieces=tuple(pieces), joins=(*taught.joins, seam))


class _Owner:
    """Says which of the two pieces an edge of the one lies on, and in which order it is met."""

    def __init__(
        self, old: str, new: str, new_is_right: bool, right: list[str], path: AnchoredPath
    ) -> None:
        self._old = old
        self._left, self._right = (old, new) if new_is_right else (new, old)
        self._right_edges = right
        self._start, self._end = path.start.edge, path.end.edge

    def refs(self, ref: EdgeRef, forwards: bool) -> tuple[EdgeRef, ...]:
        """The edge on the part or the parts it lies on, in order."""
        if ref.piece != self._old:
            return (ref,)
        if ref.edge in (self._start, self._end):
            if ref.before or ref.after:
                raise GeometryRefused(
                    f"A seam speaks of only a part of {ref.text}: join it anew after the cut.",
                    where=ref.edge,
                )
            order = [self._left, self._right]
            if ref.edge == self._end:
                order.reverse()
            if not forwards:
                order.reverse()
            return tuple(replace(ref, piece=name) for name in order)
        owner = self._right if ref.edge in self._right_edges else self._left
        return (replace(ref, piece=owner),)


def _right_of(panel: Panel, path: AnchoredPath) -> list[str]:
    """Edges wholly right of the line: those met counter-clockwise from its start to its end."""
    names = [edge.name for edge in panel.outline]
    at, end = names.index(path.start.edge), names.index(path.end.edge)
    found = []
    at = (at + 1) % len(names)
    while at != end:
        found.append(names[at])
        at = (at + 1) % len(names)
    return found


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
    if any(line.name == name for line in design.lines):
        raise GeometryRefused(f"There is a line called {name} already.", where=name)
    if any(piece.name == name for piece in design.pieces):
        raise GeometryRefused(f"There is a piece called {name} already.", where=name)
