"""The hand on a line that something holds: the drag that keeps the holds."""

from __future__ import annotations

from msgspec.structs import replace

from studio.cut import HeldDrag, tied_to
from studio.cut.edit import Grip
from studio.design import AnchoredPath
from studio.design.holds import FromCorner, Hold, LinePoint, Slides, lines_in
from studio.errors import GeometryRefused
from studio.pattern import Pattern

_PARTS = {"node": "node", "start": "node", "end": "node", "handle-in": "in", "handle-out": "out"}


def held_drag(pattern: Pattern, grip: Grip) -> HeldDrag | None:
    """A drag of a grip under the holds on its line; None when nothing holds on it, or when the
    holds cannot be met as they stand: then the grip moves freely, so that the maker can mend them.

    A dragged end slides: its distance is what the drag decides, unless a hold keeps it.
    """
    design = pattern.design
    if not design.holds or grip.kind not in _PARTS:
        return None
    names = tied_to(design.lines, design.holds, grip.line)
    if not names:
        return None
    asked: list[Hold] = [
        hold for hold in design.holds if hold.active and set(names) & set(lines_in(hold))
    ]
    point = LinePoint(grip.line, grip.index, _PARTS[grip.kind])  # type: ignore[arg-type]
    path = design.line(grip.line).path
    kept = any(
        isinstance(hold, Slides | FromCorner) and hold.point == replace(point, part="node")
        for hold in asked
    )
    if grip.kind in ("start", "end") and isinstance(path, AnchoredPath) and not kept:
        place = path.start if grip.kind == "start" else path.end
        asked.append(Slides(point, place.edge, name="the end in hand"))
    lines = [line for line in design.lines if line.name in names]
    panels = {panel.name: panel for panel in pattern.panels}
    try:
        return HeldDrag(lines, panels, asked, point)
    except GeometryRefused:
        return None
