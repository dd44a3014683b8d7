"""Where panels and pieces lie on the sheet: panels side by side, pieces in columns beside them."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence

from studio.block.panel import Panel
from studio.curves import Box, Vector
from studio.exchange.arrange import cut_box
from studio.sew.sewn import SewnPiece

GAP = 70.0
"""Between neighbours, mm: room for allowances and names."""

MARGIN = 1.8 * GAP
"""Of names past the last column, mm."""

SMALL = 260.0
"""A column narrower than this (mm) stands further apart."""

WIDE = 620.0
"""A piece wider than this (mm) lies in a row of its own below."""

_UNDER_NAMES = 2.1
"""Gaps between what is named and a wide piece below it: the names of panels are the largest."""

_ROUNDING = 1.0
"""What lies a gap (mm) away may seem so much nearer."""

_ALIKE = 150.0
"""Pieces whose heights differ less than this (mm) stand as the design names them."""

_SCREEN = 1.45
"""How many times wider than high what is shown between the panes may be, names left out, in letters
of the usual size; the panes grow with the letters.
"""

_DEPTHS = tuple(1.0 + 0.05 * k for k in range(41))
"""Depths of the columns that are tried, in heights of the panels."""


def place_panels(panels: Sequence[Panel]) -> dict[str, Vector]:
    """A shift (mm) for each panel: in a row from x = 0, all standing on the same level."""
    shifts, x = {}, 0.0
    for panel in panels:
        box = panel.outline.box
        shifts[panel.name] = Vector(x - box.left, -box.bottom)
        x += box.width + 2.0 * GAP
    return shifts


def gap_below(larger: float) -> float:
    """Between a piece and what lies below it, mm, where letters are so much larger than usual. A
    name needs so many more pixels, and a pixel is more of a millimetre: panes take more room.
    """
    return GAP * larger * math.sqrt(larger)


def place_pieces(
    pieces: Sequence[SewnPiece],
    left: float,
    height: float,
    faced: Mapping[str, str] | None = None,
    larger: float = 1.0,
) -> dict[str, Vector]:
    """A shift (mm) for each piece: columns from x = `left` that hang from y = `height`, tall pieces
    first, those alike as they come; wide pieces in rows below, from x = 0. A facing lies under the
    piece that `faced` gives it. Letters are so much `larger` than usual.

    Columns are as deep as shows all of it largest on a screen; what lies left of x = `left` is
    taken to reach from y = 0 to `height`.
    """
    boxes = {sewn.piece.name: cut_box(sewn) for sewn in pieces}
    groups: dict[str, list[str]] = {}
    for name in boxes:
        outer = (faced or {}).get(name, name)
        groups.setdefault(outer if outer in boxes else name, []).append(name)
    wide = [name for outer in groups if boxes[outer].width > WIDE for name in groups[outer]]
    tall = sorted(
        (group for outer, group in groups.items() if boxes[outer].width <= WIDE),
        key=lambda group: -round(boxes[group[0]].height / _ALIKE),
    )
    gap = gap_below(larger)
    tried = [
        _placed(_columns(tall, boxes, height * share, gap), wide, boxes, left, height, gap)
        for share in _DEPTHS
    ]
    return max(tried, key=lambda shifts: _scale(shifts, boxes, left, height, larger))


def _placed(
    columns: Sequence[Sequence[str]],
    wide: Sequence[str],
    boxes: Mapping[str, Box],
    left: float,
    height: float,
    gap: float,
) -> dict[str, Vector]:
    """Columns side by side, and wide pieces below all that stands over them."""
    shifts: dict[str, Vector] = {}
    feet = [(0.0, 0.0)]  # From x on, what lies above reaches down to y.
    x = left
    for column in columns:
        broad, top = max(boxes[name].width for name in column), height
        x += _beside(broad) if x > left else 0.0
        for name in column:
            box = boxes[name]
            shifts[name] = Vector(x + broad / 2.0 - box.centre.x, top - box.top)
            top -= box.height + gap
        feet.append((x, top + gap))
        x += broad
    for name in wide:
        box = boxes[name]
        below = min(foot for start, foot in feet if start < box.width + gap) - _UNDER_NAMES * gap
        shifts[name] = Vector(-box.left, below - box.top)
        feet.append((0.0, below - box.height))
    return shifts


def _scale(
    shifts: Mapping[str, Vector],
    boxes: Mapping[str, Box],
    left: float,
    height: float,
    larger: float,
) -> float:
    """How large everything is shown on a screen of the usual shape."""
    right = max((boxes[name].right + shift.x for name, shift in shifts.items()), default=left)
    foot = min((boxes[name].bottom + shift.y for name, shift in shifts.items()), default=0.0)
    deep = height - min(foot, 0.0) + gap_below(larger)
    return min(_SCREEN / larger / max(right, left), 1.0 / deep)


def _columns(
    groups: Sequence[Sequence[str]], boxes: Mapping[str, Box], height: float, gap: float
) -> list[list[str]]:
    """Groups one under the other, each in the first column where it has room: up to `height` mm
    high, or as high as one group.
    """
    columns: list[list[str]] = []
    spare: list[float] = []
    for group in groups:
        deep = sum(boxes[name].height + gap for name in group)
        at = next((k for k, room in enumerate(spare) if deep <= room), len(spare))
        if at == len(spare):
            columns.append([])
            spare.append(height + gap)
        columns[at] += group
        spare[at] -= deep
    return columns


def _beside(broad: float) -> float:
    """The gap beside a column so broad, mm: names are wider than small pieces."""
    return GAP if broad > SMALL else 1.8 * GAP


def is_crowded(
    panels: Sequence[Panel],
    panel_shifts: Mapping[str, Vector],
    pieces: Sequence[SewnPiece],
    piece_shifts: Mapping[str, Vector],
    gap: float = GAP,
) -> bool:
    """True when panels or pieces that have grown since they were placed run into one another, or
    into what is written below a piece and left of a panel.
    """
    boxes = []
    for panel in panels:
        box = panel.outline.box.moved(panel_shifts[panel.name])
        boxes.append(Box(box.left - GAP, box.bottom - gap, box.right, box.top))
    for sewn in pieces:
        box = cut_box(sewn).moved(piece_shifts[sewn.piece.name])
        boxes.append(Box(box.left, box.bottom - gap / 2.0, box.right, box.top))
    return any(one.meets(two) for one, two in itertools.combinations(boxes, 2))


def rooms_for_names(
    pieces: Sequence[SewnPiece], shifts: Mapping[str, Vector], gap: float = GAP
) -> dict[str, float]:
    """How wide (mm) the name centred below each piece may be where the pieces lie: as far as the
    pieces beside the name, or halfway to one that has its own name there, and not far past all.
    """
    boxes = {sewn.piece.name: cut_box(sewn).moved(shifts[sewn.piece.name]) for sewn in pieces}
    end = max((box.right for box in boxes.values()), default=0.0) + MARGIN
    return {
        name: 2.0 * min(*_reaches(name, boxes, gap), end - box.centre.x)
        for name, box in boxes.items()
    }


def _reaches(name: str, boxes: Mapping[str, Box], gap: float) -> tuple[float, float]:
    """How far from the middle of a piece its name may reach to the left and to the right, mm."""
    box = boxes[name]
    middle, foot = box.centre.x, box.bottom
    left = right = math.inf
    for other, beside in boxes.items():
        if other == name:
            continue
        # One placed below it begins a gap deeper, or a rounding short of that.
        is_beside = beside.bottom < foot and beside.top > foot - gap + _ROUNDING
        is_named_there = abs(beside.bottom - foot) < gap
        if not is_beside and not is_named_there:
            continue
        share = 0.5 if is_named_there else 1.0
        if beside.centre.x < middle:
            free = max(0.0, box.left - beside.right)
            left = min(left, box.width / 2.0 + free * share)
        else:
            free = max(0.0, beside.left - box.right)
            right = min(right, box.width / 2.0 + free * share)
    return left, right
