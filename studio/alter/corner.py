"""A corner of an outline moved along one of its edges: the other edge follows it and runs back to
where it was at a named level. So a dart's rest is taken out, and a waist taken in or let out.
"""

from __future__ import annotations

from msgspec.structs import replace

from studio.alter.closing import darts_on
from studio.block.panel import Panel
from studio.curves import Chain, Edge, Outline, Vector, level_meetings
from studio.curves.bend import bent, end_moved, falling, rising
from studio.errors import GeometryRefused

_CLOSE_ENOUGH = 1e-7
_MOST_ROUNDS = 60


def taken_out(
    outline: Outline, cut_edge: str, end_edge: str, amount: float, level: float
) -> Outline:
    """Shorten `cut_edge` by `amount` mm at the corner it shares with `end_edge`.

    The corner moves in and a little along, so that `cut_edge` loses the amount and `end_edge`
    keeps its length, both within 1e-6. Both bend smoothly, `end_edge` down to the height `level`
    (mm), below which it stays as it was.

    Raises:
        GeometryRefused: the edges do not meet, or `end_edge` does not reach the level.
    """
    edges = list(outline.edges)
    cut, other, corner_last = _neighbours(edges, cut_edge, end_edge)
    cut_chain = edges[cut].chain if corner_last else edges[cut].chain.reversed()
    end_chain = edges[other].chain if corner_last else edges[other].chain.reversed()
    upper, lower = _split_at_level(end_chain, level, end_edge)
    bent_cut, bent_upper = _bent(cut_chain, upper, amount, corner_last)
    bent_end = bent_upper.with_ends(bent_cut.end, bent_upper.end).then(lower)
    for place, chain in ((cut, bent_cut), (other, bent_end)):
        edges[place] = edges[place].redrawn(chain if corner_last else chain.reversed())
    return Outline.of(edges)


def _neighbours(edges: list[Edge], cut_edge: str, end_edge: str) -> tuple[int, int, bool]:
    """Indices of the two edges, and whether the cut edge ends at their corner."""
    for index, edge in enumerate(edges):
        following = (index + 1) % len(edges)
        if (edge.name, edges[following].name) == (cut_edge, end_edge):
            return index, following, True
        if (edge.name, edges[following].name) == (end_edge, cut_edge):
            return following, index, False
    raise GeometryRefused(f"{cut_edge} does not meet {end_edge}.", where=cut_edge)


def _split_at_level(chain: Chain, level: float, name: str) -> tuple[Chain, Chain]:
    hits = level_meetings(chain, level)
    if not hits:
        raise GeometryRefused(f"{name} does not reach the level the taper ends at.", where=name)
    return chain.split(hits[0].first)


def _bent(cut: Chain, upper: Chain, amount: float, corner_last: bool) -> tuple[Chain, Chain]:
    """Both chains with their corner moved. The step's two parts, square to and along the end
    edge, answer almost one to one for the two lengths, so that plain correction converges.
    """
    wanted_cut, wanted_upper = cut.length - amount, upper.length
    if wanted_cut <= 0.0:
        raise GeometryRefused("More would be taken out than the edge is long.")
    away = upper.start_tangent
    inward = away.left() if corner_last else away.right()
    in_, along = amount, 0.0
    for _ in range(_MOST_ROUNDS):
        step = inward * in_ + away * along
        bent_cut, bent_upper = end_moved(cut, step, at_end=True), bent(upper, step, falling)
        too_long, side_too_long = bent_cut.length - wanted_cut, bent_upper.length - wanted_upper
        if max(abs(too_long), abs(side_too_long)) < _CLOSE_ENOUGH:
            return bent_cut, bent_upper
        in_, along = in_ + too_long, along + side_too_long
    raise GeometryRefused("So much cannot be taken out there: the edges do not reach round.")


def corner_moved_level(
    panel: Panel, neighbour: str, edge: str, step: Vector, upper: float | None, level: float
) -> Panel:
    """A corner moved by a step, both of its edges bent: `edge` from the height `level` (mm), its
    neighbour from the height `upper`, or from its other end. Lengths change as they must.

    Raises:
        GeometryRefused: the edges do not meet, or one does not reach its level.
    """
    edges = list(panel.outline.edges)
    near, other, corner_last = _neighbours(edges, neighbour, edge)
    near_chain = edges[near].chain if corner_last else edges[near].chain.reversed()
    far_chain = edges[other].chain if corner_last else edges[other].chain.reversed()
    if upper is not None:
        still, bend = _split_at_level(near_chain, upper, neighbour)
        near_chain = still.then(bent(bend, step, rising).with_ends(still.end, bend.end + step))
    else:
        near_chain = bent(near_chain, step, rising)
    bend, still = _split_at_level(far_chain, level, edge)
    moved = bent(bend, step, falling)
    far_chain = moved.with_ends(near_chain.end, still.start).then(still)
    for place, chain in ((near, near_chain), (other, far_chain)):
        redrawn = chain if corner_last else chain.reversed()
        edges[place] = Edge.whole(edges[place].name, redrawn)
    return replace(panel, outline=Outline.of(edges))


def corner_moved_in(
    panel: Panel, cut_edge: str, end_edge: str, amount: float, level: float
) -> Panel:
    """A panel's edge shortened at a corner as `taken_out` does; its darts keep their shape: only
    the stretch between the corner and the nearest dart is redrawn. A negative amount lengthens.

    Raises:
        GeometryRefused: as `taken_out`.
    """
    darts = darts_on(panel, cut_edge)
    edges = list(panel.outline.edges)
    cut, _, corner_last = _neighbours(edges, cut_edge, end_edge)
    chain = edges[cut].chain
    if not darts:
        made = taken_out(panel.outline, cut_edge, end_edge, amount, level)
        return replace(panel, outline=_whole(made))
    joint = chain.distance_of(darts[-1].last if corner_last else darts[0].first)
    kept, bent_part = chain.split(joint)
    if not corner_last:
        kept, bent_part = bent_part, kept
    aside = [Edge.whole(f"{cut_edge} beyond its darts", kept), Edge.whole(cut_edge, bent_part)]
    edges[cut : cut + 1] = aside if corner_last else aside[::-1]
    made = taken_out(Outline.of(edges), cut_edge, end_edge, amount, level)
    redrawn = made.edge(cut_edge).chain
    whole = kept.then(redrawn) if corner_last else redrawn.then(kept)
    last = [
        edge.redrawn(whole) if edge.name == cut_edge else edge
        for edge in made
        if edge.name != aside[0].name
    ]
    return replace(panel, outline=_whole(Outline.of(last)))


def _whole(outline: Outline) -> Outline:
    """A panel's edges are those first drawn, however they were bent: places on them are told in mm
    of what they are now.
    """
    return Outline.of(
        edge if edge.start == 0.0 and edge.end == edge.length else Edge.whole(edge.name, edge.chain)
        for edge in outline
    )
