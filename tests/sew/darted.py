"""Shapes with a dart left open, and what must hold of a line over its mouth."""

import math

import shapely
from msgspec.structs import replace

from studio.block.panel import Dart
from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, Vector
from studio.curves.point import turn_between
from studio.sew.pressing import pressed_toward

NAMES = ("front.hem", "front.side", "front.waist", "front.rise")
DART = Dart("dart", "front.waist", Point(110, 300), Point(90, 300), Point(100, 200))


def rectangle(dart=DART, names=NAMES, top=None):
    """200 wide and 300 high, a dart opening in its top."""
    top = top or Chain.straight(Point(200, 300), dart.first, dart.last, Point(0, 300))
    chains = (
        Chain.straight(Point(0, 0), Point(200, 0)),
        Chain.straight(Point(200, 0), top.start),
        top,
        Chain.straight(top.end, Point(0, 0)),
    )
    return Outline.of(map(Edge.whole, names, chains))


def bowed(lean):
    """A curved top, whose dart leans over by `lean`: no leg is square to the edge."""
    turn = Affine.turn(math.degrees(math.atan2(lean, 100.0)), Point(100, 300))
    first, last, point = (turn(at) for at in (DART.first, DART.last, DART.point))
    dart = replace(DART, first=first, last=last, point=point)
    top = Chain(
        (
            Cubic(Point(200, 320), Point(170, 318), first + Vector(20, 4), first),
            Cubic.straight(first, last),
            Cubic(last, last + Vector(-20, -1), Point(20, 306), Point(0, 320)),
        )
    )
    return rectangle(dart, top=top), dart


def mirrored(outline, dart):
    """The same, its rise on the other side: pressed towards the other leg."""
    flip = Affine(xx=-1.0)
    turned = replace(dart, first=flip(dart.last), last=flip(dart.first), point=flip(dart.point))
    return outline.transformed(flip), turned


def assert_folds_onto_its_cut_line(outline, dart, line):
    """Every place of the cut line over the mouth, folded with the dart, lies on the cut line beside
    the leg it is pressed to: mirrored over that leg, or turned to it by the dart's angle.

    Source: closed form of two folds; shapely (GEOS) measures the distances.
    """
    near, far = dart.first, dart.last
    if pressed_toward(dart, outline) == "last":
        near, far = far, near
    apex = dart.point
    whole = turn_between(near - apex, far - apex)
    over = Affine.mirror(apex, near)
    back = Affine.turn(-whole, apex)
    drawn = [edge.chain.polyline(1e-4) for edge in line]
    ring = shapely.MultiLineString(drawn)
    looked = 0
    for edge in line:
        if edge.name != dart.edge:
            continue
        for x, y in shapely.get_coordinates(
            shapely.segmentize(shapely.LineString(edge.chain.polyline(1e-4)), 0.2)
        ):
            share = turn_between(near - apex, Point(x, y) - apex) / whole
            if not 0.001 < share < 0.999:
                continue
            there = over(Point(x, y)) if share <= 0.5 else back(Point(x, y))
            assert ring.distance(shapely.Point(there.x, there.y)) < 0.01
            looked += 1
    assert looked > 20
