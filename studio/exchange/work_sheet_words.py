"""Words that several steps of the work sheet share."""

from __future__ import annotations

from studio.design.joins import EdgeRef, JoinSide
from studio.sew.edge_words import edge_of_piece, part_words


def capital(words: str) -> str:
    """A sentence or title with its first letter large; names in it stay as they are."""
    return words[:1].upper() + words[1:]


def in_all(quantity: int) -> str:
    """In how many pieces something is done alike: "in both pieces"."""
    return {1: "in the one piece", 2: "in both pieces"}.get(quantity, f"in all {quantity} pieces")


def side_words(side: JoinSide) -> str:
    """Pieces of a side with their edges: "front-leg (side seam) and bearer (side seam)"."""
    said: list[tuple[str, list[str]]] = []
    for ref in side.edges:
        words = _ref_words(ref)
        if said and said[-1][0] == ref.piece:
            said[-1][1].append(words)
        else:
            said.append((ref.piece, [words]))
    return " and ".join(f"{piece} ({', '.join(edges)})" for piece, edges in said)


def _ref_words(ref: EdgeRef) -> str:
    return f"{edge_of_piece(ref.edge)}{part_words(ref)}"
