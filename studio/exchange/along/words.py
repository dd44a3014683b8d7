"""Edges and curves in the plain language of drafting."""

from __future__ import annotations

import re

from studio.alter.kind import Say
from studio.curves import Chain, Cubic, Vector
from studio.exchange.along.letters import Letters
from studio.sew.edge_words import edge_words

_EDGES = ("waist", "side", "rise", "inseam", "hem")
"""Edges that have a name of their own at the drawing table."""

_FLAT_MM = 0.5
"""A curve that leaves its chord by less is ruled straight: half a pencil line (practice)."""

_DEEP_MM = 6.0
"""A curve that leaves its chord by more is given at four places, a flatter one at two."""


def plainly(sentence: str, panel: str, panels: tuple[str, ...]) -> str:
    """A sentence with its edges said plainly, its first word with a capital."""
    names = "|".join(map(re.escape, sorted(panels, key=len, reverse=True)))
    edge = re.compile(rf"\b({names})\.({'|'.join(_EDGES)})\b")
    said = edge.sub(lambda found: edge_words(found[0], panel), sentence)
    return said[:1].upper() + said[1:]


def offset_words(step: Vector, say: Say) -> str:
    """A step from a point, across and along the grain: "12.0 mm to the right and 3.0 mm up"."""
    parts = []
    for amount, ways in ((step.x, ("to the right", "to the left")), (step.y, ("up", "down"))):
        if abs(amount) >= 0.05:
            parts.append(f"{say(abs(amount))} {ways[0] if amount > 0.0 else ways[1]}")
    return " and ".join(parts) or "nothing"


def run_words(chain: Chain, letters: Letters, say: Say) -> str:
    """A chain from letter to letter, as clauses; the letters are those of its joints."""
    return "; ".join(
        bow_words(cubic, letters.of(cubic.p0), letters.of(cubic.p3), say) for cubic in chain.cubics
    )


def bow_words(cubic: Cubic, one: str, two: str, say: Say) -> str:
    """One curve between two lettered points, by its distances from the straight line."""
    offs = bow_of(cubic)
    if not offs:
        return f"straight from {one} to {two}"
    places = ", ".join(
        f"{say(abs(off))} {'left' if off >= 0.0 else 'right'} at {say(along)}"
        for along, off in offs
    )
    return f"a smooth curve from {one} to {two}, off the straight line by {places}"


def bow_of(cubic: Cubic) -> list[tuple[float, float]]:
    """Places of a curve seen from its chord: mm along the chord from its start, and mm off it to
    the left; none when it is as good as straight. The places are spread evenly over the parameter.
    """
    chord = cubic.p3 - cubic.p0
    run = chord.unit()
    deep = max(abs(run.cross(cubic.at(k / 8.0) - cubic.p0)) for k in range(1, 8))
    if deep < _FLAT_MM:
        return []
    count = 4 if deep > _DEEP_MM else 2
    steps = [cubic.at(k / (count + 1)) - cubic.p0 for k in range(1, count + 1)]
    return [(run.dot(step), run.cross(step)) for step in steps]
