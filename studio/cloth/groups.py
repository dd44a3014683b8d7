"""Items and stock sorted into groups that share nothing, each a task for a search of its own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from studio.cloth.bed import Bed
from studio.cloth.items import Item, Way
from studio.cloth.stance import is_mirrored, laid, lying
from studio.cloth.task import Candidate, Field, Pose, Task
from studio.design.cloth import Lay, Place, Placement

_LOCKED_SPARE = 0.02
"""Mm that the search keeps from locked pieces beyond the gap, for chords of round corners."""


class Group(msgspec.Struct, frozen=True):
    """Items that share stock, the stock, pieces locked on it; `task` has the items not locked."""

    items: tuple[Item, ...]
    beds: tuple[Bed, ...]
    locked: tuple[Placement, ...]
    task: Task


def groups_of(items: Iterable[Item], beds: Iterable[Bed], lay: Lay) -> tuple[Group, ...]:
    """Groups of items and beds that share nothing with one another. An item without a way is in a
    group without beds; a locked placement of an item or on a bed that is not there is dropped.
    """
    every_item, by_name = tuple(items), {bed.name: bed for bed in beds}
    copies = {(item.piece, item.copy): item for item in every_item}
    locked = [
        placement
        for placement in lay.placements
        if placement.locked
        and placement.stock in by_name
        and (placement.piece, placement.copy) in copies
    ]
    lies_on = {(one.piece, one.copy): one.stock for one in locked}
    stocks = [_stocks(item, by_name, lies_on) for item in every_item]
    with_stocks = list(zip(every_item, stocks, strict=True))
    sharing = [
        _group(
            [item for item, on in with_stocks if on and on <= together],
            [bed for name, bed in by_name.items() if name in together],
            [placement for placement in locked if placement.stock in together],
            lay.gap,
        )
        for together in _joined(stocks)
    ]
    return (*sharing, *(_group([item], [], [], lay.gap) for item, on in with_stocks if not on))


def _stocks(
    item: Item, beds: dict[str, Bed], lies_on: dict[tuple[str, int], str]
) -> frozenset[str]:
    fixed = lies_on.get((item.piece, item.copy))
    if fixed is not None:
        return frozenset((fixed,))
    return frozenset(way.stock for way in item.ways if way.stock in beds)


def _joined(stocks: Iterable[frozenset[str]]) -> list[frozenset[str]]:
    """Sets of names that overlap made one, in order of their first."""
    found: list[frozenset[str]] = []
    for names in stocks:
        if names:
            touching = [group for group in found if group & names]
            first = found.index(touching[0]) if touching else len(found)
            found = [group for group in found if group not in touching]
            found.insert(first, names.union(*touching))
    return found


def _group(
    items: Sequence[Item], beds: Sequence[Bed], locked: Sequence[Placement], gap: float
) -> Group:
    figures: dict[tuple[Place, ...], int] = {}
    taken = {(placement.piece, placement.copy) for placement in locked}
    open_items = [item for item in items if (item.piece, item.copy) not in taken]
    candidates = tuple(_candidate(item, beds, figures) for item in open_items)
    fields = tuple(_field(bed, items, locked, gap) for bed in beds)
    task = Task(tuple(figures), fields, candidates, gap)
    return Group(tuple(items), tuple(beds), tuple(locked), task)


def _candidate(item: Item, beds: Sequence[Bed], figures: dict[tuple[Place, ...], int]) -> Candidate:
    poses = tuple(
        tuple(pose for way in item.ways_on(bed.name) for pose in _poses(item, way, figures))
        for bed in beds
    )
    return Candidate(item.piece, item.copy, item.area, poses)


def _poses(item: Item, way: Way, figures: dict[tuple[Place, ...], int]) -> list[Pose]:
    found: list[Pose] = []
    for flipped in way.faces:
        mirrored = is_mirrored(way.stance, item.copy, flipped)
        line = way.stance.cut
        if mirrored:
            line = tuple((-x, y) for x, y in reversed(line))
        figure = figures.setdefault(line, len(figures))
        found += [Pose(figure, turn, way.tolerance, flipped) for turn in way.turns]
    return found


def _field(bed: Bed, items: Sequence[Item], locked: Sequence[Placement], gap: float) -> Field:
    copies = {(item.piece, item.copy): item for item in items}
    lines: list[BaseGeometry] = []
    for placement in locked:
        item = copies[(placement.piece, placement.copy)]
        way = item.way(placement) or next(iter(item.ways), None)
        if placement.stock == bed.name and way is not None:
            line = laid(way.stance.cut, lying(way.stance, placement, bed.warp))
            lines.append(line.buffer(gap + _LOCKED_SPARE))
    usable = bed.usable.difference(unary_union(lines)) if lines else bed.usable
    parts = getattr(usable, "geoms", (usable,))
    areas = [part for part in parts if isinstance(part, Polygon) and not part.is_empty]
    return Field(bed.name, bed.warp, MultiPolygon(areas), bed.roll)
