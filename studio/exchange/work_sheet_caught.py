"""What is caught in a seam, and where along it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from studio.alter.kind import Say
from studio.design.design import Design
from studio.design.joins import Finish, JoinSide
from studio.exchange.work_sheet_figures import START
from studio.exchange.work_sheet_loops import folded_strips
from studio.exchange.work_sheet_words import side_words
from studio.sew import SewnPiece
from studio.sew.legs import is_other_leg
from studio.sew.loop_places import Placed
from studio.sew.sewn import MeasuredJoin
from studio.sew.thread import times_sewn


def caught_words(
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    placed: Placed | None,
    say: Say,
) -> Iterable[str]:
    """What is caught in a join, and where; of what is cut as a pair, in the same seam of the other
    leg too.
    """
    asked = join.join
    others = {one.name for one in design.joins if is_other_leg(one, asked)}
    once = times_sewn(join, pieces) == 2
    loops = folded_strips(design)
    told: set[str] = set()
    for finish in design.finishes:
        name = finish.edge.piece
        if not _is_caught(finish, join, others, placed):
            continue
        both = name in loops or (name in pieces and pieces[name].piece.cut == "pair")
        leg = _leg_of(name, design) if others else None
        if not both and (finish.into != asked.name if leg is None else leg != asked.a.mirrored):
            continue
        if name in loops:
            notched = placed is not None and placed.within(join, name)
            said = f"the lower ends of {name}{' at their notches' if notched else ''}"
        elif finish.at is not None:
            where = finish.at if finish.at >= 0.0 else join.a.length + finish.at
            said = f"both ends of {name} at {say(where)} from {START}"
            if once and name in pieces and pieces[name].piece.quantity == 1:
                said += ", on one leg only"
        else:
            said = side_words(JoinSide((finish.edge,)))
            if once and not both:
                said += ", on its own leg only"
        if said not in told:
            told.add(said)
            yield said


def _is_caught(finish: Finish, join: MeasuredJoin, others: set[str], placed: Placed | None) -> bool:
    """True for what is caught in a join or in that of the other leg; of loops that are spread round
    a waist, where some lie in this part of it.
    """
    piece = finish.edge.piece
    if finish.how != "caught":
        return False
    if placed is not None and placed.places.get(piece):
        return bool(placed.within(join, piece))
    return finish.into in {join.join.name, *others}


def _leg_of(piece: str, design: Design) -> bool | None:
    """Whether a piece that is cut once is sewn to the other leg; None where no seam tells."""
    for join in design.joins:
        mine = {ref.piece for ref in join.b.edges}
        if mine == {piece} and all(ref.piece != piece for ref in join.a.edges):
            return join.a.mirrored
    return None
