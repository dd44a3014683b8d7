"""A straight strip or waistband made of two scraps, joined across its length."""

from __future__ import annotations

from typing import Literal

from msgspec.structs import replace

from studio import numbers
from studio.cloth.parted import Parting, taught
from studio.curves import Point
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.design.pieces import PieceRecipe, StripPiece, WaistbandPiece
from studio.errors import GeometryRefused

LEAST_PART = 20.0
"""No part of a strip is shorter than this, mm: the join's allowances would fill it (practice)."""


def strip_pieced(
    design: Design,
    recipe: StripPiece | WaistbandPiece,
    piece: Piece,
    at: float,
    construction: Literal["plain", "felled"],
    new: str,
) -> Design:
    """The design in which a strip is joined `at` mm from its start, a waistband `at` mm from the
    centre back towards its overlap; the shorter part is called `new`.

    Raises:
        GeometryRefused: the place is too near an end, or in the button or its hole.
    """
    frame = piece.outline.box
    x = at + (_centre_back(recipe, piece) if isinstance(recipe, WaistbandPiece) else frame.left)
    if not frame.left + LEAST_PART <= x <= frame.right - LEAST_PART:
        raise GeometryRefused(
            f"A join there leaves less than {numbers.length(LEAST_PART, decimals=0)} of "
            f"{piece.name} at its end.",
            where=piece.name,
            exact=(LEAST_PART,),
        )
    for mark in piece.marks:
        across = mark.chain.box
        if ".button" in mark.name and across.left - LEAST_PART < x < across.right + LEAST_PART:
            raise GeometryRefused(
                f"A join there comes too near {mark.name}: move it.", where=piece.name
            )
    is_first_new = x - frame.left < frame.right - x
    first, second = (new, piece.name) if is_first_new else (piece.name, new)
    low, high = Point(x, frame.bottom - 1.0), Point(x, frame.top + 1.0)
    parting = Parting(piece, low, high, first, second, renames=True)
    parts = {
        first: _part(recipe, first, at, first=True),
        second: _part(recipe, second, at, first=False),
    }
    pieces: list[PieceRecipe] = []
    for one in design.pieces:
        pieces += [parts[first], parts[second]] if one is recipe else [one]
    seam = Join(
        f"{new} seam",
        JoinSide((EdgeRef(first, f"{first}.end"),)),
        JoinSide((EdgeRef(second, f"{second}.start"),)),
        construction=construction,
    )
    made = taught(design, parting)
    return replace(made, pieces=tuple(pieces), joins=(*made.joins, seam))


def _part(
    recipe: StripPiece | WaistbandPiece, name: str, at: float, *, first: bool
) -> StripPiece | WaistbandPiece:
    if isinstance(recipe, StripPiece):
        if first:
            return replace(recipe, name=name, length=at, fits="")
        return replace(recipe, name=name, length=recipe.length - at)
    if first:
        return replace(recipe, name=name, before=at)
    return replace(recipe, name=name, after=at)


def _centre_back(recipe: WaistbandPiece, piece: Piece) -> float:
    """Where the centre back lies along a band, in its coordinates, also when it is off the part."""
    frame = piece.outline.box
    if recipe.before is not None:
        return frame.right - recipe.before
    if recipe.after is not None:
        return frame.left - recipe.after
    return piece.outline.edge(f"{piece.name}.half-1").chain.end.x
