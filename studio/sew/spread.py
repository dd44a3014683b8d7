"""Loops spread round the waist: as far from each other as can be, clear of seams and pockets."""

from __future__ import annotations

import math
from collections.abc import Sequence

from studio.design.joins import Finish, Join
from studio.sew.ease import partner_on_a
from studio.sew.legs import is_other_leg
from studio.sew.notches import CLEAR_OF_ENDS, line_ends
from studio.sew.sewn import MeasuredJoin


def spread_in(join: Join, joins: Sequence[Join], finishes: Sequence[Finish]) -> int:
    """How many loops are spread round the waist of which a join sews the one half; 0 for none."""
    for finish in finishes:
        if finish.spread and finish.into:
            if finish.into == join.name:
                return finish.spread
            named = next((one for one in joins if one.name == finish.into), None)
            if named is not None and is_other_leg(join, named):
                return finish.spread
    return 0


def from_centre_back(join: MeasuredJoin, count: int) -> tuple[float, ...]:
    """Where loops are caught in the half of a waist that a join sews, mm from the centre back, when
    `count` of them are spread round the whole waist.

    They stand evenly all round, an odd one at the centre back, and alike on both halves; one that
    would come to lie on a seam or at a pocket's end is moved clear of it (common practice, no
    source). None where the join does not run from centre to centre.
    """
    panels = {one.ground.panel for one in join.a.stretches if one.ground is not None}
    length = join.a.length
    if count < 1 or not {"front", "back"} <= panels:
        return ()
    apart = 2.0 * length / count
    first = 0.0 if count % 2 else apart / 2.0
    wanted = [first + k * apart for k in range(math.ceil((length - first) / apart))]
    taken = [from_back(join, along) for along in _taken(join)]
    return tuple([_clear(place, taken, length) for place in wanted])


def spread_places(join: MeasuredJoin, count: int) -> tuple[float, ...]:
    """The same places as mm along side a; the one at the centre back, where a seam stands, is not
    among them.
    """
    return tuple([from_back(join, mm) for mm in from_centre_back(join, count) if mm > 0.0])


def from_back(join: MeasuredJoin, along: float) -> float:
    """Mm along side a as such from the centre back, or the other way round."""
    ground = join.a.stretches[0].ground
    begins_there = ground is not None and ground.panel == "back"
    return along if begins_there else join.a.length - along


def _taken(join: MeasuredJoin) -> list[float]:
    """Where seams, pockets and a fly end on either side, mm along side a."""
    of_b = (partner_on_a(join.join, join.a.length, join.b.length, at) for at in join.b.joints())
    return [*join.a.joints(), *of_b, *line_ends(join.a)]


def _clear(place: float, taken: Sequence[float], length: float) -> float:
    """A place, or the nearest that is clear of what is taken and of both ends; the place itself
    where none is, and at the centre back.
    """
    if place == 0.0 or _is_clear(place, taken, length):
        return place
    near = [at + aside for at in taken for aside in (CLEAR_OF_ENDS, -CLEAR_OF_ENDS)]
    free = [one for one in near if _is_clear(one, taken, length)]
    return min(free, key=lambda one: abs(one - place), default=place)


def _is_clear(place: float, taken: Sequence[float], length: float) -> bool:
    if not CLEAR_OF_ENDS <= place <= length - CLEAR_OF_ENDS:
        return False
    return all([abs(place - at) > CLEAR_OF_ENDS - 1e-6 for at in taken])
