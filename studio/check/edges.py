"""Edges nothing is said about: neither sewn to another nor finished."""

from __future__ import annotations

from collections.abc import Sequence

from studio.check.finding import Finding
from studio.sew.allowance import AllowanceRules


def judge_edges(piece: str, edges: Sequence[str], rules: AllowanceRules) -> tuple[Finding, ...]:
    """A warning for each edge of a piece that no join and no finish names; one note for a piece
    of which nothing is said at all.
    """
    said = {ref.edge for join in rules.joins for ref in join.refs if ref.piece == piece}
    said |= {finish.edge.edge for finish in rules.finishes if finish.edge.piece == piece}
    names = {join.name for join in rules.joins}
    lost = tuple(
        Finding(
            "edge-free",
            "warning",
            piece,
            f"{finish.edge.text} is to be caught in {finish.into}, which is not there.",
        )
        for finish in rules.finishes
        if finish.edge.piece == piece and finish.into and finish.into not in names
    )
    free = [edge for edge in dict.fromkeys(edges) if edge not in said]
    if len(free) == len(set(edges)):
        return (
            Finding(
                "edge-free",
                "note",
                piece,
                f"Nothing is said of how {piece} is sewn: join its edges, or finish them.",
            ),
        )
    return lost + tuple(
        Finding(
            "edge-free",
            "warning",
            piece,
            f"{piece}:{edge} is neither joined nor finished. Join it, finish it, or say that it is "
            "caught in another seam.",
        )
        for edge in free
    )
