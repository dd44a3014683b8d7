"""How often a piece is cut, and what is told by it elsewhere in the design."""

from __future__ import annotations

from msgspec.structs import replace

from studio.design.design import Design


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
