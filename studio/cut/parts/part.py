"""What every part can do, and what the parts share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, Self

import msgspec
from msgspec.structs import replace

from studio.block.panel import Panel
from studio.cut.piece import Piece
from studio.cut.sharing import with_shares
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish
from studio.design.lines import AnchoredPath, OnEdge, StyleLine
from studio.design.pieces import PanelPiece, PieceRecipe, ShapePiece
from studio.errors import GeometryRefused


class Number(msgspec.Struct, frozen=True):
    """A number of a part that the maker types: the struct's field, what it is called; a count is
    whole, an angle in degrees, all else mm; the least and the most that make sense.
    """

    field: str
    label: str
    is_count: bool = False
    is_angle: bool = False
    least: float = 0.0
    most: float = 3000.0


class OtherCloth(msgspec.Struct, frozen=True):
    """A piece of a part that may be cut from another cloth, or left out: the struct's field, which
    holds the cloth's name and is empty without that piece; what the piece is called; and the words
    for leaving it out.
    """

    field: str
    label: str
    without: str


class Part(msgspec.Struct, frozen=True, kw_only=True):
    """A part as asked for; `name` starts the names of what it is made of."""

    title: ClassVar[str]
    words: ClassVar[str]
    numbers: ClassVar[tuple[Number, ...]]
    cloths: ClassVar[tuple[OtherCloth, ...]] = ()
    on_panel: ClassVar[bool] = True

    name: str
    panel: str = ""
    cloth: str = "main"

    def fitting(self, _panels: Mapping[str, Panel]) -> Self:
        """The part with its numbers brought to what its panel has room for, to be offered; the
        same where they fit, or where there is no such panel.
        """
        return self

    def added(
        self, design: Design, panels: Mapping[str, Panel], pieces: Mapping[str, Piece]
    ) -> Design:
        """The design with the part; `panels` and `pieces` are those of its pattern, by name.

        Raises:
            GeometryRefused: a name is taken, or the panel has no room for it.
        """
        raise NotImplementedError


def refuse_taken(design: Design, *names: str) -> None:
    """Raises GeometryRefused when a line or a piece bears one of the names."""
    taken = {line.name for line in design.lines} | {piece.name for piece in design.pieces}
    for name in names:
        if not name:
            raise GeometryRefused("The part needs a name.")
        if name in taken:
            raise GeometryRefused(f"There is a line or piece called {name} already.", where=name)


def panel_called(panels: Mapping[str, Panel], name: str) -> Panel:
    """The panel; raises GeometryRefused."""
    if name not in panels:
        raise GeometryRefused(f"There is no panel {name}.", where=name)
    return panels[name]


def edge_called(panel: Panel, name: str) -> str:
    """An edge of a panel by its plain name; raises GeometryRefused."""
    edge = f"{panel.name}.{name}"
    if not panel.outline.has(edge):
        raise GeometryRefused(f"{panel.name} has no edge {edge}.", where=panel.name)
    return edge


def body_of(design: Design, pieces: Mapping[str, Piece], panel: str, *edges: str) -> PanelPiece:
    """The piece of a panel that a part is set on: the largest that has all of the edges.

    Raises:
        GeometryRefused: no piece has them all, or only a band that was cut off the top has.
    """
    cut_off = {
        one.below for one in design.pieces if isinstance(one, PanelPiece) and one.panel == panel
    } - {""}
    if cut_off and f"{panel}.waist" in edges:
        raise GeometryRefused(
            f"A band is cut off the {panel} along {min(cut_off)}: what begins at the waist is "
            "added before it.",
            where=panel,
        )
    found = [
        recipe
        for recipe in design.pieces
        if isinstance(recipe, PanelPiece)
        and recipe.panel == panel
        and recipe.name in pieces
        and all(pieces[recipe.name].outline.has(edge) for edge in edges)
    ]
    if not found:
        raise GeometryRefused(
            f"No piece of the {panel} has {' and '.join(edges)}: the part has nothing to sit on.",
            where=panel,
        )
    return max(found, key=lambda recipe: pieces[recipe.name].outline.area_mm2)


def starts_at(panel: Panel, edge: str, corner: str) -> bool:
    """True when an edge of the panel starts, counter-clockwise, where another ends."""
    names = [known.name for known in panel.outline]
    return names[names.index(edge) - 1] == corner


def is_right_of(panel: Panel, path: AnchoredPath, edge: str) -> bool:
    """True when an edge of the panel lies right of a line from edge to edge, walked from its
    start.
    """
    names = [known.name for known in panel.outline]
    at, end = names.index(path.start.edge), names.index(path.end.edge)
    at = (at + 1) % len(names)
    while at != end:
        if names[at] == edge:
            return True
        at = (at + 1) % len(names)
    return False


def with_added(
    design: Design,
    *,
    lines: tuple[StyleLine, ...] = (),
    pieces: tuple[PieceRecipe, ...] = (),
    finishes: tuple[Finish, ...] = (),
) -> Design:
    """The design with lines, pieces and finishes at the end."""
    return replace(
        design,
        lines=(*design.lines, *lines),
        pieces=(*design.pieces, *pieces),
        finishes=(*design.finishes, *finishes),
    )


def join_with(design: Design, edge: str, piece: str = "") -> str:
    """The name of the first join that sews an edge (of a piece, or of any); "" when none does."""
    for join in design.joins:
        if any(ref.edge == edge and piece in ("", ref.piece) for ref in join.refs):
            return join.name
    return ""


def with_marks(design: Design, piece: str, line: str) -> Design:
    """The design in which a line is drawn on a piece."""
    return replace(
        design,
        pieces=tuple(
            replace(recipe, marks=(*recipe.marks, line))
            if isinstance(recipe, PanelPiece | ShapePiece) and recipe.name == piece
            else recipe
            for recipe in design.pieces
        ),
    )


def shared_out(
    design: Design, body: str, beside: str, panel: Panel, line: str, places: tuple[OnEdge, ...]
) -> Design:
    """The design in which joins and finishes that spoke of an edge of the body speak of the body
    and, beyond the end of a line that cuts it off there, of the piece beside it.

    `places` are the line's ends; the piece beside takes the part towards the corner an end is
    measured from.
    """
    ends = {place.edge: place for place in places}

    def refs(ref: EdgeRef, forwards: bool) -> tuple[EdgeRef, ...]:
        place = ends.get(ref.edge)
        if ref.piece != body or place is None:
            return (ref,)
        starts_there = starts_at(panel, ref.edge, place.corner)
        if ref.before or ref.after:
            raise GeometryRefused(
                f"A seam speaks of only a part of {ref.text}: join it anew after this.",
                where=ref.edge,
            )
        part = (
            EdgeRef(beside, ref.edge, before=line)
            if starts_there
            else EdgeRef(beside, ref.edge, after=line)
        )
        whole = (part, ref) if starts_there else (ref, part)
        return whole if forwards else whole[::-1]

    return with_shares(design, refs)
