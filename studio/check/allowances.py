"""Allowances that do not suit each other: an edge two joins ask differently, a felled seam whose
sides do not fit.
"""

from __future__ import annotations

from studio import numbers
from studio.check.finding import Finding
from studio.sew.allowance import AllowanceRules, asked_sides

_SAME_MM = 1e-6


def judge_allowances(
    rules: AllowanceRules,
) -> tuple[Finding, ...]:
    """A warning where an edge is cut with another allowance than a join's construction asks of it;
    not where its pattern bears the narrower line as well, which a join of left with right brings.
    """
    widths, narrower = rules.widths, rules.narrower
    found = []
    for join in rules.joins:
        both_lines = {(r.piece, r.edge) for r in join.a.edges} & {
            (r.piece, r.edge) for r in join.b.edges
        }
        for side, width in asked_sides(join, rules.standard):
            for ref in side.edges:
                key = (ref.piece, ref.edge)
                cut = widths.get(key)
                if cut is None or key in both_lines or abs(cut - width) <= _SAME_MM:
                    continue
                if abs(narrower.get(key, cut) - width) <= _SAME_MM:
                    continue
                found.append(
                    Finding(
                        "allowance",
                        "warning",
                        join.name,
                        f"{join.name} asks {numbers.length(width)} at {ref.text}, but it is cut "
                        f"with {numbers.length(cut)}: sew both seams there "
                        "alike, or trim it when this one is sewn.",
                        cut,
                        width,
                    )
                )
    return tuple(found)
