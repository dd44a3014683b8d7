"""Planted tasks: panels cut up into pieces, so that a layout is known to be there.

Invented data. Panels are four-sided with slanting sides, as of opened trousers legs; they are cut
apart along lines with a bend in them and the gap between; then pieces are left out until the share
wanted is used.
"""

from __future__ import annotations

import math

import msgspec
import numpy as np
from shapely import LineString, MultiPolygon, Polygon
from shapely.affinity import rotate, translate
from shapely.geometry.polygon import orient

from studio.cloth.bed import Bed, bed_of
from studio.cloth.items import Item
from studio.design.cloth import Lay, SalvagedPanel
from tests.cloth.shapes import item

_TRIMMED = 3.0
"""Mm of raw edge that no piece of a planted layout has."""


class Planted(msgspec.Struct, frozen=True):
    items: tuple[Item, ...]
    beds: tuple[Bed, ...]
    lay: Lay
    used: float


def planted(
    seed: int,
    *,
    pieces: int = 12,
    panels: int = 5,
    used: tuple[float, float] = (0.75, 0.80),
    gap: float = 2.0,
    tolerance: float = 0.0,
) -> Planted:
    """A task that can be done whole: pieces cut from panels, of which so much is used."""
    rng = np.random.default_rng(seed)
    while True:
        grounds = [_panel(rng) for _ in range(panels)]
        parts = [part for ground in grounds for part in _cut(ground.buffer(-_TRIMMED), rng, gap)]
        area = sum(ground.area for ground in grounds)
        kept = _kept(parts, pieces, area, used, rng)
        if kept:
            break
    beds, names = [], tuple(f"panel {index}" for index in range(panels))
    for name, ground in zip(names, grounds, strict=True):
        warp = rng.uniform(0.0, 360.0)
        lying = rotate(ground, warp - 90.0, origin=(0.0, 0.0))
        end = (math.cos(math.radians(warp)) * 100.0, math.sin(math.radians(warp)) * 100.0)
        outline = tuple(lying.exterior.coords[:-1])
        beds.append(bed_of(SalvagedPanel(name, "main", outline, ((0.0, 0.0), end))))
    items = []
    for index, part in enumerate(kept):
        shape = rotate(part, 180.0 * rng.integers(2), origin=(0.0, 0.0))
        outline = tuple(orient(shape).exterior.coords[:-1])
        items.append(item(f"piece {index}", outline, names, tolerance=tolerance))
    share = sum(part.area for part in kept) / area
    return Planted(tuple(items), tuple(beds), Lay(gap=gap), share)


def _panel(rng: np.random.Generator) -> Polygon:
    high, wide = rng.uniform(700.0, 1050.0), rng.uniform(300.0, 435.0)
    narrow = wide * rng.uniform(0.6, 0.95)
    shift = rng.uniform(0.0, wide - narrow)
    return Polygon([(0.0, 0.0), (wide, 0.0), (shift + narrow, high), (shift, high)])


def _cut(ground: Polygon, rng: np.random.Generator, gap: float) -> list[Polygon]:
    """A panel cut across once or twice, and some of what that gives cut along."""
    left, bottom, right, top = ground.bounds
    heights = np.sort(rng.uniform(0.2, 0.8, rng.integers(1, 3)))
    across = [
        LineString(
            [
                (left - 10.0, bottom + (top - bottom) * share + rng.uniform(-40.0, 40.0)),
                ((left + right) / 2.0, bottom + (top - bottom) * share),
                (right + 10.0, bottom + (top - bottom) * share + rng.uniform(-40.0, 40.0)),
            ]
        )
        for share in heights
    ]
    bands = _parts(ground, across, gap)
    parts: list[Polygon] = []
    for band in bands:
        low_x, low_y, high_x, high_y = band.bounds
        if rng.random() < 0.5:
            x = low_x + (high_x - low_x) * rng.uniform(0.35, 0.65)
            along = LineString(
                [
                    (x + rng.uniform(-30.0, 30.0), low_y - 10.0),
                    (x, (low_y + high_y) / 2.0),
                    (x + rng.uniform(-30.0, 30.0), high_y + 10.0),
                ]
            )
            parts += _parts(band, [along], gap)
        else:
            parts.append(band)
    return [part for part in parts if part.area > 6000.0]


def _parts(ground: Polygon, lines: list[LineString], gap: float) -> list[Polygon]:
    left = ground
    for line in lines:
        left = left.difference(line.buffer(gap / 2.0 + 1e-6, cap_style="square"))
    found = left.geoms if isinstance(left, MultiPolygon) else (left,)
    return [translate(part) for part in found if isinstance(part, Polygon)]


def _kept(
    parts: list[Polygon],
    pieces: int,
    area: float,
    used: tuple[float, float],
    rng: np.random.Generator,
) -> list[Polygon]:
    """So many of the parts that the share wanted is used; none when that was not met."""
    if len(parts) < pieces:
        return []
    for _ in range(200):
        picked = rng.choice(len(parts), pieces, replace=False)
        kept = [parts[index] for index in picked]
        if used[0] <= sum(part.area for part in kept) / area <= used[1]:
            return kept
    return []
