"""A lay as DXF for a cutter or plotter: one file a cloth, every copy where it lies, true to size.

Layers of the pieces are those of ASTM D6673-10; the cloth and its flaws have layers of their own,
which a cutter is told to leave out.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from ezdxf.layouts.layout import Modelspace

from studio.cloth.bed import flaw_area
from studio.curves import Point
from studio.design.cloth import Flaw
from studio.errors import BadInput
from studio.exchange.dxf_out import (
    ANNOTATION,
    BOUNDARY,
    LAYERS,
    TEXT_HEIGHT,
    draw_piece,
    new_drawing,
    write_audited,
    write_text,
)
from studio.exchange.lay_plan import ClothPlan
from studio.exchange.plain_text import block_names

CLOTH, FLAWS = "CLOTH", "FLAWS"

_BELOW = 40.0


def write_lay_dxf(plans: Sequence[ClothPlan], folder: Path, stem: str) -> list[Path]:
    """Write `<stem>-<cloth>.dxf` in an existing folder for every cloth that has pieces on it.

    Raises:
        BadInput: nothing is laid, or a file cannot be written.
        YokewrightError: a drawing does not pass its audit.
    """
    filled = [plan for plan in plans if plan.laid]
    if not filled:
        raise BadInput("Nothing is laid on any cloth yet.", where="lay")
    written = []
    for plan, name in zip(filled, block_names(plan.stock.name for plan in filled), strict=True):
        target = folder / f"{stem}-{name.lower()}.dxf"
        _write(plan, target)
        written.append(target)
    return written


def _write(plan: ClothPlan, target: Path) -> None:
    drawing = new_drawing((*LAYERS, CLOTH, FLAWS))
    sheet = drawing.modelspace()
    names = block_names(one.sewn.piece.name for one in plan.laid)
    for name, one in zip(names, plan.laid, strict=True):
        draw_piece(drawing.blocks.new(name), one.sewn)
        sheet.add_blockref(name, (0.0, 0.0), {"layer": BOUNDARY})
    _draw_closed(sheet, CLOTH, plan.bed.outline.exterior.coords)
    for flaw in plan.stock.flaws:
        _draw_flaw(sheet, flaw)
    left, low, _, _ = plan.bed.outline.bounds
    words = (f"CLOTH: {plan.stock.name}, {plan.stock.cloth}", "UNITS: METRIC")
    for row, text in enumerate(words):
        place = Point(left, low - _BELOW - row * 1.5 * TEXT_HEIGHT)
        write_text(sheet, ANNOTATION, text, place)
    write_audited(drawing, target)


def _draw_flaw(sheet: Modelspace, flaw: Flaw) -> None:
    area = flaw_area(flaw)
    _draw_closed(sheet, FLAWS, area.exterior.coords)
    inside = area.representative_point()
    write_text(sheet, FLAWS, flaw.kind, Point(inside.x, inside.y))


def _draw_closed(sheet: Modelspace, layer: str, places: Sequence[tuple[float, ...]]) -> None:
    points = [(x, y) for x, y, *_ in places][:-1]
    sheet.add_polyline2d(points, close=True, dxfattribs={"layer": layer})
