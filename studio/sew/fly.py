"""A fly as the joins tell it: one front's edge is faced, the other's sewn to the shield."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from studio.design.joins import Join
from studio.sew.legs import is_other_leg


class Opening(msgspec.Struct, frozen=True):
    """The two seams between which a zip is set in: of the faced edge, and of the other front with
    the shield. `facing` and `shield` are the pieces sewn on there.
    """

    faced: Join
    shielded: Join
    facing: str
    shield: str


def openings(joins: Sequence[Join]) -> Iterator[Opening]:
    """Every edge that is faced on the one leg and sewn to another piece on the other."""
    for faced in joins:
        if faced.construction != "faced" or not faced.b.edges:
            continue
        facing = faced.b.edges[0].piece
        for other in joins:
            if not other.b.edges:
                continue
            shield = other.b.edges[0].piece
            if shield != facing and is_other_leg(other, faced):
                yield Opening(faced, other, facing, shield)
                break
