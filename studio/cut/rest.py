"""The dart's rest below a yoke, taken out at one end of the cut: the edge there moves in and runs
back to where it was at a named level.
"""

from __future__ import annotations

from collections.abc import Callable

from studio.curves import Chain, Cubic, Edge, Outline, Point, Vector, meetings
from studio.errors import GeometryRefused


def taken_out(
    outline: Outline, cut_edge: str, end_edge: str, amount: float, level: float
) -> Outline:
    """Shorten `cut_edge` by `amount` mm at the corner it shares with `end_edge`.

    The corner moves square to `end_edge`; both edges bend smoothly, `end_edge` down to the height
    `level` (mm). The cut edge's length is met within 1e-6.

    Raises:
        GeometryRefused: the edges do not meet, or `end_edge` does not reach the level.
    """
    edges = list(outline.edges)
    for index, edge in enumerate(edges):
        after = edges[(index + 1) % len(edges)]
        if edge.name == cut_edge and after.name == end_edge:
            corner_last, cut, other = True, index, (index + 1) % len(edges)
            break
        if edge.name == end_edge and after.name == cut_edge:
            corner_last, cut, other = False, (index + 1) % len(edges), index
            break
    else:
        raise GeometryRefused(f"{cut_edge} does not meet {end_edge}.", where=cut_edge)
    cut_chain = edges[cut].chain if corner_last else edges[cut].chain.reversed()
    end_chain = edges[other].chain if corner_last else edges[other].chain.reversed()
    away = end_chain.start_tangent
    inward = away.left() if corner_last else away.right()
    bent_cut, step = _shortened(cut_chain, inward, amount)
    bent_end = _eased_back(end_chain, step, level, end_edge)
    bent_end = bent_end.with_ends(bent_cut.end, bent_end.end)
    for place, chain in ((cut, bent_cut), (other, bent_end)):
        old = edges[place]
        edges[place] = Edge(
            old.name, chain if corner_last else chain.reversed(), old.start, old.end
        )
    return Outline.of(edges)


def _shortened(chain: Chain, inward: Vector, amount: float) -> tuple[Chain, Vector]:
    """The chain with its end moved along `inward` until it is `amount` shorter (secant)."""
    wanted = chain.length - amount
    if wanted <= 0.0:
        raise GeometryRefused("The dart's rest is longer than the edge.")
    far, far_gap = 0.0, amount
    near = amount
    for _ in range(30):
        gap = _moved(chain, inward * near, _rising).length - wanted
        if abs(gap) < 1e-9 or gap == far_gap:
            break
        far, far_gap, near = near, gap, near - gap * (near - far) / (gap - far_gap)
    return _moved(chain, inward * near, _rising), inward * near


def _eased_back(chain: Chain, step: Vector, level: float, name: str) -> Chain:
    """Its start moved by a step that fades to nothing where the chain reaches the level."""
    box = chain.box
    line = Chain.straight(Point(box.left - 10.0, level), Point(box.right + 10.0, level))
    hits = meetings(chain, line)
    if not hits:
        raise GeometryRefused(f"{name} does not reach the level the taper ends at.", where=name)
    upper, lower = chain.split(hits[0].first)
    return _moved(upper, step, _falling).then(lower)


def _rising(share: float) -> tuple[float, float]:
    """A smooth step from 0 to 1, and its slope."""
    return share * share * (3.0 - 2.0 * share), 6.0 * share * (1.0 - share)


def _falling(share: float) -> tuple[float, float]:
    value, slope = _rising(share)
    return 1.0 - value, -slope


def _moved(chain: Chain, step: Vector, weight: Callable[[float], tuple[float, float]]) -> Chain:
    """Each point moved by a smooth share of `step`; joints stay as smooth as they were.

    A handle of length h moves with its node and turns by the slope of the share over h mm, the
    same on both sides of a joint.
    """
    starts, length = chain.starts, chain.length
    cubics: list[Cubic] = []
    for start, cubic in zip(starts, chain.cubics, strict=True):
        low, low_slope = weight(start / length)
        high, high_slope = weight(min(1.0, (start + cubic.length) / length))
        out = cubic.p0.distance_to(cubic.p1) / length
        back = cubic.p2.distance_to(cubic.p3) / length
        first = cubics[-1].p3 if cubics else cubic.p0 + step * low
        cubics.append(
            Cubic(
                first,
                cubic.p1 + step * (low + low_slope * out),
                cubic.p2 + step * (high - high_slope * back),
                cubic.p3 + step * high,
            )
        )
    return Chain(tuple(cubics))
