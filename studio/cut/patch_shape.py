"""A patch whose shape is told by a width, a height and a lean, and the same patch with others."""

from __future__ import annotations

import msgspec
from msgspec.structs import replace

from studio.curves import Vector
from studio.design.lines import Node, PlacedPath, StyleLine
from studio.errors import GeometryRefused

LEAST = 20.0
"""A pocket has no less of a width or a height, mm."""

_ALIKE_MM = 1e-6
"""Coordinates no further apart are the same."""


class PatchShape(msgspec.Struct, frozen=True):
    """`width` along the top and `height` from it to the lower corners, without the point below
    them, mm; `lean` in degrees from the grain, counter-clockwise.
    """

    width: float
    height: float
    lean: float


def shape_of(line: StyleLine) -> PatchShape | None:
    """What tells the shape of a patch as a part makes it: straight between corners, its two halves
    mirrored, with a level top and a level foot, a point there or lower corners cut off. None for
    any other line; exact.
    """
    path = line.path
    if line.kind != "patch" or not isinstance(path, PlacedPath) or abs(path.turn) > 180.0:
        return None
    nodes = path.nodes
    if not 4 <= len(nodes) <= 6 or not all(_is_plain_corner(node) for node in nodes):
        return None
    places = [node.at for node in nodes]
    far = _far_corner(places)
    if far is None or not _is_mirrored(places):
        return None
    low = places[2:]
    # The lower end of each side; with cut corners there is a foot below, with a point its tip.
    high = -(low[0].y if len(nodes) < 6 else low[1].y)
    if any(at.y >= 0.0 for at in low):
        return None
    return PatchShape(abs(far), high, path.turn)


def with_shape(line: StyleLine, wanted: PatchShape) -> StyleLine:
    """The patch with another width, height or lean: its sides move apart and its lower corners go
    down, so that its point and what is cut off its corners stay as they are; its upper corner
    stays where it is. Exact.

    Raises:
        GeometryRefused: the line is no such patch, or so narrow or so low it would lie over itself.
    """
    path, now = line.path, shape_of(line)
    if now is None or not isinstance(path, PlacedPath):
        raise GeometryRefused(f"{line.name} is no patch with a width and a height.")
    places = [node.at for node in path.nodes]
    far = _far_corner(places)
    assert far is not None
    wider = wanted.width - now.width
    sign = 1.0 if far > 0.0 else -1.0
    lower = wanted.height - now.height
    made = tuple(
        Vector(at.x + sign * wider * _share_across(at.x / far), at.y - lower * (at.y < 0.0))
        for at in places
    )
    _refuse_small(wanted, places, made)
    nodes = tuple(replace(node, at=at) for node, at in zip(path.nodes, made, strict=True))
    return replace(line, path=replace(path, turn=wanted.lean, nodes=nodes))


def _refuse_small(wanted: PatchShape, before: list[Vector], after: tuple[Vector, ...]) -> None:
    """No side may change ends, no lower corner come up to the top."""
    count = len(before)
    for at in range(count):
        old, new = before[(at + 1) % count] - before[at], after[(at + 1) % count] - after[at]
        if abs(old.x) > _ALIKE_MM and old.x * new.x <= 0.0:
            raise GeometryRefused("So narrow, the lower corners of the patch would meet.")
    if wanted.width < LEAST or wanted.height < LEAST or any(at.y >= 0.0 for at in after[2:]):
        raise GeometryRefused("A patch needs a width and a height: this is too little.")


def _is_plain_corner(node: Node) -> bool:
    return not node.smooth and node.handle_in is None and node.handle_out is None


def _far_corner(places: list[Vector]) -> float | None:
    """How far across the other upper corner lies; one of the two is the origin of the shape."""
    first, second = places[:2]
    if not (_is_same(first.y, 0.0) and _is_same(second.y, 0.0)):
        return None
    for here, there in ((first, second), (second, first)):
        if _is_same(here.x, 0.0) and not _is_same(there.x, 0.0):
            return there.x
    return None


def _is_mirrored(places: list[Vector]) -> bool:
    """Whether what is met from one upper corner down is met from the other too."""
    whole = places[0].x + places[1].x
    down, other = places[2:], places[:1:-1]
    return all(
        _is_same(one.x + two.x, whole) and _is_same(one.y, two.y)
        for one, two in zip(down, other, strict=True)
    )


def _share_across(across: float) -> float:
    """How much of a greater width a place moves by: none of it at the near side, half in the middle
    and all of it at the far side.
    """
    if _is_same(across, 0.5):
        return 0.5
    return 0.0 if across < 0.5 else 1.0


def _is_same(one: float, other: float) -> bool:
    return abs(one - other) < _ALIKE_MM
