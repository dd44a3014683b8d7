"""A closed outline of named edges, counter-clockwise."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec
from msgspec.structs import force_setattr

from studio import numbers
from studio.curves import tolerance
from studio.curves.affine import Affine
from studio.curves.box import Box
from studio.curves.chain import Chain
from studio.curves.point import Point, Vector, turn_between
from studio.errors import GeometryRefused
from studio.memo import Made


def encloses(ring: Sequence[tuple[float, float]], at_x: float, at_y: float) -> bool:
    """True when a place lies inside a ring of straight chords, the first point not repeated; exact
    but for a place on the ring itself.
    """
    inside = False
    x, y = ring[-1]
    for next_x, next_y in ring:
        if (y > at_y) != (next_y > at_y):
            inside ^= at_x < x + (next_x - x) * (at_y - y) / (next_y - y)
        x, y = next_x, next_y
    return inside


class Edge(Made, frozen=True, gc=False):
    """A named stretch of an outline.

    `start` and `end` say which stretch of the edge first drawn this is, in mm along it; they run
    down when the stretch is travelled against its first direction.
    """

    name: str
    chain: Chain
    start: float = 0.0
    end: float = 0.0

    @staticmethod
    def whole(name: str, chain: Chain) -> Edge:
        """An edge as first drawn."""
        return Edge(name, chain, 0.0, chain.length)

    @property
    def length(self) -> float:
        """Arc length, mm."""
        return self.chain.length

    def place(self, along: float) -> float:
        """Where a point `along` mm from this stretch's start lies on the edge first drawn, mm."""
        return self.start + along * (self.end - self.start) / self.chain.length

    def along(self, place: float) -> float:
        """How far from this stretch's start a place on the edge first drawn lies, mm; outside 0
        to the length when it lies beyond the stretch.
        """
        return (place - self.start) * self.chain.length / (self.end - self.start)

    def onto(self, other: Edge) -> tuple[float, float]:
        """Where places of this stretch lie on another stretch of the same edge: how far along that
        this one starts, mm, and by how much each mm from there is farther.
        """
        first = other.along(self.start)
        return first, (other.along(self.end) - first) / self.chain.length

    def between(self, start: float, end: float) -> Edge:
        """The stretch from `start` to `end` mm along; name and place on the first edge kept."""
        return Edge(self.name, self.chain.between(start, end), self.place(start), self.place(end))

    def reversed(self) -> Edge:
        """The same edge, travelled the other way."""
        return Edge(self.name, self.chain.reversed(), self.end, self.start)

    def transformed(self, move: Affine) -> Edge:
        """The edge after a move of the plane (not reversed, also when the move flips)."""
        return Edge(self.name, self.chain.transformed(move), self.start, self.end)

    def redrawn(self, chain: Chain) -> Edge:
        """The same stretch, by name and place, along another chain."""
        return Edge(self.name, chain, self.start, self.end)


class Corner(msgspec.Struct, frozen=True, gc=False):
    """Where one edge ends and the next begins; `inner` is the angle inside, in degrees."""

    point: Point
    before: str
    after: str
    incoming: Vector
    outgoing: Vector
    inner: float


class Outline(Made, frozen=True, eq=False, gc=False):
    """Named edges that close, counter-clockwise (y up)."""

    edges: tuple[Edge, ...]
    _area: float | None = None
    _polyline: tuple[float, tuple[tuple[float, float], ...]] | None = None

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Outline) and self.edges == other.edges

    __hash__ = Made.__hash__  # Lost where equality is one's own.

    @staticmethod
    def of(edges: Iterable[Edge]) -> Outline:
        """An outline of edges that meet end to end and enclose a positive area.

        Raises:
            GeometryRefused: a gap, or an outline that runs clockwise or encloses nothing.
        """
        given = tuple(edges)
        if not given:
            raise GeometryRefused("An outline needs edges.")
        for one, two in zip(given, (*given[1:], given[0]), strict=True):
            gap = one.chain.end.distance_to(two.chain.start)
            if gap > tolerance.CLOSE_MM:
                raise GeometryRefused(
                    f"The outline is open by {numbers.short(gap, 6)} mm between "
                    f"{one.name} and {two.name}.",
                    exact=(gap,),
                )
        outline = Outline(given)
        if outline.area_mm2 <= 0.0:
            raise GeometryRefused("An outline runs clockwise or encloses nothing.")
        return outline

    def __iter__(self) -> Iterator[Edge]:
        return iter(self.edges)

    def edge(self, name: str) -> Edge:
        """The first edge of that name.

        Raises:
            KeyError: there is none.
        """
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise KeyError(name)

    def has(self, name: str) -> bool:
        """True when an edge bears that name."""
        return any(edge.name == name for edge in self.edges)

    @property
    def area_mm2(self) -> float:
        """Enclosed area in mm2, exact for the curves; negative when clockwise."""
        known = self._area
        if known is None:
            known = sum(edge.chain.swept_area() for edge in self.edges)
            force_setattr(self, "_area", known)
        return known

    @property
    def perimeter(self) -> float:
        """Length all round, mm."""
        return sum(edge.length for edge in self.edges)

    @property
    def box(self) -> Box:
        """The least upright box, exact."""
        return Box.round_all([edge.chain.box for edge in self.edges])

    def corners(self) -> list[Corner]:
        """The corner at the start of each edge, in order."""
        found = []
        for before, after in zip((self.edges[-1], *self.edges[:-1]), self.edges, strict=True):
            incoming, outgoing = before.chain.end_tangent, after.chain.start_tangent
            inner = 180.0 - turn_between(incoming, outgoing)
            found.append(
                Corner(after.chain.start, before.name, after.name, incoming, outgoing, inner)
            )
        return found

    def transformed(self, move: Affine) -> Outline:
        """The outline after a move; a mirrored one is walked the other way, so it stays
        counter-clockwise.
        """
        if move.flips:
            return Outline(
                tuple(edge.transformed(move).reversed() for edge in reversed(self.edges))
            )
        return Outline(tuple(edge.transformed(move) for edge in self.edges))

    def polyline(self, accuracy: float = tolerance.FLAT_MM) -> Sequence[tuple[float, float]]:
        """Points round the outline, the first not repeated; chords within `accuracy` mm."""
        known = self._polyline
        if known is None or known[0] != accuracy:
            points: list[tuple[float, float]] = []
            for edge in self.edges:
                points.extend(edge.chain.polyline(accuracy)[:-1])
            known = accuracy, tuple(points)
            force_setattr(self, "_polyline", known)
        return known[1]

    def contains(self, point: Point, accuracy: float = tolerance.FLAT_MM) -> bool:
        """True when a point lies inside; within `accuracy` mm of the outline either may be said."""
        return encloses(self.polyline(accuracy), point.x, point.y)

    def starting_with(self, name: str) -> Outline:
        """The same outline, listed from the first edge of that name; raises KeyError."""
        for index, edge in enumerate(self.edges):
            if edge.name == name:
                return Outline((*self.edges[index:], *self.edges[:index]))
        raise KeyError(name)
