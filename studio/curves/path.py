"""Nodes with handles, as a maker draws them, into smooth cubics."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import msgspec

from studio.curves.cubic import Cubic
from studio.curves.point import Point
from studio.curves.spline import through
from studio.errors import GeometryRefused

_APART_MM = 1e-3
"""Two nodes nearer than this have no curve between them."""


class PathNode(msgspec.Struct, frozen=True):
    """A node where it lies, with its handles as places; None where the handle is to be found."""

    at: Point
    smooth: bool
    handle_in: Point | None
    handle_out: Point | None


def smooth_run(name: str, run: Sequence[PathNode]) -> tuple[Cubic, ...]:
    """Cubics through nodes of which only the first and the last may be corners.

    Raises:
        GeometryRefused: two nodes fall together; `name` says of what.
    """
    points = [node.at for node in run]
    for one, two in itertools.pairwise(points):
        if one.distance_to(two) < _APART_MM:
            raise GeometryRefused(f"Two nodes of {name} fall together.", where=name)
    drawn = through(points)
    cubics = []
    for k, cubic in enumerate(drawn):
        before, after = run[k], run[k + 1]
        inner_start, inner_end = k > 0, k + 1 < len(run) - 1
        one = before.handle_out or _opposite(before, before.handle_in, cubic.p1, inner_start)
        two = after.handle_in or _opposite(after, after.handle_out, cubic.p2, inner_end)
        if one is cubic.p1 and two is cubic.p2:
            cubics.append(cubic)
        else:
            cubics.append(Cubic(cubic.p0, one, two, cubic.p3))
    return tuple(cubics)


def _opposite(node: PathNode, other: Point | None, found: Point, inner: bool) -> Point:
    """A free handle of a smooth node points straight away from the one the maker set."""
    if other is None or not inner:
        return found
    away = node.at - other
    if away.length < 1e-9:
        return found
    return node.at + away.unit() * node.at.distance_to(found)
