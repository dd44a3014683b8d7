"""What is to be laid: every copy of every piece, and how it may lie on which stock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec
from shapely import Polygon

from studio.cloth.stance import Stance, mirrors, shrinks_unevenly, stance_of
from studio.design.cloth import Cloth, CuttingRule, Placement, Shortage, Stock
from studio.design.design import Design
from studio.sew import SewnPiece

_FREE_STEP = 15.0
"""A piece that may lie at any angle is tried in such steps, degrees, and turned by half a step
either way.
"""


class Way(msgspec.Struct, frozen=True):
    """How a piece may lie on one stock: its stance there, in degrees the turns off the warp that it
    may have, each give or take `tolerance`, and whether face up, face down or both. Where cloth
    shrinks unevenly a piece has a way for each direction, as it is cut another size in each.
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

    def ways_on(self, stock: str) -> tuple[Way, ...]:
        """How it may lie on a stock; none when it may not."""
        return tuple(way for way in self.ways if way.stock == stock)

    def way(self, placement: Placement) -> Way | None:
        """How it lies where it is placed: of the ways on that stock one of that face, with the
        nearest turn; None when it may not lie there.
        """
        return min(
            self.ways_on(placement.stock),
            key=lambda way: (placement.flipped not in way.faces, beyond_turns(placement.turn, way)),
            default=None,
        )


def beyond_turns(turn: float, way: Way) -> float:
    """By how many degrees a turn is off the nearest of a way's, its tolerance aside."""
    return min((_apart(turn, base) for base in way.turns), default=180.0)


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
            made = tuple(
                way
                for on in there
                for way in _ways(sewn, copy, rule, on.name, by_name.get(on.cloth), without)
            )
            found.append(Item(name, copy, made))
    return tuple(found)


def items_in(design: Design, pieces: Iterable[SewnPiece]) -> tuple[Item, ...]:
    """Every copy of a design's pieces by its cloths, cutting rules, stash and shortages."""
    return items_of(pieces, design.cloths, design.cutting, design.stash, design.shortages)


def stance_as_laid(
    sewn: SewnPiece, cloth: Cloth | None, rule: CuttingRule, placement: Placement
) -> Stance:
    """The stance of a whole copy as it is placed on a cloth, by its rule."""
    turns, _ = _turns(rule, cloth)
    base = min(turns, key=lambda one: _apart(placement.turn, one))
    return _stance_at(sewn, placement.copy, base, placement.flipped, cloth)


def _ways(
    sewn: SewnPiece,
    copy: int,
    rule: CuttingRule,
    stock: str,
    cloth: Cloth | None,
    without: tuple[Shortage, ...],
) -> Iterator[Way]:
    turns, tolerance = _turns(rule, cloth)
    faces = (False, True) if cloth is not None and cloth.sides == "both" else (False,)
    if not shrinks_unevenly(cloth):
        yield Way(stock, stance_of(sewn, cloth, without), turns, tolerance, faces)
        return
    for flipped in faces:
        for base in dict.fromkeys(turn % 180.0 for turn in turns):
            stance = _stance_at(sewn, copy, base, flipped, cloth, without)
            alike = tuple(turn for turn in turns if turn % 180.0 == base)
            yield Way(stock, stance, alike, tolerance, (flipped,))


def _turns(rule: CuttingRule, cloth: Cloth | None) -> tuple[tuple[float, ...], float]:
    """The turns off the warp that a rule lets a piece have on a cloth, and their tolerance."""
    upwards = rule.one_way or (cloth is not None and cloth.one_way)
    if rule.lies == "free" and not upwards:
        steps = range(round(360.0 / _FREE_STEP))
        return tuple(_FREE_STEP * step for step in steps), _FREE_STEP / 2.0
    across = (90.0,) if rule.lies == "across" else ()
    if upwards:
        return (0.0, *across), rule.tolerance
    return (0.0, 180.0, *across, *(turn + 180.0 for turn in across)), rule.tolerance


def _stance_at(
    sewn: SewnPiece,
    copy: int,
    turn: float,
    flipped: bool,
    cloth: Cloth | None,
    without: tuple[Shortage, ...] = (),
) -> Stance:
    """The stance of a copy that lies at a turn: a mirrored one comes to it from the other side."""
    mirrored = mirrors(sewn.piece.cut == "pair", copy, flipped=flipped)
    return stance_of(sewn, cloth, without, -turn if mirrored else turn)


def _apart(turn: float, base: float) -> float:
    return abs((turn - base + 180.0) % 360.0 - 180.0)
