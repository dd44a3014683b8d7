"""Trousers without an opening are pulled on: their top passes the hips."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from studio import numbers
from studio.check.finding import Finding, GirthRow
from studio.design.body import Body
from studio.design.joins import Finish, Join

_SEEN_MM = 0.05


def waist_casings(finishes: Iterable[Finish]) -> list[Finish]:
    """The finishes by which the waist is a casing."""
    return [one for one in finishes if one.how == "casing" and one.edge.edge.endswith(".waist")]


def is_drawn_in(finishes: Iterable[Finish]) -> bool:
    """True when the waist is a casing: elastic or cord makes it as small as the body."""
    return bool(waist_casings(finishes))


def judge_pulled_on(
    body: Body | None,
    girths: Iterable[GirthRow],
    finishes: Sequence[Finish],
    joins: Sequence[Join],
    stretch: float = 0.0,
) -> list[Finding]:
    """A grave finding where the waist is a casing, both rises are sewn up to it, and the top edge
    is smaller than the hips; a cloth that stretches by `stretch` per cent may be as much smaller
    (practice).
    """
    if body is None or not is_drawn_in(finishes) or not _is_closed(joins):
        return []
    least = body.hip_girth / (1.0 + stretch / 100.0)
    return [
        Finding(
            "girth-small",
            "grave",
            row.name,
            f"There is no opening, and the top edge is {numbers.length(row.finished)} round: it is "
            f"pulled on over the hips, and at least {numbers.length(least)} is needed. Give up "
            "darts, let out the sides from the hip up, or add a fly.",
            row.finished,
            least,
            exact=(row.finished, least, *row.exact),
        )
        for row in girths
        if row.name.startswith("top edge") and row.finished < least - _SEEN_MM
    ]


def _is_closed(joins: Iterable[Join]) -> bool:
    """True when a seam of left with right sews the front's whole rise."""
    return any(
        ref.edge == "front.rise" and ref.before is None and ref.after is None
        for join in joins
        if join.a.mirrored != join.b.mirrored
        for ref in join.a.edges
        if ref in join.b.edges
    )
