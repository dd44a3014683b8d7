"""What is to be laid: every copy of every piece, and how it may lie on which stock."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
from shapely import Polygon

from studio.cloth.stance import Stance, stance_of
from studio.design.cloth import Cloth, CuttingRule, Shortage, Stock
from studio.design.design import Design
from studio.sew import SewnPiece

_FREE_STEP = 15.0
"""A piece that may lie at any angle is tried in such steps, degrees, and turned by half a step
either way.
"""


class Way(msgspec.Struct, frozen=True):
    """How a piece may lie on one stock: its stance there, in degrees the turns off the warp that it
    may have, each give or take `tolerance`, and whether face up, face down or both.
    """

    stock: str
    stance: Stance
    turns: tuple[float, ...]
    tolerance: float
    faces: tuple[bool, ...]


class Item(msgspec.Struct, frozen=True):
    """A copy of a piece to be laid, by the ways in which it may."""

    piece: str
    copy: int
    ways: tuple[Way, ...]

    @property
    def area(self) -> float:
        """What it covers, mm2: the most where cloths shrink differently; 0 without a way."""
        return max((Polygon(way.stance.cut).area for way in self.ways), default=0.0)

    def way(self, stock: str) -> Way | None:
        """How it may lie on a stock; None when it may not."""
        return next((way for way in self.ways if way.stock == stock), None)


def items_of(
    pieces: Iterable[SewnPiece],
    cloths: Iterable[Cloth],
    rules: Iterable[CuttingRule],
    stash: Sequence[Stock],
    shortages: Iterable[Shortage] = (),
) -> tuple[Item, ...]:
    """Every copy of every piece, in the order of the pieces; a piece without stock of its cloth
    has no ways. A copy that does without some allowance is laid with its narrower cut line.
    """
    short = tuple(shortages)
    by_name = {cloth.name: cloth for cloth in cloths}
    by_piece = {rule.piece: rule for rule in rules}
    found: list[Item] = []
    for sewn in pieces:
        name = sewn.piece.name
        rule = by_piece.get(name, CuttingRule(name))
        there = [
            stock
            for stock in stash
            if stock.cloth in (sewn.piece.cloth, *rule.cloths)
            and (not rule.stock or stock.name in rule.stock)
        ]
        for copy in range(sewn.piece.quantity):
            without = tuple(one for one in short if (one.piece, one.copy) == (name, copy))
            ways = (_way(sewn, rule, on, by_name.get(on.cloth), without) for on in there)
            found.append(Item(name, copy, tuple(ways)))
    return tuple(found)


def items_in(design: Design, pieces: Iterable[SewnPiece]) -> tuple[Item, ...]:
    """Every copy of a design's pieces by its cloths, cutting rules, stash and shortages."""
    return items_of(pieces, design.cloths, design.cutting, design.stash, design.shortages)


def _way(
    sewn: SewnPiece,
    rule: CuttingRule,
    stock: Stock,
    cloth: Cloth | None,
    without: tuple[Shortage, ...],
) -> Way:
    upwards = rule.one_way or (cloth is not None and cloth.one_way)
    tolerance = rule.tolerance
    if rule.lies == "free" and not upwards:
        turns = tuple(_FREE_STEP * step for step in range(round(360.0 / _FREE_STEP)))
        tolerance = _FREE_STEP / 2.0
    else:
        across = (90.0,) if rule.lies == "across" else ()
        turns = (0.0, *across) if upwards else (0.0, 180.0, *across, *(a + 180.0 for a in across))
    faces = (False, True) if cloth is not None and cloth.sides == "both" else (False,)
    return Way(stock.name, stance_of(sewn, cloth, without), turns, tolerance, faces)
