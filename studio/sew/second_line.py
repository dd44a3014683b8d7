"""A second cut line on one pattern: the narrower allowance of a seam of left with right.

Left and right are cut from one pattern, but a felled centre seam is double on the one and single
on the other. The pattern is cut double; the single line is drawn inside it, and one side is
trimmed to it. Over an open dart both have a roof.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.block.panel import Dart
from studio.curves import Chain, Outline, meetings
from studio.curves.outline import Edge
from studio.memo import remembered
from studio.sew.joint import LONGEST_MITRE
from studio.sew.mouth import mouths_on, roofed_inside
from studio.sew.parallel import moved
from studio.sew.roof import straight_over
from studio.sew.sewn import CutEdge

_BEYOND = 40.0
"""At least so far beyond its ends a second line is sought to meet the cut line, mm."""


def second_lines(
    outline: Outline,
    narrower: Sequence[float | None],
    cut: Sequence[CutEdge],
    allowances: Sequence[float],
    darts: Sequence[Dart],
) -> tuple[tuple[Chain, ...], tuple[str, ...]]:
    """The second lines of all edges with a `narrower` allowance (mm, None for the others), and
    sentences on darts over whose mouths one runs straight though the cut line has a roof there, and
    on ends that do not reach the cut line.
    """
    lines, trouble = [], []
    for index, (edge, width) in enumerate(zip(outline.edges, narrower, strict=False)):
        if width is None:
            continue
        beyond = _beyond(index, allowances)
        found = _second_line(edge, width, _near(edge, width, beyond, cut), beyond)
        line = found.chain
        trouble += _ends_short(edge.name, found)
        if width > 0.0:
            mouths = mouths_on(index, cut, outline, allowances, darts)
            line, straight = roofed_inside(line, width, outline, mouths, darts)
            trouble += [straight_over("narrower line", dart) for dart in straight]
        lines.append(line)
    return tuple(lines), tuple(trouble)


def _near(edge: Edge, width: float, beyond: float, cut: Sequence[CutEdge]) -> tuple[CutEdge, ...]:
    """The stretches of a cut line that an edge's second line may reach."""
    box, gap = edge.chain.box, beyond + width + 1.0
    return tuple([stretch for stretch in cut if stretch.chain.box.meets(box, gap)])


def _beyond(index: int, allowances: Sequence[float]) -> float:
    """How far beyond the ends of an edge its second line may meet the cut line, mm: at a mitre as
    long as one gets.
    """
    after = allowances[(index + 1) % len(allowances)]
    return max(_BEYOND, LONGEST_MITRE * max(allowances[index - 1], allowances[index], after))


class SecondLine(msgspec.Struct, frozen=True):
    """A second line, and whether it reaches the cut line where its edge starts and ends."""

    chain: Chain
    from_start: bool
    to_end: bool


def _ends_short(edge: str, line: SecondLine) -> list[str]:
    """Sentences on the ends of an edge's second line that do not reach the cut line."""
    ends = [word for word, met in (("start", line.from_start), ("end", line.to_end)) if not met]
    if not ends:
        return []
    return [
        f"The narrower line of {edge} does not reach the cut line at its {' and '.join(ends)}: "
        "prolong it there with a ruler before you trim to it."
    ]


def second_line(edge: Edge, width: float, cut: Sequence[CutEdge], beyond: float) -> SecondLine:
    """The line `width` mm outside an edge, from cut line to cut line, which it meets no more than
    `beyond` mm outside the ends of the edge; where it meets none, it ends with its edge.
    """
    line = moved(edge.chain, -width)
    long = line.prolonged(beyond, beyond)
    reach = min(beyond + 3.0 * width, long.length / 2.0)
    rest = long.length - reach
    tails = ((long.between(0.0, reach), 0.0), (long.between(rest, long.length), rest))
    places = []
    for stretch in cut:
        box = stretch.chain.box
        for tail, passed in tails:
            if tail.box.meets(box):
                places += [passed + meeting.first for meeting in meetings(tail, stretch.chain)]
    low = [place for place in places if place <= beyond + width]
    high = [place for place in places if place >= long.length - beyond - width]
    first = max(low, default=beyond)
    last = min(high, default=long.length - beyond)
    if last - first > 1.0:
        return SecondLine(long.between(first, last), bool(low), bool(high))
    return SecondLine(line, from_start=False, to_end=False)


_second_line = remembered(second_line, 400)
