"""The fourth stage: pieces ready for the shears."""

from __future__ import annotations

from collections.abc import Iterable

from studio import sew
from studio.block import Panel
from studio.cut import Piece
from studio.cut.copies import drawn_legs
from studio.design import Design
from studio.design.topstitch import Topstitch
from studio.memo import remembered
from studio.pattern.joins import joins_of_pieces
from studio.pattern.model import Joined, Pattern, ReadyPiece
from studio.pattern.told import MANY, grave
from studio.sew import Brought, Given, Parts, SewnPiece


def named_parts(pieces: dict[str, Piece], base: Pattern | None) -> dict[str, Parts]:
    """Every piece by names: the same object again while they are the same."""
    if base is None:
        return {name: _parts_of(piece) for name, piece in pieces.items()}
    before, known = base.work.pieces, base.work.parts
    return {
        name: known[name] if piece is before.get(name) else _parts_of(piece)
        for name, piece in pieces.items()
    }


def ready_pieces(
    design: Design,
    pieces: dict[str, Piece],
    parts: dict[str, Parts],
    joins: dict[str, Joined],
    given: Given,
    base: Pattern | None,
) -> dict[str, ReadyPiece]:
    """The pieces with allowances, notches and all that their joins bring, by name."""
    named = joins_of_pieces(design.joins)
    touched = _touched(design, pieces, joins, given, base)
    found = {} if base is None or touched is None else dict(base.work.ready)
    for name, piece in pieces.items():
        if touched is not None and name not in touched:
            continue
        asked = tuple([one for one in design.topstitching if one.piece == name])
        made = [joins[join].seam for join in named.get(name, ()) if join in joins]
        brought = tuple([seam.brought[name] for seam in made])
        found[name] = _ready(piece, parts[name], brought, asked, given)
    return found


def _touched(
    design: Design,
    pieces: dict[str, Piece],
    joins: dict[str, Joined],
    given: Given,
    base: Pattern | None,
) -> set[str] | None:
    """Names of pieces that have changed or have a changed seam; None when all are to be made."""
    if base is None or given is not base.work.given or design.joins is not base.design.joins:
        return None
    if design.topstitching is not base.design.topstitching:
        return None
    before, joined = base.work.pieces, base.work.joins
    if pieces.keys() != before.keys() or joins.keys() != joined.keys():
        return None
    changed = {name for name, piece in pieces.items() if piece is not before[name]}
    for name, join in joins.items():
        if join is not joined[name]:
            changed.update(join.pieces)
    return changed


def sewn_pieces(
    design: Design, panels: tuple[Panel, ...], ready: Iterable[ReadyPiece]
) -> tuple[SewnPiece, ...]:
    """The finished pieces, each without the allowances that its copies do without."""
    if not design.shortages:
        return tuple([one.sewn for one in ready])
    return tuple([_less(design, one.sewn, panels) for one in ready])


def _less(design: Design, sewn: SewnPiece, panels: tuple[Panel, ...]) -> SewnPiece:
    asked = tuple([one for one in design.shortages if one.piece == sewn.piece.name])
    return _shorted(sewn, asked, legs_of(panels).get(sewn.piece.panel, "")) if asked else sewn


def _ready_of(
    piece: Piece,
    named: Parts,
    brought: tuple[Brought, ...],
    asked: tuple[Topstitch, ...],
    given: Given,
) -> ReadyPiece:
    ready = sew.ready(piece, named.edges, brought, asked, given)
    refused = (grave("topstitch", piece.name, ready.refused),) if ready.refused else ()
    return ReadyPiece(ready.sewn, named.edges, ready.lined, refused)


def _parts_of(piece: Piece) -> Parts:
    return _parts(
        piece.panel,
        tuple([edge.name for edge in piece.outline]),
        tuple([mark.name for mark in piece.marks]),
        tuple([dart.name for dart in piece.darts]),
    )


_parts = remembered(Parts, 2048)  # Only names; while they are the same, so is the order.
_ready = remembered(_ready_of, MANY)
_shorted = remembered(sew.shorted, MANY)
legs_of = remembered(drawn_legs, 4)
"""As `drawn_legs`."""
