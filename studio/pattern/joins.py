"""The third stage: joins measured, told in the ledger, and what they bring to their pieces."""

from __future__ import annotations

import msgspec

from studio import check, sew
from studio.check import Finding
from studio.cut import Piece
from studio.design import Design, Join
from studio.design.topstitch import Topstitch
from studio.memo import remembered
from studio.pattern.model import Joined, Pattern
from studio.pattern.pieces import unmade
from studio.pattern.told import MANY, told
from studio.sew import AllowanceRules, MeasuredJoin
from studio.sew.loops import Waist, waists_of


class _Named(msgspec.Struct, frozen=True):
    """The names of the pieces of every join, and of the joins of every piece, in order; and which
    edges and marks of which pieces a join names.
    """

    pieces: dict[str, tuple[str, ...]]
    joins: dict[str, tuple[str, ...]]
    edges: dict[str, frozenset[tuple[str, str]]]


def made_joins(
    design: Design,
    pieces: dict[str, Piece],
    rules: AllowanceRules,
    findings: list[Finding],
    base: Pattern | None,
) -> dict[str, Joined]:
    """The joins by name, in the design's order; one that cannot be made is told and left out. Those
    whose pieces have not changed since `base` are its own.
    """
    named = _named_in(design.joins)
    waists = waists_in(design)
    touched = _touched(design, pieces, rules, base, named)
    if touched is not None:
        if base is not None and design.pieces is not base.design.pieces:
            touched |= waists.keys()
        touched |= {one.name for name in touched & waists.keys() for one in waists[name].run}
    missing = unmade(design, pieces)
    found = {} if base is None or touched is None else dict(base.work.joins)
    for join in design.joins:
        if touched is not None and join.name not in touched:
            continue
        names = named.pieces[join.name]
        if not missing.isdisjoint(names):
            continue
        waist = waists.get(join.name)
        read = names if waist is None else _read(waist, named)
        concerned = tuple([pieces[name] for name in read if name in pieces])
        asked = tuple([one for one in design.topstitching if one.piece in names])
        made = told(
            findings, "join", join.name, _joined, join, names, concerned, rules, asked, waist
        )
        if made is not None:
            found[join.name] = made
        else:
            found.pop(join.name, None)
    return found


def waists_in(design: Design) -> dict[str, Waist]:
    """Every join that sews a part of a waist with loops spread round it, with that waist."""
    return waists_among(design.pieces, design.joins, design.finishes)


def joins_of_pieces(joins: tuple[Join, ...]) -> dict[str, tuple[str, ...]]:
    """The names of the joins of every piece, in order."""
    return _named_in(joins).joins


def _read(waist: Waist, named: _Named) -> tuple[str, ...]:
    """The pieces of a whole waist: where loops go in one of its joins hangs on all of them."""
    return tuple(dict.fromkeys(name for join in waist.run for name in named.pieces[join.name]))


def _touched(
    design: Design,
    pieces: dict[str, Piece],
    rules: AllowanceRules,
    base: Pattern | None,
    named: _Named,
) -> set[str] | None:
    """Names of the joins of which an edge or mark has changed, or a piece of which the maker asks
    for rows, since these may end anywhere; None when all are to be made.
    """
    if base is None or base.work.given is None or base.work.given.rules is not rules:
        return None
    if design.joins is not base.design.joins or design.topstitching is not base.design.topstitching:
        return None
    if len(base.work.joins) != len(design.joins) or pieces.keys() != base.work.pieces.keys():
        return None
    before = base.work.pieces
    stitched = {row.piece for row in design.topstitching}
    found: set[str] = set()
    for name, piece in pieces.items():
        if piece is before[name]:
            continue
        joins = named.joins.get(name, ())
        if name in stitched:
            found.update(joins)
            continue
        changed = {(name, edge) for edge in sew.changed_names(before[name], piece)}
        found.update([join for join in joins if not changed.isdisjoint(named.edges[join])])
    return found


def _named_in_of(joins: tuple[Join, ...]) -> _Named:
    of_joins = {join.name: tuple(sorted(join.pieces)) for join in joins}
    of_pieces: dict[str, tuple[str, ...]] = {}
    for join, pieces in of_joins.items():
        for piece in pieces:
            of_pieces[piece] = (*of_pieces.get(piece, ()), join)
    edges = {join.name: frozenset((ref.piece, ref.edge) for ref in join.refs) for join in joins}
    return _Named(of_joins, of_pieces, edges)


def _joined_of(
    join: Join,
    names: tuple[str, ...],
    pieces: tuple[Piece, ...],
    rules: AllowanceRules,
    asked: tuple[Topstitch, ...],
    waist: Waist | None,
) -> Joined:
    by_name = {piece.name: piece for piece in pieces}
    measured = sew.measured(join, by_name)
    own = tuple([name for name in names if name in by_name])
    return _with_seam(measured, own, sew.seam_of(measured, by_name, rules, asked, waist))


def _with_seam_of(measured: MeasuredJoin, pieces: tuple[str, ...], seam: sew.Seam) -> Joined:
    """The same object again while seam and measures are, whatever else of the pieces changed."""
    told_of = check.judge_partners(measured.join.name, seam.lonely)
    return Joined(measured, pieces, check.ledger_row(measured), seam, told_of)


_named_in = remembered(_named_in_of, 4)
waists_among = remembered(waists_of, 4)
"""What `waists_of` gives of recipes, joins and finishes."""
_joined = remembered(_joined_of, MANY)
_with_seam = remembered(_with_seam_of, MANY)
