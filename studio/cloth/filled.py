"""A lay filled up: what was left in the tray though there is room for it is laid there.

A search works on cells and ends by its own rules, so it may leave out what would fit by exact
geometry. Here each piece that is left is sought a place in the same way in which a maker is told
where there is room (`least_loss`), so that nobody is told of room that the search has left.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import shapely
from msgspec.structs import replace
from shapely import Polygon

from studio.cloth.bed import Bed
from studio.cloth.items import Item
from studio.cloth.referee import faults
from studio.cloth.settle import settled
from studio.cloth.shortfall import cleared, least_loss
from studio.cloth.table import Table
from studio.design.cloth import Lay, Placement
from studio.sew import SewnPiece

_SLACK_MM = 1.0
"""A piece that lacks so much at its edge would be told to lack something."""


def filled(
    lay: Lay, items: Iterable[Item], beds: Sequence[Bed], pieces: Iterable[SewnPiece]
) -> Lay:
    """The lay with every one of the items that still has room beside what lies there, the largest
    first; the same lay when there is none. What lies there stays where it is.

    Every placement added is as allowed and clear by the referee. Pieces that no free part of a
    cloth is large enough for are not looked at; each other one costs a tenth of a second.
    """
    known = tuple(items)
    sewn = {one.piece.name: one for one in pieces}
    laid = {(one.piece, one.copy) for one in lay.placements}
    waiting = [one for one in known if (one.piece, one.copy) not in laid and one.ways]
    waiting.sort(key=lambda one: (-one.area, one.piece, one.copy))
    by_copy = {(one.piece, one.copy): one for one in known}
    table = Table({bed.name: bed for bed in beds}, by_copy, lay)
    # A place is found by small steps from the best cells: less cloth may lead to one that more did
    # not, so that all are looked at again until nothing was added.
    again = True
    while again:
        again = False
        free = cleared(beds, known, table.laid, lay.gap)
        for item in tuple(waiting):
            there = _place(item, sewn[item.piece], free, table)
            if there is None:
                continue
            table = table.with_lay(replace(table.lay, placements=(*table.lay.placements, there)))
            free = cleared(beds, known, table.laid, lay.gap)
            waiting.remove(item)
            again = bool(waiting)
    return table.lay


def _place(item: Item, sewn: SewnPiece, free: Sequence[Bed], table: Table) -> Placement | None:
    if not any(_may_hold(bed, item) for bed in free):
        return None
    found = least_loss(item, sewn, free)
    if found is None or not found.fits:
        return None
    there = found.placement
    if _is_clear(there, table):
        return there
    # All but a hair of it lies there.
    nearest = settled(table, there)
    return nearest if nearest is not None and _is_clear(nearest, table) else None


def _is_clear(placement: Placement, table: Table) -> bool:
    """Whether the referee finds nothing wrong with a placement beside those of a table."""
    beside = [one for one in table.laid if one.stock == placement.stock]
    wrong = faults(table.items.values(), table.beds.values(), (*beside, placement), table.lay.gap)
    return all(placement not in fault.placements for fault in wrong)


def _may_hold(bed: Bed, item: Item) -> bool:
    """Whether a free part of a bed is as large as a piece, and as long in some direction."""
    for cut in {way.stance.cut for way in item.ways_on(bed.name)}:
        line = Polygon(cut)
        least = line.area - _SLACK_MM * line.length
        long = _longest(line) - 2.0 * _SLACK_MM
        if any(part.area >= least and _longest(part) >= long for part in bed.usable.geoms):
            return True
    return False


def _longest(area: Polygon) -> float:
    """The diameter of the smallest circle round an area, mm: as long as it is at the most."""
    return 2.0 * float(shapely.minimum_bounding_radius(area))
