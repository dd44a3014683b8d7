"""Loops spread round the waist: every one has a place there, and its place is marked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from studio.check.finding import Finding
from studio.design.joins import Finish, Join
from studio.design.pieces import PieceRecipe, StripPiece
from studio.memo import remembered
from studio.sew.loop_places import Placed, places_in_all
from studio.sew.loops import LoopKind, unspread

RULE = "loops"


def judge_loops(
    recipes: tuple[PieceRecipe, ...],
    joins: tuple[Join, ...],
    finishes: tuple[Finish, ...],
    placed: Mapping[str, Placed],
) -> list[Finding]:
    """A warning for loops of which not every one finds a place on its waist, and a note for belt
    loops whose places nobody has marked. `placed` is by the name of each join.
    """
    found = [
        Finding(
            RULE,
            "note",
            strip.name,
            f"Where {strip.name} goes on {caught.into} is not marked. Pick {strip.name} and have "
            "it spread round the waist: its places are then notched on the trousers and on the "
            "band.",
        )
        for strip, caught in _unspread(recipes, joins, finishes)
    ]
    told: set[str] = set()
    for one in placed.values():
        for finding in _without_place(one):
            if finding.where not in told:
                told.add(finding.where)
                found.append(finding)
    return found


def _without_place(placed: Placed) -> Iterator[Finding]:
    for at, kind in enumerate(placed.kinds):
        has = places_in_all(placed.places.get(kind.piece, ()))
        if has >= kind.count:
            continue
        join = placed.run[0].join.name
        if not placed.places:
            why = f"{join} does not run from the centre back to the centre front"
            do = "Mark them by eye, or sew the band on from centre to centre."
        elif kind.count - has == 1 and _is_odd_beside(kind, placed.kinds[:at]):
            why = f"the centre back belongs to {_odd(placed.kinds[:at])}"
            do = "Cut an even number of it, or set that one by eye."
        else:
            why = "the others leave no room for more"
            do = "Cut fewer or narrower loops, or set the rest by eye."
        yield Finding(
            RULE,
            "warning",
            kind.piece,
            f"{has} of the {kind.count} of {kind.piece} have a place on the waist: {why}. {do}",
            float(has),
            float(kind.count),
            "loops",
        )


def _is_odd_beside(kind: LoopKind, before: Iterable[LoopKind]) -> bool:
    return kind.count % 2 == 1 and bool(_odd(before))


def _odd(kinds: Iterable[LoopKind]) -> str:
    """The first kind that has a loop at the centre back; "" for none."""
    return next((one.piece for one in kinds if one.count % 2), "")


def _unspread_of(
    recipes: tuple[PieceRecipe, ...], joins: tuple[Join, ...], finishes: tuple[Finish, ...]
) -> tuple[tuple[StripPiece, Finish], ...]:
    return tuple(unspread(recipes, joins, finishes))


_unspread = remembered(_unspread_of, 4)
"""Asked again whenever the waist is another: a dragged line moves none of what it reads."""
