"""How often a piece is cut, and what is told by it elsewhere in the design."""

from __future__ import annotations

from msgspec.structs import replace

from studio.design.design import Design
from studio.design.joins import EdgeRef


def with_count(design: Design, piece: str, count: int) -> Design:
    """The design in which a piece is cut so often (pairs, or singles); loops that are spread round
    the waist are then spread by their new number.
    """
    return replace(
        design,
        pieces=tuple(
            replace(one, count=count) if one.name == piece and hasattr(one, "count") else one
            for one in design.pieces
        ),
        finishes=tuple(
            replace(one, spread=count) if one.spread and one.edge.piece == piece else one
            for one in design.finishes
        ),
    )


def with_loops_spread(design: Design, piece: str, spread: bool) -> Design:
    """The design in which the loops of a piece, caught in a waist, are spread round it and notched
    there, or their places are left to the eye.
    """
    count = next((getattr(one, "count", 0) for one in design.pieces if one.name == piece), 0)
    return replace(
        design,
        finishes=tuple(
            replace(one, spread=count if spread else 0)
            if one.how == "caught" and one.edge == EdgeRef(piece, f"{piece}.start")
            else one
            for one in design.finishes
        ),
    )
