"""Edges of a panel that bend where nobody means a corner, as a hinge leaves one at its pivot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from studio import numbers
from studio.block.panel import Panel
from studio.check.finding import Finding
from studio.check.run_on import ALLOWED_DEGREES
from studio.curves import Edge, Point, tolerance, turn_between

_MEANT_FROM = 12.0
"""A greater turn (degrees) is a corner that was drawn: as one it is found in a drawing, too."""


def judge_kinks(panels: Iterable[Panel]) -> list[Finding]:
    """Findings on edges that bend between their ends, by more than two edges that run on may and
    by less than a corner: of each edge the greatest. Mouths of darts lie in corners until the darts
    are shut.
    """
    found = []
    for panel in panels:
        mouths = [end for dart in panel.darts for end in (dart.first, dart.last)]
        edges = panel.outline.edges
        for before, edge, after in zip(
            (edges[-1], *edges[:-1]), edges, (*edges[1:], edges[0]), strict=True
        ):
            bends = _bends(edge, mouths)
            if bends:
                turn, at = max(bends)
                is_nearer_end = at > edge.length / 2.0
                found.append(
                    _finding(edge.name, turn, edge.length - at, after.name)
                    if is_nearer_end
                    else _finding(edge.name, turn, at, before.name)
                )
    return found


def _bends(edge: Edge, mouths: Sequence[Point]) -> list[tuple[float, float]]:
    """By how many degrees an edge bends, and where, mm along it."""
    cubics, starts = edge.chain.cubics, edge.chain.starts
    found = []
    for before, after, at in zip(cubics, cubics[1:], starts[1:], strict=False):
        turn = abs(turn_between(before.tangent(1.0), after.tangent(0.0)))
        is_mouth = any(after.p0.distance_to(end) < tolerance.CORNER_MM for end in mouths)
        if ALLOWED_DEGREES < turn < _MEANT_FROM and not is_mouth:
            found.append((turn, at))
    return found


def _finding(edge: str, turn: float, away: float, neighbour: str) -> Finding:
    return Finding(
        "kink",
        "warning",
        edge,
        f"{edge} bends by {numbers.plain(turn, 1)} degrees, {numbers.length(away)} from "
        f"{neighbour}: add the step Fair an edge, so that it runs smoothly there.",
        turn,
        ALLOWED_DEGREES,
        "degrees",
        exact=(away,),
    )
