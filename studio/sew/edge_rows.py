"""Rows that joins and finishes stitch inside the edges of a piece, as far as it has room."""

from __future__ import annotations

from collections.abc import Sequence

from studio.block.panel import Dart
from studio.curves import Chain, Outline
from studio.errors import GeometryRefused, Told
from studio.sew.parallel import moved
from studio.sew.rows_on import is_beyond, off_sentence, parts_on
from studio.sew.topstitch import rows_of


def rows_with_room(
    piece: str,
    edges: Sequence[str],
    outline: Outline,
    inside: Sequence[tuple[float, ...]],
    darts: Sequence[Dart] = (),
) -> tuple[tuple[Chain, ...], str]:
    """The rows inside the edges of a piece, as `rows_of` gives them, as far as they lie on it, and
    sentences on those it has no room for. `inside` gives distances (mm) for each edge, in order;
    `edges` are their names. A row is judged as exactly as `parts_on` does.

    Raises:
        GeometryRefused: a row for which there is room cannot be made.
    """
    if not any(inside):
        return (), ""
    if not any(is_beyond(outline, row) or row < 0.0 for rows in inside for row in rows):
        try:
            made = rows_of(outline, inside, darts)
        except GeometryRefused:
            made = ()
        # Most have room from end to end: each is its own one part.
        if made and all([parts_on(outline, row)[:1] == (row,) for row in made]):
            return made, ""
    told: list[str] = []
    kept = []
    for edge, along, rows in zip(edges, outline.edges, inside, strict=True):
        off = [row for row in rows if not _has_room(outline, along.chain, row)]
        told += [off_sentence(piece, edge, row) for row in off]
        kept.append(tuple([row for row in rows if row not in off]) if off else rows)
    made = rows_of(outline, kept, darts)
    return tuple([part for row in made for part in parts_on(outline, row)]), Told.joined(told)


def _has_room(outline: Outline, chain: Chain, row: float) -> bool:
    """Whether any of a row inside an edge lies on the piece."""
    if row < 0.0 or is_beyond(outline, row):
        return False
    try:
        return bool(parts_on(outline, moved(chain, row)))
    except GeometryRefused:
        return False
