"""Where a cut line would loop in a hollow: the run on both sides is cut at its meeting.

An edge is moved out cubic by cubic. In a hollow that is tighter than the allowance, or at a slight
hollow corner beside a very short cubic, the moved cubics cross one another further away than next
door: what lies between the crossing is nearer to the edge than the allowance, and goes.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import shapely

from studio.curves import Chain, Cubic, meetings, tolerance
from studio.sew.joint import Run

Moved = TypeVar("Moved", bound=Run)

FURTHEST = 8
"""So many cubics to each side a crossing is looked for: a fitted curve has few even at a kink."""

_SHARED_MM = 1e-4
_CHORD_ERROR = 0.002
_CLEAR_MM = 0.012
"""A crossing is a good one when nothing that is kept comes nearer to the edge than its allowance by
more than this: what a moved curve may be off (0.01), and the chords by which it is measured."""


def is_eaten(run: Run) -> bool:
    """True when the corners at both ends of a run have left nothing of it."""
    chain = run.chain
    is_whole = run.stop is None and run.start == 0.0
    # Most are, and need not be measured: none is shorter than from end to end.
    if is_whole and chain.start.distance_to(chain.end) > tolerance.NOTHING_MM:
        return False
    stop = chain.length if run.stop is None else run.stop
    return stop - run.start <= tolerance.NOTHING_MM


def bridged(runs: Sequence[Moved], looped: set[int]) -> tuple[list[Moved], set[int]]:
    """The runs of one edge, in order, with loops and what was eaten cut out; and which of `looped`,
    by their places in `runs`, still loop. Crossings are exact to 1e-6 mm.
    """
    kept = dict(enumerate(runs))
    unsolved: set[int] = set()
    for at, run in enumerate(runs):
        if at not in kept or not (at in looped or is_eaten(run)):
            continue
        found = _crossing(kept, at, runs)
        if found is None:
            unsolved.add(at)
            continue
        before, stop, after, start = found
        kept[before].stop, kept[before].corner = stop, ()
        kept[after].start = start
        for gone in range(before + 1, after):
            kept.pop(gone, None)
    return list(kept.values()), unsolved & looped


def _crossing(
    kept: dict[int, Moved], at: int, runs: Sequence[Moved]
) -> tuple[int, float, int, float] | None:
    """The nearest two runs round a place that meet so that what is kept of them is clear of the
    edge, and where they do (mm along each).
    """
    pairs = [
        (before, after)
        for before in range(at - FURTHEST, at + 1)
        for after in range(at, at + FURTHEST + 1)
        if before < after and before in kept and after in kept
    ]
    for before, after in sorted(pairs, key=lambda pair: pair[1] - pair[0]):
        one, two = kept[before], kept[after]
        last = two.chain.length if two.stop is None else two.stop
        near = _line([run.source for run in runs[before : after + 1]])
        for meeting in meetings(one.chain, two.chain):
            stop, start = meeting.first, meeting.second
            # Neighbours always meet where the one ends and the other begins.
            is_shared = stop >= one.chain.length - _SHARED_MM and start <= _SHARED_MM
            if is_shared or stop <= one.start or start >= last:
                continue
            left = _line(one.chain.between(one.start, stop).cubics)
            right = _line(two.chain.between(start, last).cubics)
            least = min(one.distance, two.distance) - _CLEAR_MM
            if min(near.distance(left), near.distance(right)) >= least:
                return before, stop, after, start
    return None


def _line(cubics: Sequence[Cubic]) -> shapely.LineString:
    return shapely.LineString(Chain(tuple(cubics)).polyline(_CHORD_ERROR))
