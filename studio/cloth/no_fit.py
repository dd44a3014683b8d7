"""Where a piece's origin may not go: against another piece, and against the edge of the cloth.

The border of where two shapes touch lies on sums of an edge of one and a corner of the other that
looks the way the edge does (the convolution of their outlines). Those sums are few; they cut the
plane into faces, and each face is allowed or not as a whole, which one place in it tells.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import TypeAlias

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from studio.cloth.outward import Ring, outward
from studio.design.cloth import Place

ROUGH_MM = 0.1
"""An outline may go out by so much to be left with fewer corners: on two outlines that is less than
shears wander, and it halves the corners of a curve drawn within `FLAT_MM` more than once.
"""

_ARC = 8
"""Chords to a quarter circle round a corner grown by the gap."""

_ALIKE = 1e-9
"""Sine of the angle between two directions under which they are one."""

_Sums: TypeAlias = npt.NDArray[np.float64]


class Shape:
    """A piece as it is turned and mirrored, its origin at (0, 0): `exact` as it is cut, `rough`
    with fewer corners, outside of it by at most `ROUGH_MM`.
    """

    def __init__(self, exact: Polygon) -> None:
        self.exact = exact
        self.rough = roughened(exact)

    def grown(self, gap: float) -> Polygon:
        """With `gap` mm all round, rough on the outside."""
        if gap <= 0.0:
            return self.rough
        # Chords of an arc lie inside it; so much more, and none of them does.
        sag = 1.0 / np.cos(np.pi / 4.0 / _ARC)
        around = self.rough.buffer(gap * sag, quad_segs=_ARC)
        straight = self.rough.buffer(gap, join_style="mitre", mitre_limit=8.0)
        return around.intersection(straight)


@lru_cache(maxsize=256)
def shape_of(places: tuple[Place, ...], turn: float, mirrored: bool) -> Shape:
    """A line of a stance as a shape: mirrored left and right first, then turned by `turn` degrees
    counter-clockwise.
    """
    corners = np.array(places)
    if mirrored:
        corners = corners[::-1] * (-1.0, 1.0)
    cosine, sine = np.cos(np.radians(turn)), np.sin(np.radians(turn))
    return Shape(Polygon(corners @ np.array(((cosine, sine), (-sine, cosine)))))


def roughened(area: Polygon) -> Polygon:
    """A polygon without holes, with fewer corners; itself where that would make it cross itself."""
    rough = Polygon(outward(_corners(area), ROUGH_MM))
    return rough if rough.is_valid else area


@lru_cache(maxsize=512)
def no_fit(fixed: Shape, moving: Shape, gap: float) -> BaseGeometry:
    """Where the origin of `moving` may not lie when `fixed` has its own at (0, 0), for `gap` mm to
    be left between them. Forbids up to twice `ROUGH_MM` more than it must, never less.
    """
    around = fixed.grown(gap)
    outline = _corners(moving.rough)
    faces = _faces([_corners(around)], outline)
    return _chosen(faces, shapely.intersects, around, outline)


def inner_fit(usable: MultiPolygon, moving: Shape) -> BaseGeometry:
    """Where the origin of `moving` may lie for it to be on usable cloth. Forbids up to twice
    `ROUGH_MM` more than it must, never less.
    """
    # What lies outside is kept to the left, so that flaws and hollows grow and cloth shrinks.
    outline = _corners(moving.rough)
    found: list[BaseGeometry] = []
    for part in usable.geoms:
        rings = [outward(_places(ring), ROUGH_MM) for ring in _turned_out(part)]
        cloth = shapely.make_valid(Polygon(rings[0], rings[1:]))
        found.append(_chosen(_faces(rings, outline), shapely.covers, cloth, outline))
    return shapely.union_all(found)


def _turned_out(part: Polygon) -> Sequence[BaseGeometry]:
    """The rings of cloth, its edge clockwise, its holes counter-clockwise."""
    sound = shapely.orient_polygons(part, exterior_cw=True)
    return [sound.exterior, *sound.interiors]


def _corners(area: Polygon) -> Ring:
    return _places(shapely.orient_polygons(area).exterior)


def _places(ring: BaseGeometry) -> Ring:
    places: Ring = shapely.get_coordinates(ring)[:-1]
    return places


def _faces(rings: Sequence[Ring], outline: Ring) -> list[Polygon]:
    """The plane cut up by all sums of an edge and a corner, of `rings` and of `outline` turned
    about its origin by half a turn.
    """
    about = -outline
    sums = [part for ring in rings for part in (_sums(ring, about), _sums(about, ring))]
    lines = shapely.union_all(shapely.linestrings(np.concatenate(sums)))
    return list(shapely.polygonize(shapely.get_parts(lines)).geoms)


def _sums(ring: Ring, other: Ring) -> _Sums:
    """Edges of `ring` moved by each bulging corner of `other` between whose edges they point."""
    along = np.roll(ring, -1, axis=0) - ring
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    leaving = np.roll(other, -1, axis=0) - other
    leaving /= np.linalg.norm(leaving, axis=1, keepdims=True)
    coming = np.roll(leaving, 1, axis=0)
    bulging = _cross(coming, leaving) >= -_ALIKE
    edges, corners = np.nonzero(
        (_cross(coming[None], along[:, None]) >= -_ALIKE)
        & (_cross(along[:, None], leaving[None]) >= -_ALIKE)
        & bulging[None]
    )
    starts = ring[edges] + other[corners]
    ends = np.roll(ring, -1, axis=0)[edges] + other[corners]
    return np.stack((starts, ends), axis=1)


def _cross(one: Ring, other: Ring) -> npt.NDArray[np.float64]:
    crossed: npt.NDArray[np.float64] = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    return crossed


def _chosen(
    faces: list[Polygon],
    holds: Callable[..., npt.NDArray[np.bool_]],
    fixed: BaseGeometry,
    outline: Ring,
) -> BaseGeometry:
    """The faces in which the piece stands as asked to what is fixed."""
    if not faces:
        return Polygon()
    places = shapely.get_coordinates(shapely.point_on_surface(faces))
    there = shapely.polygons(places[:, None, :] + outline[None, :, :])
    shapely.prepare(fixed)
    chosen = holds(fixed, there)
    return shapely.union_all([face for face, good in zip(faces, chosen, strict=True) if good])
