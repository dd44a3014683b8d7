"""A facing: the inner layer of a piece, of its outline, mirrored."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from msgspec.structs import replace

from studio.cut.band_end import turned_over
from studio.cut.narrowed import narrowed
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.pieces import FacingPiece, PieceRecipe
from studio.errors import GeometryRefused


def cut_facing(recipe: FacingPiece, outer: Piece | None) -> Piece:
    """The facing of a piece: laid wrong side to wrong side it lies on it edge on edge, all lengths
    the same within 1e-9 mm, but for what is taken off for the turn of cloth. It is cut as often as
    the piece, its grain runs alike, and it bears none of its marks.

    Raises:
        GeometryRefused: there is no such piece, or it is too narrow for what is taken off.
    """
    if outer is None:
        raise GeometryRefused(f"There is no piece {recipe.of} for it to face.", where=recipe.name)
    over = turned_over(replace(outer, marks=()))
    last = len(outer.outline.edges) - 1
    whole = replace(
        over,
        name=recipe.name,
        splits=tuple(
            (last - at, outer.outline.edges[at].length - along, line)
            for at, along, line in outer.splits
        ),
        warp=(180.0 - outer.warp) % 180.0,
        cut=outer.cut,
        count=outer.count,
        cloth=recipe.cloth,
    )
    return narrowed(whole, recipe.along, recipe.less)


def faced(
    recipes: Iterable[PieceRecipe],
    pieces: Mapping[str, Piece],
    make: Callable[[FacingPiece, Piece | None], Piece | None],
) -> dict[str, Piece]:
    """The facings of pieces, by name, as `make` makes them of what they face; None for what is no
    piece of the design. Those of pieces that are wanted but could not be cut are left out.
    """
    known = tuple(recipes)
    wanted = {one.name for one in known if not isinstance(one, FacingPiece)}
    made = {
        one.name: make(one, pieces.get(one.of))
        for one in known
        if isinstance(one, FacingPiece) and (one.of in pieces or one.of not in wanted)
    }
    return {name: piece for name, piece in made.items() if piece is not None}


def facings(pieces: Iterable[PieceRecipe]) -> dict[str, str]:
    """The name of every facing, with that of the piece it faces."""
    return {one.name: one.of for one in pieces if isinstance(one, FacingPiece)}


def refuse_faced(design: Design, name: str) -> None:
    """Raises GeometryRefused when a piece has a facing: divided, it would no longer fit."""
    for facing, outer in facings(design.pieces).items():
        if outer == name:
            raise GeometryRefused(
                f"{name} is faced with {facing}, which has its shape: it cannot be divided.",
                where=name,
            )
