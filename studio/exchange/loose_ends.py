"""Strokes joined end to end into closed loops, loose ends drawn together."""

from __future__ import annotations

from studio import numbers
from studio.curves import Chain, Point
from studio.exchange.dxf_entities import Stroke
from studio.exchange.left_out import LeftOut

JOIN_MM = 0.1
"""Ends that lie this near belong together."""

GAP_MM = 1.0
"""Loose ends up to this far apart are taken for one place that was traced twice, and told: a pencil
line and the hand that follows it are about as wide (practice).
"""


def closed_loops(strokes: list[Stroke]) -> tuple[list[Stroke], list[LeftOut], list[str]]:
    """Loops that close, the strokes that lead nowhere, and a sentence for each gap that was closed.

    Two ends within 0.1 mm meet at their middle, in whatever order and direction they were drawn:
    those of one layer before others, nearest pairs first. What hangs on an outline by one end, the
    tick of a notch, is no part of it. What stays open then is tried again with gaps up to 1 mm. A
    stroke whose own ends lie that near is closed.
    """
    loops, opened, _ = _closing(strokes, JOIN_MM)
    further, opened, joined = _closing(opened, GAP_MM)
    left_out: list[LeftOut] = []
    for order in _runs(opened, _links(opened, JOIN_MM)):
        left_out.extend(_told(opened, order))
    return loops + further, left_out, joined


def _closing(strokes: list[Stroke], reach: float) -> tuple[list[Stroke], list[Stroke], list[str]]:
    """Loops whose ends lie within `reach` mm, all other strokes, and the gaps wider than usual."""
    single = [stroke for stroke in strokes if _is_closed(stroke.chain, reach)]
    opened = [stroke for stroke in strokes if not _is_closed(stroke.chain, reach)]
    joined = [
        told for stroke in single for told in _gap(stroke, stroke.chain.end, stroke.chain.start)
    ]
    loops = [_closed(stroke) for stroke in single]
    alive = _without_dead_ends(opened, reach)
    links = _links(alive, reach)
    used: set[int] = set()
    for order in _runs(alive, links):
        last, first = order[-1], order[0]
        if links.get((last[0], not last[1])) != (first[0], first[1]):
            continue
        used.update(id(alive[index]) for index, _ in order)
        for one, two in zip(order, (*order[1:], order[0]), strict=True):
            end, start = _end(alive, one, at_start=False), _end(alive, two, at_start=True)
            joined += _gap(alive[one[0]], end, start)
        loops.append(_loop(alive, order))
    return loops, [stroke for stroke in opened if id(stroke) not in used], joined


def _gap(stroke: Stroke, end: Point, start: Point) -> list[str]:
    """What is told of a gap that is closed, when it is one."""
    gap = end.distance_to(start)
    if gap <= JOIN_MM:
        return []
    place = f"({numbers.plain(end.x, 2)}, {numbers.plain(end.y, 2)})"
    return [f"{stroke.what}: a gap of {numbers.length(gap, decimals=2)} was closed at {place}"]


def _without_dead_ends(strokes: list[Stroke], reach: float) -> list[Stroke]:
    """The strokes without those that meet nothing at one of their ends, and without what hangs on
    these.
    """
    left = list(strokes)
    while True:
        met = {end for pair in _near_pairs(left, reach) for end in pair[2:]}
        kept = [s for k, s in enumerate(left) if (k, True) in met and (k, False) in met]
        if len(kept) == len(left):
            return kept
        left = kept


def _runs(strokes: list[Stroke], links: dict[End, End]) -> list[list[End]]:
    """Every run of linked strokes, each stroke in one of them."""
    runs: list[list[End]] = []
    used: set[int] = set()
    for first in range(len(strokes)):
        if first not in used:
            runs.append(_walk(first, links))
            used.update(index for index, _ in runs[-1])
    return runs


End = tuple[int, bool]
"""A stroke's number, and True for its start, False for its end."""


def _links(strokes: list[Stroke], reach: float) -> dict[End, End]:
    """Which end meets which: those of one layer before others, nearest pairs first, each once."""
    links: dict[End, End] = {}
    for _, _, first, second in sorted(_near_pairs(strokes, reach)):
        if first not in links and second not in links:
            links[first], links[second] = second, first
    return links


def _near_pairs(strokes: list[Stroke], reach: float) -> list[tuple[bool, float, End, End]]:
    """Ends of two strokes that lie within `reach` mm: whether their layers differ, how far."""
    ends: list[tuple[End, Point]] = []
    for index, stroke in enumerate(strokes):
        ends += [((index, True), stroke.chain.start), ((index, False), stroke.chain.end)]
    cells: dict[tuple[int, int], list[int]] = {}
    for number, (_, place) in enumerate(ends):
        cells.setdefault((round(place.x / reach), round(place.y / reach)), []).append(number)
    near = []
    for one, (end, place) in enumerate(ends):
        column, row = round(place.x / reach), round(place.y / reach)
        for dx in (-1, 0, 1):
            for dy in (-1, 0, 1):
                for two in cells.get((column + dx, row + dy), ()):
                    other, where = ends[two]
                    gap = place.distance_to(where)
                    if two > one and gap <= reach and end[0] != other[0]:
                        layers = {strokes[k].layer for k in (end[0], other[0])}
                        near.append((len(layers) > 1, gap, end, other))
    return near


def _walk(first: int, links: dict[End, End]) -> list[End]:
    """Strokes in order from one, each with whether it is walked from its start; walked backwards
    first, so that an open run is listed whole.
    """
    start: End = (first, True)
    seen = {first}
    while start in links:
        index, at_start = links[start]
        if index in seen:
            start = (first, True)
            break
        seen.add(index)
        start = (index, not at_start)
    order = [start]
    walked = {start[0]}
    while True:
        index, from_start = order[-1]
        following = links.get((index, not from_start))
        if following is None or following[0] in walked:
            return order
        walked.add(following[0])
        order.append(following)


def _loop(strokes: list[Stroke], order: list[End]) -> Stroke:
    chains = [
        strokes[index].chain if from_start else strokes[index].chain.reversed()
        for index, from_start in order
    ]
    joints = [
        one.end.toward(two.start, 0.5)
        for one, two in zip(chains, (*chains[1:], chains[0]), strict=True)
    ]
    joined = [chain.with_ends(joints[k - 1], joints[k]).cubics for k, chain in enumerate(chains)]
    first = strokes[order[0][0]]
    blocks = {strokes[index].block for index, _ in order}
    layers = {strokes[index].layer for index, _ in order}
    return Stroke(
        Chain(tuple(cubic for cubics in joined for cubic in cubics)),
        first.block if len(blocks) == 1 else "",
        first.layer if len(layers) == 1 else "",
        first.what,
    )


def _told(strokes: list[Stroke], order: list[End]) -> list[LeftOut]:
    """An open run: each stroke by name, with where the run's ends lie."""
    first, last = order[0], order[-1]
    start = _end(strokes, first, at_start=True)
    end = _end(strokes, last, at_start=False)
    why = (
        f"its line stays open between ({numbers.plain(start.x, 2)}, {numbers.plain(start.y, 2)}) "
        f"and ({numbers.plain(end.x, 2)}, {numbers.plain(end.y, 2)})"
    )
    return [LeftOut(strokes[index].what, why) for index, _ in order]


def _end(strokes: list[Stroke], walked: End, *, at_start: bool) -> Point:
    chain = strokes[walked[0]].chain
    return chain.start if at_start == walked[1] else chain.end


def _is_closed(chain: Chain, reach: float) -> bool:
    return chain.start.distance_to(chain.end) <= reach and chain.length > 4.0 * reach


def _closed(stroke: Stroke) -> Stroke:
    chain = stroke.chain
    if chain.start == chain.end:
        return stroke
    joint = chain.start.toward(chain.end, 0.5)
    return Stroke(chain.with_ends(joint, joint), stroke.block, stroke.layer, stroke.what)
