"""Loops spread round the waist: as far from each other as can be, clear of seams and pockets."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import msgspec

from studio.memo import remembered
from studio.sew.ease import partner_on_a
from studio.sew.loops import LoopKind, Waist
from studio.sew.notches import CLEAR_OF_ENDS, line_ends
from studio.sew.sewn import MeasuredJoin, MeasuredSide


class Placed(msgspec.Struct, frozen=True):
    """The joins of one half of a waist, from the back, the kinds of loops spread round it, and
    where those of each piece lie, mm from the centre back.
    """

    run: tuple[MeasuredJoin, ...]
    kinds: tuple[LoopKind, ...]
    places: dict[str, tuple[float, ...]]

    def begins(self, join: MeasuredJoin) -> float:
        """Where a join of the run begins, mm from the centre back."""
        return _passed(join, self.run)

    def within(self, join: MeasuredJoin, piece: str) -> tuple[float, ...]:
        """Those of a piece in one join of the run, mm from the centre back; one right there is
        in the join that begins there.
        """
        passed = _passed(join, self.run)
        end = passed + join.a.length
        of_piece = self.places.get(piece, ())
        return tuple([mm for mm in of_piece if passed < mm <= end or mm == passed == 0.0])


class _Taken(msgspec.Struct, frozen=True):
    """A place mm from the centre back that is taken, and how far from it a loop stays."""

    at: float
    apart: float


def placed(waists: Mapping[str, Waist], joins: Mapping[str, MeasuredJoin]) -> dict[str, Placed]:
    """Loops of every waist of which all joins could be measured, by the name of each join."""
    found: dict[str, Placed] = {}
    for name, waist in waists.items():
        if name not in found and all(one.name in joins for one in waist.run):
            run = tuple([joins[one.name] for one in waist.run])
            here = Placed(run, waist.kinds, places_round(run, waist.kinds))
            found.update({one.name: here for one in waist.run})
    return found


def spread_round(
    run: Sequence[MeasuredJoin], kinds: Sequence[LoopKind]
) -> dict[str, tuple[float, ...]]:
    """Where loops of every kind are caught in one half of a waist, mm from the centre back along
    its sewing line, by the name of their piece. `run` are the joins that sew that half, from the
    back.

    Every kind stands evenly all round, an odd one at the centre back, and alike on both halves; one
    that would come to lie on a seam or a dart, at a pocket's end or on another loop is moved clear
    of it (common practice, no source). A loop for which no place is left has none. So has the odd
    one of a second odd kind: alike on both halves, places come in twos but for one at the centre
    back, for none is set at the centre front. None at all where the joins do not run from centre to
    centre.
    """
    panels = {one.ground.panel for join in run for one in join.a.stretches if one.ground}
    half = sum(join.a.length for join in run)
    if not {"front", "back"} <= panels or half < 1.0:
        return {}
    seams = [_Taken(at, CLEAR_OF_ENDS) for at in _taken(run)]
    placed: list[tuple[float, float]] = []
    found = {}
    for kind in kinds:
        twin = _Taken(0.0, (kind.wide + CLEAR_OF_ENDS) / 2.0)
        others = [_Taken(at, (wide + kind.wide) / 2.0 + CLEAR_OF_ENDS) for at, wide in placed]
        here: list[float] = []
        for wanted in _evenly(half, kind.count):
            own = [_Taken(at, kind.wide + CLEAR_OF_ENDS) for at in here]
            beside = [*others, *own, *([twin] if wanted > 0.0 else [])]
            place = _clear(wanted, seams, beside, half)
            here += [] if place is None else [place]
        found[kind.piece] = tuple(here)
        placed += [(place, kind.wide) for place in here]
    return found


def places_in(
    join: MeasuredJoin, run: Sequence[MeasuredJoin], from_centre_back: Sequence[float]
) -> tuple[float, ...]:
    """Those of the places that lie in one join of the run, mm along its side a; one at the centre
    back, where a seam stands, is not among them.
    """
    passed = _passed(join, run)
    inside = [mm - passed for mm in from_centre_back if passed < mm <= passed + join.a.length]
    return tuple([from_back(join, mm) for mm in inside if mm > 0.0])


def from_back(join: MeasuredJoin, along: float) -> float:
    """Mm along side a as such from its end nearer the centre back, or the other way round."""
    return along if _begins_nearer_back(join) else join.a.length - along


def places_in_all(from_centre_back: Sequence[float]) -> int:
    """How many places both halves have together."""
    return sum(2 if mm > 0.0 else 1 for mm in from_centre_back)


def _begins_nearer_back(join: MeasuredJoin) -> bool:
    """True when side a runs from the back to the front; of one panel alone the edges beside its
    ends tell.
    """
    first, last = join.a.stretches[0].ground, join.a.stretches[-1].ground
    if first is None or last is None:
        return False
    if first.panel != last.panel:
        return first.panel == "back"
    nearer, farther = ("rise", "side") if first.panel == "back" else ("side", "rise")
    before, after = (1, 0) if join.join.a.mirrored else (0, 1)
    return (
        first.beside[before] == f"{first.panel}.{nearer}"
        or last.beside[after] == f"{last.panel}.{farther}"
    )


def _passed(join: MeasuredJoin, run: Sequence[MeasuredJoin]) -> float:
    """What of the run is sewn before a join, mm from the centre back."""
    passed = 0.0
    for one in run:
        if one.join.name == join.join.name:
            break
        passed += one.a.length
    return passed


def _taken(run: Sequence[MeasuredJoin]) -> list[float]:
    """Where seams, darts, pockets and a fly end on either side, mm from the centre back."""
    found = []
    for join in run:
        passed = _passed(join, run)
        on_b = [*join.b.joints(), *_darts(join.b)]
        of_b = (partner_on_a(join.join, join.a.length, join.b.length, at) for at in on_b)
        inside = [*join.a.joints(), *_darts(join.a), *of_b, *line_ends(join.a)]
        found += [passed + from_back(join, along) for along in inside]
        if passed > 0.0:
            found.append(passed)
    return found


def _darts(side: MeasuredSide) -> list[float]:
    """Where darts are sewn into a side, mm along it."""
    return [passed + one.sewn(low) for passed, one in side.walked() for low, _ in one.mouths]


def _evenly(half: float, count: int) -> list[float]:
    """So many places all round, those of one half, mm from the centre back."""
    if count < 1:
        return []
    apart = 2.0 * half / count
    first = 0.0 if count % 2 else apart / 2.0
    return [first + k * apart for k in range(math.ceil((half - first) / apart))]


def _clear(
    place: float, seams: Sequence[_Taken], others: Sequence[_Taken], length: float
) -> float | None:
    """A place, or the nearest that is clear of what is taken and of both ends. Where none is, the
    place itself, unless another loop is in its way; at the centre back, that or none.
    """
    in_its_way = not _is_off(place, others)
    if place == 0.0:
        return None if in_its_way else place
    taken = (*seams, *others)
    if _is_clear(place, taken, length):
        return place
    near = [one.at + aside for one in taken for aside in (one.apart, -one.apart)]
    free = [one for one in near if _is_clear(one, taken, length)]
    return min(free, key=lambda one: abs(one - place), default=None if in_its_way else place)


def _is_clear(place: float, taken: Sequence[_Taken], length: float) -> bool:
    return CLEAR_OF_ENDS <= place <= length - CLEAR_OF_ENDS and _is_off(place, taken)


def _is_off(place: float, taken: Sequence[_Taken]) -> bool:
    return all([abs(place - one.at) > one.apart - 1e-6 for one in taken])


places_round = remembered(spread_round, 16)
"""As `spread_round`: asked again for each join of a waist, and for what is told of its loops."""
