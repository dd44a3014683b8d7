"""Rows of topstitching for which a piece has no room: a distance typed wrongly lies beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from studio.curves import Chain, Outline

_SHARES = (0.1, 0.3, 0.5, 0.7, 0.9)
"""Where along an edge is looked whether a row beside it lies on the piece."""

_NEAR = 0.1
"""A row nearer to its edge than this share of the piece's shorter side has room without a look: the
rows that constructions bring are that near.
"""


_CHORD_MM = 0.5
"""How finely an outline is followed for this: rows are looked at in every frame of a drag."""


def off_sentence(piece: str, along: str, row: float) -> str:
    """What is told of a row `row` mm inside (negative: outside) an edge or beside a mark."""
    return (
        f"There is no room for a row {row:.1f} mm from {along} on {piece}: "
        "take it away, or give it another distance."
    )


def lies_beside(outline: Outline, chain: Chain, row: float) -> bool:
    """Whether any of a row `row` mm to the left of an edge or a mark lies within the outline.

    A row on the chain itself does. Between the places that are looked at a short stretch may be
    missed.
    """
    if row == 0.0:
        return True
    for share in _SHARES:
        at, along = chain.at_and_along(chain.length * share)
        if outline.contains(at + along.left() * row, _CHORD_MM):
            return True
    return False


def rows_with_room(
    piece: str, edges: Sequence[str], outline: Outline, inside: Sequence[tuple[float, ...]]
) -> tuple[tuple[tuple[float, ...], ...], str]:
    """Of the rows inside each edge of a piece (mm, in the order of its outline) those it has room
    for, and sentences on the others.
    """
    near = min(outline.box.width, outline.box.height) * _NEAR
    told: list[str] = []
    kept = []
    for edge, along, rows in zip(edges, outline.edges, inside, strict=True):
        off = [row for row in rows if _is_off(outline, along.chain, row, near)]
        told += [off_sentence(piece, edge, row) for row in off]
        kept.append(tuple([row for row in rows if row not in off]) if off else rows)
    return tuple(kept), " ".join(told)


def lying_on(outline: Outline, rows: Iterable[Chain]) -> list[Chain]:
    """Those rows of which any part lies within the outline."""
    return [
        row
        for row in rows
        if any(outline.contains(row.at(row.length * share), _CHORD_MM) for share in _SHARES)
    ]


def _is_off(outline: Outline, chain: Chain, row: float, near: float) -> bool:
    """True for a row outside its edge, and for one beyond the piece."""
    if 0.0 <= row <= near:
        return False
    return row < 0.0 or not lies_beside(outline, chain, row)
