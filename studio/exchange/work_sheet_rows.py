"""Rows the maker asks for as steps of their own: on a piece alone, or through what lies beneath."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from studio.alter.kind import Say
from studio.curves import Affine
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.topstitch import Topstitch
from studio.exchange.along import Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.work_sheet_figures import box_of, drawn, laid
from studio.pattern import Pattern
from studio.sew import SewnPiece, through_name
from studio.sew.edge_words import edge_of_piece, start_words
from studio.sew.row_steps import alone_and_through
from studio.sew.sewn import MeasuredJoin
from studio.sew.topstitch import asked_rows, rows_that_can_be
from studio.sew.walk import Walk

_RUN_OUT = (
    "Run the rows out into the allowances. Where they go on across a seam their ends stand at "
    "notches, or at drilled places under the edge of a patch: lay them there."
)


def rows_stages(
    name: str, step: str, pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say
) -> Iterator[Stage]:
    """The rows of a piece that a step of the order of sewing stitches; none where none of them can
    be made.
    """
    piece, design = pieces[name].piece, pattern.design
    asked = _that_can_be(piece, design)
    alone, through = alone_and_through(asked, through_name(name) in pattern.order.steps)
    if step == through_name(name):
        laid = [one for one in pattern.measured if _lays(one, name)]
        if through and laid:
            yield _through_stage(name, through, laid[0], design, pieces, say)
        return
    if alone:
        yield _alone_stage(piece, alone, say)


def _alone_stage(piece: Piece, asked: Sequence[Topstitch], say: Say) -> Stage:
    """While it lies flat, before it is sewn to anything."""
    name = piece.name
    sentences = (
        *_asked_words(piece, asked, say),
        f"Stitch through {name} alone, while it lies flat and nothing is beneath it, so that a "
        f"pocket stays open. {_RUN_OUT}",
    )
    lines = drawn(piece.outline)
    lines += [Stroked(row, "cut") for row in asked_rows(piece, asked)]
    return Stage(f"Rows on {name}", sentences, figure(lines, (), (), piece.outline.box))


def _through_stage(
    name: str,
    asked: Sequence[Topstitch],
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    say: Say,
) -> Stage:
    """Through a patch and what it is laid on."""
    walk = Walk(join, pieces)
    piece = pieces[name].piece
    over = next(one for one in walk.rolling if one.piece == name)
    beneath = " and ".join(dict.fromkeys(one.piece for one in walk.still))
    told = [
        *_asked_words(piece, asked, say),
        f"Stitch through both layers, {name} and {beneath}, once {name} is laid on and while "
        f"{beneath} still lies flat. Begin and end to and fro at an edge that is turned under; "
        "run the rows out where it is raw, to be caught in a seam.",
    ]
    if _is_pocket(name, design):
        told.append(f"They go through the bag of {name} and divide it, or close it below.")
    move = over.move.then(walk.at(walk.length_a / 2.0).move)
    lines = laid(((walk.still, Affine()),), pieces) + drawn(piece.outline, move=move)
    lines += [Stroked(row.transformed(move), "cut") for row in asked_rows(piece, asked)]
    near = box_of(drawn(piece.outline, move=move))
    about = (near.centre, *(line.chain.start for line in drawn(piece.outline, move=move)))
    return Stage(
        f"Rows through {name} and {beneath}",
        tuple(told),
        figure(lines, (), about, box_of(lines)),
    )


def _that_can_be(piece: Piece, design: Design) -> tuple[Topstitch, ...]:
    """What is asked for on a piece; rows that cannot be made are told where it is judged."""
    asked = [one for one in design.topstitching if one.piece == piece.name]
    return rows_that_can_be({piece.name: piece}, asked)[0]


def _lays(join: MeasuredJoin, piece: str) -> bool:
    """True for a join by which a piece is laid on a line drawn on another."""
    return any(one.piece == piece and one.ground is not None for one in join.a.stretches) and any(
        one.ground is None for one in join.b.stretches
    )


def _is_pocket(piece: str, design: Design) -> bool:
    """True for a patch with an edge that is finished for itself: its mouth."""
    return any(
        one.edge.piece == piece and one.how not in ("caught", "raw") for one in design.finishes
    )


def _asked_words(piece: Piece, asked: Sequence[Topstitch], say: Say) -> Iterator[str]:
    for one in asked:
        inside = ", ".join(say(row) for row in one.rows)
        along = _along_words(piece, one, say)
        yield f"On {piece.name}, topstitch at {inside} from the {edge_of_piece(one.along)}{along}."


def _along_words(piece: Piece, one: Topstitch, say: Say) -> str:
    """Between which places along their edge rows run; nothing where they run all along it."""
    if one.start <= 0.0 and one.end is None:
        return ""
    begins = start_words(piece.outline, one.along)
    ends = f"to {say(one.end)}" if one.end is not None else "to its other end"
    return f", along it from {say(max(one.start, 0.0))} {ends}, measured from {begins}"
