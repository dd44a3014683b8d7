"""Where the two sides of a join are notched: one decision, both sides by the same walked length."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from typing import TypeAlias

import msgspec

from studio.curves import Chain, Edge, Point, Vector, level_meetings
from studio.design.joins import Join, NotchShape
from studio.memo import remembered
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.ease import partner_of, partner_on_a
from studio.sew.sewn import Ground, MeasuredJoin, MeasuredSide, Notch, NotchKind, Stretch

DEPTH = 5.0
"""How far a notch is cut in, mm, at most; never more than half the allowance (practice)."""

WIDE = 4.0
"""Of a notch that is not a slit, mm (common practice)."""

CLEAR_OF_ENDS = 12.0
"""No notch nearer the end of a seam than this: it would be lost in the crossing seam; and none at
a level line nearer a dart, whose mouth is notched."""

APART = 5.0
"""Of two notches nearer than this only the more telling one is cut, mm (practice)."""

MIDDLE_FROM = 150.0
"""A seam this long that nothing else notches is notched in its middle (practice), mm."""

_ASIDE = (2.0 * CLEAR_OF_ENDS, -2.0 * CLEAR_OF_ENDS)
"""Where else it stands when a dart opens in the middle."""

PARTNER_MM = 1.5
"""Notches further from where they should meet have no partner, mm."""

SAME_MM = 0.5
"""Two notches nearer than this stand at one place, mm."""

_UPRIGHT_FROM = 100.0
"""Only an edge at least this high (mm) is notched at level lines: a waist is not."""

_LEVELS_NOTCHED = ("hip", "knee")


class NotchPlace(msgspec.Struct, frozen=True, gc=False):
    """A notch to be made: on which edge of a piece, mm along that stretch, and for which join."""

    piece: str
    edge: Edge
    along: float
    kind: NotchKind
    join: str
    is_end: bool = False
    """True where the join begins or ends there."""


def notch_places(join: MeasuredJoin, also: tuple[float, ...] = ()) -> list[NotchPlace]:
    """The notches of both sides of a join.

    They stand at the join's own distances and those `also` given (mm along side a: where something
    is caught, or stitching goes on), where either side changes piece, where a style line ends on
    side a, and where side a crosses hip and knee line; a long seam without any has one in its
    middle. A side that begins or ends where its piece has no corner is notched there too. A side
    that lies on a line drawn on the other needs only those that were asked for.
    """
    if join.a.length < 1.0 or join.b.length < 1.0:
        return []
    places = []
    has_its_own = CONSTRUCTIONS[join.join.construction].is_notched
    on_a, on_b = tuple(_reached(join.a)), tuple(_reached(join.b))
    for distance in _stations(join, also) if has_its_own else sorted(given_places(join, also)):
        partner = partner_of(join.join, join.a.length, join.b.length, distance)
        for stretches, along in ((on_a, distance), (on_b, partner)):
            place = _standing_on(stretches, along, join.join)
            if place is not None:
                places.append(place)
    if has_its_own:
        places += _at_ends(join.a, join.join)
        places += _at_ends(join.b, join.join)
    return places


def lonely_notches(join: MeasuredJoin, places: Iterable[NotchPlace]) -> list[float]:
    """Places of side b, mm along it, that are notched while nothing meets them on side a, and of
    side a that nothing meets on side b: neither a notch nor the end of a piece. What is laid on a
    line meets what is drilled or stitched there.
    """
    if not CONSTRUCTIONS[join.join.construction].is_notched:
        return []
    standing: dict[tuple[str, str], list[NotchPlace]] = {}
    for place in places:
        standing.setdefault((place.piece, place.edge.name), []).append(place)
    (a, ends_a), (b, ends_b) = (
        (_along_side(side, standing), [0.0, *side.joints(), side.length])
        for side in (join.a, join.b)
    )
    partners = [partner_of(join.join, join.a.length, join.b.length, at) for at in (*a, *ends_a)]
    if len(a) == len(b) and all(
        -PARTNER_MM <= at - met <= PARTNER_MM
        for at, met in zip(sorted(partners[: len(a)]), sorted(b), strict=True)
    ):
        return []  # As is the rule: they meet one by one.
    on_a, on_b = sorted(partners), sorted((*b, *ends_b))
    lonely = [along for along, at in zip(a, partners, strict=False) if not _is_near(at, on_b)]
    return lonely + [along for along in b if not _is_near(along, on_a)]


def _along_side(
    side: MeasuredSide, standing: dict[tuple[str, str], list[NotchPlace]]
) -> list[float]:
    """Where the notches `standing` on each edge of each piece are passed on a side, mm along it."""
    found: list[float] = []
    for passed, one in side.walked():
        here = standing.get((one.piece, one.edge.name))
        if here:
            # All stand on one whole edge, of which the stretch is a part.
            first, step = here[0].edge.onto(one.edge)
            on_stretch = [first + step * place.along for place in here]
            if one.mouths:
                on_stretch = [one.sewn(along) for along in on_stretch]
            found += [passed + along for along in on_stretch]
    return found


def _is_near(along: float, ordered: Sequence[float]) -> bool:
    at = bisect_left(ordered, along - PARTNER_MM)
    return at < len(ordered) and ordered[at] <= along + PARTNER_MM


class Notched:
    """Where a piece is notched: of two notches within half a millimetre the first is cut."""

    def __init__(self, places: Iterable[NotchPlace] = ()) -> None:
        self.places: list[NotchPlace] = []
        self._along: dict[str, list[float]] = {}
        self._ends: list[Point] = []
        for place in places:
            self.add(place)

    def has(self, place: NotchPlace) -> bool:
        """True when a notch stands there already."""
        along = place.along
        for other in self._along.get(place.edge.name, ()):
            if -SAME_MM < other - along < SAME_MM:
                return True
        return place.is_end and any(_at(place).distance_to(at) < SAME_MM for at in self._ends)

    def add(self, place: NotchPlace) -> None:
        """Set a notch, unless one stands there already."""
        if self.has(place):
            return
        self.places.append(place)
        self._along.setdefault(place.edge.name, []).append(place.along)
        if place.is_end:
            self._ends.append(_at(place))


def _at(place: NotchPlace) -> Point:
    return place.edge.chain.at(place.along)


def cut_notch(place: NotchPlace, allowance: float, shape: NotchShape = "slit") -> Notch:
    """The notch itself: from the cut line inward, never past the sewing line."""
    return _cut(place.edge, place.along, place.kind, place.join, allowance, shape)


def _cut_of(
    edge: Edge, place: float, kind: NotchKind, join: str, allowance: float, shape: NotchShape
) -> Notch:
    at, along = edge.chain.at_and_along(place)
    outward = along.right()
    mouth, tip = slit_out(at, outward, allowance)
    return Notch(at, mouth, tip, kind, join, shape)


def slit_out(at: Point, outward: Vector, out: float) -> tuple[Point, Point]:
    """Mouth and tip of a notch whose mouth lies `out` mm off the sewing line, in a direction."""
    mouth = at.off(outward, out)
    return mouth, mouth.off(outward, -min(DEPTH, out / 2.0))


def given_places(join: MeasuredJoin, also: tuple[float, ...]) -> list[float]:
    """A join's own distances and those `also` given, mm along side a, clear of its ends and of each
    other.
    """
    length = join.a.length
    return _clear([d if d >= 0.0 else length + d for d in (*join.join.notches, *also)], length)


def own_notch_near(join: MeasuredJoin, along: float, near: float = APART) -> float | None:
    """Which of a join's own distances, as the design has it, stands within `near` mm of a place on
    side a; None when none does.
    """
    length = join.a.length
    for distance in join.join.notches:
        if abs((distance if distance >= 0.0 else length + distance) - along) <= near:
            return distance
    return None


def is_clear_of_ends(join: MeasuredJoin, along: float) -> bool:
    """Whether a notch can be cut at a place on side a, `CLEAR_OF_ENDS` mm from both of its ends."""
    return CLEAR_OF_ENDS <= along <= join.a.length - CLEAR_OF_ENDS


def _clear(wanted: Iterable[float], length: float) -> list[float]:
    """Distances clear of both ends of a length and of each other, the first named first."""
    kept: list[float] = []
    ordered: list[float] = []
    for distance in wanted:
        if not CLEAR_OF_ENDS <= distance <= length - CLEAR_OF_ENDS:
            continue
        at = bisect_left(ordered, distance - APART)
        if at == len(ordered) or ordered[at] > distance + APART:
            ordered.insert(at, distance)
            kept.append(distance)
    return kept


def _stations(join: MeasuredJoin, also: tuple[float, ...]) -> list[float]:
    """Distances along side a, in order, clear of its ends and of each other."""
    length = join.a.length
    wanted = given_places(join, also)
    wanted += join.a.joints()
    wanted += [partner_on_a(join.join, length, join.b.length, d) for d in join.b.joints()]
    wanted += line_ends(join.a)
    wanted += [d for d in _level_crossings(join.a) if not _by_a_dart(join, d)]
    kept = _clear(wanted, length)
    if not kept and length >= MIDDLE_FROM:
        near_middle = (length / 2.0 + aside for aside in (0.0, *_ASIDE))
        kept += [d for d in near_middle if not _by_a_dart(join, d)][:1]
    return sorted(kept)


def _walk(side: MeasuredSide) -> Iterator[tuple[float, Stretch, Ground]]:
    """Every stretch on the edge of a piece with what is sewn before it, mm."""
    for passed, one in side.walked():
        if one.ground is not None:
            yield passed, one, one.ground


def line_ends(side: MeasuredSide) -> list[float]:
    """Where lines of the panel end inside a stretch of a side, mm along it."""
    found = []
    for passed, one, ground in _walk(side):
        for place in ground.ends:
            at = one.edge.along(place)
            if 0.0 <= at <= one.edge.length:
                found.append(passed + one.sewn(at))
    return found


def _level_crossings(side: MeasuredSide) -> list[float]:
    found = []
    for passed, one, ground in _walk(side):
        whole = ground.whole
        if whole.chain.box.height < _UPRIGHT_FROM:
            continue
        for name in _LEVELS_NOTCHED:
            height = ground.levels.get(name)
            at = None if height is None else _crossing(whole, height)
            if at is not None:
                along = one.edge.along(whole.place(at))
                if 0.0 <= along <= one.edge.length:
                    found.append(passed + one.sewn(along))
    return found


def _by_a_dart(join: MeasuredJoin, distance: float) -> bool:
    """True where the mouth of a dart is notched already, on either side of a join."""
    return any(
        abs(passed + one.sewn(low) - along) < CLEAR_OF_ENDS
        for side, along in (
            (join.a, distance),
            (join.b, partner_of(join.join, join.a.length, join.b.length, distance)),
        )
        for passed, one in side.walked()
        for low, _ in one.mouths
    )


def _crossing(edge: Edge, height: float) -> float | None:
    """Distance along an edge at which it first crosses a level line."""
    return _first_crossing(edge.chain, height)


def _first_crossing_of(chain: Chain, height: float) -> float | None:
    box = chain.box
    if not box.bottom < height < box.top:
        return None
    found = level_meetings(chain, height)
    return found[0].first if found else None


_cut = remembered(_cut_of, 1600)
_first_crossing = remembered(_first_crossing_of, 400)
"""Asked again for the same edges whenever a line elsewhere is dragged."""


def _at_ends(side: MeasuredSide, join: Join) -> Iterator[NotchPlace]:
    """Where a side begins and ends, as far as its piece has no corner there: nothing else would
    tell where the centre back lies on a band, or down to where a fly goes.
    """
    for one, sewn in ((side.stretches[0], 0.0), (side.stretches[-1], side.stretches[-1].length)):
        ground = one.ground
        if ground is None or _ends_in_corners(one, ground):
            continue
        whole = ground.whole
        at = whole.along(one.edge.place(one.on_edge(sewn)))
        inside = 1.0 < at < whole.length - 1.0
        if inside or ground.runs_on[0 if at <= 1.0 else 1]:
            at = min(max(0.0, at), whole.length)
            yield NotchPlace(one.piece, whole, at, _kind(ground), join.name, is_end=True)


def _ends_in_corners(one: Stretch, ground: Ground) -> bool:
    """True for all of an edge that has a corner at either end, as most are."""
    if one.mouths or ground.runs_on[0] or ground.runs_on[1]:
        return False
    ends, whole = (one.edge.start, one.edge.end), ground.whole
    return ends in ((whole.start, whole.end), (whole.end, whole.start))


def _kind(ground: Ground) -> NotchKind:
    return "double" if ground.panel == "back" else "single"


_Reached: TypeAlias = tuple[float, Stretch, tuple[float, float]]
"""A stretch, what is sewn before it (mm), and how it lies on the whole edge, as `Edge.onto`."""


def _reached(side: MeasuredSide) -> Iterator[_Reached]:
    """Every stretch of a side; a mark lies on itself."""
    for passed, one in side.walked():
        ground = one.ground
        yield passed, one, (0.0, 1.0) if ground is None else one.edge.onto(ground.whole)


def _standing_on(stretches: Sequence[_Reached], distance: float, join: Join) -> NotchPlace | None:
    """The place on a side unless a corner of its piece stands there already."""
    for passed, one, (first, step) in stretches:
        along = distance - passed
        if 1.0 < along < one.length - 1.0:
            ground = one.ground
            if ground is None:
                return None
            at = first + step * one.on_edge(along)
            return NotchPlace(one.piece, ground.whole, at, _kind(ground), join.name)
    return None
