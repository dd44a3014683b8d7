"""Rows the maker asks for as steps of their own: on a piece alone, or through what lies beneath."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from studio.alter.kind import Say
from studio.curves import Affine
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import Join
from studio.design.topstitch import Topstitch
from studio.exchange.along import Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.work_sheet_figures import box_of, drawn, laid
from studio.sew import SewnPiece
from studio.sew.edge_words import edge_of_piece
from studio.sew.sewn import MeasuredJoin
from studio.sew.topstitch import asked_rows, rows_that_can_be
from studio.sew.walk import Walk

_RUN_OUT = (
    "Run the rows out into the allowances. Where they go on across a seam their ends stand at "
    "notches, or at drilled places under the edge of a patch: lay them there."
)


def rows_before(
    join: Join,
    design: Design,
    joins: Mapping[str, MeasuredJoin],
    pieces: Mapping[str, SewnPiece],
    told: set[str],
    say: Say,
) -> Iterator[Stage]:
    """Rows asked for on pieces of a join that were not stitched yet: while each lies flat, before
    it is sewn to anything. Those through what lies beneath wait until it lies there.
    """
    for name in dict.fromkeys(ref.piece for ref in join.refs):
        if name in told or name not in pieces:
            continue
        told.add(name)
        piece = pieces[name].piece
        asked = _that_can_be(piece, design)
        alone = [one for one in asked if not one.through or not lies_on(name, joins)]
        if not alone:
            continue
        sentences = (
            *_asked_words(name, alone, say),
            f"Stitch through {name} alone, while it lies flat and nothing is beneath it, so that a "
            f"pocket stays open. {_RUN_OUT}",
        )
        lines = drawn(piece.outline)
        lines += [Stroked(row, "cut") for row in asked_rows(piece, alone)]
        yield Stage(f"Rows on {name}", sentences, figure(lines, (), (), piece.outline.box))


def rows_after(
    join: MeasuredJoin, design: Design, pieces: Mapping[str, SewnPiece], say: Say
) -> Iterator[Stage]:
    """Rows through a patch and what it has just been laid on."""
    walk = Walk(join, pieces)
    if not walk.lays_on:
        return
    step = walk.at(walk.length_a / 2.0)
    for over in walk.rolling:
        name = over.piece
        piece = pieces[name].piece
        asked = [one for one in _that_can_be(piece, design) if one.through]
        if not asked:
            continue
        beneath = " and ".join(dict.fromkeys(one.piece for one in walk.still))
        told = [
            *_asked_words(name, asked, say),
            f"Stitch through both layers, {name} and {beneath}, as soon as {name} is laid on, "
            f"while {beneath} still lies flat. Begin and end to and fro at an edge that is turned "
            "under; run the rows out where it is raw, to be caught in a seam.",
        ]
        if _is_pocket(name, design):
            told.append(f"They go through the bag of {name} and divide it, or close it below.")
        move = over.move.then(step.move)
        lines = laid(((walk.still, Affine()),), pieces) + drawn(piece.outline, move=move)
        lines += [Stroked(row.transformed(move), "cut") for row in asked_rows(piece, asked)]
        near = box_of(drawn(piece.outline, move=move))
        about = (near.centre, *(line.chain.start for line in drawn(piece.outline, move=move)))
        yield Stage(
            f"Rows through {name} and {beneath}",
            tuple(told),
            figure(lines, (), about, box_of(lines)),
        )


def _that_can_be(piece: Piece, design: Design) -> tuple[Topstitch, ...]:
    """What is asked for on a piece; rows that cannot be made are told where it is judged."""
    asked = [one for one in design.topstitching if one.piece == piece.name]
    return rows_that_can_be({piece.name: piece}, asked)[0]


def lies_on(piece: str, joins: Mapping[str, MeasuredJoin]) -> bool:
    """True for a piece that is laid on a line drawn on another."""
    return any(
        any(one.piece == piece and one.ground is not None for one in join.a.stretches)
        and any(one.ground is None for one in join.b.stretches)
        for join in joins.values()
    )


def _is_pocket(piece: str, design: Design) -> bool:
    """True for a patch with an edge that is finished for itself: its mouth."""
    return any(
        one.edge.piece == piece and one.how not in ("caught", "raw") for one in design.finishes
    )


def _asked_words(name: str, asked: Sequence[Topstitch], say: Say) -> Iterator[str]:
    for one in asked:
        inside = ", ".join(say(row) for row in one.rows)
        yield f"On {name}, topstitch at {inside} from the {edge_of_piece(one.along)}."
