"""Pieces made ready for the shears by all that the design says of them."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.block.panel import Dart
from studio.curves import Outline
from studio.cut.piece import Piece
from studio.design.joins import Corner, NotchShape
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused, Told
from studio.memo import Made, remembered
from studio.sew.allowance import AllowanceRules
from studio.sew.cut_line import cut_line
from studio.sew.edge_rows import rows_with_room
from studio.sew.order import SewingOrder
from studio.sew.piece_rules import piece_rules
from studio.sew.roof import roofed
from studio.sew.rows_at_darts import off_darts
from studio.sew.rows_on import parts_on
from studio.sew.seam import Brought
from studio.sew.second_line import second_lines
from studio.sew.sew_piece import grainline, sew_piece
from studio.sew.sewn import Lined, SewnPiece
from studio.sew.topstitch import asked_rows, rows_that_can_be
from studio.sew.turn_up_folds import turn_up_folds


class Given(Made, frozen=True):
    """What a design says that all its pieces are sewn by; `wearer` is whose they are, or a size."""

    rules: AllowanceRules
    corners: tuple[Corner, ...]
    order: SewingOrder
    shape: NotchShape
    wearer: str


class Ready(msgspec.Struct, frozen=True):
    """A piece ready to cut, the lines it was given, and why rows asked for on it could not be made;
    empty when they could.
    """

    sewn: SewnPiece
    lined: Lined
    refused: str


def ready(
    piece: Piece,
    edges: tuple[str, ...],
    brought: Sequence[Brought],
    asked: tuple[Topstitch, ...],
    given: Given,
) -> Ready:
    """A piece with all that its joins, its edges' finishes and the maker ask for.

    `edges` names the edges of its outline, `brought` is what the joins it takes part in bring to
    it, and `asked` the rows on it. Of two notches at one place the first join's is cut.
    """
    name = piece.name
    lined = _lined(name, edges, piece.outline, piece.darts, piece.warp, given)
    rows, refused = lined.rows, lined.off
    if asked:
        try:
            rows += asked_rows(piece, asked)
        except GeometryRefused:
            kept, told = rows_that_can_be({name: piece}, asked)
            refused = Told.joined((refused, told))
            rows += asked_rows(piece, kept)
    rows += tuple(
        [
            part
            for one in brought
            for row in one.rows
            for on in _parts_on(piece.outline, row)
            for part in off_darts(on, piece.darts)
        ]
    )
    sewn = sew_piece(
        piece,
        lined,
        [place for one in brought for place in one.places],
        rows,
        tuple([drill for one in brought for drill in one.drills]),
        shape=given.shape,
        made_for=given.wearer,
    )
    return Ready(sewn, lined, refused)


def _lined_of(
    name: str,
    edges: tuple[str, ...],
    outline: Outline,
    darts: tuple[Dart, ...],
    warp: float,
    given: Given,
) -> Lined:
    facts = _facts(name, edges, given.rules, given.corners, given.order)
    line, trouble = cut_line(outline, facts.widths, facts.hems, facts.corners, facts.turn_ups)
    line, straight = roofed(line, outline, facts.widths, facts.hems, darts)
    rows, off = rows_with_room(name, edges, outline, facts.rows, darts)
    second, told = second_lines(outline, facts.narrower, line, facts.widths, darts)
    folds, unfolded = turn_up_folds(outline, line, facts.widths, facts.turn_ups)
    trouble = (*trouble, *straight, *told, *unfolded)
    return Lined(facts.widths, line, trouble, grainline(outline, warp), rows, off, second, folds)


_facts = remembered(piece_rules, 400)
_lined = remembered(_lined_of, 400)
_parts_on = remembered(parts_on, 400)
