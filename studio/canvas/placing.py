"""Where panels and pieces lie on the sheet: panels side by side, pieces in columns beside them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from studio.block.panel import Panel
from studio.curves import Box, Vector
from studio.exchange.arrange import cut_box
from studio.sew.sewn import SewnPiece

GAP = 70.0
"""Between neighbours, mm: room for allowances and names."""

SMALL = 260.0
"""A column narrower than this (mm) stands further apart."""

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
    x = left
    for column in _columns([groups[outer] for outer in others], boxes, height):
        broad, top = max(boxes[name].width for name in column), height
        x += _beside(broad) if x > left else 0.0
        for name in column:
            box = boxes[name]
            shifts[name] = Vector(x + broad / 2.0 - box.centre.x, top - box.top)
            top -= box.height + GAP
        x += broad
    below = -1.5 * GAP
    for name in (name for outer in wide for name in groups[outer]):
        box = boxes[name]
        shifts[name] = Vector(left - box.left, below - box.top)
        below -= box.height + GAP
    return shifts


def _columns(
    groups: Sequence[Sequence[str]], boxes: Mapping[str, Box], height: float
) -> list[list[str]]:
    """Groups one under the other, in columns up to `height` mm high."""
    columns: list[list[str]] = []
    top = 0.0
    for group in groups:
        deep = sum(boxes[name].height + GAP for name in group) - GAP
        if not columns or top - deep < 0.0:
            columns.append([])
            top = height
        columns[-1] += group
        top -= deep + GAP
    return columns


def _beside(broad: float) -> float:
    """The gap beside a column so broad, mm: names are wider than small pieces."""
    return GAP if broad > SMALL else 1.8 * GAP


def rooms_for_names(pieces: Sequence[SewnPiece], shifts: Mapping[str, Vector]) -> dict[str, float]:
    """How wide (mm) the name centred below each piece may be where the pieces lie: as far as the
    pieces beside the name, or halfway to one that has its own name there.
    """
    boxes = {}
    for sewn in pieces:
        box, shift = cut_box(sewn), shifts[sewn.piece.name]
        boxes[sewn.piece.name] = Box(
            box.left + shift.x, box.bottom + shift.y, box.right + shift.x, box.top + shift.y
        )
    return {name: 2.0 * min(_reaches(name, boxes)) for name in boxes}


def _reaches(name: str, boxes: Mapping[str, Box]) -> tuple[float, float]:
    """How far from the middle of a piece its name may reach to the left and to the right, mm."""
    box = boxes[name]
    middle, foot = box.centre.x, box.bottom
    left = right = math.inf
    for other, beside in boxes.items():
        if other == name:
            continue
        is_beside = beside.bottom < foot and beside.top > foot - GAP
        is_named_there = abs(beside.bottom - foot) < GAP
        if not is_beside and not is_named_there:
            continue
        share = 0.5 if is_named_there else 1.0
        if beside.centre.x < middle:
            gap = max(0.0, box.left - beside.right)
            left = min(left, box.width / 2.0 + gap * share)
        else:
            gap = max(0.0, beside.left - box.right)
            right = min(right, box.width / 2.0 + gap * share)
    return left, right
