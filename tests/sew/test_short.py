"""The line a short copy is cut to: led to the cut line, and told where it cannot be followed."""

import itertools
import math

import pytest
from msgspec.structs import replace
from shapely import LineString, Point, Polygon

from studio.check.shortages import LINE_RULE
from studio.curves import Chain, Cubic, Edge, Outline
from studio.curves import Point as At
from studio.cut import Piece
from studio.demo import demo_design
from studio.design.cloth import Shortage
from studio.design.joins import Corner
from studio.pattern import evaluate
from studio.sew import CutEdge, Lined, cut_line, cut_outline_points, grainline, sew_piece
from studio.sew.short import faults, short_line

ARC = 4.0 / 3.0 * math.tan(math.pi / 8.0)
"""Handle of the usual cubic for a quarter of a circle; 0.03 % off it at most (handbook value)."""


def piece_of(edges, width):
    outline = Outline.of(Edge.whole(name, chain) for name, chain in edges.items())
    widths = (width,) * len(edges)
    line = cut_line(outline, widths)
    return sew_piece(Piece("plate", outline), Lined(widths, *line, grainline(outline, 90.0)))


def ring(*corners):
    return [Chain.straight(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)]


def rectangle(width=20.0):
    low, right, high, left = ring(At(0, 0), At(200, 0), At(200, 100), At(0, 100))
    return piece_of({"low": low, "right": right, "high": high, "left": left}, width)


def hollow(radius, width=50.0):
    """An L, 400 by 400, the hollow of its inner corner round."""
    handle = ARC * radius
    inner = Chain(
        (
            Cubic.straight(At(400, 200), At(200 + radius, 200)),
            Cubic(
                At(200 + radius, 200),
                At(200 + radius - handle, 200),
                At(200, 200 + radius - handle),
                At(200, 200 + radius),
            ),
            Cubic.straight(At(200, 200 + radius), At(200, 400)),
        )
    )
    corners = At(200, 400), At(0, 400), At(0, 0), At(400, 0), At(400, 200)
    others = [Chain.straight(a, b) for a, b in itertools.pairwise(corners)]
    names = ("top", "left", "low", "right")
    return piece_of({"inner": inner} | dict(zip(names, others, strict=True)), width)


def short(edge, start, end, missing, piece="plate"):
    return Shortage(piece, 0, edge, start, end, missing)


def with_cut_line(sewn, named):
    return replace(sewn, cut_line=tuple(CutEdge(name, chain) for name, chain in named))


@pytest.mark.parametrize(("start", "end"), [(0.0, 200.0), (50.0, 120.0), (0.0, 30.0)])
def test_a_line_that_goes_from_cut_line_to_cut_line_is_not_told(start, end):
    sewn = rectangle()
    asked = short("low", start, end, 8.0)
    assert faults(sewn, asked) == ()
    line = short_line(sewn, asked)
    assert line.length == pytest.approx(end - start + 16.0, abs=1e-6)


@pytest.mark.parametrize("how", ["squared-to-before", "squared-to-after"])
def test_at_a_squared_corner_that_reaches_further_out_it_goes_on_to_there(how):
    """Measured by shapely: both ends lie on the cut line, for every edge of the demonstration."""
    design = demo_design()
    corners = []
    for sewn in evaluate(design).pieces:
        names = [edge.name for edge in sewn.piece.outline]
        pairs = zip(names, (*names[1:], names[0]), strict=True)
        corners += [Corner(sewn.piece.name, before, after, how) for before, after in pairs]
    longer = 0
    for sewn in evaluate(replace(design, corners=tuple(corners))).pieces:
        ground = Polygon(cut_outline_points(sewn.cut_line, 0.001))
        for edge, width in zip(sewn.piece.outline, sewn.allowances, strict=True):
            if width < 2.0:
                continue
            asked = short(edge.name, 0.0, edge.length, width / 2.0, sewn.piece.name)
            assert faults(sewn, asked) == ()
            line = LineString(short_line(sewn, asked).polyline(0.001))
            assert all(
                ground.exterior.distance(Point(at)) < 0.51
                for at in line.coords[:: len(line.coords) - 1]
            )
            longer += line.length > edge.length + width + 1.0
    assert longer > 0


def test_an_end_that_does_not_reach_the_cut_line_is_told_with_how_far():
    """A cut line 300 from the edge, further out than any corner: the line ends 20 outside it."""
    far = ring(At(-300, -300), At(500, -300), At(500, 400), At(-300, 400))
    sewn = with_cut_line(rectangle(), zip(("low", "right", "high", "left"), far, strict=True))
    found = faults(sewn, short("low", 50.0, 120.0, 8.0))
    assert [one.wanting for one in found] == pytest.approx([280.0, 280.0], abs=1e-6)
    assert "ends 280.0 mm short of the cut line at its start" in found[0].words
    assert "at its end" in found[1].words
    assert all("prolong it there with a ruler" in one.words for one in found)


def test_what_lies_beyond_a_crossing_is_told():
    """The cut line comes in to 5 mm over 20 mm: of a line 12 outside, from 0 to 200, the 60 before
    that are not drawn.
    """
    inward = Chain.straight(At(60, -20), At(60, -5), At(80, -5), At(80, -20))
    low = Chain.straight(At(-20, -20), At(60, -20))
    rest = Chain.straight(At(80, -20), At(220, -20))
    around = Chain.straight(At(220, -20), At(220, 120), At(-20, 120), At(-20, -20))
    named = (("low", low), ("notch", inward), ("low", rest), ("right", around))
    sewn = with_cut_line(rectangle(), named)
    asked = short("low", 0.0, 200.0, 8.0)
    (one,) = faults(sewn, asked)
    assert one.wanting == pytest.approx(60.0, abs=1e-6)
    assert "60.0 mm of it beyond are not drawn" in one.words
    assert "12.0 mm outside the sewing line" in one.words
    assert short_line(sewn, asked).length == pytest.approx(120.0 + 8.0, abs=1e-6)


@pytest.mark.parametrize("radius", [30.0, 36.0])
def test_a_line_wider_than_the_hollow_is_round_is_told_with_its_loop(radius):
    """Closed form: beside a quarter of radius r the parallel d outside it runs back on a quarter of
    radius d - r, and both straights d - r too far.
    """
    left = 40.0
    sewn = hollow(radius)
    asked = short("inner", 0.0, sewn.piece.outline.edge("inner").length, 10.0)
    (one,) = faults(sewn, asked)
    loop = (left - radius) * (2.0 + math.pi / 2.0)
    assert one.wanting == pytest.approx(loop, abs=0.05)
    assert "40.0 mm is wider than the hollow is round" in one.words
    # A rounder hollow takes it.
    assert faults(hollow(60.0), asked) == ()


def test_a_stretch_that_a_corner_has_cut_off_has_no_line_and_that_is_told():
    design = demo_design()
    finishes = tuple(replace(one, allowance=60.0) for one in design.finishes)
    asked = Shortage("pocket-bag", 0, "front.side", 0.0, 10.0, 30.0)
    pattern = evaluate(replace(design, finishes=finishes, shortages=(asked,)))
    sewn = pattern.piece("pocket-bag")
    assert short_line(sewn, asked) is None
    edge = sewn.piece.outline.edge("front.side").chain.between(0.0, 10.0)
    ground = Polygon(cut_outline_points(sewn.cut_line))
    assert LineString(edge.polyline()).offset_curve(-30.0).disjoint(ground)
    (told,) = [one for one in pattern.findings if one.rule == LINE_RULE]
    assert (told.gravity, told.measured) == ("warning", 10.0)
    assert "No narrower line is drawn for the 10.0 mm" in told.message
    assert told.message.startswith("pocket-bag")


def test_a_shortage_that_can_be_followed_is_told_once():
    asked = Shortage("back-leg", 1, "back.rise", 205.0, 240.0, 5.3)
    pattern = evaluate(replace(demo_design(), shortages=(asked,)))
    assert [one for one in pattern.findings if one.rule == LINE_RULE] == []
