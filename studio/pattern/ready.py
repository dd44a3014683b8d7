"""The fourth stage: pieces ready for the shears, and what the rules find of each."""

from __future__ import annotations

from studio import check, sew
from studio.check import Finding
from studio.cut import Piece
from studio.design import Design
from studio.design.topstitch import Topstitch
from studio.memo import remembered
from studio.pattern.joins import joins_of_pieces
from studio.pattern.model import Joined, Judging, Pattern, ReadyPiece
from studio.pattern.told import MANY, grave
from studio.sew import AllowanceRules, Given, Lined, Parts, Seam


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
) -> tuple[dict[str, tuple[Finding, ...]], Judging, frozenset[str]]:
    """What the rules find of each piece, and what it was judged by; and the names of those for
    which, while something is dragged, that was put off: they keep what was found of them before.
    """
    by = _judging(rules, tuple([line.name for line in design.lines if line.kind == "seam"]))
    if base is None:
        return {name: _piece_findings(one, by) for name, one in ready.items()}, by, frozenset()
    before = base.work
    put_off = frozenset(
        name
        for name, one in ready.items()
        if one is not before.ready.get(name) or by is not before.by or name in before.put_off
    )
    return {name: base.judged.get(name, ()) for name in ready}, by, put_off


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


def _piece_findings_of(one: ReadyPiece, by: Judging) -> tuple[Finding, ...]:
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


_parts = remembered(Parts, 2048)  # Only names; while they are the same, so is the order.
_judging = remembered(Judging, 8)
_ready = remembered(_ready_of, MANY)
_piece_findings = remembered(_piece_findings_of, MANY)
_line_findings = remembered(_line_findings_of, MANY)
_laid_findings = remembered(check.judge_laid, MANY)
_edge_findings = remembered(check.judge_edges, MANY)
