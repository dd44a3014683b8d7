"""How allowances meet at the corners of a piece: the maker's word, else what is sewn first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from studio.design.joins import Corner, CornerName, Join
from studio.sew.allowance import AllowanceRules
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.order import SewingOrder


def corners_of(
    piece: str,
    edges: Sequence[str],
    rules: AllowanceRules,
    asked: Sequence[Corner],
    order: SewingOrder,
    hems: Sequence[int] = (),
) -> tuple[CornerName, ...]:
    """One word a corner of a piece, each between an edge and the next, counter-clockwise.

    Where a felled seam meets another, the allowance of the seam sewn first is cut off square to
    it: that end lies flat in the seam that crosses it. All else is mitred. Edges in `hems` are
    folded and have no choice.
    """
    sewn: dict[str, Join] = {}
    for join in rules.joins:
        if CONSTRUCTIONS[join.construction].is_notched:
            for ref in join.refs:
                if ref.piece == piece:
                    sewn.setdefault(ref.edge, join)
    words = {(corner.before, corner.after): corner.how for corner in asked if corner.piece == piece}
    place = {name: k for k, name in enumerate(order.steps)}
    found: list[CornerName] = []
    for index, edge in enumerate(edges):
        after = edges[(index + 1) % len(edges)]
        word = words.get((edge, after))
        if word is None:
            folded = index in hems or (index + 1) % len(edges) in hems
            one, two = sewn.get(edge), sewn.get(after)
            word = "mitred" if folded else _usual(one, two, place)
        found.append(word)
    return tuple(found)


def _usual(one: Join | None, two: Join | None, order: Mapping[str, int]) -> CornerName:
    if one is None or two is None or one is two:
        return "mitred"
    if "felled" not in (one.construction, two.construction):
        return "mitred"
    first = order.get(one.name, 0) < order.get(two.name, 0)
    return "squared-to-before" if first else "squared-to-after"
