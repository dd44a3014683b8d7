"""The seam ledger: what each join's two sides measure, and whether they match."""

from __future__ import annotations

from typing import Literal

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
    return _row(wanted, join.a.length, join.b.length, verdict)


def broken_row(join: Join) -> LedgerRow:
    """The row of a join of which a side could not be found."""
    return _row(join, 0.0, 0.0, "broken")


def judge_row(row: LedgerRow) -> Finding | None:
    """A finding when the sides of a join do not match."""
    if row.verdict not in ("long", "short"):
        return None
    over = row.difference - row.ease
    longer, shorter = (row.edges_b, row.edges_a) if over > 0.0 else (row.edges_a, row.edges_b)
    return Finding(
        RULE,
        "grave",
        row.name,
        f"The sides of {row.name} differ by {abs(over):.1f} mm more than meant: "
        f"{' + '.join(longer)} is longer than {' + '.join(shorter)}. "
        "Move a line's end, or set the ease if it is meant.",
        abs(over),
        row.allowed,
    )


def _row(join: Join, length_a: float, length_b: float, verdict: Verdict) -> LedgerRow:
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
    )
