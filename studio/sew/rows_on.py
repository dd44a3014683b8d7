"""What of a row of topstitching lies on its piece, judged along its whole length.

Row and outline are followed by chords, and where these cross the row is divided. Most rows run on
their piece from end to end: that is seen by rough chords, as it is asked in every frame of a drag.
Fine ones are taken where a rough one strays off.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import TypeAlias

from studio import numbers
from studio.curves import Chain, Outline, encloses, tolerance
from studio.errors import Told

_Place: TypeAlias = tuple[float, float]
_Stretch: TypeAlias = tuple[float, float]

_ASIDE_MM = 0.5
"""A row that strays no further than this off its piece lies on it: rough chords may be that far
beside the edge in which a row ends.
"""

_LEAST_MM = 1.0
"""No shorter stretch of a row is stitched by itself, or left out."""

_LOOKS = 4
"""At so many places of a chord is looked how far it strays."""


def off_sentence(piece: str, along: str, row: float) -> Told:
    """What is told of a row `row` mm inside (negative: outside) an edge or beside a mark."""
    return Told(
        f"There is no room for a row {numbers.length(row)} from {along} on {piece}: "
        "take it away, or give it another distance.",
        (row,),
    )


def is_beyond(outline: Outline, row: float) -> bool:
    """True for a distance (mm) so great that no row at it can lie on the piece."""
    box = outline.box
    return abs(row) > math.hypot(box.width, box.height)


def parts_on(outline: Outline, row: Chain) -> tuple[Chain, ...]:
    """What of a row lies within the outline, in order; the row itself where all of it does.

    A stretch that strays further than 1.5 mm off is left out, one that strays less than 0.5 mm off
    is not, and neither is one shorter than 1 mm; no shorter one is left by itself. An end that is
    cut lies within 0.05 mm of the outline.
    """
    if not _off(row.polyline(tolerance.SCAN_MM), outline.polyline(tolerance.SCAN_MM)):
        return (row,)
    off = _off(row.polyline(tolerance.FLAT_MM), outline.polyline(tolerance.FLAT_MM))
    taken = _long_ones(_in_mm(row, off))
    if not taken:
        return (row,)
    kept, at = [], 0.0
    for low, high in (*taken, (row.length, row.length)):
        if low - at > _LEAST_MM:
            kept.append(row.between(at, low))
        at = high
    return tuple(kept)


def _in_mm(row: Chain, stretches: Sequence[_Stretch]) -> list[_Stretch]:
    """Stretches told by fine chords of a row, in mm along it: within 0.01, a chord is that little
    shorter than what it stands for.
    """
    ends = [0.0]
    for cubic in row.cubics:
        steps = [math.dist(*pair) for pair in itertools.pairwise(cubic.polyline(tolerance.FLAT_MM))]
        stretched, begun = cubic.length / (sum(steps) or 1.0), ends[-1]
        ends += [begun + passed * stretched for passed in itertools.accumulate(steps)]

    def along(at: float) -> float:
        k = min(int(at), len(ends) - 2)
        return ends[k] + (at - k) * (ends[k + 1] - ends[k])

    return [(along(low), along(high)) for low, high in stretches]


def _long_ones(stretches: Sequence[_Stretch]) -> list[_Stretch]:
    """Stretches with hardly anything between them as one, and without those that are too short."""
    found: list[_Stretch] = []
    for low, high in stretches:
        if found and low - found[-1][1] <= _LEAST_MM:
            found[-1] = found[-1][0], high
        else:
            found.append((low, high))
    return [(low, high) for low, high in found if high - low > _LEAST_MM]


def _off(line: Sequence[_Place], ring: Sequence[_Place]) -> list[_Stretch]:
    """From where to where a line of chords strays off a ring of them, by the count of its chords
    and what share of one.
    """
    low, found = 0.0, []
    cuts = _cuts(line, ring)
    for high in (*cuts, len(line) - 1.0):
        if not _is_short(line, low, high, bool(cuts)) and _strays(line, low, high, ring):
            found.append((low, high))
        low = high
    return found


def _cuts(line: Sequence[_Place], ring: Sequence[_Place]) -> list[float]:
    """Where a line crosses a ring, in order; nowhere where one runs along the other."""
    left, right = min(line)[0], max(line)[0]
    heights = [y for _, y in line]
    low, high = min(heights), max(heights)
    near = []
    x, y = ring[-1]
    for next_x, next_y in ring:
        if (
            (x >= left or next_x >= left)
            and (x <= right or next_x <= right)
            and (y >= low or next_y >= low)
            and (y <= high or next_y <= high)
        ):
            near.append((x, y, next_x - x, next_y - y))
        x, y = next_x, next_y
    found = []
    for k, ((x, y), (next_x, next_y)) in enumerate(itertools.pairwise(line)):
        run_x, run_y = next_x - x, next_y - y
        for from_x, from_y, step_x, step_y in near:
            first = step_x * (y - from_y) - step_y * (x - from_x)
            last = first + step_x * run_y - step_y * run_x
            if (first > 0.0) != (last > 0.0):
                begin = run_x * (from_y - y) - run_y * (from_x - x)
                if (begin > 0.0) != (begin + run_x * step_y - run_y * step_x > 0.0):
                    found.append(k + first / (first - last))
    found.sort()
    return found


def _is_short(line: Sequence[_Place], low: float, high: float, is_cut: bool) -> bool:
    """True for a stretch that begins or ends on the ring and is too short to stray from it."""
    passed, k = 0.0, int(low)
    while is_cut and k < high and passed <= _ASIDE_MM:
        share = min(high, k + 1.0) - max(low, float(k))
        passed += share * math.dist(line[k], line[k + 1])
        k += 1
    return high <= low or (is_cut and passed <= _ASIDE_MM)


def _strays(line: Sequence[_Place], low: float, high: float, ring: Sequence[_Place]) -> bool:
    """Whether a stretch that crosses the ring nowhere is outside, and further than by a hair."""
    x, y = _place(line, (low + high) / 2.0)
    if encloses(ring, x, y):
        return False
    return any(_is_far(ring, place) for place in _looks(line, low, high))


def _looks(line: Sequence[_Place], low: float, high: float) -> Iterator[_Place]:
    """Places of a stretch, its middle first: corners lie among them."""
    yield _place(line, (low + high) / 2.0)
    ends = (*range(math.floor(low) + 1, math.ceil(high)), low, high)
    yield from (_place(line, end) for end in ends)
    for start, end in itertools.pairwise(sorted(ends)):
        for k in range(1, _LOOKS):
            yield _place(line, start + (end - start) * k / _LOOKS)


def _is_far(ring: Sequence[_Place], place: _Place) -> bool:
    """Whether a place lies further than `_ASIDE_MM` from all chords of a ring."""
    at_x, at_y = place
    x, y = ring[-1]
    for next_x, next_y in ring:
        run_x, run_y = next_x - x, next_y - y
        square = run_x * run_x + run_y * run_y
        share = ((at_x - x) * run_x + (at_y - y) * run_y) / square if square else 0.0
        share = min(1.0, max(0.0, share))
        if math.hypot(x + share * run_x - at_x, y + share * run_y - at_y) <= _ASIDE_MM:
            return False
        x, y = next_x, next_y
    return True


def _place(line: Sequence[_Place], at: float) -> _Place:
    k = min(int(at), len(line) - 2)
    (x, y), (next_x, next_y) = line[k], line[k + 1]
    share = at - k
    return x + share * (next_x - x), y + share * (next_y - y)
