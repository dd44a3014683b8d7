"""A piece brought to the nearest place where it lies clear, when all but a hair of it does."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from msgspec.structs import replace
from numpy.typing import NDArray
from scipy.optimize import minimize

from studio.cloth.by_hand import Hand
from studio.cloth.clearance import beyond
from studio.cloth.shortfall import cleared
from studio.cloth.stance import laid, lying
from studio.cloth.table import Table
from studio.design.cloth import Lay, Placement

_FIRST_STEP_MM = 0.2
_MOST_STEPS = 160


def settled(table: Table, placement: Placement) -> Placement | None:
    """The placement where the piece lies clear of all others and on usable cloth, turned and faced
    as it is: the nearest place if there is any play, else one within about a millimetre. None when
    none was found.
    """
    item = table.items.get((placement.piece, placement.copy))
    way = item.way(placement) if item is not None else None
    if way is None or placement.stock not in table.beds:
        return None
    by_hand = Hand(table, replace(placement, stock="")).over(
        placement.stock, placement, placement.at
    )
    if by_hand is not None and np.hypot(*np.subtract(by_hand.at, placement.at)) < 1.0:
        return by_hand
    key = placement.piece, placement.copy
    others = [one for one in table.laid if (one.piece, one.copy) != key]
    (bed,) = cleared([table.beds[placement.stock]], table.items.values(), others, table.lay.gap)
    line = laid(way.stance.cut, lying(way.stance, placement, bed.warp))
    ground = bed.usable.intersection(line.buffer(5.0).envelope)
    shapely.prepare(ground)

    def outside(step: NDArray[np.float64]) -> float:
        there = shapely.transform(line, lambda places: places + step)
        return 0.0 if ground.covers(there) else float(there.difference(ground).area)

    corners = np.vstack([np.zeros(2), np.eye(2) * _FIRST_STEP_MM])
    found = minimize(
        outside,
        np.zeros(2),
        method="Nelder-Mead",
        options={
            "maxfev": _MOST_STEPS,
            "initial_simplex": corners,
            "xatol": 1e-3,
            "fatol": 1e-6,
        },
    )
    there = shapely.transform(line, lambda places: places + found.x)
    if beyond(there, bed.usable) is not None:
        return None
    x, y = placement.at
    return replace(placement, at=(x + float(found.x[0]), y + float(found.x[1])))


def all_settled(table: Table, placements: Iterable[Placement]) -> Lay:
    """The lay of a table with some of its placements settled one after the other, the largest
    first, each beside all that is not among them and those before it. One for which no place was
    found stays where it is.
    """
    asked = [one for one in placements if table.item(one) is not None]
    asked.sort(key=lambda one: -table.items[one.piece, one.copy].area)
    lie = [one for one in table.laid if one not in asked]
    moved: dict[Placement, Placement] = {}
    for one in asked:
        beside = table.with_lay(replace(table.lay, placements=tuple(lie)))
        moved[one] = settled(beside, one) or one
        lie.append(moved[one])
    return replace(table.lay, placements=tuple(moved.get(one, one) for one in table.lay.placements))
