"""Which seams belong to both legs, and which are the same on the one leg and on the other."""

from __future__ import annotations

from studio.design.joins import Join


def is_centre(join: Join) -> bool:
    """True for a join of left with right."""
    a, b = ({(ref.piece, ref.edge) for ref in side.edges} for side in (join.a, join.b))
    return join.a.mirrored != join.b.mirrored and a == b


def is_other_leg(one: Join, two: Join) -> bool:
    """True for joins whose first sides are the same edges, one on either leg."""
    return one.a.mirrored != two.a.mirrored and set(one.a.edges) == set(two.a.edges)
