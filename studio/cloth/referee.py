"""The verdict on pieces laid on cloth, by exact geometry: what is wrong, where, and by how much."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import Literal, TypeAlias

import msgspec
from shapely import Polygon

from studio.cloth.bed import Bed
from studio.cloth.clearance import beyond, too_near
from studio.cloth.items import Item, Way, beyond_turns
from studio.cloth.stance import laid, lying
from studio.design.cloth import Place, Placement

TURN_DEGREES = 1e-6
"""Rounding that a turn may lie beyond its tolerance."""

FaultKind: TypeAlias = Literal["unknown", "stock", "twice", "turn", "face", "outside", "too near"]
"""A piece or stock that is not there; stock the piece may not be cut from; a copy laid more than
once; turned too far; the wrong face up; beyond usable cloth; too near to another or over it.
"""


class Fault(msgspec.Struct, frozen=True):
    """What is wrong with one placement or between two: by how many mm (`turn`: degrees beyond its
    tolerance; 0 where nothing can be measured), and where on the stock.
    """

    kind: FaultKind
    placements: tuple[Placement, ...]
    by: float
    at: Place

    @property
    def locked(self) -> bool:
        """Whether only locked pieces are in it: the maker laid them so."""
        return all(placement.locked for placement in self.placements)


def faults(
    items: Iterable[Item], beds: Iterable[Bed], placements: Sequence[Placement], gap: float
) -> tuple[Fault, ...]:
    """Everything wrong with a layout, none when it can be cut as it lies: every piece in usable
    cloth to `OUTSIDE_MM`, cut lines on one stock `gap` mm apart to `GAP_MM`, stock, turn and face
    as allowed, each copy at most once.
    """
    by_copy = {(item.piece, item.copy): item for item in items}
    by_name = {bed.name: bed for bed in beds}
    found = _twice(placements)
    lines: dict[str, list[tuple[Placement, Polygon]]] = {}
    for placement in placements:
        item = by_copy.get((placement.piece, placement.copy))
        bed = by_name.get(placement.stock)
        way = item.way(placement) if item is not None else None
        if way is None or bed is None:
            kind: FaultKind = "unknown" if item is None or bed is None else "stock"
            found.append(Fault(kind, (placement,), 0.0, placement.at))
            continue
        found += _disallowed(placement, way)
        line = laid(way.stance.cut, lying(way.stance, placement, bed.warp))
        lack = beyond(line, bed.usable)
        if lack is not None:
            found.append(Fault("outside", (placement,), lack.by, lack.at))
        lines.setdefault(placement.stock, []).append((placement, line))
    for on_stock in lines.values():
        found += _near(on_stock, gap)
    return tuple(found)


def beyond_turn(turn: float, way: Way) -> float:
    """By how many degrees a turn lies beyond the nearest that a way allows; 0 when it does not."""
    return max(beyond_turns(turn, way) - way.tolerance, 0.0)


def _twice(placements: Sequence[Placement]) -> list[Fault]:
    seen: dict[tuple[str, int], Placement] = {}
    found: list[Fault] = []
    for placement in placements:
        first = seen.setdefault((placement.piece, placement.copy), placement)
        if first is not placement:
            found.append(Fault("twice", (first, placement), 0.0, placement.at))
    return found


def _disallowed(placement: Placement, way: Way) -> list[Fault]:
    found: list[Fault] = []
    turned_too_far = beyond_turn(placement.turn, way)
    if turned_too_far > TURN_DEGREES:
        found.append(Fault("turn", (placement,), turned_too_far, placement.at))
    if placement.flipped not in way.faces:
        found.append(Fault("face", (placement,), 0.0, placement.at))
    return found


def _near(on_stock: Sequence[tuple[Placement, Polygon]], gap: float) -> list[Fault]:
    found: list[Fault] = []
    for (one, line), (other, other_line) in combinations(on_stock, 2):
        lack = too_near(line, other_line, gap)
        if lack is not None:
            found.append(Fault("too near", (one, other), lack.by, lack.at))
    return found
