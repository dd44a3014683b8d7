"""Which loops are spread round the waist, and by which seams they are caught there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from studio.design.joins import Finish, Join
from studio.design.pieces import PanelPiece, PieceRecipe, StripPiece
from studio.memo import Made
from studio.sew.legs import is_other_leg


class LoopKind(Made, frozen=True):
    """Loops of one piece that are spread: how many all round, and how wide each is when folded,
    mm.
    """

    piece: str
    count: int
    wide: float


class Waist(Made, frozen=True):
    """The joins that sew one half of a waist, from the centre back to the centre front, and the
    kinds of loops that are spread round it, in the order in which they take their places.
    """

    run: tuple[Join, ...]
    kinds: tuple[LoopKind, ...]


def waists_of(
    recipes: tuple[PieceRecipe, ...], joins: tuple[Join, ...], finishes: tuple[Finish, ...]
) -> dict[str, Waist]:
    """Every join that sews a part of a waist with loops spread round it, with that waist.

    What is caught in one join of a waist is caught in all of it, and in the same of the other leg.
    """
    by_name = {join.name: join for join in joins}
    panels = {one.name: one.panel for one in recipes if isinstance(one, PanelPiece)}
    below = _lower_edges(recipes)
    strips = {one.name: one for one in recipes if isinstance(one, StripPiece)}
    found: dict[str, Waist] = {}
    for finish in finishes:
        if not finish.spread or finish.into not in by_name:
            continue
        strip = strips.get(finish.edge.piece)
        wide = strip.width / max(strip.folded, 1) if strip is not None else 0.0
        kind = LoopKind(finish.edge.piece, finish.spread, wide)
        for run in _runs(by_name[finish.into], joins, panels, below):
            known = found[run[0].name].kinds if run[0].name in found else ()
            if all(one.piece != kind.piece for one in known):
                made = Waist(run, (*known, kind))
                found.update({join.name: made for join in run})
    return found


def unspread(
    recipes: Sequence[PieceRecipe], joins: Sequence[Join], finishes: Sequence[Finish]
) -> Iterator[tuple[StripPiece, Finish]]:
    """Belt loops that are caught in a waist without being told where, each with the edge by which
    they are: an older version of the program left their places to the eye.
    """
    strips = {one.name: one for one in recipes if isinstance(one, StripPiece)}
    below = _lower_edges(recipes)
    known = {join.name for join in joins if _height(join, below)}
    ends: dict[str, list[Finish]] = {}
    for one in finishes:
        if one.how == "caught" and one.into in known:
            ends.setdefault(one.edge.piece, []).append(one)
    for name, caught in ends.items():
        strip = strips.get(name)
        named = {one.edge.edge for one in caught}
        if strip is None or strip.folded < 3 or named != {f"{name}.start", f"{name}.end"}:
            continue
        if all(one.at is None and not one.spread for one in caught):
            yield strip, next(one for one in caught if one.edge.edge == f"{name}.start")


def may_be_spread(
    piece: str,
    recipes: Sequence[PieceRecipe],
    joins: Sequence[Join],
    finishes: Sequence[Finish],
) -> bool | None:
    """Whether loops of a piece are spread round a waist now; None for a piece that cannot be."""
    if any(one.spread and one.edge.piece == piece for one in finishes):
        return True
    return (
        False if any(one.name == piece for one, _ in unspread(recipes, joins, finishes)) else None
    )


def _runs(
    named: Join, joins: Sequence[Join], panels: dict[str, str], below: frozenset[str]
) -> Iterator[tuple[Join, ...]]:
    """The joins of the half that a join belongs to, and those of the other leg."""
    told: set[str] = set()
    own = _run(named, joins, panels, below)
    for one in (*own, *(join for join in joins if any(is_other_leg(join, at) for at in own))):
        if one.name not in told:
            run = _run(one, joins, panels, below)
            told.update(join.name for join in run)
            yield run


def _run(
    named: Join, joins: Sequence[Join], panels: dict[str, str], below: frozenset[str]
) -> tuple[Join, ...]:
    """A join, and where it sews front or back alone, the one that sews the other at that height."""
    height, here = _height(named, below), _panels(named, panels)
    if not height or here not in ({"back"}, {"front"}):
        return (named,)
    other = {"front" if here == {"back"} else "back"}
    for join in joins:
        alike = join.a.mirrored == named.a.mirrored and _height(join, below) == height
        if alike and _panels(join, panels) == other:
            return (named, join) if here == {"back"} else (join, named)
    return (named,)


def _lower_edges(recipes: Sequence[PieceRecipe]) -> frozenset[str]:
    """The lower edges of bands that are cut off the top."""
    return frozenset(one.below for one in recipes if isinstance(one, PanelPiece) and one.below)


def _height(join: Join, below: frozenset[str]) -> str:
    """Whether the first side of a join runs along the lower edge of a band that is cut off the top,
    or along the waist itself; "" for neither.
    """
    edges = {ref.edge for ref in join.a.edges}
    if edges <= below:
        return "below the band"
    return "waist" if edges <= {"front.waist", "back.waist"} else ""


def _panels(join: Join, panels: dict[str, str]) -> set[str]:
    return {panels.get(ref.piece, "") for ref in join.a.edges}
