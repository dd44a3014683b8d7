"""A layout as it is given out: placements, what is left out, and how much of the stock is used."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
from shapely import Polygon

from studio.cloth.bed import Bed
from studio.cloth.groups import Group
from studio.cloth.items import Item
from studio.cloth.stance import laid, lying
from studio.cloth.task import Found, Merit
from studio.design.cloth import Placement


class Layout(msgspec.Struct, frozen=True):
    """Pieces laid, locked ones among them. `left_out` are the pieces and copies that are not,
    `never` those of them that fit on none of their stock even when it is empty; `used` is the
    share, 0 to 1, of the usable area of each stock that is cut into, and `lengths` how far from its
    start a roll is cut into, mm.
    """

    placements: tuple[Placement, ...]
    left_out: tuple[tuple[str, int], ...]
    never: tuple[tuple[str, int], ...]
    used: dict[str, float]
    merit: Merit
    lengths: dict[str, float] = {}


def layout_of(group: Group, found: Found) -> Layout:
    """What a search found for a group, with the group's locked pieces."""
    candidates, fields = group.task.candidates, group.task.fields
    found_places = tuple(
        Placement(
            candidates[one.candidate].piece,
            candidates[one.candidate].copy,
            fields[one.field].name,
            one.at,
            one.turn,
            one.flipped,
        )
        for one in found.laid
    )
    placements = (*group.locked, *found_places)
    there = {(placement.piece, placement.copy) for placement in placements}
    copies = [(item.piece, item.copy) for item in group.items]
    return Layout(
        placements,
        tuple(copy for copy in copies if copy not in there),
        tuple((candidates[one].piece, candidates[one].copy) for one in found.never),
        used_shares(group.items, group.beds, placements),
        found.merit,
        roll_lengths(group.items, group.beds, placements),
    )


def together(layouts: Sequence[Layout]) -> Layout:
    """Layouts that share neither pieces nor stock as one."""
    return Layout(
        tuple(placement for each in layouts for placement in each.placements),
        tuple(copy for each in layouts for copy in each.left_out),
        tuple(copy for each in layouts for copy in each.never),
        {stock: share for each in layouts for stock, share in each.used.items()},
        Merit(
            sum(each.merit.worth for each in layouts),
            sum(each.merit.fields for each in layouts),
            sum(each.merit.turned for each in layouts),
            sum(each.merit.leftover for each in layouts),
        ),
        {stock: length for each in layouts for stock, length in each.lengths.items()},
    )


def used_shares(
    items: Iterable[Item], beds: Iterable[Bed], placements: Iterable[Placement]
) -> dict[str, float]:
    """The share of each stock's usable area that cut lines enclose, of stock that is cut into."""
    by_copy = {(item.piece, item.copy): item for item in items}
    usable = {bed.name: bed.usable.area for bed in beds}
    areas: dict[str, float] = {}
    for placement in placements:
        way = by_copy[(placement.piece, placement.copy)].way(placement)
        if way is not None and usable.get(placement.stock):
            area = Polygon(way.stance.cut).area / usable[placement.stock]
            areas[placement.stock] = areas.get(placement.stock, 0.0) + area
    return areas


def roll_lengths(
    items: Iterable[Item], beds: Iterable[Bed], placements: Iterable[Placement]
) -> dict[str, float]:
    """How far from its start each roll with pieces on it is cut into, mm."""
    by_copy = {(item.piece, item.copy): item for item in items}
    rolls = {bed.name: bed for bed in beds if bed.roll}
    lengths: dict[str, float] = {}
    for placement in placements:
        way = by_copy[(placement.piece, placement.copy)].way(placement)
        bed = rolls.get(placement.stock)
        if way is not None and bed is not None:
            line = laid(way.stance.cut, lying(way.stance, placement, bed.warp))
            lengths[bed.name] = max(lengths.get(bed.name, 0.0), float(line.bounds[3]))
    return lengths
