"""Drawing entities as chains of exact cubics, in mm: lines, arcs, polylines, splines, ellipses,
and what stands in blocks.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import msgspec
from ezdxf import path as ezpath
from ezdxf.document import Drawing
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.insert import Insert
from ezdxf.math import Vec3

from studio.curves import Chain, Cubic, Point, tolerance
from studio.errors import GeometryRefused
from studio.exchange.left_out import NOT_AN_OUTLINE, LeftOut

DRAWABLE = ("LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "SPLINE")

ARC_SEGMENTS = 48
"""Cubics round a full circle: off by less than 2e-10 of the radius."""

SPLINE_LEVEL = 6
"""Subdivision of splines that are not cubic polynomials already."""

FLAT_Z_MM = 1e-3
"""A drawing whose points differ more than this in height is not flat."""

_DEEPEST = 12


class Stroke(msgspec.Struct, frozen=True):
    """A drawn line: its chain in mm, the name of the block it came from or empty, its layer, and
    words that say which entity it was.
    """

    chain: Chain
    block: str
    layer: str
    what: str


def strokes_of(drawing: Drawing, scale: float) -> tuple[list[Stroke], list[LeftOut]]:
    """All that is drawn in model space, blocks opened up, scaled by `scale` to mm."""
    strokes: list[Stroke] = []
    left_out: list[LeftOut] = []
    for entity, block in _opened(drawing.modelspace(), "", 0, left_out):
        what = _words(entity, block)
        if entity.dxftype() not in DRAWABLE:
            left_out.append(LeftOut(what, NOT_AN_OUTLINE))
            continue
        try:
            chain = _chain_of(entity, scale)
        except (GeometryRefused, ValueError, TypeError, ZeroDivisionError) as problem:
            left_out.append(LeftOut(what, f"cannot be drawn ({problem})"))
            continue
        if isinstance(chain, str):
            left_out.append(LeftOut(what, chain))
        else:
            strokes.append(Stroke(chain, block, entity.dxf.layer, what))
    return strokes, left_out


def _opened(
    entities: object, block: str, depth: int, left_out: list[LeftOut]
) -> Iterator[tuple[DXFGraphic, str]]:
    """Entities with inserts opened up, each with the name of the outermost block it is in."""
    for entity in entities:  # type: ignore[attr-defined]
        if not isinstance(entity, Insert):
            yield entity, block
            continue
        if depth >= _DEEPEST:
            left_out.append(LeftOut(_words(entity, block), "blocks are nested too deeply"))
            continue
        if entity.block() is None:
            left_out.append(LeftOut(_words(entity, block), "its block is not in the file"))
            continue
        skipped: list[tuple[DXFGraphic, str]] = []

        def note(
            skipped_entity: DXFGraphic, reason: str, into: list[tuple[DXFGraphic, str]] = skipped
        ) -> None:
            into.append((skipped_entity, reason))

        inserts = entity.multi_insert() if entity.mcount > 1 else (entity,)
        for one in inserts:
            parts = one.virtual_entities(skipped_entity_callback=note)
            yield from _opened(parts, block or str(entity.dxf.name), depth + 1, left_out)
        left_out.extend(LeftOut(_words(part, block), reason) for part, reason in skipped)


def _chain_of(entity: DXFGraphic, scale: float) -> Chain | str:
    """The chain of an entity, or why there is none."""
    drawn = ezpath.make_path(entity, segments=ARC_SEGMENTS, level=SPLINE_LEVEL)
    if len(drawn) == 0:
        return "it has no length"
    heights = [point.z for point in drawn.control_vertices()]
    if max(heights) - min(heights) > FLAT_Z_MM / scale:
        return "it is not flat: its points differ in height"
    cubics: list[Cubic] = []
    at = _point(drawn.start, scale)
    for command in drawn.commands():
        end = _point(command.end, scale)
        cubic = _cubic(at, command, end, scale)
        if not math.isfinite(sum(cubic.numbers)):
            return "it has a point that is not a number"
        if cubic.length > tolerance.NOTHING_MM:
            cubics.append(cubic)
            at = end
    if not cubics:
        return "it has no length"
    for k in range(1, len(cubics)):
        cubics[k] = cubics[k].with_ends(cubics[k - 1].p3, cubics[k].p3)
    return Chain.of(cubics)


def _cubic(start: Point, command: object, end: Point, scale: float) -> Cubic:
    """A path command as a cubic; a quadratic curve is raised exactly."""
    one = getattr(command, "ctrl1", None)
    two = getattr(command, "ctrl2", None)
    if one is None:
        single = getattr(command, "ctrl", None)
        if single is None:
            return Cubic.straight(start, end)
        control = _point(single, scale)
        return Cubic(start, start.toward(control, 2.0 / 3.0), end.toward(control, 2.0 / 3.0), end)
    return Cubic(start, _point(one, scale), _point(two, scale), end)


def _point(place: Vec3, scale: float) -> Point:
    return Point(float(place.x) * scale, float(place.y) * scale)


def _words(entity: DXFGraphic, block: str) -> str:
    """Which entity, for the maker: kind, layer, block, handle."""
    inside = f" in block {block}" if block else ""
    handle = entity.dxf.handle
    number = f" (handle {handle})" if handle else ""
    return f"{entity.dxftype()} on layer {entity.dxf.layer}{inside}{number}"
