"""Items of plain outlines, for lays that need no pattern."""

from __future__ import annotations

from studio.cloth.items import Item, Way
from studio.cloth.stance import Stance
from studio.curves import Affine
from studio.design.cloth import Place


def stance(name: str, points: tuple[Place, ...], paired: bool = False) -> Stance:
    """A piece whose cut line and sewing line are one, its middle moved to the origin."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    across, up = (min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0
    line = tuple((x - across, y - up) for x, y in points)
    return Stance(name, Affine(), line, line, paired)


def item(
    name: str,
    points: tuple[Place, ...],
    stocks: tuple[str, ...],
    *,
    copy: int = 0,
    turns: tuple[float, ...] = (0.0, 180.0),
    tolerance: float = 0.0,
    faces: tuple[bool, ...] = (False,),
    paired: bool = False,
) -> Item:
    lies = stance(name, points, paired)
    return Item(name, copy, tuple(Way(stock, lies, turns, tolerance, faces) for stock in stocks))


def rectangle(wide: float, high: float) -> tuple[Place, ...]:
    return ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
