"""A salvaged panel's outline from a drawing: DXF or SVG, by the file's suffix.

The largest closed outline is the panel; closed outlines within it are its holes. Curves are taken
as chords within 0.02 mm.
"""

from __future__ import annotations

from pathlib import Path

import msgspec
from shapely import Polygon

from studio.curves import Chain, tolerance
from studio.design.cloth import Flaw, Place, SalvagedPanel
from studio.errors import BadInput
from studio.exchange.drawing_in import on_grain_layer, strokes_from, tells_grain
from studio.exchange.dxf_entities import Stroke
from studio.exchange.left_out import LeftOut, told
from studio.exchange.loose_ends import closed_loops

LEAST_HOLE_MM2 = 4.0
"""A closed outline smaller than this is a speck of the drawing."""

_BOUNDARY_LAYER = "1"
_NO_HOLES = {"8": "it is an internal line", "14": "it is a sew line"}
"""By ASTM D6673-10, where the outline lies on its boundary layer."""


class DrawnCloth(msgspec.Struct, frozen=True):
    """A panel as drawn, and what of the drawing was left out, with its reason."""

    panel: SalvagedPanel
    left_out: tuple[str, ...] = ()


def read_panel(path: Path | str, name: str, cloth: str, unit: str | None = None) -> DrawnCloth:
    """The salvaged panel of a drawing, its lower left corner at the origin. Its grain is upright
    unless the drawing has a grain line.

    `unit` (mm, cm, m, inch, foot) is that of the numbers of a drawing; it goes before the
    drawing's own.

    Raises:
        BadInput: the file cannot be read, is not sound, has no unit and none was given, or no
            closed outline. `where` is "unit" or "$INSUNITS" when only the unit is missing.
    """
    path = Path(path)
    strokes, left_out = strokes_from(path, unit)
    grain, strokes = _grain_of(strokes)
    loops, loose, joined = closed_loops(strokes)
    left_out = [*left_out, *loose]
    areas = _areas(loops, left_out)
    if not areas:
        why = "; ".join(told(left_out)[:3])
        raise BadInput(
            "holds no closed outline that could be a panel" + (f" ({why})." if why else "."),
            path=str(path),
        )
    outline = areas[0][1]
    holes = _holes(areas, left_out)
    left, bottom, *_ = outline.bounds
    lower, upper = grain or _upright(outline)
    panel = SalvagedPanel(
        name,
        cloth,
        _places(outline, left, bottom),
        (_place(lower, left, bottom), _place(upper, left, bottom)),
        tuple(Flaw("hole", _places(hole, left, bottom)) for hole in holes),
    )
    return DrawnCloth(panel, (*joined, *told(left_out)))


def _grain_of(strokes: list[Stroke]) -> tuple[tuple[Place, Place] | None, list[Stroke]]:
    """The first open line on a grain layer, from its lower to its upper end; and the rest."""
    for at, stroke in enumerate(strokes):
        start, end = stroke.chain.start, stroke.chain.end
        if tells_grain(stroke):
            ends = sorted(((start.x, start.y), (end.x, end.y)), key=lambda place: place[1])
            rest = [
                other
                for number, other in enumerate(strokes)
                if number != at and not on_grain_layer(other)
            ]
            return (ends[0], ends[1]), rest
    return None, strokes


def _areas(loops: list[Stroke], left_out: list[LeftOut]) -> list[tuple[Stroke, Polygon]]:
    """What the loops enclose, largest first; a loop that is no area is told."""
    found: list[tuple[Stroke, Polygon]] = []
    for loop in loops:
        area = Polygon(_chords(loop.chain))
        if not area.is_valid:
            left_out.append(LeftOut(loop.what, "its outline crosses itself"))
        elif area.area < LEAST_HOLE_MM2:
            left_out.append(LeftOut(loop.what, "it is too small"))
        else:
            found.append((loop, area))
    return sorted(found, key=lambda pair: -pair[1].area)


def _holes(areas: list[tuple[Stroke, Polygon]], left_out: list[LeftOut]) -> list[Polygon]:
    """The areas within the first and within no other; the others are told."""
    first, outline = areas[0]
    holes: list[Polygon] = []
    for loop, area in areas[1:]:
        if first.layer == _BOUNDARY_LAYER and loop.layer in _NO_HOLES:
            left_out.append(LeftOut(loop.what, _NO_HOLES[loop.layer]))
        elif any(area.equals_exact(other, 1e-6) for other in (outline, *holes)):
            left_out.append(LeftOut(loop.what, "it is drawn twice"))
        elif not outline.intersects(area):
            left_out.append(LeftOut(loop.what, "it lies beside the largest outline"))
        elif not outline.covers(area):
            left_out.append(LeftOut(loop.what, "it crosses the largest outline"))
        elif any(hole.covers(area) for hole in holes):
            left_out.append(LeftOut(loop.what, "it lies within a hole"))
        else:
            holes.append(area)
    return holes


def _upright(outline: Polygon) -> tuple[Place, Place]:
    left, bottom, right, top = outline.bounds
    middle = (left + right) / 2.0
    return (middle, bottom), (middle, top)


def _chords(chain: Chain) -> list[Place]:
    return [(float(x), float(y)) for x, y in chain.polyline(tolerance.FLAT_MM)]


def _places(area: Polygon, left: float, bottom: float) -> tuple[Place, ...]:
    """The corners once each, counter-clockwise."""
    ring = area.exterior.coords[:-1]
    ordered = ring if area.exterior.is_ccw else ring[::-1]
    return tuple(_place(corner, left, bottom) for corner in ordered)


def _place(at: Place, left: float, bottom: float) -> Place:
    """Where a place lies on the panel, to a thousandth of a mm."""
    return round(at[0] - left, 3), round(at[1] - bottom, 3)
