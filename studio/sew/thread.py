"""How much thread a pair takes, by the length of every row and the stitch it is sewn with.

Thread used per unit of seam by stitch type of ISO 4915:1991, from thread makers' stitch guides
(handbook): lockstitch 301 2.5, zigzag 304 5.5, two-thread chainstitch 401 5.5. Waste is 10 to 15
per cent (handbook); the greater is taken.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from studio.block.panel import Dart
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.legs import is_centre
from studio.sew.sewn import MeasuredJoin, SewnPiece

RATIOS = {"301": 2.5, "304": 5.5, "401": 5.5}
"""Thread per unit of seam, needle and under thread together."""

WASTE = 0.15


class ThreadRow(msgspec.Struct, frozen=True):
    """What one construction takes: mm of seam in the whole pair, the stitch, mm of thread with
    waste.
    """

    what: str
    stitch: str
    seam: float
    thread: float


def times_sewn(join: MeasuredJoin, pieces: Mapping[str, SewnPiece]) -> int:
    """How often a join is sewn in a pair: once a leg when all its pieces are cut as pairs and it
    does not join left with right.
    """
    paired = all(pieces[name].piece.cut == "pair" for name in join.pieces)
    return 2 if paired and not is_centre(join.join) else 1


def thread_rows(
    joins: Iterable[MeasuredJoin], pieces: Mapping[str, SewnPiece], in_ditch: float = 0.0
) -> tuple[ThreadRow, ...]:
    """Seams by construction, darts among the plain ones, then topstitching; their sum is the thread
    of the pair. `in_ditch` are rows, mm in all, that no piece bears because they lie in a seam.
    """
    seams: dict[tuple[str, str], float] = {}
    for join in joins:
        kind = CONSTRUCTIONS[join.join.construction]
        # A lapped edge is held by its rows alone.
        if kind.is_notched:
            key = kind.title, kind.stitch
            length = max(join.a.length, join.b.length) * times_sewn(join, pieces)
            seams[key] = seams.get(key, 0.0) + length
    legs = sum(
        _sewn_leg(dart) * sewn.piece.quantity
        for sewn in pieces.values()
        for dart in sewn.piece.darts
    )
    if legs:
        plain = CONSTRUCTIONS["plain"]
        key = plain.title, plain.stitch
        seams[key] = seams.get(key, 0.0) + legs
    rows = sum(row.length * sewn.piece.quantity for sewn in pieces.values() for row in sewn.rows)
    if rows:
        seams["Topstitching and hems", "301"] = rows
    if in_ditch:
        seams["In the ditch", "301"] = in_ditch
    return tuple(
        ThreadRow(what, stitch, length, length * RATIOS[stitch] * (1.0 + WASTE))
        for (what, stitch), length in seams.items()
    )


def _sewn_leg(dart: Dart) -> float:
    """How far a dart is sewn, mm; a pleat only so far as its maker says."""
    return dart.point.distance_to(dart.first) if dart.pleat is None else dart.pleat.down
