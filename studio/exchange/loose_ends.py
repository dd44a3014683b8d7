"""Strokes joined end to end into closed loops, loose ends drawn together."""

from __future__ import annotations

from studio import numbers
from studio.curves import Chain, Point
from studio.exchange.dxf_entities import LeftOut, Stroke

JOIN_MM = 0.1
"""Ends that lie this near belong together."""


def closed_loops(strokes: list[Stroke]) -> tuple[list[Stroke], list[LeftOut]]:
    """Loops that close, and the strokes that lead nowhere.

    Two ends within 0.1 mm meet at their middle, nearest pairs first, in whatever order and
    direction they were drawn. A stroke whose own ends lie that near is closed.
    """
    loops = [_closed(stroke) for stroke in strokes if _is_closed(stroke.chain)]
    opened = [stroke for stroke in strokes if not _is_closed(stroke.chain)]
    links = _links(opened)
    left_out: list[LeftOut] = []
    used: set[int] = set()
    for first in range(len(opened)):
        if first in used:
            continue
        order = _walk(first, links)
        used.update(index for index, _ in order)
        if (order[-1][0], not order[-1][1]) in links and links[
            (order[-1][0], not order[-1][1])
        ] == (first, order[0][1]):
            loops.append(_loop(opened, order))
        else:
            left_out.extend(_told(opened, order))
    return loops, left_out


End = tuple[int, bool]
"""A stroke's number, and True for its start, False for its end."""


def _links(strokes: list[Stroke]) -> dict[End, End]:
    """Which end meets which: nearest pairs first, each end once."""
    ends: list[tuple[End, Point]] = []
    for index, stroke in enumerate(strokes):
        ends += [((index, True), stroke.chain.start), ((index, False), stroke.chain.end)]
    cells: dict[tuple[int, int], list[int]] = {}
    for number, (_, place) in enumerate(ends):
        cells.setdefault((round(place.x / JOIN_MM), round(place.y / JOIN_MM)), []).append(number)
    near = []
    for one, (end, place) in enumerate(ends):
        column, row = round(place.x / JOIN_MM), round(place.y / JOIN_MM)
        for dx in (-1, 0, 1):
            for dy in (-1, 0, 1):
                for two in cells.get((column + dx, row + dy), ()):
                    gap = place.distance_to(ends[two][1])
                    if two > one and gap <= JOIN_MM and end[0] != ends[two][0][0]:
                        near.append((gap, one, two))
    links: dict[End, End] = {}
    for _, one, two in sorted(near):
        first, second = ends[one][0], ends[two][0]
        if first not in links and second not in links:
            links[first], links[second] = second, first
    return links


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


def _is_closed(chain: Chain) -> bool:
    return chain.start.distance_to(chain.end) <= JOIN_MM and chain.length > 4.0 * JOIN_MM


def _closed(stroke: Stroke) -> Stroke:
    chain = stroke.chain
    if chain.start == chain.end:
        return stroke
    joint = chain.start.toward(chain.end, 0.5)
    return Stroke(chain.with_ends(joint, joint), stroke.block, stroke.layer, stroke.what)
