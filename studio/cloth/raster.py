"""Stock as a grid of cells and pieces as masks on it: how much a piece would cover of what it may
not, at every place at once.

A grid lies in its grain frame: the stock's coordinates turned about their origin until the warp is
+y. A cell is forbidden when more than half of it is, and a piece covers a cell when it covers more
than half of it, so a place found here is true to about half a cell; `repair` makes it exact.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Protocol, TypeAlias, cast

import msgspec
import numpy as np
import shapely
from numpy.typing import NDArray
from scipy import fft
from shapely import MultiPolygon, Polygon
from shapely.affinity import rotate
from shapely.geometry.polygon import orient

if TYPE_CHECKING:
    from studio.design.cloth import Place

CELL_MM = 3.0
"""Measured: finer cells find no more on pieces of trousers, and cost by the square."""

Cells: TypeAlias = NDArray[np.bool_]
Amounts: TypeAlias = NDArray[np.float32]
Spectrum: TypeAlias = NDArray[np.complex64]

_BORDER = 2
"""Forbidden cells round a bed, so that a mask may lie a little beyond and be told so."""
_LINES = 4
"""Lines through each row of cells along which coverage is taken exactly."""


class Surface(Protocol):
    """What of a bed a grid reads: its usable area in stock coordinates, its warp in degrees."""

    @property
    def name(self) -> str: ...  # noqa: D102

    @property
    def warp(self) -> float: ...  # noqa: D102

    @property
    def usable(self) -> MultiPolygon: ...  # noqa: D102


class Grid(msgspec.Struct, frozen=True, eq=False):
    """A bed, or one usable part of it, as cells of `cell` mm, rows along the warp from below.

    `left` and `bottom` are the lower left corner of the first cell in the grain frame, where
    `usable` lies as well; `forbidden` tells the cells that no piece may cover.
    """

    bed: str
    warp: float
    cell: float
    left: float
    bottom: float
    forbidden: Cells
    usable: MultiPolygon
    _spectra: dict[str, Spectrum] = msgspec.field(default_factory=dict)

    @property
    def size(self) -> tuple[int, int]:
        """Rows and columns of its transforms."""
        rows, columns = self.forbidden.shape
        return fft.next_fast_len(rows, real=False), fft.next_fast_len(columns, real=True)


class Mask(msgspec.Struct, frozen=True, eq=False):
    """The cells a piece covers; its first cell lies `left` and `bottom` cells from its origin."""

    cells: Cells
    left: int
    bottom: int
    _spectra: dict[tuple[int, int], Spectrum] = msgspec.field(default_factory=dict)


def grid_of(bed: Surface, cell: float = CELL_MM, *, grow: float = 0.0) -> Grid:
    """A whole bed as a grid; between its usable parts cells are forbidden. With `grow` mm, usable
    cells are those of cloth so much larger, for masks that are grown by half a cutting gap which
    edges of cloth and flaws do not ask for.
    """
    return grid_within(bed, _grain_frame(bed), cell, grow)


def grids_of(bed: Surface, cell: float = CELL_MM, *, grow: float = 0.0) -> tuple[Grid, ...]:
    """A grid for each usable part of a bed, the largest first; `grow` as in `grid_of`."""
    parts = sorted(_grain_frame(bed).geoms, key=lambda part: -part.area)
    return tuple(grid_within(bed, MultiPolygon([part]), cell, grow) for part in parts)


def mask_of(
    points: Sequence[Place],
    cell: float = CELL_MM,
    *,
    turn: float = 0.0,
    mirrored: bool = False,
    offset: float = 0.0,
) -> Mask:
    """The mask of a closed line of a stance, mirrored (x to -x), turned counter-clockwise by
    degrees about the origin, then grown by `offset` mm (half the cutting gap; negative shrinks).
    """
    polygon = turned(points, turn, mirrored)
    if offset:
        polygon = polygon.buffer(offset, quad_segs=4)
    if polygon.is_empty:
        return Mask(np.zeros((1, 1), dtype=np.bool_), 0, 0)
    low_x, low_y, high_x, high_y = polygon.bounds
    left, bottom = math.floor(low_x / cell), math.floor(low_y / cell)
    rows, columns = math.ceil(high_y / cell) - bottom, math.ceil(high_x / cell) - left
    corner = (left * cell, bottom * cell)
    covered = coverage(polygon, corner, (max(rows, 1), max(columns, 1)), cell) > 0.5
    return Mask(covered, left, bottom)


def turned(points: Sequence[Place], turn: float, mirrored: bool = False) -> Polygon:
    """A closed line of a stance in the grain frame, with its origin at the origin."""
    line = np.asarray(points, dtype=np.float64)
    if mirrored:
        line = line[::-1] * (-1.0, 1.0)
    cosine, sine = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    return Polygon(line @ np.array([[cosine, sine], [-sine, cosine]]))


def overlaps(grid: Grid, mask: Mask) -> Amounts:
    """The number of forbidden cells under a mask, for every row and column its first cell may lie
    on. Empty when the mask is larger than the grid. Accurate to 0.1 of a cell.
    """
    spectrum = grid._spectra.get("forbidden")
    if spectrum is None:
        spectrum = grid._spectra["forbidden"] = spectrum_of(grid, grid.forbidden)
    return correlated(grid, spectrum, mask)


def spectrum_of(grid: Grid, amounts: Cells | Amounts) -> Spectrum:
    """The transform of an amount a cell of a grid (1 forbids fully; up to 1000 is exact enough)."""
    return _transformed(amounts, grid.size)


def correlated(grid: Grid, spectrum: Spectrum, mask: Mask) -> Amounts:
    """The amounts under a mask for every place of its first cell, from their transform."""
    rows, columns = grid.forbidden.shape
    high, wide = mask.cells.shape
    if high > rows or wide > columns:
        return np.zeros((0, 0), dtype=np.float32)
    size = grid.size
    masked = mask._spectra.get(size)
    if masked is None:
        masked = mask._spectra[size] = _transformed(mask.cells, size).conj()
    amounts = cast(Amounts, fft.irfft2(spectrum * masked, s=size, workers=1))
    return amounts[: rows - high + 1, : columns - wide + 1]


def place_of(grid: Grid, mask: Mask, row: int, column: int) -> Place:
    """Where the origin of a piece lies on the stock when its mask's first cell lies on a cell of
    the grid: `at` of its placement.
    """
    x = grid.left + (column - mask.left) * grid.cell
    y = grid.bottom + (row - mask.bottom) * grid.cell
    return on_stock(grid.warp, x, y)


def on_stock(warp: float, x: float, y: float) -> Place:
    """A place of the grain frame in the coordinates of its stock."""
    angle = math.radians(warp - 90.0)
    cosine, sine = math.cos(angle), math.sin(angle)
    return cosine * x - sine * y, sine * x + cosine * y


def coverage(
    area: Polygon | MultiPolygon, corner: Place, shape: tuple[int, int], cell: float
) -> Amounts:
    """How much of each cell an area covers, 0 to 1, along `_LINES` lines a row. `corner` is the
    lower left one of the cells, `shape` their rows and columns; what lies outside them is left out.
    """
    rows, columns = shape
    starts, ends = _segments(area)
    starts, ends = (starts - corner) / cell, (ends - corner) / cell
    lines = rows * _LINES
    low, high = starts[:, 1] * _LINES - 0.5, ends[:, 1] * _LINES - 0.5
    first = np.clip(np.ceil(np.minimum(low, high)), 0, lines).astype(np.int64)
    last = np.clip(np.ceil(np.maximum(low, high)), 0, lines).astype(np.int64)
    count = last - first
    edge = np.repeat(np.arange(len(count)), count)
    line = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count) + first[edge]
    share = (line - low[edge]) / (high - low)[edge]
    x = starts[edge, 0] + share * (ends - starts)[edge, 0]
    # Right of a line that runs down lies the inside of a ring that runs counter-clockwise.
    sign = np.where(high < low, 1.0, -1.0)[edge]
    x = np.clip(x, 0.0, columns)
    column = np.minimum(x.astype(np.int64), columns - 1)
    covered = np.zeros((rows, columns + 1), dtype=np.float64)
    part = column + 1 - x
    np.add.at(covered, (line // _LINES, column), sign * part)
    np.add.at(covered, (line // _LINES, column + 1), sign * (1.0 - part))
    return (np.cumsum(covered, axis=1)[:, :columns] / _LINES).astype(np.float32)


def _transformed(amounts: Cells | Amounts, size: tuple[int, int]) -> Spectrum:
    # Floats of 32 bits give a transform of 32 bits, whatever its stubs say.
    return cast(Spectrum, fft.rfft2(amounts.astype(np.float32), s=size, workers=1))


def grid_within(bed: Surface, usable: MultiPolygon, cell: float, grow: float) -> Grid:
    """The grid of an area of a bed, told in its grain frame."""
    if usable.is_empty:
        return Grid(bed.name, bed.warp, cell, 0.0, 0.0, np.ones((1, 1), dtype=np.bool_), usable)
    wide = usable.buffer(grow, quad_segs=4) if grow else usable
    low_x, low_y, high_x, high_y = wide.bounds
    left, bottom = low_x - _BORDER * cell, low_y - _BORDER * cell
    rows = math.ceil((high_y - low_y) / cell) + 2 * _BORDER
    columns = math.ceil((high_x - low_x) / cell) + 2 * _BORDER
    forbidden = coverage(wide, (left, bottom), (rows, columns), cell) < 0.5
    return Grid(bed.name, bed.warp, cell, left, bottom, forbidden, usable)


def _grain_frame(bed: Surface) -> MultiPolygon:
    return rotate(bed.usable, 90.0 - bed.warp, origin=(0.0, 0.0))


def _segments(area: Polygon | MultiPolygon) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Starts and ends of its lines, outer rings counter-clockwise and holes clockwise."""
    rings = [ring for part in _polygons(area) for ring in _rings(part)]
    return (
        np.concatenate([ring[:-1] for ring in rings]),
        np.concatenate([ring[1:] for ring in rings]),
    )


def _polygons(area: Polygon | MultiPolygon) -> Iterable[Polygon]:
    return getattr(area, "geoms", (area,))


def _rings(polygon: Polygon) -> list[NDArray[np.float64]]:
    oriented = orient(polygon)
    return [shapely.get_coordinates(ring) for ring in (oriented.exterior, *oriented.interiors)]
