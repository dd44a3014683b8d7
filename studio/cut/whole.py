"""What was one piece before a seam divided it: for rules that ask after the whole."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from msgspec.structs import replace

from studio.design.joins import Join
from studio.design.pieces import PanelPiece, PieceRecipe, StripPiece


def whole_of(
    recipe: PanelPiece, pieces: Iterable[PieceRecipe], seams: Collection[str]
) -> PanelPiece:
    """The piece before it was divided: without the last bounds that are `seams` and of which
    another piece, bounded alike otherwise, has the other side. The name stays.
    """
    others = [one for one in pieces if isinstance(one, PanelPiece) and one.panel == recipe.panel]
    whole = recipe
    while whole.bounds and whole.bounds[-1].line in seams and _is_shared(whole, others):
        whole = replace(whole, bounds=whole.bounds[:-1])
    return whole


def strip_lengths(pieces: Iterable[PieceRecipe], joins: Iterable[Join]) -> dict[str, float]:
    """Length of every strip, mm, with what is sewn on to its end, under the shortest of the names
    of its parts; but for one that is as long as a seam.
    """
    strips = {one.name: one for one in pieces if isinstance(one, StripPiece)}
    after = dict(_sewn_on(strips, joins))
    lengths = {}
    for name in strips:
        if name in after.values():
            continue
        parts = [name]
        while parts[-1] in after and after[parts[-1]] not in parts:
            parts.append(after[parts[-1]])
        if not any(strips[part].fits for part in parts):
            lengths[min(parts, key=len)] = sum(strips[part].length for part in parts)
    return lengths


def _sewn_on(strips: dict[str, StripPiece], joins: Iterable[Join]) -> Iterator[tuple[str, str]]:
    """Each strip whose end is sewn to another's start, with that other."""
    for join in joins:
        refs = [*join.a.edges, *join.b.edges]
        if len(refs) != 2 or any(ref.piece not in strips for ref in refs):
            continue
        for one, two in (refs, refs[::-1]):
            if one.edge == f"{one.piece}.end" and two.edge == f"{two.piece}.start":
                yield one.piece, two.piece


def _is_shared(recipe: PanelPiece, others: Iterable[PanelPiece]) -> bool:
    """True when another piece is what lies beyond the last bound, or is part of that."""
    *before, last = recipe.bounds
    count = len(recipe.bounds)
    return any(
        other.bounds[: count - 1] == tuple(before)
        and len(other.bounds) >= count
        and other.bounds[count - 1].line == last.line
        and other.bounds[count - 1].keep != last.keep
        and other.close_darts == recipe.close_darts
        for other in others
    )
