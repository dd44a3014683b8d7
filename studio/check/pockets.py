"""Pockets put to use: does the hand pass, does a thing pass the mouth and lie in the bag."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Literal

import msgspec
import numpy as np
import shapely
from shapely.affinity import rotate

from studio import numbers
from studio.check.finding import Finding
from studio.curves import Chain, Outline, Point
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Piece
from studio.design.carried import Carried
from studio.memo import Made

HAND_ROOM = 25.0
"""A mouth is half the hand girth and this much more, at the least (practice), mm."""

MOUTH_LEAST = 150.0
"""For a hand that was not measured (practice), mm."""

BAG_DEPTH = 120.0
"""A bag reaches at least so far below the lower end of its mouth (practice), mm."""

ROUND = 10.0
"""Room round a thing in a pocket (practice), mm."""

_TOLD_MM = 0.05
"""Half of the last digit told: what is short by less is told as short by nothing, and passes."""

_CHORD_MM = 0.2
"""Chord error of the shape that depths and turns are measured on."""

_TURNS = 24
_SWEEP = 12
"""Places along each side of a thing at which it is held against the bag."""

_HOLLOW_MM2 = 1e-6
"""A shape that its hull goes beyond by less has no hollow."""


class Pocket(Made, frozen=True):
    """A pocket by name: how long its mouth is, and the flat shape in which things lie, behind the
    mouth's line (mm, y up); none for a loop. `below` is the height of the mouth's lower end; None
    for a patch, which opens at its top: `top` is that edge, which leans as the patch does.
    """

    name: str
    kind: Literal["hand", "patch", "loop"]
    mouth: float
    shape: Outline | None = None
    below: float | None = None
    top: Chain | None = None

    @property
    def depth(self) -> float:
        """How far the bag reaches below its mouth, mm: a patch square to its top, a loop 0."""
        if self.shape is None:
            return 0.0
        if self.top is not None:
            across = (self.top.end - self.top.start).unit()
            places = self.shape.polyline(_CHORD_MM)
            return max(abs(across.cross(Point(*place) - self.top.start)) for place in places)
        box = self.shape.box
        return (box.top if self.below is None else self.below) - box.bottom


class Use(msgspec.Struct, frozen=True):
    """A thing put to a pocket: whether it passes the mouth, whether it lies in the bag, and by how
    much the mouth is too short (mm; negative: to spare).
    """

    carried: Carried
    passes: bool
    lies: bool
    short: float


def pocket_of(line: DrawnLine, kind: str, piece: Piece) -> Pocket | None:
    """The pocket of a mouth with its bag piece, or of a patch with its own; None for a patch
    without a top.
    """
    if kind == "mouth":
        low = min(line.chain.start.y, line.chain.end.y)
        return Pocket(line.name, "hand", line.chain.length, piece.outline, low)
    top = f"{line.name}.top"
    if not piece.outline.has(top):
        return None
    edge = piece.outline.edge(top)
    return Pocket(line.name, "patch", edge.length, piece.outline, top=edge.chain)


def use_of(pocket: Pocket, carried: Carried) -> Use:
    """A thing put to a pocket: a box passes a mouth as long as its width and thickness, with room
    at both ends; it lies where its flat face, with room round it, fits in any turn. A loop lets
    the wide end of a tool through.
    """
    room = ROUND if pocket.kind == "loop" else carried.thick + ROUND
    short = carried.wide + room - pocket.mouth
    if pocket.kind == "loop" or pocket.shape is None:
        return Use(carried, short <= _TOLD_MM, True, short)
    ground = shapely.make_valid(shapely.Polygon(pocket.shape.polyline(_CHORD_MM)))
    wide = carried.wide + carried.thick + 2.0 * ROUND
    lies = fits(ground, carried.long + 2.0 * ROUND, wide)
    return Use(carried, short <= _TOLD_MM, lies, short)


def fits(ground: shapely.Geometry, long: float, wide: float) -> bool:
    """Whether a rectangle lies inside a shape in any turn (by steps of 7.5 degrees), mm."""
    if ground.is_empty or ground.area < long * wide:
        return False
    # In a shape without hollows all of a stretch lies where both of its ends do.
    is_hollow = ground.convex_hull.area - ground.area > _HOLLOW_MM2
    sweep = _SWEEP if is_hollow else 1
    for k in range(_TURNS):
        turned = rotate(ground, 180.0 * k / _TURNS, origin=(0.0, 0.0))
        left, low, right, high = turned.bounds
        if right - left < long or high - low < wide:
            continue
        kept = _worn(_worn(turned, long, 0.0, sweep), 0.0, wide, sweep)
        if not kept.is_empty:
            return True
    return False


def _worn(shape: shapely.Geometry, x: float, y: float, sweep: int) -> shapely.Geometry:
    """Where the lower end of a stretch may lie so that all of it is inside."""
    left = shape
    for share in np.linspace(0.0, 1.0, sweep + 1)[1:]:
        left = left.intersection(
            shapely.transform(shape, lambda at, s=float(share): at - (x * s, y * s))
        )
        if left.is_empty:
            break
    return left


def judge_pockets(
    pockets: Sequence[Pocket],
    carried: Sequence[Carried],
    hand_girth: float | None,
    use: Callable[[Pocket, Carried], Use] = use_of,
) -> tuple[Finding, ...]:
    """Findings where the hand does not pass, a bag is shallow, or a thing does not pass or lie.

    `use` puts a thing to a pocket: `use_of`, or a version of it that remembers.
    """
    least = MOUTH_LEAST if hand_girth is None else hand_girth / 2.0 + HAND_ROOM
    by_name = {pocket.name: pocket for pocket in pockets}
    found = [
        finding
        for pocket in pockets
        if pocket.kind == "hand"
        for finding in _of_hand(pocket, least)
    ]
    for one in carried:
        if one.pocket not in by_name:
            found.append(
                Finding(
                    "pocket",
                    "warning",
                    one.pocket,
                    f"There is no pocket or loop {one.pocket} for the {one.thing}.",
                )
            )
            continue
        found += _of_use(use(by_name[one.pocket], one))
    return tuple(found)


def _of_hand(pocket: Pocket, least: float) -> Iterator[Finding]:
    """A pocket whose mouth is shorter than a hand needs, or whose bag is shallow."""
    if pocket.mouth < least - _TOLD_MM:
        yield Finding(
            "pocket",
            "warning",
            pocket.name,
            f"The mouth of {pocket.name} is {numbers.length(pocket.mouth)} long: a hand "
            f"needs {numbers.length(least)}. Move its ends apart.",
            pocket.mouth,
            least,
        )
    if pocket.depth < BAG_DEPTH - _TOLD_MM:
        yield Finding(
            "pocket",
            "warning",
            pocket.name,
            f"The bag of {pocket.name} reaches only {numbers.length(pocket.depth)} below its "
            f"mouth: things fall out of less than {numbers.length(BAG_DEPTH)}. Let it hang lower.",
            pocket.depth,
            BAG_DEPTH,
        )


def _of_use(use: Use) -> Iterator[Finding]:
    """A thing that does not pass the mouth, or does not lie in the bag."""
    one = use.carried
    if not use.passes:
        yield Finding(
            "pocket",
            "warning",
            one.pocket,
            f"The {one.thing} does not pass {one.pocket}: its mouth is "
            f"{numbers.length(use.short)} too short.",
            use.short,
            0.0,
        )
    if not use.lies:
        yield Finding(
            "pocket",
            "warning",
            one.pocket,
            f"The {one.thing}, {numbers.bare(one.long, decimals=0)} by "
            f"{numbers.bare(one.wide, decimals=0)} by {numbers.length(one.thick, decimals=0)}, "
            f"does not lie in {one.pocket} with {numbers.length(ROUND, decimals=0)} round it. "
            "Make it deeper or wider.",
            exact=(one.long, one.wide, one.thick, ROUND),
        )
