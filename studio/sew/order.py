"""In which order the seams are sewn, and why one must come before another.

Each join, each finished edge and the darts of each piece are a step. A step must wait for another
where the other would be out of reach afterwards: what a seam runs across, what lies on a piece,
what a hem turns up.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence

import msgspec

from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.edge_words import edge_of_piece, ref_words
from studio.sew.fly import openings
from studio.sew.legs import is_centre


class Before(msgspec.Struct, frozen=True):
    """One step must come before another, and why."""

    first: str
    then: str
    why: str


class SewingOrder(msgspec.Struct, frozen=True):
    """Steps in order, the reasons for it, and which of the maker's wishes it could not follow."""

    steps: tuple[str, ...]
    reasons: tuple[Before, ...]
    against: tuple[Before, ...] = ()


class Parts(msgspec.Struct, frozen=True):
    """A piece by names: its panel, its edges counter-clockwise, the marks on it, its darts."""

    panel: str
    edges: tuple[str, ...]
    marks: tuple[str, ...] = ()
    darts: tuple[str, ...] = ()


def finish_name(finish: Finish) -> str:
    """What the step that finishes an edge is called."""
    return finish.step


def darts_name(piece: str) -> str:
    """What the step that sews a piece's darts is called."""
    return f"darts of {piece}"


def sewing_order(
    joins: Sequence[Join],
    finishes: Sequence[Finish],
    pieces: Mapping[str, Parts],
    wished: Sequence[str] = (),
) -> SewingOrder:
    """An order in which all can be sewn, as near to `wished` (else the design's) as that allows.

    Wishes that go against a reason are told in `against`.
    """
    names = [darts_name(name) for name, parts in pieces.items() if parts.darts]
    names += [join.name for join in joins]
    names += [finish_name(one) for one in worked(finishes)]
    reasons = tuple(_reasons(joins, finishes, pieces))
    rank = {name: k for k, name in enumerate((*wished, *names)) if name in names}
    for k, name in enumerate(wished):
        rank[name] = k - len(wished)
    steps = _sorted(names, reasons, rank)
    place = {name: k for k, name in enumerate(wished)}
    against = tuple(
        one
        for one in reasons
        if one.first in place and one.then in place and place[one.first] > place[one.then]
    )
    return SewingOrder(tuple(steps), reasons, against)


def reasons_for(order: SewingOrder, step: str) -> list[Before]:
    """Why a step waits for others, the last of these first: that is what it waits for longest."""
    place = {name: k for k, name in enumerate(order.steps)}
    reasons = [one for one in order.reasons if one.then == step]
    return sorted(reasons, key=lambda one: -place.get(one.first, -1))


def _sorted(names: Sequence[str], reasons: Iterable[Before], rank: Mapping[str, int]) -> list[str]:
    """Names so that every reason holds, by rank where there is a choice; a circle is broken at
    its lowest rank.
    """
    waits: dict[str, set[str]] = {name: set() for name in names}
    for one in reasons:
        if one.first in waits and one.then in waits:
            waits[one.then].add(one.first)
    found: list[str] = []
    left = sorted(names, key=lambda name: rank[name])
    while left:
        done = set(found)
        ready = [name for name in left if waits[name] <= done]
        chosen = ready[0] if ready else left[0]
        found.append(chosen)
        left.remove(chosen)
    return found


def _reasons(
    joins: Sequence[Join], finishes: Sequence[Finish], pieces: Mapping[str, Parts]
) -> list[Before]:
    """Every reason once; of two that speak against each other the first counts."""
    found: dict[tuple[str, str], Before] = {}
    for one in _darts_first(joins, finishes, pieces):
        _take(one, found)
    done = worked(finishes)
    for one in _zip_set_in(joins, done, pieces):
        _take(one, found)
    for find in (_laid_over, _across, _on_flat, _closed_ends, _round_both_legs):
        for one in find(joins, pieces):
            _take(one, found)
    for one in (*_finished(joins, done, pieces), *_caught(joins, finishes)):
        _take(one, found)
    return list(found.values())


def worked(finishes: Sequence[Finish]) -> list[Finish]:
    """The finishes that are steps of their own."""
    return [finish for finish in finishes if finish.how not in ("caught", "raw")]


def _darts_first(
    joins: Sequence[Join], finishes: Sequence[Finish], pieces: Mapping[str, Parts]
) -> Iterator[Before]:
    """The darts of a piece come before all else that is sewn of it or on it."""
    for piece, parts in pieces.items():
        if not parts.darts:
            continue
        name = darts_name(piece)
        why = f"The darts of {piece} are sewn while it lies flat and its edges are free."
        for join in joins:
            if any(ref.piece == piece for ref in join.refs):
                yield Before(name, join.name, why)
        for finish in finishes:
            if finish.edge.piece == piece:
                then = finish_name(finish) if worked((finish,)) else finish.into
                yield Before(name, then, why)


def _zip_set_in(
    joins: Sequence[Join], finishes: Sequence[Finish], pieces: Mapping[str, Parts]
) -> Iterator[Before]:
    """A zip is sewn to a facing that is done, and to the other front with a shield that is done,
    where the seam below begins; its upper ends are caught last (common practice, no source).
    """
    for fly in openings(joins):
        then = fly.shielded.name
        sewn = {(ref.piece, ref.edge) for ref in fly.faced.a.edges}
        why = f"The zip is sewn to {fly.facing} first, and to the other front in {then}."
        yield Before(fly.faced.name, then, why)
        for join in joins:
            if is_centre(join) and sewn & _edges(join.a):
                why = f"The zip ends where {join.name} begins, which must be sewn by then."
                yield Before(join.name, then, why)
            elif _ends_on(fly.shielded, join, pieces) is not None:
                why = f"The upper ends of the zip are caught in {join.name}."
                yield Before(then, join.name, why)
        for finish in finishes:
            piece, edge = finish.edge.piece, edge_of_piece(finish.edge.edge)
            if piece == fly.facing:
                why = f"The {edge} of {piece} is finished flat, before the zip is sewn on it."
                yield Before(finish_name(finish), then, why)
            if piece == fly.shield:
                why = f"The {edge} of {piece} is finished while it can be reached."
                yield Before(finish_name(finish), then, why)


def _caught(joins: Sequence[Join], finishes: Sequence[Finish]) -> Iterator[Before]:
    """What is caught in a seam is made before the seam is sewn."""
    for finish in finishes:
        if finish.how != "caught" or not finish.into:
            continue
        piece = finish.edge.piece
        why = f"{piece} is caught in {finish.into}: it must be made by then."
        for join in joins:
            if any(ref.piece == piece for ref in join.refs):
                yield Before(join.name, finish.into, why)
        for other in worked(finishes):
            if other.edge.piece == piece:
                yield Before(finish_name(other), finish.into, why)


def _take(one: Before, found: dict[tuple[str, str], Before]) -> None:
    if one.first != one.then and (one.then, one.first) not in found:
        found.setdefault((one.first, one.then), one)


def _laid_over(joins: Sequence[Join], _pieces: Mapping[str, Parts]) -> Iterator[Before]:
    """What is laid over a seam waits for the seam, and for all else that is sewn of its piece."""
    for join in joins:
        if not CONSTRUCTIONS[join.construction].lies_over:
            continue
        covered = _edges(join.b)
        facings = {ref.piece for ref in join.a.edges}
        others = [one for one in joins if not CONSTRUCTIONS[one.construction].lies_over]
        for other in others:
            if covered & {(ref.piece, ref.edge) for ref in other.refs}:
                why = f"{join.name} covers {other.name}, which must be sewn by then."
                yield Before(other.name, join.name, why)
        for other in others:
            if facings & {ref.piece for ref in other.refs}:
                why = f"{join.name} closes the facing: {other.name} is sewn while it is open."
                yield Before(other.name, join.name, why)


def _across(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    for join in joins:
        for side in (join.a, join.b):
            for one, two in itertools.pairwise(side.edges):
                for other in joins:
                    if other is not join and _unites(other, one, two, pieces):
                        why = f"{join.name} runs across {other.name}, which must be whole by then."
                        yield Before(other.name, join.name, why)


def _on_flat(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    for join, other in itertools.permutations(joins, 2):
        on = _lies_on(join, other, pieces)
        if on:
            why = f"{join.name} lies on {on}, which is flat only until {other.name} is sewn."
            yield Before(join.name, other.name, why)


def _closed_ends(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    for join, other in itertools.permutations(joins, 2):
        through = _ends_on(join, other, pieces)
        if through is not None:
            why = f"{join.name} ends in {ref_words(through)}: {other.name} closes that end."
            yield Before(join.name, other.name, why)


def _round_both_legs(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    for join in joins:
        for band in sorted(_bands(join, joins)):
            for middle in joins:
                if is_centre(middle) and _touches(middle, join, pieces):
                    why = f"{band} goes round both legs: {middle.name} must have made them one."
                    yield Before(middle.name, join.name, why)


def _finished(
    joins: Sequence[Join], finishes: Sequence[Finish], pieces: Mapping[str, Parts]
) -> Iterator[Before]:
    for finish in finishes:
        name = finish_name(finish)
        for join in joins:
            of_band = _is_band(join, finish.edge, pieces)
            if not of_band and not _ends_at(join, finish.edge, pieces):
                continue
            if _is_patch(join):
                edge = edge_of_piece(finish.edge.edge)
                why = f"The {edge} of {finish.edge.piece} is finished before {join.name} holds it."
                yield Before(name, join.name, why)
            else:
                edge = edge_of_piece(finish.edge.edge)
                why = f"The {edge} is finished in one go, across the end of {join.name}."
                yield Before(join.name, name, why)


def _edges(side: JoinSide) -> set[tuple[str, str]]:
    return {(ref.piece, ref.edge) for ref in side.edges}


def _unites(other: Join, one: EdgeRef, two: EdgeRef, pieces: Mapping[str, Parts]) -> bool:
    """True when a join sews the piece of one edge to the piece of the next, right where the chain
    goes over from one to the other; of a line drawn over both, anywhere between them.
    """
    if one.piece == two.piece:
        return False
    a, b = _edges(other.a), _edges(other.b)
    if one.edge == two.edge and all(_is_marked(ref, pieces) for ref in (one, two)):
        sides = ({piece for piece, _ in a}, {piece for piece, _ in b})
        return sides in (({one.piece}, {two.piece}), ({two.piece}, {one.piece}))
    for near, far in ((a, b), (b, a)):
        beside_one = {(one.piece, name) for name in _neighbours(pieces.get(one.piece), one.edge)}
        beside_two = {(two.piece, name) for name in _neighbours(pieces.get(two.piece), two.edge)}
        if near & beside_one and far & beside_two:
            return True
    return False


def _is_marked(ref: EdgeRef, pieces: Mapping[str, Parts]) -> bool:
    piece = pieces.get(ref.piece)
    return piece is not None and ref.edge in piece.marks


def _neighbours(piece: Parts | None, edge: str) -> set[str]:
    if piece is None:
        return set()
    edges = piece.edges
    for index, known in enumerate(edges):
        if known == edge:
            return {edges[index - 1], edges[(index + 1) % len(edges)]}
    return set()


def _lies_on(join: Join, other: Join, pieces: Mapping[str, Parts]) -> str:
    """The piece on which a patch is sewn that another join takes up."""
    if not _is_patch(join):
        return ""
    for ref in join.b.edges:
        piece = pieces.get(ref.piece)
        marked = piece is not None and ref.edge in piece.marks
        taken = any(one.piece == ref.piece for one in other.refs)
        laid_on = _is_patch(other) and any(one.piece == ref.piece for one in other.a.edges)
        if marked and taken and (laid_on or _makes_round(other, pieces)):
            return ref.piece
    return ""


def _makes_round(join: Join, pieces: Mapping[str, Parts]) -> bool:
    """True for a seam between panels, or between left and right: after it nothing lies flat."""
    panels = {pieces[ref.piece].panel for ref in join.refs if ref.piece in pieces}
    return not _is_patch(join) and (len(panels) > 1 or is_centre(join))


def _is_patch(join: Join) -> bool:
    return not CONSTRUCTIONS[join.construction].is_notched


def _ends_on(join: Join, other: Join, pieces: Mapping[str, Parts]) -> EdgeRef | None:
    """The edge of the other join that a join's seam runs out into, on a piece of both; not where
    the two only share a corner in which both end.
    """
    if _is_patch(other):
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


def _bands(join: Join, joins: Sequence[Join]) -> set[str]:
    """Pieces cut once that a join on the one leg and another on the other leg both sew."""
    found = set()
    for other in joins:
        if other is not join and join.a.mirrored != other.a.mirrored:
            mine = {ref.piece for ref in join.b.edges}
            found |= mine & {ref.piece for ref in other.b.edges}
    return found


def _touches(one: Join, other: Join, pieces: Mapping[str, Parts]) -> bool:
    return any(
        (ref.piece, name) in _edges(side)
        for ref in one.a.edges
        for name in _neighbours(pieces.get(ref.piece), ref.edge)
        for side in (other.a, other.b)
    )


def _is_band(join: Join, edge: EdgeRef, pieces: Mapping[str, Parts]) -> bool:
    """True for a join that sews on a piece of no panel, such as a waistband, of which this is a
    free edge.
    """
    piece = pieces.get(edge.piece)
    others = any(ref.piece != edge.piece for ref in join.refs)
    return (
        piece is not None
        and not piece.panel
        and others
        and any(ref.piece == edge.piece for ref in join.refs)
    )


def _ends_at(join: Join, edge: EdgeRef, pieces: Mapping[str, Parts]) -> bool:
    """True when a join's seam ends at an edge."""
    piece = pieces.get(edge.piece)
    beside = _neighbours(piece, edge.edge)
    return any(ref.piece == edge.piece and ref.edge in beside for ref in join.refs)
