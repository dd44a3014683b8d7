"""Rows of stitches the maker asks for, beside those that constructions bring."""

from __future__ import annotations

from studio.design.kept import Kept


class Topstitch(Kept, frozen=True):
    """Parallel rows along an edge or a mark of a piece, each so many mm inside the edge (to the
    left of a mark as it is drawn; negative: to its right). `start` and `end` are distances along
    it, in mm, between which they run; left out, they run its whole length. `through` rows of a
    patch go through what it is laid on as well; the others are stitched before it is laid on.
    """

    piece: str
    along: str
    rows: tuple[float, ...]
    start: float = 0.0
    end: float | None = None
    through: bool = False
