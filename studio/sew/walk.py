"""A seam walked as on paper: one side lies still, the other rolls along it to the end.

Side a lies with its pieces joined end to end; side b, joined likewise, is turned so that the two
sewing lines touch at the place reached, the pieces on either side of it. Where one side is a line
drawn on its pieces, that side lies still and what is sewn there is laid on it, as it will be worn.
Darts are closed: their mouths are passed over.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from studio.curves import Affine, Chain, Point, Vector
from studio.curves.point import turn_between
from studio.curves.tolerance import CLOSE_MM
from studio.cut.piece import Piece
from studio.sew.ease import taken_up
from studio.sew.laid_on import laid_on
from studio.sew.match_marks import INSIDE_MM
from studio.sew.sewn import MeasuredJoin, MeasuredSide, SewnPiece, Stretch
from studio.sew.topstitch import RUNS_OUT_MM

_PARTNERS = 12.0
"""Notches further apart than this (mm) were not meant for each other."""

_ON_LINE_MM = 1e-3


class Laid(msgspec.Struct, frozen=True):
    """A piece of a side and the move that joins it to the pieces before it."""

    piece: str
    move: Affine


class _Walked(msgspec.Struct, frozen=True):
    """A chain walked in sewing order, moved to its place, from `start` mm of its side on; and how
    its piece lies while it is walked.
    """

    chain: Chain
    start: float
    laid: Laid


class Met(msgspec.Struct, frozen=True):
    """A notch and what it meets on the other side, a notch or the corner of a piece: mm along
    side a, and how far b's lies ahead (negative: behind); None where nothing is near.
    """

    along_a: float
    gap: float | None


class Step(msgspec.Struct, frozen=True):
    """A moment of the walk: mm passed on both sides, the place on the side that lies still, and the
    move of all of the other that brings it there. `still` and `rolling` are the pieces as they then
    lie: a piece is turned where a dart of it is passed, and so the dart shut.
    """

    along_a: float
    along_b: float
    at: Point
    move: Affine
    still: tuple[Laid, ...]
    rolling: tuple[Laid, ...]

    @property
    def difference(self) -> float:
        """How much more of side b than of side a has been passed, mm: ease taken up so far."""
        return self.along_b - self.along_a


class Walk:
    """A walk of one join; `pieces` by name. `still` are the pieces that lie, `rolling` those that
    roll along them, over them where they are laid on them: both as they lie at the start.
    """

    def __init__(self, join: MeasuredJoin, pieces: Mapping[str, SewnPiece]) -> None:
        self.join = join.join
        bare = {name: sewn.piece for name, sewn in pieces.items()}
        self._lies = laid_on(join)
        laid_a, self._along_a = _joined(join.a)
        laid_b, self._along_b = _joined(join.b)
        self._a_rolls = self._lies is not None and self._lies.over is join.a
        self.still, self.rolling = (laid_b, laid_a) if self._a_rolls else (laid_a, laid_b)
        self.length_a, self.length_b = _total(self._along_a), _total(self._along_b)
        self.met = _notches(join, pieces)
        self.corners = (
            (_corner(join.a, bare, first=True), _corner(join.b, bare, first=True)),
            (_corner(join.a, bare, first=False), _corner(join.b, bare, first=False)),
        )

    @property
    def line(self) -> tuple[Chain, ...]:
        """The sewing line of the side that lies still."""
        still = self._along_b if self._a_rolls else self._along_a
        return tuple(stretch.chain for stretch in still)

    def runs(self, *, still: bool) -> tuple[tuple[Chain, Laid], ...]:
        """What is walked of the side that lies still, or of the other, in order: stretches beside
        the mouths of darts where they lie joined, and how their pieces lie then.
        """
        walked = self._along_b if still == self._a_rolls else self._along_a
        return tuple((stretch.chain, stretch.laid) for stretch in walked)

    @property
    def lays_on(self) -> bool:
        """True when what rolls is laid on what lies still, along a line drawn there."""
        return self._lies is not None

    @property
    def gap(self) -> float:
        """What is left over on side b at the end, mm, beyond the ease that is meant."""
        return self.length_b - self.length_a - self.join.ease

    def at(self, passed: float) -> Step:
        """The walk when `passed` mm of side a lie behind; the meant ease is taken up where it is
        meant to be.
        """
        along = min(max(0.0, passed), self.length_a)
        eased = self.join.ease * taken_up(self.join, self.length_a, along)
        other = min(along + eased, self.length_b)
        on_a, on_b = _place(self._along_a, along), _place(self._along_b, other)
        (at, way), (place, heading) = (on_b, on_a) if self._a_rolls else (on_a, on_b)
        move = Affine()
        if self._is_turned_over():
            move = Affine.mirror(place, place + heading)
        turn = turn_between(heading, way)
        move = move.then(Affine.turn(turn, place)).then(Affine.shift(at - place))
        laid_a = _lying(self._along_a, along)
        laid_b = _lying(self._along_b, other)
        still, rolling = (laid_b, laid_a) if self._a_rolls else (laid_a, laid_b)
        return Step(along, other, at, move, still, rolling)

    def _is_turned_over(self) -> bool:
        """True when what rolls is turned over: both sides would lie on one side of the seam else,
        as the other leg's does.
        """
        if self._lies is not None:
            return self._lies.is_turned_over
        return self.join.a.mirrored != self.join.b.mirrored


def _joined(
    side: MeasuredSide,
) -> tuple[tuple[Laid, ...], tuple[_Walked, ...]]:
    """The pieces of a side end to end, without kinks, and what of them is walked."""
    laid: list[Laid] = []
    walked: list[_Walked] = []
    passed = 0.0
    end: tuple[Point, Vector] | None = None
    for stretch in side.stretches:
        name, runs = stretch.piece, _without_darts(stretch)
        if laid and laid[-1].piece == name:
            move = laid[-1].move
        else:
            move = _onto(end, runs[0])
            laid.append(Laid(name, move))
        for k, run in enumerate(runs):
            if k:
                # The part beyond a dart is turned to where the dart is closed.
                assert end is not None
                move = _onto(end, run)
            moved = run.transformed(move)
            walked.append(_Walked(moved, passed, Laid(name, move)))
            passed += moved.length
            end = moved.end, moved.end_tangent
    return tuple(laid), tuple(walked)


def _onto(end: tuple[Point, Vector] | None, chain: Chain) -> Affine:
    """The move that makes a chain run on from an end; none when it does so already."""
    if end is None:
        return Affine()
    at, way = end
    turn = turn_between(chain.start_tangent, way)
    if chain.start.distance_to(at) < 1e-6 and abs(turn) < 1e-6:
        return Affine()
    return Affine.turn(turn, chain.start).then(Affine.shift(at - chain.start))


def _without_darts(stretch: Stretch) -> list[Chain]:
    """What lies beside the mouths of a stretch's darts, in walking order."""
    chain = stretch.edge.chain
    runs, start = [], 0.0
    for low, high in stretch.mouths:
        if low - start > 1e-6:
            runs.append(chain.between(start, low))
        start = high
    if chain.length - start > 1e-6:
        runs.append(chain.between(start, chain.length))
    return runs


def _total(stretches: Sequence[_Walked]) -> float:
    return stretches[-1].start + stretches[-1].chain.length if stretches else 0.0


def _reached(stretches: Sequence[_Walked], along: float) -> int:
    """Which stretch lies `along` mm of a side; at a corner the one before it, on both sides."""
    for at, stretch in enumerate(stretches):
        if along <= stretch.start + stretch.chain.length + CLOSE_MM:
            return at
    return len(stretches) - 1


def _place(stretches: Sequence[_Walked], along: float) -> tuple[Point, Vector]:
    """Place and direction `along` mm of a side."""
    stretch = stretches[_reached(stretches, along)]
    inside = min(max(0.0, along - stretch.start), stretch.chain.length)
    return stretch.chain.at(inside), stretch.chain.tangent(inside)


def _lying(stretches: Sequence[_Walked], along: float) -> tuple[Laid, ...]:
    """How the pieces of a side lie when `along` mm of it are walked."""
    reached = _reached(stretches, along)
    found: dict[str, Laid] = {}
    for at, stretch in enumerate(stretches):
        if at <= reached or stretch.laid.piece not in found:
            found[stretch.laid.piece] = stretch.laid
    return tuple(found.values())


def _notches(join: MeasuredJoin, pieces: Mapping[str, SewnPiece]) -> tuple[Met, ...]:
    """Each notch of side a with its partner, then those of side b that have none yet. A partner
    may have been cut for another join that runs there too.
    """
    a, b = (_notched(side, join.join.name, pieces) for side in (join.a, join.b))
    any_a, any_b = (_notched(side, None, pieces) for side in (join.a, join.b))
    ease = join.join.ease
    found, used = [], set()
    for along in a:
        wanted = along + ease * taken_up(join.join, join.a.length, along)
        partner = _nearest((0.0, *any_b, *join.b.joints(), join.b.length), wanted)
        used.add(partner)
        found.append(Met(along, None if partner is None else partner - wanted))
    for along in b:
        if along not in used:
            # Back from side b, near enough to look for a partner.
            here = along - ease * taken_up(join.join, join.a.length, along)
            partner = _nearest((0.0, *any_a, *join.a.joints(), join.a.length), here)
            found.append(Met(here, None if partner is None else here - partner))
    return tuple(sorted(found, key=lambda met: met.along_a))


def _nearest(places: Sequence[float], wanted: float) -> float | None:
    near = [place for place in places if abs(place - wanted) <= _PARTNERS]
    return min(near, key=lambda place: abs(place - wanted)) if near else None


def _notched(side: MeasuredSide, join: str | None, pieces: Mapping[str, SewnPiece]) -> list[float]:
    """Notches along a side, mm: those of a join, or all. Along a line drawn on a piece none can be
    cut; what is drilled beside it and rows that end at it stand for them.
    """
    found = []
    for passed, stretch in side.walked():
        sewn = pieces[stretch.piece]
        if stretch.ground is not None:
            notches = [one.at for one in sewn.notches if join is None or one.join == join]
            places = _beside(stretch, notches, 0.0, _ON_LINE_MM)
        elif join is None:
            ends = [end for row in sewn.rows for end in (row.start, row.end)]
            places = _beside(stretch, ends, 0.0, RUNS_OUT_MM)
            places += _beside(stretch, sewn.drills, INSIDE_MM, _ON_LINE_MM)
        else:
            places = []
        found += [passed + stretch.sewn(along) for along in places]
    return sorted(found)


def _beside(stretch: Stretch, places: Iterable[Point], off: float, within: float) -> list[float]:
    """Where along a stretch (mm) places stand so far `off` it, `within` so much."""
    nearest = [stretch.edge.chain.nearest(place) for place in places]
    return [along for along, away in nearest if abs(away - off) < within]


def _corner(side: MeasuredSide, pieces: Mapping[str, Piece], *, first: bool) -> float | None:
    """The inner angle of the piece where a side begins or ends, degrees; None on a mark or in
    the middle of an edge.
    """
    if not side.stretches:
        return None
    stretch = side.stretches[0 if first else -1]
    if stretch.ground is None:
        return None
    end = stretch.edge.chain.start if first else stretch.edge.chain.end
    for corner in pieces[stretch.piece].outline.corners():
        if corner.point.distance_to(end) < 1e-3:
            return corner.inner
    return None
