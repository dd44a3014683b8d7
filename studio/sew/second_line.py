"""A second cut line on one pattern: the narrower allowance of a seam of left with right.

Left and right are cut from one pattern, but a felled centre seam is double on the one and single
on the other. The pattern is cut double; the single line is drawn inside it, and one side is
trimmed to it. Over an open dart both have a roof.
"""

from __future__ import annotations

from collections.abc import Sequence

from studio.block.panel import Dart
from studio.curves import Chain, Outline, meetings
from studio.curves.outline import Edge
from studio.memo import Remembered
from studio.sew.mouth import mouths_on, roofed_inside
from studio.sew.roof import straight_over
from studio.sew.sewn import CutEdge
from studio.sew.topstitch import moved, prolonged

_BEYOND = 40.0


def second_lines(
    outline: Outline,
    narrower: Sequence[float | None],
    cut: Sequence[CutEdge],
    allowances: Sequence[float],
    darts: Sequence[Dart],
) -> tuple[tuple[Chain, ...], tuple[str, ...]]:
    """The second lines of all edges with a `narrower` allowance (mm, None for the others), and
    sentences on darts over whose mouths one runs straight though the cut line has a roof there.
    """
    lines, trouble = [], []
    for index, (edge, width) in enumerate(zip(outline.edges, narrower, strict=False)):
        if width is None:
            continue
        line = _second_line(edge, width, _near(edge, width, cut))
        if width > 0.0 and any(dart.edge == edge.name for dart in darts):
            mouths = mouths_on(index, cut, outline, allowances, darts)
            line, straight = roofed_inside(line, width, outline, mouths, darts)
            trouble += [straight_over("narrower line", dart) for dart in straight]
        lines.append(line)
    return tuple(lines), tuple(trouble)


def _near(edge: Edge, width: float, cut: Sequence[CutEdge]) -> tuple[CutEdge, ...]:
    """The stretches of a cut line that an edge's second line may reach."""
    box, gap = edge.chain.box, 2.0 * (_BEYOND + width)
    return tuple([stretch for stretch in cut if stretch.chain.box.meets(box, gap)])


def second_line(edge: Edge, width: float, cut: Sequence[CutEdge]) -> Chain:
    """The line `width` mm outside an edge, from cut line to cut line at its ends."""
    line = moved(edge.chain, -width)
    long = prolonged(line, _BEYOND, _BEYOND)
    reach = min(_BEYOND + 3.0 * width, long.length / 2.0)
    rest = long.length - reach
    tails = ((long.between(0.0, reach), 0.0), (long.between(rest, long.length), rest))
    places = []
    for stretch in cut:
        box = stretch.chain.box
        for tail, passed in tails:
            if tail.box.meets(box):
                places += [passed + meeting.first for meeting in meetings(tail, stretch.chain)]
    low = [place for place in places if place <= _BEYOND + width]
    high = [place for place in places if place >= long.length - _BEYOND - width]
    first = max(low, default=_BEYOND)
    last = min(high, default=long.length - _BEYOND)
    return long.between(first, last) if last - first > 1.0 else line


_second_line = Remembered(second_line, 400)
