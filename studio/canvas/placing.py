"""Where panels and pieces lie on the sheet: panels side by side, pieces in columns beside them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from studio.block.panel import Panel
from studio.curves import Vector
from studio.exchange.arrange import cut_box
from studio.sew.sewn import SewnPiece

GAP = 70.0
"""Between neighbours, mm: room for allowances and names."""

WIDE = 620.0
"""A piece wider than this (mm) lies in a row of its own below."""


def place_panels(panels: Sequence[Panel]) -> dict[str, Vector]:
    """A shift (mm) for each panel: in a row from x = 0, all standing on the same level."""
    shifts, x = {}, 0.0
    for panel in panels:
        box = panel.outline.box
        shifts[panel.name] = Vector(x - box.left, -box.bottom)
        x += box.width + 2.0 * GAP
    return shifts


def place_pieces(
    pieces: Sequence[SewnPiece],
    left: float,
    height: float,
    faced: Mapping[str, str] | None = None,
) -> dict[str, Vector]:
    """A shift (mm) for each piece: columns from x = `left`, each up to `height` mm high, tall
    pieces first; wide pieces in rows below. A facing lies under the piece that `faced` gives it.
    """
    boxes = {sewn.piece.name: cut_box(sewn) for sewn in pieces}
    groups: dict[str, list[str]] = {}
    for name in boxes:
        outer = (faced or {}).get(name, name)
        groups.setdefault(outer if outer in boxes else name, []).append(name)
    wide = [name for name in groups if boxes[name].width > WIDE]
    others = sorted(
        (name for name in groups if name not in wide), key=lambda name: -boxes[name].height
    )
    shifts: dict[str, Vector] = {}
    x, top, column = left, height, 0.0
    for outer in others:
        deep = sum(boxes[name].height + GAP for name in groups[outer]) - GAP
        if top < height and top - deep < 0.0:
            x, top, column = x + column + GAP, height, 0.0
        for name in groups[outer]:
            box = boxes[name]
            shifts[name] = Vector(x - box.left, top - box.top)
            top -= box.height + GAP
            column = max(column, box.width)
    below = -1.5 * GAP
    for name in (name for outer in wide for name in groups[outer]):
        box = boxes[name]
        shifts[name] = Vector(left - box.left, below - box.top)
        below -= box.height + GAP
    return shifts
