"""A piece divided along a line that runs from edge to edge: two pieces, their join, and all that
spoke of the one piece taught to speak of both. A yoke is such a division with its darts shut.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

import msgspec
import shapely
from msgspec.structs import replace

from studio.alter.closing import waist_neighbours
from studio.block.panel import Panel
from studio.block.places import place_on_edge, point_at
from studio.curves import Chain, Outline, Vector
from studio.cut.draw import draw_line
from studio.cut.drawn import DrawnLine
from studio.cut.facing import refuse_faced
from studio.cut.parted_rows import Parts, corner_on_parts, rows_on_parts
from studio.cut.piece import Piece
from studio.cut.sharing import with_shares
from studio.cut.split import Side
from studio.design.design import Design
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.design.lines import AnchoredPath, Node, OnEdge, StyleLine
from studio.design.pieces import Bound, PanelPiece, PieceRecipe, RestAt
from studio.errors import GeometryRefused

_ON_EDGE_MM = 0.01
"""A line ends on an edge that is no further off."""

_PLACES = 24
"""Stretches of a line whose ends are asked whether they lie inside."""


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


def pieces_along(design: Design, pieces: Iterable[Piece], drawn: DrawnLine) -> list[Piece]:
    """The pieces that a line runs through from edge to edge; more than one where they lie one over
    the other. `pieces` are the design's, cut; one whose darts are closed, a band and one turned
    over no longer lie on their panel as the line does, and are not cut this way.
    """
    recipes = {one.name: one for one in design.pieces if isinstance(one, PanelPiece)}
    found: list[Piece] = []
    for piece in pieces:
        recipe = recipes.get(piece.name)
        if recipe is None or recipe.panel != drawn.panel or is_off_panel(recipe):
            continue
        if not drawn.ends or any(bound.line == drawn.name for bound in recipe.bounds):
            continue
        if _runs_through(piece.outline, drawn):
            found.append(piece)
    return found


def divided(
    design: Design,
    panel: Panel,
    piece_name: str,
    line: StyleLine,
    new_name: str,
    outline: Outline | None = None,
) -> Design:
    """The design with a piece cut in two along a line of its panel; the part with the waist, or
    else the smaller count of edges, is the new piece. A piece that lines cut already is given with
    its `outline`; each part keeps the lines that bound it.

    Raises:
        GeometryRefused: the line is a closed shape or runs along one edge, it does not end on the
            piece or ends where the rest of a dart is taken out, the name is taken, or a seam speaks
            of only a part of an edge the line ends on.
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
    if old.bounds:
        _refuse_in_rest(old, panel, path)
    whole = outline or panel.outline
    right = _right_of(whole, path)
    waist = f"{panel.name}.waist"
    new_is_right = waist in right if whole.has(waist) else len(right) <= 2
    keep_new: Side = "right" if new_is_right else "left"
    keep_old: Side = "left" if new_is_right else "right"
    cut_old = _part_of(old, right, Bound(line.name, keep_old))
    cut_new = replace(_part_of(old, right, Bound(line.name, keep_new)), name=new_name)
    pieces = [cut_old if piece is old else piece for piece in design.pieces]
    pieces.insert(pieces.index(cut_old) + 1, cut_new)
    marks = _marks_right_of(_marks_of(design, old, panel), panel, line)
    owner = _Owner(piece_name, new_name, new_is_right, [*right, *marks], path)
    seam = Join(
        f"{line.name} seam",
        JoinSide((EdgeRef(new_name, line.name),)),
        JoinSide((EdgeRef(piece_name, line.name),)),
        construction="felled",
    )
    if not new_is_right:
        seam = replace(seam, a=seam.b, b=seam.a)
    taught = with_shares(design, owner.refs)
    parts = Parts(
        piece_name,
        *((piece_name, new_name) if new_is_right else (new_name, piece_name)),
        whole,
        draw_line(line, panel).chain,
        path.start.edge,
        path.end.edge,
        tuple(right),
        _marks_of(design, old, panel),
    )
    return replace(
        taught,
        pieces=tuple(pieces),
        joins=(*taught.joins, seam),
        topstitching=tuple(row for one in design.topstitching for row in rows_on_parts(one, parts)),
        corners=tuple(corner_on_parts(one, parts) for one in design.corners),
        cutting=(
            *design.cutting,
            *(replace(rule, piece=new_name) for rule in design.cutting if rule.piece == piece_name),
        ),
    )


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


def is_off_panel(recipe: PanelPiece) -> bool:
    """Whether a piece lies otherwise than its panel does: its darts closed, a band, turned over."""
    return recipe.close_darts or recipe.ends is not None or recipe.over


def _runs_through(outline: Outline, drawn: DrawnLine) -> bool:
    """Whether a line begins and ends on an outline and lies inside it on its way."""
    chain = drawn.chain
    for place, end in zip(drawn.ends, (chain.start, chain.end), strict=True):
        if not outline.has(place.edge):
            return False
        if outline.edge(place.edge).chain.nearest(end)[1] > _ON_EDGE_MM:
            return False
    places = [chain.at(chain.length * k / _PLACES) for k in range(1, _PLACES)]
    inside = shapely.contains_xy(
        shapely.Polygon(outline.polyline()), [at.x for at in places], [at.y for at in places]
    )
    return bool(inside.all())


def _refuse_in_rest(piece: PanelPiece, panel: Panel, path: AnchoredPath) -> None:
    """Where the rest of a dart is taken out a part would not know of it: the line ends below."""
    if piece.rest_at == "none" or not panel.darts:
        return
    level = panel.levels.get(piece.rest_level, math.inf)
    for end in (path.start, path.end):
        if point_at(panel, end).y > level:
            raise GeometryRefused(
                f"The rest of the darts of {piece.name} is taken out down to {piece.rest_level}: "
                "draw the line below it.",
                where=piece.name,
            )


def _part_of(piece: PanelPiece, right: list[str], bound: Bound) -> PanelPiece:
    """One part of a piece: only the bounds that it has an edge of still bound it."""
    on_right = bound.keep == "right"
    kept = tuple(one for one in piece.bounds if (one.line in right) is on_right)
    if len(kept) == len(piece.bounds):
        return replace(piece, bounds=(*kept, bound))
    below = piece.below if any(one.line == piece.below for one in kept) else ""
    rest_at: RestAt = piece.rest_at if kept else "none"
    return replace(piece, bounds=(*kept, bound), below=below, rest_at=rest_at)


def _right_of(outline: Outline, path: AnchoredPath) -> list[str]:
    """Edges wholly right of the line: those met counter-clockwise from its start to its end.

    Raises:
        GeometryRefused: the outline has no edge that the line ends on.
    """
    names = [edge.name for edge in outline]
    for place in (path.start, path.end):
        if place.edge not in names:
            raise GeometryRefused(f"The line does not end on {place.edge} here.", where=place.edge)
    at, end = names.index(path.start.edge), names.index(path.end.edge)
    found = []
    at = (at + 1) % len(names)
    while at != end:
        found.append(names[at])
        at = (at + 1) % len(names)
    return found


def _marks_of(design: Design, piece: PanelPiece, panel: Panel) -> dict[str, Chain]:
    """The stretches of the lines drawn on a piece, by name, where they lie on its panel."""
    return {
        edge.name: edge.chain
        for mark in design.lines
        if mark.name in piece.marks
        for edge in draw_line(mark, panel).edges
    }


def _marks_right_of(marks: Mapping[str, Chain], panel: Panel, line: StyleLine) -> list[str]:
    """Those whose middle lies right of a line."""
    chain = draw_line(line, panel).chain
    return [name for name, mark in marks.items() if chain.side_of(mark.at(mark.length / 2.0)) < 0.0]


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
