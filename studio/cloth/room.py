"""Where a piece that lies nowhere would lose least: beside what lies there, or, where that is not
enough, were nothing loose there.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from studio.cloth.bed import Bed
from studio.cloth.items import Item
from studio.cloth.missing import Lying
from studio.cloth.shortfall import cleared, least_loss
from studio.design.cloth import Placement
from studio.sew import SewnPiece


class Free(msgspec.Struct, frozen=True):
    """What is free of the beds: `beside` all that is laid, and with `room` made, only of what is
    locked.
    """

    beside: tuple[Bed, ...]
    room: tuple[Bed, ...]


class AtBest(msgspec.Struct, frozen=True):
    """Where a piece loses least `beside` all that is laid, None where there is no cloth for it; and
    `with_room` made, None where that is not needed, or where the sewing line is crossed even so.
    """

    beside: Lying | None
    with_room: Lying | None = None


def free_beds(
    beds: Sequence[Bed], items: Iterable[Item], placements: Iterable[Placement], gap: float
) -> Free:
    """What is free beside placements of items, `gap` mm round each."""
    laid, known = tuple(placements), tuple(items)
    locked = tuple(one for one in laid if one.locked)
    return Free(cleared(beds, known, laid, gap), cleared(beds, known, locked, gap))


def at_best(item: Item, sewn: SewnPiece, free: Free) -> AtBest:
    """Where a piece would lie at best, 0.1 s, or twice that where room is looked for."""
    beside = least_loss(item, sewn, free.beside)
    if beside is not None and not beside.crosses:
        return AtBest(beside)
    with_room = least_loss(item, sewn, free.room)
    return AtBest(beside, None if with_room is None or with_room.crosses else with_room)
