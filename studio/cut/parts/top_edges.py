"""What of the waist is there to be sewn to a band, and what waits to be caught with it."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.cut.parts.part import edge_called, starts_at
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish
from studio.design.pieces import PanelPiece
from studio.errors import GeometryRefused


def top_edges(
    design: Design, panel: Panel, pieces: Mapping[str, Piece], *, begins: str
) -> tuple[EdgeRef, ...]:
    """What of a panel's waist is free to be sewn to a band, in the outline's order.

    Raises:
        GeometryRefused: nothing is free, the panel does not begin at that edge, or what is free is
            the top of a band that opens at the centre front.
    """
    waist = edge_called(panel, "waist")
    if not starts_at(panel, waist, edge_called(panel, begins)):
        raise GeometryRefused(
            f"The {panel.name} lies mirrored: its waist should run counter-clockwise from its "
            f"{begins}.",
            where=panel.name,
        )
    free = [
        finish.edge
        for finish in design.finishes
        if finish.edge.edge == waist and finish.how != "caught" and finish.edge.piece in pieces
    ]
    if not free:
        refuse_sewn(design)
        raise GeometryRefused(
            f"No waist of the {panel.name} is free: say how it is finished, or undo its join.",
            where=waist,
        )
    _refuse_open_band(design, {ref.piece for ref in free})
    return tuple(sorted(free, key=lambda ref: _begins_at(ref, pieces[ref.piece])))


def refuse_sewn(design: Design) -> None:
    """Raises GeometryRefused when the waist is sewn to something already."""
    for join in design.joins:
        if any(ref.edge in ("front.waist", "back.waist") for ref in join.refs):
            raise GeometryRefused(
                f"The waist is sewn already, by {join.name}: take the band that is there away "
                "first.",
                where=join.name,
            )


def _refuse_open_band(design: Design, pieces: set[str]) -> None:
    """A band that is closed by a button has its ends; one that was sewn to its top had them twice.

    Raises:
        GeometryRefused: one of the pieces is of such a band.
    """
    for piece in design.pieces:
        if isinstance(piece, PanelPiece) and piece.name in pieces and piece.ends is not None:
            raise GeometryRefused(
                f"{piece.name} is a band already, closed by a button: no other is sewn to its top. "
                "Take it away first, or cut it without an overlap.",
                where=piece.name,
            )


def _begins_at(ref: EdgeRef, piece: Piece) -> float:
    """Where a stretch begins on the edge first drawn, mm."""
    for index, edge in enumerate(piece.outline.edges):
        if edge.name == ref.edge:
            for at, along, line in piece.splits:
                if at == index and line == ref.after:
                    return edge.place(along)
            return edge.start
    raise GeometryRefused(f"{ref.piece} has no edge {ref.edge}.", where=ref.text)


def in_own_leg(design: Design, seams: tuple[str, str]) -> Design:
    """The design in which what is caught in the first of two seams along the waist, one a leg, is
    caught in the second where it is sewn to the other leg, as the shield of a fly is.
    """
    others = {ref.piece for join in design.joins if join.a.mirrored for ref in join.b.edges}
    return replace(
        design,
        finishes=tuple(
            replace(one, into=seams[1])
            if one.how == "caught" and one.into == seams[0] and one.edge.piece in others
            else one
            for one in design.finishes
        ),
    )


def waits_for_the_waist(finish: Finish, strips: set[str]) -> bool:
    """True for what waits to be caught in a waist seam: bags, loops, shields."""
    return (
        finish.how == "caught"
        and not finish.into
        and (finish.edge.edge.endswith(".waist") or finish.edge.piece in strips)
    )
