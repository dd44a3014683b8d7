"""Why one step of the order of sewing must wait for another: where the other would be out of reach
afterwards, such as what a seam runs across, what lies on a piece, what a hem turns up.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterator, Mapping, Sequence

from studio.design.joins import Finish, Join
from studio.design.step_names import darts_name, rows_name, through_name
from studio.design.topstitch import Topstitch
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.edge_words import edge_of_piece, ref_words
from studio.sew.fly import openings
from studio.sew.legs import is_centre
from studio.sew.reach import (
    bags,
    bands,
    edges_of,
    ends_at,
    ends_on,
    is_band,
    is_patch,
    lies_on,
    touches,
    unites,
)
from studio.sew.row_steps import row_steps
from studio.sew.steps import Before, Parts, worked


def reasons_of(
    joins: Sequence[Join],
    finishes: Sequence[Finish],
    pieces: Mapping[str, Parts],
    rows: Sequence[Topstitch] = (),
) -> list[Before]:
    """Every reason once; of two that speak against each other the first counts."""
    found: dict[tuple[str, str], Before] = {}
    for one in _darts_first(joins, finishes, pieces):
        _take(one, found)
    done = worked(finishes)
    for one in _zip_set_in(joins, done, pieces):
        _take(one, found)
    for find in (_laid_over, _across, _on_flat, _on_bags, _closed_ends, _round_both_legs):
        for one in find(joins, pieces):
            _take(one, found)
    for one in (*_finished(joins, done, pieces), *_caught(joins, finishes)):
        _take(one, found)
    for one in _rows(rows, joins, done, pieces, tuple(found)):
        _take(one, found)
    return list(found.values())


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
            if join.sews(piece):
                yield Before(name, join.name, why)
        for finish in finishes:
            if finish.edge.piece == piece:
                then = finish.step if worked((finish,)) else finish.into
                if then:
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
            if is_centre(join) and sewn & edges_of(join.a):
                why = f"The zip ends where {join.name} begins, which must be sewn by then."
                yield Before(join.name, then, why)
            elif ends_on(fly.shielded, join, pieces) is not None:
                why = f"The upper ends of the zip are caught in {join.name}."
                yield Before(then, join.name, why)
        for finish in finishes:
            piece, edge = finish.edge.piece, edge_of_piece(finish.edge.edge)
            if piece == fly.facing:
                why = f"The {edge} of {piece} is finished flat, before the zip is sewn on it."
                yield Before(finish.step, then, why)
            if piece == fly.shield:
                why = f"The {edge} of {piece} is finished while it can be reached."
                yield Before(finish.step, then, why)


def _caught(joins: Sequence[Join], finishes: Sequence[Finish]) -> Iterator[Before]:
    """What is caught in a seam is made before the seam is sewn."""
    for finish in finishes:
        if finish.how != "caught" or not finish.into:
            continue
        piece = finish.edge.piece
        why = f"{piece} is caught in {finish.into}: it must be made by then."
        for join in joins:
            if join.sews(piece):
                yield Before(join.name, finish.into, why)
        for other in worked(finishes):
            if other.edge.piece == piece:
                yield Before(other.step, finish.into, why)


def _rows(
    rows: Sequence[Topstitch],
    joins: Sequence[Join],
    finishes: Sequence[Finish],
    pieces: Mapping[str, Parts],
    known: Collection[tuple[str, str]],
) -> Iterator[Before]:
    """Rows on a piece alone come before anything is sewn to it, and after its edge they are
    measured from where that is finished first; rows through what lies beneath as soon as it does,
    while that is flat (common practice, no source). `known` are pairs of steps in their order.
    """
    for step in row_steps(rows, joins, pieces):
        if step.alone:
            yield from _rows_alone(step.piece, step.alone, joins, finishes, pieces, known)
        if step.laid is not None and step.through:
            yield from _rows_through(step.piece, step.laid, joins, pieces)


def _rows_alone(
    piece: str,
    rows: Sequence[Topstitch],
    joins: Sequence[Join],
    finishes: Sequence[Finish],
    pieces: Mapping[str, Parts],
    known: Collection[tuple[str, str]],
) -> Iterator[Before]:
    name = rows_name(piece)
    if pieces[piece].darts:
        yield Before(darts_name(piece), name, f"Rows on {piece} end on the legs of its darts.")
    here = [join for join in joins if join.sews(piece)]
    for join in here:
        why = f"Rows on {piece} go through it alone, while it lies flat."
        yield Before(name, join.name, why)
    for finish in finishes:
        is_along = any(one.along == finish.edge.edge for one in rows)
        if finish.edge.piece != piece or not is_along:
            continue
        step = finish.step
        if any((step, join.name) in known for join in here):
            edge = edge_of_piece(finish.edge.edge)
            yield Before(step, name, f"Rows on {piece} are measured from the finished {edge}.")


def _rows_through(
    piece: str, laid: Join, joins: Sequence[Join], pieces: Mapping[str, Parts]
) -> Iterator[Before]:
    name = through_name(piece)
    yield Before(laid.name, name, f"{piece} is laid on by {laid.name}, to be stitched through.")
    for other in joins:
        on = lies_on(laid, other, pieces) if other != laid else ""
        if on:
            why = f"Rows through {piece} go through {on}, which is flat until {other.name} is sewn."
            yield Before(name, other.name, why)


def _take(one: Before, found: dict[tuple[str, str], Before]) -> None:
    if one.first != one.then and (one.then, one.first) not in found:
        found.setdefault((one.first, one.then), one)


def _laid_over(joins: Sequence[Join], _pieces: Mapping[str, Parts]) -> Iterator[Before]:
    """What is laid over a seam waits for the seam, and for all else that is sewn of its piece."""
    for join in joins:
        if not CONSTRUCTIONS[join.construction].lies_over:
            continue
        covered = edges_of(join.b)
        facings = {ref.piece for ref in join.a.edges}
        others = [one for one in joins if not CONSTRUCTIONS[one.construction].lies_over]
        for other in others:
            if covered & {(ref.piece, ref.edge) for ref in other.refs}:
                why = f"{join.name} covers {other.name}, which must be sewn by then."
                yield Before(other.name, join.name, why)
        for other in others:
            if facings & other.pieces:
                why = f"{join.name} closes the facing: {other.name} is sewn while it is open."
                yield Before(other.name, join.name, why)


def _across(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    for join in joins:
        for side in (join.a, join.b):
            for one, two in itertools.pairwise(side.edges):
                for other in joins:
                    if other != join and unites(other, one, two, pieces):
                        why = f"{join.name} runs across {other.name}, which must be whole by then."
                        yield Before(other.name, join.name, why)


def _on_flat(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    patches = [join for join in joins if is_patch(join)]
    for join, other in itertools.product(patches, joins):
        on = lies_on(join, other, pieces) if other != join else ""
        if on:
            why = f"{join.name} lies on {on}, which is flat only until {other.name} is sewn."
            yield Before(join.name, other.name, why)


def _on_bags(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    """A bag is sewn to its mouth and has a facing laid on while it lies open (common practice, no
    source): once it is closed, what is stitched there is stitched to the piece behind it.
    """
    for bag, mouth, closing in bags(joins, pieces):
        why = f"{mouth.name} is turned and stitched before {closing.name} closes {bag}."
        yield Before(mouth.name, closing.name, why)
        for join in joins:
            if is_patch(join) and {ref.piece for ref in join.b.edges} == {bag}:
                why = f"{join.name} lies on {bag}, which is open only until {closing.name} is sewn."
                yield Before(join.name, closing.name, why)


def _closed_ends(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    for join, other in itertools.permutations(joins, 2):
        through = ends_on(join, other, pieces)
        if through is not None:
            why = f"{join.name} ends in {ref_words(through)}: {other.name} closes that end."
            yield Before(join.name, other.name, why)


def _round_both_legs(joins: Sequence[Join], pieces: Mapping[str, Parts]) -> Iterator[Before]:
    for join in joins:
        for band in sorted(bands(join, joins)):
            for middle in joins:
                if is_centre(middle) and touches(middle, join, pieces):
                    why = f"{band} goes round both legs: {middle.name} must have made them one."
                    yield Before(middle.name, join.name, why)


def _finished(
    joins: Sequence[Join], finishes: Sequence[Finish], pieces: Mapping[str, Parts]
) -> Iterator[Before]:
    for finish in finishes:
        name = finish.step
        for join in joins:
            if not join.sews(finish.edge.piece):
                continue
            of_band = is_band(join, finish.edge, pieces)
            if not of_band and not ends_at(join, finish.edge, pieces):
                continue
            if is_patch(join):
                edge = edge_of_piece(finish.edge.edge)
                why = f"The {edge} of {finish.edge.piece} is finished before {join.name} holds it."
                yield Before(name, join.name, why)
            else:
                edge = edge_of_piece(finish.edge.edge)
                why = f"The {edge} is finished in one go, across the end of {join.name}."
                yield Before(join.name, name, why)
