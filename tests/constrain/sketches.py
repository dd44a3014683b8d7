"""Sketches as a trouser maker's: a held edge, and lines that run from edge to edge."""

import math

from studio.constrain import PointRef, Run, Sketch, SketchNode, with_slides
from studio.constrain.kinds import (
    Angle,
    Corner,
    CornerSum,
    Distance,
    Fixed,
    FromEnd,
    Level,
    Mirror,
    OnLine,
    OnRun,
    Parallel,
    RunLength,
    SameLength,
    Smooth,
    Square,
    Upright,
)
from studio.curves import Point, Vector

R = PointRef


def node(x, y, into=None, out=None, held=False):
    """A node with handles given as (dx, dy)."""
    return SketchNode(
        Point(x, y),
        None if into is None else Vector(*into),
        None if out is None else Vector(*out),
        held,
    )


def edges():
    """A rise at the left and a side seam at the right, each two cubics with a joint, held."""
    return (
        node(0, 0, None, (-12, 40), True),
        node(-20, 110, (8, -35), (-8, 35), True),
        node(-30, 230, (2, -40), None, True),
        node(250, 0, None, (14, 40), True),
        node(262, 120, (0, -40), (0, 40), True),
        node(240, 240, (10, -35), None, True),
    )


EDGES = (Run("rise", (0, 1, 2)), Run("side", (3, 4, 5)))


def yoke():
    """A line through two nodes from the rise to the side seam, square at both, of set length."""
    nodes = (
        *edges(),
        node(-24, 150, None, (60, 5)),
        node(70, 160, (-40, 0), (40, 0)),
        node(170, 180, (-40, 0), (40, 0)),
        node(258, 190, (-40, 0), None),
    )
    return with_slides(
        Sketch(
            nodes,
            (*EDGES, Run("yoke", (6, 7, 8, 9))),
            (
                OnRun(name="start on the rise", point=R(6), run="rise"),
                FromEnd(name="end on the side", point=R(9), run="side", from_end=True, mm=50.0),
                Square(
                    name="square to the rise", run="yoke", from_end=False, other="rise", left=False
                ),
                Square(name="square to the side", run="yoke", from_end=True, other="side"),
                Smooth(name="smooth one", node=7),
                Smooth(name="smooth two", node=8),
                RunLength(name="length", run="yoke", mm=290.0),
            ),
            (0.0, 0.0),
        )
    )


def every_kind():
    """One of each kind, none of them met yet."""
    nodes = (
        *edges(),
        node(-24, 150, None, (60, 5)),
        node(70, 160, (-40, 3), (40, 9)),
        node(258, 190, (-40, 0), None),
        node(10, 60, None, (50, -9)),
        node(120, 70, (-30, 4), (30, 8)),
        node(255, 55, (-40, 0), None),
        node(60, 20),
        node(150, 31),
    )
    return with_slides(
        Sketch(
            nodes,
            (*EDGES, Run("upper", (6, 7, 8)), Run("lower", (9, 10, 11))),
            (
                OnRun(name="upper start", point=R(6), run="rise"),
                OnRun(name="upper end", point=R(8), run="side"),
                FromEnd(name="lower end", point=R(11), run="side", mm=61.0),
                FromEnd(name="lower start", point=R(9), run="rise", from_end=True, share=0.7),
                OnRun(name="mark on the lower", point=R(13), run="lower"),
                Smooth(name="smooth", node=7),
                Smooth(name="smooth too", node=10),
                Square(name="square", run="upper", from_end=False, other="rise", left=False),
                RunLength(name="length", run="upper", mm=290.0),
                SameLength(name="alike", run="lower", other="upper", ease=-12.0),
                Level(name="level", a=R(7), b=R(10, "out")),
                Upright(name="upright", a=R(12), b=R(10)),
                Distance(name="apart", a=R(12), b=R(13), mm=80.0),
                Angle(name="angle", a=R(12), b=R(13), degrees=5.0),
                Angle(name="between", a=R(12), b=R(13), c=R(9), d=R(10), degrees=2.0),
                OnLine(name="beside", point=R(12), start=R(0), end=R(3), mm=18.0),
                Parallel(name="parallel", a=R(12), b=R(13), c=R(9), d=R(11), mm=-31.0),
                Mirror(name="mirror", a=R(12), b=R(13), c=R(7), d=R(10)),
                Fixed(name="fixed", point=R(10), at=Point(119.0, 71.0)),
                CornerSum(
                    name="run on",
                    one=Corner("upper", True, "side"),
                    two=Corner("lower", True, "side", True, True),
                ),
            ),
            (0.0,) * 5,
        )
    )


def ladder(rungs):
    """A chain of squares: 2 * rungs + 2 nodes with distances, levels and uprights; two held."""
    nodes = [node(0, 0, held=True), node(100, 0, held=True)]
    asked = []
    for k in range(1, rungs + 1):
        nodes += [node(2.0, 40.0 * k + 1.0), node(99.0, 40.0 * k - 1.0)]
        a, b = R(2 * k), R(2 * k + 1)
        asked.append(Level(name=f"level {k}", a=a, b=b))
        asked.append(Distance(name=f"rung {k}", a=a, b=b, mm=100.0))
        asked.append(Distance(name=f"post {k}", a=R(2 * k - 2), b=a, mm=40.0 + math.sin(k)))
    return Sketch(tuple(nodes), (), tuple(asked))


def tower(storeys):
    """Pairs of points mirrored about a held line and joined by distances, each pair hung from the
    one below: 2 * storeys + 4 nodes, every storey with one way to sway.
    """
    nodes = [
        node(0, 0, held=True),
        node(0, 100, held=True),
        node(-60, 0, held=True),
        node(60, 0, held=True),
    ]
    asked = []
    for k in range(1, storeys + 1):
        up = 30.0 * k
        nodes += [node(-60.0 + 3.0 * math.sin(k), up), node(59.0 - 3.0 * math.sin(k), up + 0.5)]
        a, b = R(2 * k + 2), R(2 * k + 3)
        asked.append(Mirror(name=f"mirror {k}", a=a, b=b, c=R(0), d=R(1)))
        if k % 2:
            asked.append(Distance(name=f"post {k}", a=R(2 * k), b=a, mm=30.0 + math.sin(k)))
        else:
            asked.append(
                OnLine(name=f"post {k}", point=b, start=R(2 * k), end=R(2 * k + 1), mm=30.0)
            )
    return Sketch(tuple(nodes), (), tuple(asked))
