"""Seams and finishes that spoke of an edge, taught to speak of the parts it was shared out to."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from msgspec.structs import replace

from studio.design.design import Design
from studio.design.joins import EdgeRef, JoinSide

Share: TypeAlias = Callable[[EdgeRef, bool], tuple[EdgeRef, ...]]
"""What a reference becomes, in the order met counter-clockwise round the piece (True), or the
other way round.
"""


def with_shares(design: Design, share: Share) -> Design:
    """The design in which every reference of a join or a finish is replaced by its shares; those
    of a join in the order in which the seam is sewn. Where the order of sewing was wished for, the
    finishes of the shares take the place of that of the whole.

    Raises:
        GeometryRefused: as `share` does.
    """

    def side(old: JoinSide, is_a: bool) -> JoinSide:
        forwards = is_a != old.mirrored
        return replace(old, edges=tuple(new for ref in old.edges for new in share(ref, forwards)))

    joins = tuple(
        replace(join, a=side(join.a, True), b=side(join.b, False)) for join in design.joins
    )
    shared = [
        tuple(replace(finish, edge=ref) for ref in share(finish.edge, True))
        for finish in design.finishes
    ]
    steps = {
        finish.step: tuple(one.step for one in parts)
        for finish, parts in zip(design.finishes, shared, strict=True)
    }
    return replace(
        design,
        joins=joins,
        finishes=tuple(one for parts in shared for one in parts),
        sewing=tuple(step for wish in design.sewing for step in steps.get(wish, (wish,))),
    )
