"""Which allowance each edge gets, from the joins it takes part in and how it is finished."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import field

from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.memo import Made
from studio.sew.constructions import CONSTRUCTIONS, finished


def sides_allowance(join: Join, standard: float) -> tuple[float, float]:
    """Allowance of side a and side b in mm, as the join's construction has them."""
    return CONSTRUCTIONS[join.construction].allowances(standard, join.wraps)


def asked_sides(join: Join, standard: float) -> list[tuple[JoinSide, float]]:
    """The sides of which a join asks an allowance, with its width in mm: both, but for one that
    lies over a seam sewn before.
    """
    sides = list(zip((join.a, join.b), sides_allowance(join, standard), strict=True))
    return sides[:1] if CONSTRUCTIONS[join.construction].lies_over else sides


def sides_rows(join: Join, standard: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Distances of topstitching inside side a and side b, mm: as the join's construction has them,
    or those the maker has set, on the side that the construction stitches.
    """
    brought = CONSTRUCTIONS[join.construction].rows(standard, join.wraps)
    if join.rows is not None:
        return ((), join.rows) if brought and brought[0].side == "b" else (join.rows, ())
    on_a, on_b = (tuple(row.inward for row in brought if row.side == side) for side in ("a", "b"))
    return on_a, on_b


def finish_rows(finish: Finish, standard: float) -> tuple[float, ...]:
    """Distances of topstitching inside a free edge, mm: as set, else what is usual."""
    if finish.rows is not None:
        return finish.rows
    return finished(finish).rows(finish_allowance(finish, standard))


def finish_allowance(finish: Finish, standard: float) -> float:
    """Allowance of a free edge in mm: as set, else what is usual for its finish."""
    if finish.allowance is not None:
        return finish.allowance
    return finished(finish).allowance(standard)


class AllowanceRules(Made, frozen=True):
    """What joins and finishes ask of each edge: widths in mm by (piece, edge), the widest where
    several joins ask; which edges turn up as a hem; the standard for edges nothing speaks of;
    distances of topstitching inside an edge, mm; the narrower width of an edge that a seam of left
    with right asks two of; how high edges with a turn-up stand, mm.
    """

    widths: dict[tuple[str, str], float]
    hems: frozenset[tuple[str, str]]
    standard: float
    rows: dict[tuple[str, str], tuple[float, ...]] = field(default_factory=dict)
    narrower: dict[tuple[str, str], float] = field(default_factory=dict)
    joins: tuple[Join, ...] = ()
    finishes: tuple[Finish, ...] = ()
    turn_ups: dict[tuple[str, str], float] = field(default_factory=dict)


def allowance_rules(
    joins: Sequence[Join], finishes: Sequence[Finish], standard: float
) -> AllowanceRules:
    """The rules of a design; `standard` is the maker's single allowance in mm."""
    widths: dict[tuple[str, str], float] = {}

    def ask(ref: EdgeRef, width: float) -> None:
        key = (ref.piece, ref.edge)
        widths[key] = max(widths.get(key, 0.0), width)

    for join in joins:
        for side, width in asked_sides(join, standard):
            for ref in side.edges:
                ask(ref, width)
    for finish in finishes:
        ask(finish.edge, finish_allowance(finish, standard))
    folded = [finish for finish in finishes if finished(finish).folds_up]
    hems = frozenset((finish.edge.piece, finish.edge.edge) for finish in folded)
    turn_ups = {
        (finish.edge.piece, finish.edge.edge): high
        for finish in folded
        if (high := finished(finish).turn_up) > 0.0
    }
    rows = _rows(joins, finishes, standard)
    both = _narrower(joins, standard)
    return AllowanceRules(
        widths, hems, standard, rows, both, tuple(joins), tuple(finishes), turn_ups
    )


def _narrower(joins: Sequence[Join], standard: float) -> dict[tuple[str, str], float]:
    found: dict[tuple[str, str], float] = {}
    for join in joins:
        a, b = ({(ref.piece, ref.edge) for ref in side.edges} for side in (join.a, join.b))
        one, two = sides_allowance(join, standard)
        if join.a.mirrored != join.b.mirrored and one != two:
            found |= dict.fromkeys(a & b, min(one, two))
    return found


def _rows(
    joins: Sequence[Join], finishes: Sequence[Finish], standard: float
) -> dict[tuple[str, str], tuple[float, ...]]:
    """Rows that constructions bring or the maker has set, by (piece, edge), each once."""
    found: dict[tuple[str, str], tuple[float, ...]] = {}

    def add(ref: EdgeRef, rows: tuple[float, ...]) -> None:
        key = (ref.piece, ref.edge)
        found[key] = tuple(sorted({*found.get(key, ()), *rows}))

    for join in joins:
        for side, rows in zip((join.a, join.b), sides_rows(join, standard), strict=True):
            for ref in side.edges if rows else ():
                if not (ref.before or ref.after):
                    add(ref, rows)
    for finish in finishes:
        add(finish.edge, finish_rows(finish, standard))
    return found
