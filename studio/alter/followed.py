"""Darts that follow their edge: an edge redrawn under a dart takes the dart along."""

from __future__ import annotations

from msgspec.structs import replace

from studio.alter.closing import edge_of
from studio.block.panel import Dart, Panel
from studio.curves import Chain, Cubic, Edge, Outline, meetings
from studio.errors import GeometryRefused

_SAME_MOUTH = 0.3
"""How far a bent mouth may stand from where it is looked for, as a share of its width."""

_REACH_MM = 100.0
"""How far an edge may have moved from under a dart."""


def darts_followed(panel: Panel) -> Panel:
    """The panel with every dart back on its edge where a step has moved the edge from under it.

    Such a dart keeps its width, its length and its axis's place on the edge; the edge runs
    straight across its mouth again. A panel whose darts all lie on their edges is given back.

    Raises:
        GeometryRefused: the edge is gone, or no longer passes where the dart opened.
    """
    for dart in panel.darts:
        chain = edge_of(panel, dart.edge).chain
        if all(chain.passes(end) is not None for end in (dart.first, dart.last)):
            continue
        redrawn, placed = _opened_on(chain, dart)
        outline = Outline.of(
            Edge.whole(edge.name, redrawn) if edge.name == dart.edge else edge
            for edge in panel.outline
        )
        darts = tuple(placed if one is dart else one for one in panel.darts)
        panel = replace(panel, outline=outline, darts=darts)
    return panel


def _opened_on(chain: Chain, dart: Dart) -> tuple[Chain, Dart]:
    middle = dart.first.toward(dart.last, 0.5)
    axis = (dart.point - middle).unit()
    length, half = dart.point.distance_to(middle), dart.intake / 2.0
    line = Chain((Cubic.straight(middle + axis * -_REACH_MM, middle + axis * _REACH_MM),))
    hits = sorted(meetings(chain, line), key=lambda hit: hit.point.distance_to(middle))
    low, high = (hits[0].first - half, hits[0].first + half) if hits else (0.0, 0.0)
    low, high = _bent_mouth(chain, low, high) or (low, high)
    if not (low > 0.0 and high < chain.length):
        raise GeometryRefused(
            f"{dart.edge} no longer passes {dart.name}: close the dart, or move it.",
            where=dart.name,
        )
    before, after = chain.between(0.0, low), chain.between(high, chain.length)
    first = before.end
    last = first + (after.start - first).unit() * dart.intake
    after = after.with_ends(last, after.end)
    point = first.toward(last, 0.5) + (last - first).unit().left() * length
    redrawn = Chain((*before.cubics, Cubic.straight(first, last), *after.cubics))
    return redrawn, replace(dart, first=first, last=last, point=point)


def _bent_mouth(chain: Chain, low: float, high: float) -> tuple[float, float] | None:
    """The old mouth, where the edge was only bent: the stretch between two joints that lies there.
    To cut beside its joints would leave slivers.
    """
    for start, cubic in zip(chain.starts, chain.cubics, strict=True):
        ends = start, start + cubic.length
        if max(abs(ends[0] - low), abs(ends[1] - high)) < _SAME_MOUTH * (high - low):
            return ends
    return None
