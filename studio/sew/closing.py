"""Which of the seams that close a leg is sewn first, where the maker has not said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from studio.design.joins import Join, JoinSide
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.legs import is_centre
from studio.sew.steps import Parts


def flat_first(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> list[Join]:
    """The joins in their order, but that of those that close a leg one that is stitched down comes
    before one that is not: it lies flat only while the other is open, the last is sewn on a tube
    (common practice, no source).
    """
    found: list[Join] = []
    for join in joins:
        after = [k for k, other in enumerate(found) if _is_sewn_later(other, join, pieces)]
        found.insert(after[0] if after else len(found), join)
    return found


def _is_sewn_later(other: Join, join: Join, pieces: Mapping[str, Parts]) -> bool:
    """True when both close the same leg, and only the second is stitched down."""
    if _is_stitched(other) or not _is_stitched(join):
        return False
    sides = [_on_panel(one, pieces) for one in (other.a, other.b, join.a, join.b)]
    if not all(sides) or is_centre(other) or is_centre(join):
        return False
    first, second, third, fourth = sides
    return bool((first & third and second & fourth) or (first & fourth and second & third))


def _is_stitched(join: Join) -> bool:
    """True for a seam that is stitched from the right side through all that lies beneath."""
    return CONSTRUCTIONS[join.construction].chooses_wrap if join.rows is None else bool(join.rows)


def _on_panel(side: JoinSide, pieces: Mapping[str, Parts]) -> set[str]:
    """The pieces of a side, where all of them are of one panel and none is sewn along a line drawn
    on it; else none.
    """
    parts = [pieces.get(ref.piece) for ref in side.edges]
    panels = {part.panel for part in parts if part is not None}
    if None in parts or len(panels) != 1 or "" in panels:
        return set()
    (panel,) = panels
    if not all(ref.edge.startswith(f"{panel}.") for ref in side.edges):
        return set()
    return {ref.piece for ref in side.edges}
