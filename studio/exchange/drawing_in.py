"""The lines of a drawing, DXF or SVG by the file's suffix, and which of them tell the grain."""

from __future__ import annotations

import math
import re
from pathlib import Path

import shapely

from studio.curves import Chain, tolerance
from studio.errors import BadInput
from studio.exchange.dxf_entities import Stroke, strokes_of
from studio.exchange.dxf_in import millimetres_of, opened_drawing
from studio.exchange.left_out import LeftOut
from studio.exchange.svg_in import svg_strokes

LEAST_GRAIN_MM = 10.0
"""A shorter line tells no direction."""

_GRAIN_LAYER = re.compile(r"7|grain([ _-]?line)?")
"""ASTM D6673-10 keeps the grain line on layer 7; in an SVG file the line or its group bears it."""


def strokes_from(path: Path, unit: str | None) -> tuple[list[Stroke], list[LeftOut]]:
    """Everything that is drawn, in mm, y up; `unit` goes before the drawing's own.

    Raises:
        BadInput: the file cannot be read, is not sound, is of another format, or has no unit and
            none was given: `where` is "unit" or "$INSUNITS" then.
    """
    suffix = path.suffix.lower()
    if suffix == ".svg":
        return svg_strokes(path, unit)
    if suffix == ".dxf":
        drawing = opened_drawing(path)
        return strokes_of(drawing, millimetres_of(drawing, unit, str(path)))
    raise BadInput("is neither a DXF nor an SVG file.", path=str(path))


def on_grain_layer(stroke: Stroke) -> bool:
    """Whether a line lies where grain lines do."""
    return _GRAIN_LAYER.fullmatch(stroke.layer.lower()) is not None


def tells_grain(stroke: Stroke) -> bool:
    """Whether a line is a grain line, long enough to tell a direction."""
    return on_grain_layer(stroke) and _span(stroke.chain) >= LEAST_GRAIN_MM


def grain_lines(loop: Stroke, strokes: list[Stroke]) -> list[Stroke]:
    """The grain lines within an outline."""
    area = shapely.Polygon(loop.chain.polyline(tolerance.FLAT_MM))
    return [one for one in strokes if tells_grain(one) and area.contains(_middle(one.chain))]


def grain_turn(within: list[Stroke]) -> float:
    """Degrees counter-clockwise, more than -90 and at most 90, by which an outline is turned so
    that the longest of the grain lines within it stands upright; 0 when it has none.
    """
    if not within:
        return 0.0
    longest = max((one.chain for one in within), key=_span)
    along = longest.end - longest.start
    turn = 90.0 - math.degrees(math.atan2(along.y, along.x))
    while turn > 90.0:
        turn -= 180.0
    return turn


def _span(chain: Chain) -> float:
    return chain.start.distance_to(chain.end)


def _middle(chain: Chain) -> shapely.Point:
    middle = chain.start.toward(chain.end, 0.5)
    return shapely.Point(middle.x, middle.y)
