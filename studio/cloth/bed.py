"""A piece of stock as a place to lay on: what of it is usable, and where its warp runs."""

from __future__ import annotations

import math

import msgspec
from shapely import LineString, MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union
from shapely.validation import explain_validity

from studio.design.cloth import Flaw, Place, Roll, Stock
from studio.errors import BadInput

_LEAST_GRAIN = 1.0
"""Two places on a thread must be so far apart to tell its direction, mm."""


class Bed(msgspec.Struct, frozen=True):
    """Stock to lay on, in its own coordinates, mm: `outline` is the whole of it, `usable` what is
    left of it without selvedges and flaws, `warp` the direction of its warp in degrees from +x.
    """

    name: str
    cloth: str
    warp: float
    outline: Polygon
    usable: MultiPolygon
    roll: bool = False


def bed_of(stock: Stock) -> Bed:
    """The bed of a stock.

    Raises:
        BadInput: an outline that crosses itself or holds nothing, a flaw without area, a grain
            without direction, a roll without size; names the stock and the reason.
    """
    if isinstance(stock, Roll):
        if stock.width <= 2.0 * stock.selvedge or stock.length <= 0.0 or stock.selvedge < 0.0:
            raise BadInput(
                "A roll needs a width beyond its selvedges, and a length.", where=stock.name
            )
        outline = box(0.0, 0.0, stock.width, stock.length)
        clear: BaseGeometry = box(stock.selvedge, 0.0, stock.width - stock.selvedge, stock.length)
        warp = 90.0
    else:
        outline = _area(stock.outline, stock.name, "Its outline")
        clear = outline
        warp = _direction(stock.grain, stock.name)
    areas = [flaw_area(flaw, stock.name) for flaw in stock.flaws]
    avoided = [area for area, flaw in zip(areas, stock.flaws, strict=True) if flaw.avoided]
    usable = clear.difference(unary_union(avoided)) if avoided else clear
    return Bed(stock.name, stock.cloth, warp, outline, areas_of(usable), isinstance(stock, Roll))


def flaw_area(flaw: Flaw, stock: str = "") -> Polygon:
    """What a flaw covers; a band ends square.

    Raises:
        BadInput: it has no area; names the stock.
    """
    if flaw.wide > 0.0:
        if len(flaw.points) < 2:
            raise BadInput(f"Its band ({flaw.kind}) needs two points or more.", where=stock)
        band = LineString(flaw.points).buffer(flaw.wide / 2.0, cap_style="flat")
        if not isinstance(band, Polygon) or band.is_empty:
            raise BadInput(f"Its band ({flaw.kind}) has no length.", where=stock)
        return band
    return _area(flaw.points, stock, f"Its {flaw.kind}")


def _area(points: tuple[Place, ...], stock: str, what: str) -> Polygon:
    if len(points) < 3:
        raise BadInput(f"{what} needs three points or more.", where=stock)
    area = Polygon(points)
    if not area.is_valid:
        raise BadInput(f"{what} crosses itself ({explain_validity(area)}).", where=stock)
    if area.area == 0.0:
        raise BadInput(f"{what} encloses nothing.", where=stock)
    return area


def _direction(grain: tuple[Place, Place], stock: str) -> float:
    (x, y), (upper_x, upper_y) = grain
    if math.hypot(upper_x - x, upper_y - y) < _LEAST_GRAIN:
        raise BadInput("The two places of its grain are one.", where=stock)
    return math.degrees(math.atan2(upper_y - y, upper_x - x))


def areas_of(geometry: BaseGeometry) -> MultiPolygon:
    """Only the areas of a geometry, without lines and points that a cut may leave."""
    parts = getattr(geometry, "geoms", (geometry,))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])
