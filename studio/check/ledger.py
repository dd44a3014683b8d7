"""The seam ledger: what each join's two sides measure, and whether they match."""

from __future__ import annotations

from typing import Literal

from studio import numbers
from studio.check.finding import Finding, LedgerRow
from studio.design.joins import Join
from studio.sew.sewn import MeasuredJoin

RULE = "seam-length"

Verdict = Literal["match", "long", "short", "broken"]


def ledger_row(join: MeasuredJoin) -> LedgerRow:
    """A measured join as a row. Sides match when side b less side a is the ease, within what is
    allowed (usually 1 mm: common practice, a maker's home standard, no source).
    """
    wanted = join.join
    over = join.difference - wanted.ease
    verdict: Verdict = "match"
    if abs(over) > wanted.allowed:
        verdict = "long" if over > 0.0 else "short"
    laid = join.b.stretches
    is_laid = bool(laid) and all(one.ground is None for one in laid)
    return _row(wanted, join.a.length, join.b.length, verdict, is_laid)


def broken_row(join: Join) -> LedgerRow:
    """The row of a join of which a side could not be found."""
    return _row(join, 0.0, 0.0, "broken")


def judge_row(row: LedgerRow) -> Finding | None:
    """A finding when the sides of a join do not match."""
    if row.verdict not in ("long", "short"):
        return None
    over = row.difference - row.ease
    first, second = _side_names(row)
    if row.is_laid and over < 0.0:
        words = (
            f"{first} does not lie whole on {second}: a seam cuts off {numbers.length(-over)} of "
            "the line it is laid along. Move it, or that seam, until they are clear of each other."
        )
    else:
        longer, shorter = (second, first) if over > 0.0 else (first, second)
        words = (
            f"The sides of {row.name} differ by {numbers.length(abs(over))} more than meant: "
            f"{longer} is longer than {shorter}. "
            "Move a line's end; true the edge, or spread it, by a step; or set the ease if it is "
            "meant."
        )
    return Finding(RULE, "grave", row.name, words, abs(over), row.allowed)


def _side_names(row: LedgerRow) -> tuple[str, str]:
    """What the sides are called: an edge by its name, several by their pieces unless these are the
    same on both sides.
    """
    sides = (row.edges_a, row.edges_b)
    pieces = [tuple(dict.fromkeys(edge.partition(":")[0] for edge in side)) for side in sides]
    by_piece = not set(pieces[0]) & set(pieces[1])
    first, second = (
        " with ".join(of) if by_piece and len(side) > 1 else " + ".join(side)
        for side, of in zip(sides, pieces, strict=True)
    )
    return first, second


def _row(
    join: Join, length_a: float, length_b: float, verdict: Verdict, is_laid: bool = False
) -> LedgerRow:
    return LedgerRow(
        join.name,
        tuple(ref.text for ref in join.a.edges),
        tuple(ref.text for ref in join.b.edges),
        length_a,
        length_b,
        length_b - length_a,
        join.ease,
        join.allowed,
        verdict,
        is_laid,
    )
