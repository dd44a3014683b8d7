"""What a seam touches, told by the names of edges: what it runs out into, lies on, goes round."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence

from studio.design.joins import EdgeRef, Join, JoinSide
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.legs import is_centre
from studio.sew.steps import Parts


def edges_of(side: JoinSide) -> set[tuple[str, str]]:
    """The edges of a side, each with its piece."""
    return {(ref.piece, ref.edge) for ref in side.edges}


def unites(other: Join, one: EdgeRef, two: EdgeRef, pieces: Mapping[str, Parts]) -> bool:
    """True when a join sews the piece of one edge to the piece of the next, right where the chain
    goes over from one to the other; of a line drawn over both, anywhere between them.
    """
    if one.piece == two.piece or not (other.sews(one.piece) and other.sews(two.piece)):
        return False
    a, b = edges_of(other.a), edges_of(other.b)
    if one.edge == two.edge and all(is_marked(ref, pieces) for ref in (one, two)):
        sides = ({piece for piece, _ in a}, {piece for piece, _ in b})
        return sides in (({one.piece}, {two.piece}), ({two.piece}, {one.piece}))
    for near, far in ((a, b), (b, a)):
        beside_one = {(one.piece, name) for name in neighbours(pieces.get(one.piece), one.edge)}
        beside_two = {(two.piece, name) for name in neighbours(pieces.get(two.piece), two.edge)}
        if near & beside_one and far & beside_two:
            return True
    return False


def is_marked(ref: EdgeRef, pieces: Mapping[str, Parts]) -> bool:
    """True for a line drawn on its piece."""
    piece = pieces.get(ref.piece)
    return piece is not None and ref.edge in piece.marks


def neighbours(piece: Parts | None, edge: str) -> set[str]:
    """The edges beside an edge; none of what is not there."""
    if piece is None:
        return set()
    edges = piece.edges
    for index, known in enumerate(edges):
        if known == edge:
            return {edges[index - 1], edges[(index + 1) % len(edges)]}
    return set()


def lies_on(join: Join, other: Join, pieces: Mapping[str, Parts]) -> str:
    """The piece on which a patch is sewn that another join takes up."""
    if join.pieces.isdisjoint(other.pieces) or not is_patch(join):
        return ""
    for ref in join.b.edges:
        if other.sews(ref.piece) and is_marked(ref, pieces):
            laid_on = is_patch(other) and any(one.piece == ref.piece for one in other.a.edges)
            if laid_on or makes_round(other, pieces):
                return ref.piece
    return ""


def laid_by(piece: str, joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Join | None:
    """The join by which a piece is laid on a line drawn on another; None for one that is not."""
    return next(
        (
            join
            for join in joins
            if any(ref.piece == piece for ref in join.a.edges)
            and any(is_marked(ref, pieces) for ref in join.b.edges)
        ),
        None,
    )


def makes_round(join: Join, pieces: Mapping[str, Parts]) -> bool:
    """True for a seam between panels, or between left and right: after it nothing lies flat."""
    panels = {pieces[ref.piece].panel for ref in join.refs if ref.piece in pieces}
    return not is_patch(join) and (len(panels) > 1 or is_centre(join))


def is_patch(join: Join) -> bool:
    """True for a join by which one piece is laid on another."""
    return not CONSTRUCTIONS[join.construction].is_notched


def bags(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[tuple[str, Join, Join]]:
    """Every bag behind a mouth, with the join that turns it at the mouth, in which it lies
    mirrored, and the one that closes it, in which what lies behind it does.
    """
    layers = [join for join in joins if _lays_together(join, pieces)]
    for mouth, closing in itertools.permutations(layers, 2):
        turned = {ref.piece for ref in _mirrored(mouth).edges}
        behind = {ref.piece for ref in _mirrored(closing).edges}
        for bag in sorted(turned & (closing.pieces - behind)):
            yield bag, mouth, closing


def _lays_together(join: Join, pieces: Mapping[str, Parts]) -> bool:
    """True for a seam of two pieces along a line that both have, one of them turned over."""
    if join.a.mirrored == join.b.mirrored or is_centre(join) or is_patch(join):
        return False
    lines = {ref.edge for ref in join.refs}
    panels = {pieces[ref.piece].panel for ref in join.refs if ref.piece in pieces}
    of_panel = any(edge.startswith(f"{panel}.") for edge in lines for panel in panels)
    return len(lines) == 1 and not of_panel


def _mirrored(join: Join) -> JoinSide:
    return join.a if join.a.mirrored else join.b


def ends_on(join: Join, other: Join, pieces: Mapping[str, Parts]) -> EdgeRef | None:
    """The edge of the other join that a join's seam runs out into, on a piece of both; not where
    the two only share a corner in which both end.
    """
    if join.pieces.isdisjoint(other.pieces) or is_patch(other):
        return None
    for mine in (join.a, join.b):
        for ref in mine.edges:
            for side in (other.a, other.b):
                through = _corner_of(ref, side, pieces.get(ref.piece))
                if through is not None and len(side.edges) > 1:
                    return through
    return None


def _corner_of(ref: EdgeRef, side: JoinSide, piece: Parts | None) -> EdgeRef | None:
    """The edge of a side that meets a reference at a corner of its piece; a stretch that ends
    before the corner, or begins after it, does not.
    """
    edges = () if piece is None or ref.edge not in piece.edges else piece.edges
    for index, known in enumerate(edges):
        if known != ref.edge:
            continue
        before, after = edges[index - 1], edges[(index + 1) % len(edges)]
        for one in side.edges:
            meets = (one.edge == before and not ref.after and not one.before) or (
                one.edge == after and not ref.before and not one.after
            )
            if one.piece == ref.piece and meets:
                return EdgeRef(one.piece, one.edge)
    return None


def bands(join: Join, joins: Sequence[Join]) -> set[str]:
    """Pieces cut once that a join on the one leg and another on the other leg both sew."""
    found = set()
    for other in joins:
        if other != join and join.a.mirrored != other.a.mirrored:
            mine = {ref.piece for ref in join.b.edges}
            found |= mine & {ref.piece for ref in other.b.edges}
    return found


def touches(one: Join, other: Join, pieces: Mapping[str, Parts]) -> bool:
    """True when a join's seam runs out into an edge of the other."""
    return any(
        (ref.piece, name) in edges_of(side)
        for ref in one.a.edges
        for name in neighbours(pieces.get(ref.piece), ref.edge)
        for side in (other.a, other.b)
    )


def is_band(join: Join, edge: EdgeRef, pieces: Mapping[str, Parts]) -> bool:
    """True for a join that sews on a piece of no panel, such as a waistband, of which this is a
    free edge.
    """
    piece = pieces.get(edge.piece)
    sewn_on = join.sews(edge.piece) and len(join.pieces) > 1
    return piece is not None and not piece.panel and sewn_on


def ends_at(join: Join, edge: EdgeRef, pieces: Mapping[str, Parts]) -> bool:
    """True when a join's seam ends at an edge."""
    piece = pieces.get(edge.piece)
    beside = neighbours(piece, edge.edge)
    return any(ref.piece == edge.piece and ref.edge in beside for ref in join.refs)
