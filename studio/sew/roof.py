"""The roof over an open dart: a peak of the cut line across its mouth.

A dart that is sewn and pressed lies doubled beside the leg it is pressed to. With its point P, the
near leg PN (the one it is pressed to), the far leg PM and the fold PK half way between them, its
raw edge must then lie on the cut line beside PN. So the stretch of the cut line from the ray half
the dart's angle outside PN up to PN is mirrored over PN, and what comes of it over PK: the two
folds, undone. The second ends where the first began, turned about P by the whole angle: on PM. A
step along that leg joins it to the cut line beyond. Both cut lines are the parallels of the edge on
either side of the mouth, prolonged to the legs, since the cut line of the whole edge is cut back at
the ends of the mouth.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

import msgspec

from studio.block.panel import Dart
from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, meetings, tolerance
from studio.curves.point import turn_between
from studio.errors import GeometryRefused
from studio.memo import remembered
from studio.sew.parallel import covering, moved
from studio.sew.pressing import Leg, pressed_toward
from studio.sew.sewn import CutEdge

_BEYOND = 4.0
"""A leg prolonged by more than this many allowances is no longer folded."""

_REACHES = 2.0
"""A roof's ends lie no further from its mouth along the edge than so often its width, at the cut
line: half of it where the edge is square to the leg, all of it at 60 degrees off, and some room."""

_WIDEST = 120.0
"""A dart opened wider than this (degrees) cannot be laid down on one side."""


class Roof(msgspec.Struct, frozen=True):
    """A cut line over a dart, in the direction of its edge, from before its mouth to behind it: it
    crosses the first leg, has its peak on the fold, and crosses the last leg.
    """

    chain: Chain
    first: Point
    peak: Point
    last: Point

    def reversed(self) -> Roof:
        """The same, run the other way."""
        return Roof(self.chain.reversed(), self.last, self.peak, self.first)


def roofed(
    line: tuple[CutEdge, ...],
    outline: Outline,
    allowances: Sequence[float],
    folded: Collection[int],
    darts: Sequence[Dart],
) -> tuple[tuple[CutEdge, ...], tuple[str, ...]]:
    """A cut line with a roof over the mouth of every dart, and sentences on those that keep the
    straight line because no roof can be made.

    `line`, `allowances` (mm, one an edge) and `folded` (indices of hems) are those of `cut_line`;
    the roof's stretches bear the name of their edge. Edges without allowance and hems get none, nor
    does a dart whose mouth is not all on the piece: there is nothing to fold. Folded, a roof lies
    on the cut line within 0.01 mm.
    """
    trouble: list[str] = []
    for index, to_roof in _by_edge(outline, allowances, darts).items():
        if index in folded:
            continue
        edge, width = outline.edges[index], allowances[index]
        places = [at for at, stretch in enumerate(line) if stretch.name == edge.name]
        first, behind = (places[0], places[-1] + 1) if places else (0, 0)
        pressed = tuple([pressed_toward(dart, outline) for dart in to_roof])
        on_edge = _named(edge.name, darts)
        laid, straight = _roofed_edge(line[first:behind], edge, width, to_roof, pressed, on_edge)
        line = (*line[:first], *laid, *line[behind:])
        trouble += straight
    return line, tuple(trouble)


def _by_edge(
    outline: Outline, allowances: Sequence[float], darts: Sequence[Dart]
) -> dict[int, tuple[Dart, ...]]:
    """The open darts with their whole mouth on the piece and an allowance there, by the index of
    their edge.
    """
    found: dict[int, tuple[Dart, ...]] = {}
    for dart in darts:
        index = _edge_of(outline, dart) if dart.intake > tolerance.CORNER_MM else None
        if index is not None and allowances[index] > 0.0:
            found[index] = (*found.get(index, ()), dart)
    return found


def _named(edge: str, darts: Sequence[Dart]) -> tuple[Dart, ...]:
    """The darts of an edge, also such as lie on the piece only in part: they too take room."""
    return tuple([dart for dart in darts if dart.edge == edge])


def _roofed_edge_of(
    line: tuple[CutEdge, ...],
    edge: Edge,
    width: float,
    darts: tuple[Dart, ...],
    pressed: tuple[Leg, ...],
    on_edge: tuple[Dart, ...],
) -> tuple[tuple[CutEdge, ...], tuple[str, ...]]:
    """The stretch of a cut line outside one edge, roofed over `darts`; `on_edge` are all there."""
    trouble: list[str] = []
    for dart, toward in zip(darts, pressed, strict=True):
        roof = _roof_on(edge.chain, dart, on_edge, width, toward)
        laid = None if roof is None else laid_in(line, edge.name, roof)
        if laid is None:
            trouble.append(straight_over("cut line", dart))
        else:
            line = laid
            if _runs_inside(roof, dart):
                trouble.append(_untrued(dart))
    return line, tuple(trouble)


def _runs_inside(roof: Roof | None, dart: Dart) -> bool:
    """True when a roof lies inside the straight line across the mouth in some place."""
    mouth = dart.last - dart.first
    if roof is None or mouth.length <= tolerance.CORNER_MM:
        return False
    outward = mouth.unit().right()
    legs = _between_legs(roof, dart)
    return min((at - dart.first).dot(outward) for at in legs) < -tolerance.OFFSET_MM


def _between_legs(roof: Roof, dart: Dart) -> list[Point]:
    """The ends of a roof's curves that lie between the legs of its dart."""
    first, last = dart.first - dart.point, dart.last - dart.point
    ends = [cubic.p3 for cubic in roof.chain.cubics]
    inside = [
        at
        for at in ends
        if first.cross(at - dart.point) >= 0.0 and (at - dart.point).cross(last) >= 0.0
    ]
    return [*inside, roof.peak]


def _untrued(dart: Dart) -> str:
    """The sentence on a dart across which the cut line, folded right, lies inside its mouth."""
    return (
        f"Sewn shut, {dart.name} leaves a corner in {dart.edge}: its mouth is not trued, and the "
        "cut line that the folded dart needs runs inside it. Close the dart on paper and redraw "
        "the edge fair across it, so that it meets both legs square."
    )


def straight_over(line: str, dart: Dart) -> str:
    """The sentence on a dart over whose mouth a line has no roof."""
    return (
        f"The {line} runs straight over {dart.name} on {dart.edge}: it stands too near "
        "the end of the edge, or the allowance is too wide to be folded with it. Leave "
        "more cloth there, fold the dart, and cut it along the line beside it."
    )


def roof_over(
    outline: Outline, index: int, dart: Dart, darts: Sequence[Dart], width: float
) -> Roof | None:
    """The roof over a dart of the line `width` mm outside its edge, which is at `index` in the
    outline; None when none can be made. `darts` are all those of the piece.
    """
    toward = pressed_toward(dart, outline)
    on_edge = _named(dart.edge, darts)
    return _roof_on(outline.edges[index].chain, dart, on_edge, width, toward)


def _roof_on(
    chain: Chain, dart: Dart, darts: Sequence[Dart], width: float, toward: Leg
) -> Roof | None:
    """The roof over one of the darts of an edge."""
    beside = _beside(chain, dart, darts, width)
    return None if beside is None else _roof(*beside, dart, width, toward)


def roofs_of(
    line: Sequence[CutEdge],
    outline: Outline,
    allowances: Sequence[float],
    darts: Sequence[Dart],
) -> tuple[tuple[int, Dart, Roof], ...]:
    """The roofs that a cut line has, each with the index of its edge and its dart."""
    found = []
    for index, on_edge in _by_edge(outline, allowances, darts).items():
        for dart in on_edge:
            roof = roof_over(outline, index, dart, darts, allowances[index])
            if roof is not None and _has(line, dart.edge, roof):
                found.append((index, dart, roof))
    return tuple(found)


def _has(line: Sequence[CutEdge], name: str, roof: Roof) -> bool:
    """Whether a cut line runs over a roof, and not straight below or across it."""
    on_it = (roof.chain.start, roof.peak, roof.chain.end)
    return all(_place(line, name, at) is not None for at in on_it)


def _edge_of(outline: Outline, dart: Dart) -> int | None:
    """The edge that has a dart's whole mouth."""
    for index, edge in enumerate(outline.edges):
        if edge.name == dart.edge:
            mouth = dart.mouth_on(edge.chain)
            if mouth is not None and mouth[0] < mouth[1]:
                return index
    return None


def _beside(
    chain: Chain, dart: Dart, darts: Sequence[Dart], width: float
) -> tuple[tuple[Cubic, ...], tuple[Cubic, ...]] | None:
    """The curves of an edge on either side of a mouth, no further than the next mouth and than a
    roof can reach, so that its roof is known again while the edge is cut elsewhere; None where
    there are none.
    """
    first, last = chain.distance_of(dart.first), chain.distance_of(dart.last)
    low, high = _room(chain, dart, darts, first)
    if first - low <= tolerance.NOTHING_MM or high - last <= tolerance.NOTHING_MM:
        return None
    leg = max(dart.point.distance_to(dart.first), tolerance.CORNER_MM)
    reach = _REACHES * dart.intake * (1.0 + width / leg)
    before, after = chain.between(low, first).cubics, chain.between(last, high).cubics
    return _uncut(before[::-1], reach, 1.0)[::-1], _uncut(after, reach, 0.0)


def _uncut(cubics: tuple[Cubic, ...], reach: float, end: float) -> tuple[Cubic, ...]:
    """As many curves, from the mouth on, as are at least so long together, mm; the last of them as
    long as it was before the piece was cut there, so that a roof does not change with a cut beyond
    its reach. `end` says at which end of the curves the mouth lies.
    """
    taken = covering(cubics, reach)
    last = taken[-1]
    if sum(cubic.length for cubic in taken) < reach:
        return taken
    while last.whole is not last:
        if last.whole.at(end).distance_to(last.at(end)) > tolerance.MEET_MM:
            break
        last = last.whole
    return (*taken[:-1], last)


def _room(chain: Chain, dart: Dart, darts: Sequence[Dart], here: float) -> tuple[float, float]:
    """From the mouth before a dart to the one after it, mm along its edge."""
    low, high = 0.0, chain.length
    for other in darts:
        if other is dart:
            continue
        first, last = chain.passes(other.first), chain.passes(other.last)
        if last is not None and last <= here:
            low = max(low, last)
        if first is not None and first > here:
            high = min(high, first)
    return low, high


def _roof_of(
    before: tuple[Cubic, ...], after: tuple[Cubic, ...], dart: Dart, width: float, toward: Leg
) -> Roof | None:
    """The roof over a dart, from the curves beside its mouth; None when none can be made."""
    if (dart.first - dart.point).cross(dart.last - dart.point) <= 0.0:
        return None
    try:
        one, two = moved(Chain(before), -width), moved(Chain(after), -width)
        if toward == "first":
            return _folded_over(one, two, dart.point, dart.first, dart.last, width)
        near, far = two.reversed(), one.reversed()
        roof = _folded_over(near, far, dart.point, dart.last, dart.first, width)
        return None if roof is None else roof.reversed()
    except GeometryRefused:
        return None


def _folded_over(
    near: Chain, far: Chain, apex: Point, near_end: Point, far_end: Point, width: float
) -> Roof | None:
    """From a cut line that runs up to the near leg, over the roof, onto the one behind the far."""
    to_near, to_far = near_end - apex, far_end - apex
    if min(to_near.length, to_far.length) <= tolerance.CORNER_MM:
        return None
    if abs(turn_between(to_near, to_far)) >= _WIDEST:
        return None
    fold = (to_near.unit() + to_far.unit()).unit()
    over = Affine.mirror(apex, near_end)
    reach = _BEYOND * width
    near, far = near.prolonged(0.0, reach), far.prolonged(reach, 0.0)
    on_near = _on_leg(near, apex, near_end, reach)
    on_far = _on_leg(far, apex, far_end, reach)
    if on_near is None or on_far is None:
        return None
    long = 2.0 * (max(to_near.length, to_far.length) + reach)
    starts = meetings(near, Chain.straight(apex, apex + over.vector(fold) * long))
    start = max((met.first for met in starts if met.first < on_near), default=None)
    if start is None:
        return None
    # Behind the far leg only so much is drawn as surely lies on the cut line beyond the mouth.
    behind = min(near_end.distance_to(far_end) / 2.0, far.length - on_far) / 2.0
    beside = near.between(start, on_near)
    turned = beside.transformed(over).reversed()
    again = turned.transformed(Affine.mirror(apex, apex + fold)).reversed()
    chain = _joined(beside, turned, again, far.between(on_far, on_far + behind))
    return Roof(chain, beside.end, turned.end, far.at(on_far))


def _on_leg(chain: Chain, apex: Point, end: Point, reach: float) -> float | None:
    """Where a leg, prolonged by no more than `reach`, meets a cut line, mm along that."""
    beyond = (end - apex).unit() * reach
    found = meetings(chain, Chain.straight(end, end + beyond))
    return min(found, key=lambda meeting: meeting.second).first if found else None


def _joined(*parts: Chain) -> Chain:
    """Stretches end to end, a gap wider than an offset's error closed by a straight step."""
    cubics: list[Cubic] = list(parts[0].cubics)
    for part in parts[1:]:
        end = cubics[-1].p3
        if end.distance_to(part.start) > tolerance.OFFSET_MM:
            cubics.append(Cubic.straight(end, part.start))
        cubics += part.with_ends(cubics[-1].p3, part.end).cubics
    return Chain(tuple(cubics))


def laid_in(line: tuple[CutEdge, ...], name: str, roof: Roof) -> tuple[CutEdge, ...] | None:
    """A cut line with a roof in place of what it has between the roof's ends; None when these do
    not both lie on the edge's own stretches: the line is cut back there by a corner.
    """
    start, end = _place(line, name, roof.chain.start), _place(line, name, roof.chain.end)
    if start is None or end is None or start >= end:
        return None
    one, two = line[start[0]].chain, line[end[0]].chain
    before, after = _split(one, *start[1:])[0], _split(two, *end[1:])[1]
    # Where nothing of the line is left before or after, the roof itself ends at its neighbour.
    from_there = before[-1].p3 if before else one.start
    to_there = after[0].p0 if after else two.end
    chain = _ended(roof.chain, from_there.x, from_there.y, to_there.x, to_there.y)
    chain = Chain((*before, *chain.cubics, *after))
    return (*line[: start[0]], CutEdge(name, chain), *line[end[0] + 1 :])


def _place(line: Sequence[CutEdge], name: str, point: Point) -> tuple[int, int, float] | None:
    """Where an edge's cut line passes a point: which stretch, which of its curves, at which
    parameter.
    """
    for index, stretch in enumerate(line):
        if stretch.name != name:
            continue
        for number, cubic in enumerate(stretch.chain.cubics):
            if cubic.box.is_near(point, tolerance.OFFSET_MM):
                t, off = cubic.nearest(point)
                if off <= tolerance.OFFSET_MM:
                    return index, number, t
    return None


def _split(chain: Chain, number: int, t: float) -> tuple[tuple[Cubic, ...], tuple[Cubic, ...]]:
    """The curves before and behind a place, without slivers."""
    cubics = chain.cubics
    head = cubics[number].length_to(t)
    tail = cubics[number].length - head
    before = (_part(cubics[number], 0.0, t),) if head > tolerance.CORNER_MM else ()
    after = (_part(cubics[number], t, 1.0),) if tail > tolerance.CORNER_MM else ()
    return (*cubics[:number], *before), (*after, *cubics[number + 1 :])


def _ended_of(roof: Chain, x: float, y: float, end_x: float, end_y: float) -> Chain:
    return roof.with_ends(Point(x, y), Point(end_x, end_y))


_roof = remembered(_roof_of, 400)
_part = remembered(Cubic.part, 800)
_ended = remembered(_ended_of, 400)
_roofed_edge = remembered(_roofed_edge_of, 400)
