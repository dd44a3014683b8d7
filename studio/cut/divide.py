"""A piece divided along a line that runs from edge to edge: two pieces, their join, and all that
spoke of the one piece taught to speak of both.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import shapely
from msgspec.structs import replace

from studio.block.panel import Panel
from studio.block.places import point_at
from studio.curves import Chain, Outline
from studio.cut.draw import draw_line
from studio.cut.drawn import DrawnLine
from studio.cut.facing import refuse_faced
from studio.cut.parted_rows import Parted, corner_on_parts, rows_on_parts
from studio.cut.piece import Piece
from studio.cut.sharing import with_shares
from studio.cut.split import Side
from studio.design.design import Design
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.design.lines import AnchoredPath, StyleLine
from studio.design.pieces import Bound, PanelPiece, RestAt
from studio.errors import GeometryRefused

_ON_EDGE_MM = 0.01
"""A line ends on an edge that is no further off."""

_PLACES = 24
"""Stretches of a line whose ends are asked whether they lie inside."""


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
    old = _recipe_of(design, panel, piece_name)
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
    marks, drawn = _marks_of(design, old, panel), draw_line(line, panel).chain
    left_name, right_name = (old.name, new_name) if new_is_right else (new_name, old.name)
    parted = Parted(
        old.name,
        left_name,
        right_name,
        whole,
        drawn,
        path.start.edge,
        path.end.edge,
        tuple(right),
        marks,
    )
    taught = with_shares(design, _Owner(parted).refs)
    seam = Join(
        f"{line.name} seam",
        JoinSide((EdgeRef(right_name, line.name),)),
        JoinSide((EdgeRef(left_name, line.name),)),
        construction="felled",
    )
    rules = (replace(one, piece=new_name) for one in design.cutting if one.piece == old.name)
    return replace(
        taught,
        pieces=tuple(pieces),
        joins=(*taught.joins, seam),
        topstitching=tuple(
            row for one in design.topstitching for row in rows_on_parts(one, parted)
        ),
        corners=tuple(corner_on_parts(one, parted) for one in design.corners),
        cutting=(*design.cutting, *rules),
    )


def _recipe_of(design: Design, panel: Panel, name: str) -> PanelPiece:
    """The piece that is to be divided; raises GeometryRefused for one that cannot be."""
    for piece in design.pieces:
        if isinstance(piece, PanelPiece) and piece.name == name and piece.panel == panel.name:
            refuse_faced(design, name)
            return piece
    raise GeometryRefused(f"{name} is not cut from {panel.name}.", where=name)


class _Owner:
    """Says which of the two parts an edge of a piece lies on, and in which order it is met."""

    def __init__(self, parted: Parted) -> None:
        self._parted = parted
        # A mark is the part's on which its middle lies.
        self._on_right = {
            *parted.right_edges,
            *(name for name, mark in parted.marks.items() if _is_right_of(mark, parted.line)),
        }

    def refs(self, ref: EdgeRef, forwards: bool) -> tuple[EdgeRef, ...]:
        """The edge on the part or the parts it lies on, in order."""
        parted = self._parted
        if ref.piece != parted.old:
            return (ref,)
        if ref.edge in (parted.starts_on, parted.ends_on):
            if ref.before or ref.after:
                raise GeometryRefused(
                    f"A seam speaks of only a part of {ref.text}: join it anew after the cut.",
                    where=ref.edge,
                )
            order = [parted.left, parted.right]
            if ref.edge == parted.ends_on:
                order.reverse()
            if not forwards:
                order.reverse()
            return tuple(replace(ref, piece=name) for name in order)
        return (replace(ref, piece=parted.right if ref.edge in self._on_right else parted.left),)


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


def _is_right_of(mark: Chain, line: Chain) -> bool:
    return line.side_of(mark.at(mark.length / 2.0)) < 0.0
