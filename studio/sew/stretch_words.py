"""A stretch of an edge in words, from the end the maker thinks of, such as "205 to 240 mm from the
crotch".
"""

from __future__ import annotations

from studio import numbers
from studio.curves import Outline, tolerance
from studio.errors import Told

_BESIDE = {
    "waist": "the waist",
    "hem": "the hem",
    "side": "the side seam",
    "inseam": "the inseam",
    "rise": "the rise",
}
"""What an end of an edge is called after the edge beside it."""

_CROTCH = "the crotch"
"""A rise is measured from it, however far away, as makers do (practice)."""


def stretch_words(outline: Outline, edge: str, start: float, end: float) -> Told:
    """Where a stretch lies on an edge of a piece: `start` and `end` in mm along it,
    counter-clockwise; a stretch of no length at either end is the corner there.

    Raises:
        KeyError: the outline has no such edge.
    """
    names = [one.name for one in outline]
    if edge not in names:
        raise KeyError(edge)
    at = names.index(edge)
    length = outline.edges[at].length
    before, after = names[at - 1], names[(at + 1) % len(names)]
    if end - start <= tolerance.CORNER_MM:
        if start <= tolerance.CORNER_MM:
            return Told(f"{edge}, at its corner with {before}")
        if end >= length - tolerance.CORNER_MM:
            return Told(f"{edge}, at its corner with {after}")
    if start <= tolerance.CORNER_MM and end >= length - tolerance.CORNER_MM:
        return Told(f"{edge}, all along")
    first, last = _corner(edge, before), _corner(edge, after)
    from_start = start <= length - end
    if edge.endswith(".rise") and _CROTCH in (first, last):
        from_start = first == _CROTCH
    low, high = (start, end) if from_start else (length - end, length - start)
    said = f"{numbers.bare(low, decimals=0)} to {numbers.length(high, decimals=0)}"
    return Told(f"{edge}, {said} from {first if from_start else last}", (low, high))


def _corner(edge: str, beside: str) -> str:
    mine, other = edge.rpartition(".")[2], beside.rpartition(".")[2]
    if {mine, other} == {"rise", "inseam"}:
        return _CROTCH
    return _BESIDE.get(other, beside)
