"""A finished edge, or several finished in one round, as a step of the work sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set

from studio.alter.kind import Say
from studio.design.joins import Finish, JoinSide
from studio.exchange.along import Stage
from studio.exchange.work_sheet_figures import edge_figure, shut_by
from studio.exchange.work_sheet_words import capital, in_all, side_words
from studio.sew import SewnPiece
from studio.sew.allowance import finish_allowance, finish_rows
from studio.sew.constructions import finished
from studio.sew.edge_words import edge_of_piece


def finish_stage(
    finishes: Sequence[Finish],
    pieces: Mapping[str, SewnPiece],
    standard: float,
    more: Sequence[str],
    why: Sequence[str],
    done: Set[str],
    say: Say,
) -> Stage:
    """An edge that is finished, or edges that are finished in one round; `more` is told of it
    beside how it is made.
    """
    finish = finishes[0]
    kind = finished(finish)
    allowance = finish_allowance(finish, standard)
    wide = f"{say(allowance)} in all" if allowance > 0.0 else "the edge has no allowance"
    high = f" {say(kind.turn_up)} high" if kind.turn_up > 0.0 else ""
    named = side_words(JoinSide(tuple(one.edge for one in finishes)))
    title, on = f"Finish {named}", ""
    if len(finishes) > 2 and len({edge_of_piece(one.edge.edge) for one in finishes}) == 1:
        title, on = f"Finish the {edge_of_piece(finish.edge.edge)}", f": {named}"
    sentences = [f"{kind.title}{high}, {wide}; {_how_often(finishes, pieces)}{on}."]
    if kind.words:
        sentences.append(kind.words)
    rows = finish_rows(finish, standard)
    if rows:
        sentences.append(f"Stitch at {', '.join(map(say, rows))} from the edge.")
    sentences += more
    sentences += [f"Why now: {capital(reason)}" for reason in why[:2]]
    shown = [
        (pieces[one.edge.piece].piece, one.edge.edge)
        for one in finishes
        if one.edge.piece in pieces
    ]
    drawing = edge_figure(shown, shut_by(done, pieces)) if shown else None
    return Stage(title, tuple(sentences), drawing)


def _how_often(finishes: Sequence[Finish], pieces: Mapping[str, SewnPiece]) -> str:
    counts = {pieces[one.edge.piece].piece.quantity for one in finishes if one.edge.piece in pieces}
    if len(finishes) > 1:
        if all(one.edge.edge.endswith(".waist") for one in finishes):
            return "all round, once"
        return "all round, once a leg" if counts == {2} else "in one round"
    return in_all(min(counts, default=1))
