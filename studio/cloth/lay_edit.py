"""A lay with one piece laid, taken off, or locked: pure edits."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from studio.design.cloth import Lay, Placement


def with_placement(lay: Lay, placement: Placement) -> Lay:
    """With a copy of a piece laid, or laid elsewhere; it keeps its place in the list."""
    key = placement.piece, placement.copy
    if all((one.piece, one.copy) != key for one in lay.placements):
        return replace(lay, placements=(*lay.placements, placement))
    kept = tuple(placement if (one.piece, one.copy) == key else one for one in lay.placements)
    return replace(lay, placements=kept)


def without_placement(lay: Lay, piece: str, copy: int) -> Lay:
    """With a copy taken off the cloth."""
    kept = tuple(one for one in lay.placements if (one.piece, one.copy) != (piece, copy))
    return replace(lay, placements=kept)


def with_locks(lay: Lay, keys: Iterable[tuple[str, int]], locked: bool) -> Lay:
    """With copies locked where they lie, or free again."""
    wanted = set(keys)
    return replace(
        lay,
        placements=tuple(
            replace(one, locked=locked) if (one.piece, one.copy) in wanted else one
            for one in lay.placements
        ),
    )


def placement_of(lay: Lay, piece: str, copy: int) -> Placement | None:
    """Where a copy lies; None when it lies nowhere."""
    key = piece, copy
    return next((one for one in lay.placements if (one.piece, one.copy) == key), None)
