"""A piece made narrower along edges that follow each other: a facing, for the turn of cloth."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from studio import numbers
from studio.curves import Affine, Outline, tolerance
from studio.cut.piece import Piece
from studio.errors import GeometryRefused

_LEFT_MM = 5.0
"""The edges beside what is moved must be longer than it is moved by so much."""


def narrowed(piece: Piece, along: Sequence[str], less: float) -> Piece:
    """The piece with edges that follow each other moved inwards, as they are, by `less` mm square
    to their chord: they keep their shape and length, so what they are sewn to still fits. Only the
    two edges beside them are shorter. All keep their names.

    Raises:
        GeometryRefused: `less` is negative, the piece has none of the edges or nothing but them
            and one more, or it is not wide enough.
    """
    if less == 0.0:
        return piece
    edges = piece.outline.edges
    ring = _ring(piece, along)
    if less < 0.0 or ring is None:
        raise GeometryRefused(
            f"{piece.name} cannot be made {numbers.length(less)} narrower along "
            f"{' and '.join(along)}.",
            where=piece.name,
            exact=(less,),
        )
    before, *inner, after = ring
    if min(edges[before].length, edges[after].length) < less + _LEFT_MM:
        raise _too_narrow(piece, less)
    chord = edges[inner[-1]].chain.end - edges[inner[0]].chain.start
    if chord.length <= tolerance.CORNER_MM:
        raise _too_narrow(piece, less)
    move = Affine.shift(chord.unit().left() * less)
    chains = {at: edges[at].chain.transformed(move) for at in inner}
    first, last = edges[before].chain, edges[after].chain
    chains[before] = first.with_ends(first.start, chains[inner[0]].start)
    chains[after] = last.with_ends(chains[inner[-1]].end, last.end)
    made = tuple(
        edge.redrawn(chains[at]) if at in chains else edge for at, edge in enumerate(edges)
    )
    splits = tuple(
        (at, along * made[at].length / edges[at].length, line) for at, along, line in piece.splits
    )
    return replace(piece, outline=Outline.of(made), splits=splits)


def _ring(piece: Piece, along: Sequence[str]) -> list[int] | None:
    """Indices of the edges to be moved, in order, with one more before and after; None when there
    are none, when they do not follow each other, or when fewer than two others are left.
    """
    edges = piece.outline.edges
    inner = [edge.name in along for edge in edges]
    firsts = [at for at, is_in in enumerate(inner) if is_in and not inner[at - 1]]
    count = sum(inner)
    if len(firsts) != 1 or count > len(edges) - 2:
        return None
    return [(firsts[0] - 1 + k) % len(edges) for k in range(count + 2)]


def _too_narrow(piece: Piece, less: float) -> GeometryRefused:
    return GeometryRefused(
        f"{piece.name} is not wide enough to be made {numbers.length(less)} narrower.",
        where=piece.name,
        exact=(less,),
    )
