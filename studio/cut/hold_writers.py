"""What each kind of hold asks of the solver."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from studio.constrain import Asked, PointRef
from studio.constrain import kinds as rules
from studio.design import holds
from studio.design.holds import EndName, Hold, LinePoint


class Sketched(Protocol):
    """Where lines, edges and their points are in a sketch; each raises GeometryRefused for what is
    not there.
    """

    def point(self, point: LinePoint) -> PointRef:
        """A point of a line."""

    def run(self, name: str) -> str:
        """A line's run, or the run of an edge of any panel."""

    def end(self, line: str, which: EndName) -> tuple[str, bool, str]:
        """A line's end: its run, whether it is the run's end, and the run it lies on."""

    def edge(self, line: str, name: str) -> str:
        """The run of an edge of a line's panel."""

    def from_start(self, line: str, edge: str, corner: str) -> bool:
        """True when a corner is where an edge of the line's panel starts."""

    def crease(self) -> tuple[PointRef, PointRef]:
        """Two held points on the crease line."""

    def smooth_node(self, line: str, node: int) -> int:
        """The node's number in the sketch."""


def asked_by(sketched: Sketched, hold: Hold) -> Asked:
    """What a hold asks for; raises GeometryRefused when it names what is not there."""
    return _WRITERS[type(hold)](sketched, hold)


def _fixed(build: Sketched, hold: holds.Fixed) -> Asked:
    return rules.Fixed(name=holds.title_of(hold), point=build.point(hold.point), at=hold.at)


def _level(build: Sketched, hold: holds.Level) -> Asked:
    return rules.Level(name=holds.title_of(hold), a=build.point(hold.a), b=build.point(hold.b))


def _upright(build: Sketched, hold: holds.Upright) -> Asked:
    return rules.Upright(name=holds.title_of(hold), a=build.point(hold.a), b=build.point(hold.b))


def _slides(build: Sketched, hold: holds.Slides) -> Asked:
    point = build.point(hold.point)
    return rules.OnRun(
        name=holds.title_of(hold), point=point, run=build.edge(hold.point.line, hold.edge)
    )


def _from_corner(build: Sketched, hold: holds.FromCorner) -> Asked:
    point = build.point(hold.point)
    return rules.FromEnd(
        name=holds.title_of(hold),
        point=point,
        run=build.edge(hold.point.line, hold.edge),
        from_end=not build.from_start(hold.point.line, hold.edge, hold.corner),
        mm=hold.mm,
        share=hold.share,
    )


def _distance(build: Sketched, hold: holds.Distance) -> Asked:
    return rules.Distance(
        name=holds.title_of(hold), a=build.point(hold.a), b=build.point(hold.b), mm=hold.mm
    )


def _angle(build: Sketched, hold: holds.Angle) -> Asked:
    return rules.Angle(
        name=holds.title_of(hold),
        a=build.point(hold.a),
        b=build.point(hold.b),
        c=None if hold.c is None else build.point(hold.c),
        d=None if hold.d is None else build.point(hold.d),
        degrees=hold.degrees,
    )


def _parallel(build: Sketched, hold: holds.Parallel) -> Asked:
    a, b, c, d = (build.point(point) for point in (hold.a, hold.b, hold.c, hold.d))
    return rules.Parallel(name=holds.title_of(hold), a=a, b=b, c=c, d=d, mm=hold.mm)


def _mirrored(build: Sketched, hold: holds.Mirrored) -> Asked:
    if hold.c is not None and hold.d is not None:
        about = build.point(hold.c), build.point(hold.d)
    else:
        about = build.crease()
    return rules.Mirror(
        name=holds.title_of(hold),
        a=build.point(hold.a),
        b=build.point(hold.b),
        c=about[0],
        d=about[1],
    )


def _square(build: Sketched, hold: holds.Square) -> Asked:
    run, from_end, other = build.end(hold.line, hold.at)
    return rules.Square(
        name=holds.title_of(hold),
        run=run,
        from_end=from_end,
        other=other,
    )


def _smooth(build: Sketched, hold: holds.Smooth) -> Asked:
    return rules.Smooth(name=holds.title_of(hold), node=build.smooth_node(hold.line, hold.node))


def _length(build: Sketched, hold: holds.Length) -> Asked:
    return rules.RunLength(name=holds.title_of(hold), run=build.run(hold.line), mm=hold.mm)


def _same_length(build: Sketched, hold: holds.SameLength) -> Asked:
    return rules.SameLength(
        name=holds.title_of(hold),
        run=build.run(hold.line),
        other=build.run(hold.other),
        ease=hold.ease,
    )


def _corners_add(build: Sketched, hold: holds.CornersAdd) -> Asked:
    one = rules.Corner(*build.end(hold.line, hold.at))
    two = rules.Corner(*build.end(hold.other, hold.other_at))
    return rules.CornerSum(name=holds.title_of(hold), one=one, two=two, degrees=hold.degrees)


_WRITERS: dict[type[Hold], Callable[[Sketched, Any], Asked]] = {
    holds.Fixed: _fixed,
    holds.Level: _level,
    holds.Upright: _upright,
    holds.Slides: _slides,
    holds.FromCorner: _from_corner,
    holds.Distance: _distance,
    holds.Angle: _angle,
    holds.Parallel: _parallel,
    holds.Mirrored: _mirrored,
    holds.Square: _square,
    holds.Smooth: _smooth,
    holds.Length: _length,
    holds.SameLength: _same_length,
    holds.CornersAdd: _corners_add,
}
