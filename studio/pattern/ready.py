"""The fourth stage: pieces ready for the shears, and what the rules find of each."""

from __future__ import annotations

import msgspec

from studio import check, sew
from studio.check import Finding
from studio.cut import Piece
from studio.design import Design
from studio.design.topstitch import Topstitch
from studio.memo import Remembered
from studio.pattern.joins import joins_of_pieces
from studio.pattern.model import Joined, Pattern, ReadyPiece
from studio.pattern.told import MANY, grave
from studio.sew import AllowanceRules, Given, Lined, Parts, Seam


class _Judging(msgspec.Struct, frozen=True):
    """What pieces are judged by: the allowance rules, and the lines that cut a panel in two."""

    rules: AllowanceRules
    cuts: tuple[str, ...]


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
        seams = tuple([joins[join].seam for join in named.get(name, ()) if join in joins])
        found[name] = _ready(piece, parts[name], seams, asked, given)
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


def judged_pieces(
    design: Design, ready: dict[str, ReadyPiece], rules: AllowanceRules, base: Pattern | None
) -> tuple[dict[str, tuple[Finding, ...]], frozenset[str]]:
    """What the rules find of each piece; and the names of those for which, while something is
    dragged, that was put off: they keep what was found of them before.
    """
    by = _judging(rules, tuple([line.name for line in design.lines if line.kind == "seam"]))
    judged, put_off = {}, set()
    for name, one in ready.items():
        found = None
        if base is not None:
            found = _piece_findings.recall(one, by)
            if found is None:
                found = base.judged.get(name, ())
                put_off.add(name)
        judged[name] = _piece_findings(one, by) if found is None else found
    return judged, frozenset(put_off)


def _ready_of(
    piece: Piece,
    named: Parts,
    seams: tuple[Seam, ...],
    asked: tuple[Topstitch, ...],
    given: Given,
) -> ReadyPiece:
    ready = sew.ready(piece, named.edges, seams, asked, given)
    refused = (grave("topstitch", piece.name, ready.refused),) if ready.refused else ()
    return ReadyPiece(ready.sewn, named.edges, ready.lined, refused)


def _piece_findings_of(one: ReadyPiece, by: _Judging) -> tuple[Finding, ...]:
    piece = one.sewn.piece
    return (
        *check.judge_outline(piece),
        *check.judge_darts(piece, by.cuts),
        *_line_findings(piece.name, one.lined),
        *check.judge_marks(one.sewn),
        *_laid_findings(piece),
        *_edge_findings(piece.name, one.edges, by.rules),
    )


def _line_findings_of(name: str, lined: Lined) -> tuple[Finding, ...]:
    return check.judge_cut_line(name, lined.line, lined.trouble)


def _parts_of(piece: Piece) -> Parts:
    return _parts(
        piece.panel,
        tuple([edge.name for edge in piece.outline]),
        tuple([mark.name for mark in piece.marks]),
        tuple([dart.name for dart in piece.darts]),
    )


_parts = Remembered(Parts, 2048)  # Only names; while they are the same, so is the order.
_judging = Remembered(_Judging, 8)
_ready = Remembered(_ready_of, MANY)
_piece_findings = Remembered(_piece_findings_of, MANY)
_line_findings = Remembered(_line_findings_of, MANY)
_laid_findings = Remembered(check.judge_laid, MANY)
_edge_findings = Remembered(check.judge_edges, MANY)
