"""Parts of a piece on cells: what lies on either side of a straight line, with a join's allowance,
and on which beds it fits.
"""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

import msgspec
import numpy as np
from shapely import Polygon, box

from studio.cloth.items import Way
from studio.cloth.raster import Cells, Grid, Mask, mask_of, overlaps
from studio.design.cloth import Place

FREE_CELLS = 0.5
"""A mask over less than this many forbidden cells lies free."""

STEPS = 32
"""Places of the line that are tried over a piece's length or width: by halving, five maps a bed."""

_FAR = 1e5
_SQUARE = 1e-9

Half: TypeAlias = Literal["low", "high"]
"""What lies below or left of the line, or above or right of it, in the piece's stance."""


class Line(msgspec.Struct, frozen=True):
    """A straight line through a stance: square to the grain ("across") at the height `at`, or along
    it at so much to the right; each part goes `allowance` mm beyond it.
    """

    lies: Literal["across", "along"]
    at: float
    allowance: float


class Facing(msgspec.Struct, frozen=True):
    """A stance turned by degrees and mirrored, on a stock it may so lie on."""

    way: Way
    turn: float
    flipped: bool
    mirrored: bool


class PartMasks:
    """Masks of a piece's parts, made from one of the whole where it is turned by right angles."""

    def __init__(self, cut: tuple[Place, ...], cell: float) -> None:
        self._cut = cut
        self._cell = cell
        self._wholes: dict[tuple[float, bool], Mask] = {}
        self._parts: dict[tuple[Line, Half, float, bool], Mask] = {}

    def part(self, line: Line, half: Half, facing: Facing) -> Mask:
        """The mask of one part in a facing; true to half a cell."""
        key = (line, half, facing.turn, facing.mirrored)
        if key not in self._parts:
            self._parts[key] = self._made(line, half, facing.turn, facing.mirrored)
        return self._parts[key]

    def _made(self, line: Line, half: Half, turn: float, mirrored: bool) -> Mask:
        if abs(turn / 90.0 - round(turn / 90.0)) > _SQUARE:
            points = tuple(part_of(self._cut, line, half).exterior.coords)[:-1]
            return mask_of(points, self._cell, turn=turn, mirrored=mirrored)
        whole = self._wholes.get((turn, mirrored))
        if whole is None:
            whole = mask_of(self._cut, self._cell, turn=turn, mirrored=mirrored)
            self._wholes[turn, mirrored] = whole
        return _sliced(whole, self._cell, *_turned(line, half, turn, mirrored))


def part_of(cut: tuple[Place, ...], line: Line, half: Half) -> Polygon:
    """One part of a cut outline in its stance: the largest area on that side of the line, and the
    allowance beyond it.
    """
    low, high = (-_FAR, line.at + line.allowance), (line.at - line.allowance, _FAR)
    first, last = low if half == "low" else high
    side = box(-_FAR, first, _FAR, last) if line.lies == "across" else box(first, -_FAR, last, _FAR)
    cutting = Polygon(cut).buffer(0.0).intersection(side)
    areas = [one for one in getattr(cutting, "geoms", (cutting,)) if isinstance(one, Polygon)]
    return max(areas, key=lambda one: one.area)


def fits(grid: Grid, mask: Mask) -> bool:
    """Whether a mask lies free somewhere on a grid."""
    if not mask.cells.any():
        return False
    amounts = overlaps(grid, mask)
    return bool(amounts.size) and float(amounts.min()) < FREE_CELLS


def _turned(line: Line, half: Half, turn: float, mirrored: bool) -> tuple[int, bool, float]:
    """The axis (0 rows, 1 columns) along which a turned part is cut off, whether what lies beyond
    is kept, and where, mm.
    """
    bound = line.at + (line.allowance if half == "low" else -line.allowance)
    angle = math.radians(turn)
    x, y = (0.0, 1.0) if line.lies == "across" else (-1.0 if mirrored else 1.0, 0.0)
    away = (x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle))
    axis = 0 if abs(away[1]) > 0.5 else 1
    sign = 1.0 if away[1 - axis] > 0.0 else -1.0
    return axis, (half == "high") == (sign > 0.0), sign * bound


def _sliced(whole: Mask, cell: float, axis: int, beyond: bool, at: float) -> Mask:
    first = whole.bottom if axis == 0 else whole.left
    index = min(max(round(at / cell) - first, 0), whole.cells.shape[axis])
    kept = slice(index, None) if beyond else slice(None, index)
    cells: Cells = whole.cells[kept, :] if axis == 0 else whole.cells[:, kept]
    moved = index if beyond else 0
    if cells.size == 0:
        return Mask(np.zeros((1, 1), dtype=np.bool_), whole.left, whole.bottom)
    if axis == 0:
        return Mask(cells, whole.left, whole.bottom + moved)
    return Mask(cells, whole.left + moved, whole.bottom)
