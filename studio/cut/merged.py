"""Two pieces that a seam line cut from one, made one again."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from msgspec.structs import replace

from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, JoinSide
from studio.design.pieces import Bound, PanelPiece
from studio.design.step_names import renamed_step
from studio.design.topstitch import Topstitch
from studio.errors import BadInput

_Some = TypeVar("_Some")


def merged(design: Design, line: str) -> Design:
    """The design in which the two pieces along a seam line are the first of them, with the lines
    that bound either; seams, finishes, rows and corners of the second are the first's. What was
    laid on cloth of either is taken back; the seam between them still names both of its sides.

    Raises:
        BadInput: the line bounds a band, or not one piece on each of its sides.
    """
    first, second = _on_its_sides(design, line)
    names = {first.name, second.name}

    def of(piece: str) -> str:
        return first.name if piece == second.name else piece

    def ref(old: EdgeRef) -> EdgeRef:
        return replace(old, piece=of(old.piece))

    def side(old: JoinSide) -> JoinSide:
        edges = once(ref(one) for one in old.edges)
        return old if edges == old.edges else replace(old, edges=edges)

    def named(parts: Iterable[_Some], alike: Callable[[_Some], object]) -> tuple[_Some, ...]:
        """Those of both pieces as the first's, one of those that are alike."""
        return tuple({alike(one): one for one in reversed(list(parts))}.values())[::-1]

    def of_first(one: _Some) -> _Some:
        return replace(one, piece=first.name) if one.piece == second.name else one  # type: ignore[attr-defined,type-var]

    finishes = once(_finish(one, ref) for one in design.finishes)
    steps = {one.step: _finish(one, ref).step for one in design.finishes}
    return replace(
        design,
        pieces=tuple(
            _whole(first, second, line) if one is first else one
            for one in design.pieces
            if one is not second
        ),
        joins=tuple(replace(join, a=side(join.a), b=side(join.b)) for join in design.joins),
        finishes=finishes,
        sewing=once(renamed_step(steps.get(wish, wish), of) for wish in design.sewing),
        topstitching=_rows(design.topstitching, first.name, second.name),
        corners=named((of_first(one) for one in design.corners), lambda o: (o.piece, o.before)),
        cutting=named((of_first(one) for one in design.cutting), lambda o: o.piece),
        shortages=tuple(one for one in design.shortages if one.piece not in names),
        lay=replace(
            design.lay,
            placements=tuple(p for p in design.lay.placements if p.piece not in names),
        ),
        accepted=tuple(one for one in design.accepted if one.where not in names),
    )


def _on_its_sides(design: Design, line: str) -> tuple[PanelPiece, PanelPiece]:
    """The two pieces along a seam line, in the order of the design; raises as `merged` does."""
    pieces = [one for one in design.pieces if isinstance(one, PanelPiece) and _bounds(one, line)]
    sides = {bound.keep for one in pieces for bound in one.bounds if bound.line == line}
    if len(pieces) != 2 or len(sides) != 2:
        raise BadInput(
            "Not one piece lies on each side of it: take away first what else it bounds.",
            where=line,
        )
    if any(one.below == line or one.ends is not None or one.over for one in pieces):
        raise BadInput("A band is cut off along it: take the band away.", where=line)
    first, second = pieces
    return first, second


def _bounds(piece: PanelPiece, line: str) -> bool:
    return any(bound.line == line for bound in piece.bounds)


def _whole(first: PanelPiece, second: PanelPiece, line: str) -> PanelPiece:
    """The first with the bounds and marks of both. A dart whose top was shut is open again, unless
    both are parts of what is cut with its darts shut.
    """
    bounds: tuple[Bound, ...] = once(
        bound for piece in (first, second) for bound in piece.bounds if bound.line != line
    )
    was_yoke = first.close_darts != second.close_darts
    return replace(
        first,
        bounds=bounds,
        marks=once((*first.marks, *second.marks)),
        close_darts=first.close_darts and second.close_darts,
        rest_at="none" if was_yoke or not bounds else first.rest_at,
    )


def _rows(asked: tuple[Topstitch, ...], first: str, second: str) -> tuple[Topstitch, ...]:
    """Rows of two pieces as the first's; those that both have run all along again."""
    of_each = ({_of_row(one) for one in asked if one.piece == name} for name in (first, second))
    shared = set.intersection(*of_each)
    found = []
    for one in asked:
        if one.piece in (first, second):
            one = replace(one, piece=first)
            one = replace(one, start=0.0, end=None) if _of_row(one) in shared else one
        found.append(one)
    return once(found)


def _of_row(row: Topstitch) -> object:
    """What a row that was divided with the piece has alike on both parts."""
    return row.along, row.rows, row.through


def _finish(finish: Finish, ref: Callable[[EdgeRef], EdgeRef]) -> Finish:
    return replace(finish, edge=ref(finish.edge))


def once(values: Iterable[_Some]) -> tuple[_Some, ...]:
    """Each of the values once, where it comes first."""
    return tuple(dict.fromkeys(values))
