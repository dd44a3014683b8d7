"""Lengths, areas and parallels against closed forms and reference libraries."""

import itertools
import math

import numpy as np
import pytest
import shapely
import svgpathtools
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipeinc

from studio.curves import Chain, Cubic, Edge, Outline, Point, meetings, offset_left
from studio.errors import GeometryRefused

COORDINATE = st.floats(-200.0, 200.0)
CUBICS = st.builds(
    lambda *n: Cubic(Point(n[0], n[1]), Point(n[2], n[3]), Point(n[4], n[5]), Point(n[6], n[7])),
    *[COORDINATE] * 8,
)


def arc(radius, start, end):
    """A circular arc as one cubic, the standard approximation."""
    handle = 4.0 / 3.0 * math.tan((end - start) / 4.0) * radius
    p0 = Point(radius * math.cos(start), radius * math.sin(start))
    p3 = Point(radius * math.cos(end), radius * math.sin(end))
    p1 = Point(p0.x - handle * math.sin(start), p0.y + handle * math.cos(start))
    p2 = Point(p3.x + handle * math.sin(end), p3.y - handle * math.cos(end))
    return Cubic(p0, p1, p2, p3)


def circle(radius, parts):
    step = 2.0 * math.pi / parts
    return Chain(tuple(arc(radius, k * step, (k + 1) * step) for k in range(parts)))


def test_a_quarter_circle_strays_by_2_7_in_ten_thousand_of_its_radius():
    # Closed form: Goldapp, "Approximation of circular arcs by cubic polynomials" (1991): 2.7e-4 r.
    quarter = arc(100.0, 0.0, math.pi / 2.0)
    off = max(abs(math.hypot(*_xy(quarter.at(k / 400))) - 100.0) for k in range(401))
    assert off == pytest.approx(0.0273, abs=0.0005)


@pytest.mark.parametrize("radius", [1.0, 60.0, 1000.0])
def test_a_fine_circle_is_two_pi_r_long_and_pi_r_squared_large(radius):
    chain = circle(radius, 128)
    assert chain.length == pytest.approx(2.0 * math.pi * radius, abs=1e-6)
    outline = Outline.of((Edge.whole("round", chain),))
    assert outline.area_mm2 == pytest.approx(math.pi * radius**2, rel=1e-9)


def test_a_parabola_has_the_length_of_its_closed_form():
    # Closed form: y = x^2 / 2p from 0 to a: (a/2) sqrt(1 + (a/p)^2) + (p/2) asinh(a/p).
    a, p = 120.0, 80.0
    control = Point(a / 2.0, 0.0)
    start, end = Point(0.0, 0.0), Point(a, a * a / (2.0 * p))
    raised = Cubic(start, start.toward(control, 2 / 3), end.toward(control, 2 / 3), end)
    closed = a / 2.0 * math.sqrt(1.0 + (a / p) ** 2) + p / 2.0 * math.asinh(a / p)
    assert raised.length == pytest.approx(closed, abs=1e-9)


def test_an_ellipse_arc_has_the_length_of_the_elliptic_integral():
    # Reference library: scipy.special.ellipeinc.
    a, b, parts = 150.0, 90.0, 400
    angle = np.linspace(0.0, math.pi / 2.0, parts + 1)
    cubics = []
    for one, two in itertools.pairwise(angle):
        third = (two - one) / 3.0
        p0 = Point(a * math.cos(one), b * math.sin(one))
        p3 = Point(a * math.cos(two), b * math.sin(two))
        p1 = Point(p0.x - third * a * math.sin(one), p0.y + third * b * math.cos(one))
        p2 = Point(p3.x + third * a * math.sin(two), p3.y - third * b * math.cos(two))
        cubics.append(Cubic(p0, p1, p2, p3))
    quarter = a * ellipeinc(math.pi / 2.0, 1.0 - (b / a) ** 2)
    assert Chain.of(cubics).length == pytest.approx(quarter, abs=1e-6)


@given(CUBICS)
def test_lengths_agree_with_quadrature(cubic):
    # Reference library: scipy.integrate.quad, which cannot be trusted near a cusp.
    speeds = [cubic.derivative(k / 500).length for k in range(501)]
    assume(min(speeds) > 0.02 * max(speeds))
    whole = quad(lambda t: cubic.derivative(t).length, 0.0, 1.0, epsabs=1e-10, limit=400)[0]
    assert cubic.length == pytest.approx(whole, abs=1e-6)


def test_a_curve_with_a_cusp_is_as_long_as_a_polygon_of_a_million_sides():
    x = np.array([[0.0, 0.0, 0.03125, 0.0], [0.0, 117.0, 0.0, 0.0]])
    t = np.linspace(0.0, 1.0, 2_000_001)
    weights = np.stack([(1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3])
    polygon = np.hypot(*np.diff(x @ weights)).sum()
    cubic = Cubic(*(Point(*x[:, k].tolist()) for k in range(4)))
    assert cubic.length == pytest.approx(polygon, abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_lengths_agree_with_bezier(seed):
    # Reference library: bezier.
    bezier = pytest.importorskip("bezier")
    x = np.random.default_rng(seed).uniform(-150.0, 150.0, (2, 4))
    cubic = Cubic(*(Point(*x[:, k].tolist()) for k in range(4)))
    assert cubic.length == pytest.approx(bezier.Curve(x, degree=3).length, abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_lengths_agree_with_svgpathtools(seed):
    # Reference library: svgpathtools.
    x = np.random.default_rng(seed).uniform(-150.0, 150.0, (2, 4))
    cubic = Cubic(*(Point(*x[:, k].tolist()) for k in range(4)))
    twin = svgpathtools.CubicBezier(*(complex(*x[:, k]) for k in range(4)))
    assert cubic.length == pytest.approx(twin.length(error=1e-8), abs=1e-5)


@given(CUBICS, CUBICS)
def test_every_crossing_another_library_finds_is_found(one, two):
    # Reference library: shapely on polylines of 0.001 mm, crossings clear of ends and tangencies.
    lines = [shapely.LineString(cubic.polyline(1e-3)) for cubic in (one, two)]
    crossing = lines[0].intersection(lines[1])
    points = [p for p in getattr(crossing, "geoms", [crossing]) if p.geom_type == "Point"]
    try:
        found = meetings(Chain((one,)), Chain((two,)))
    except GeometryRefused:
        # Curves on each other are refused, and the other library finds a stretch, not points.
        assert lines[0].distance(lines[1]) < 0.01
        return
    for meeting in found:
        assert one.nearest(meeting.point)[1] < 1e-6
        assert two.nearest(meeting.point)[1] < 1e-6
    for point in points:
        place = Point(point.x, point.y)
        t, u = one.nearest(place)[0], two.nearest(place)[0]
        angle = abs(one.tangent(t).cross(two.tangent(u)))
        ends = min(place.distance_to(end) for cubic in (one, two) for end in (cubic.p0, cubic.p3))
        if angle > 0.1 and ends > 0.5:
            assert any(meeting.point.distance_to(place) < 0.05 for meeting in found)


@pytest.mark.parametrize("distance", [-24.0, -12.0, -6.0, 12.0, 24.0])
def test_parallels_lie_within_a_hundredth_of_their_distance(distance):
    # Reference library: shapely, distance of dense samples to a polyline of 0.0001 mm.
    for curve in (
        Cubic(Point(0, 0), Point(60, 150), Point(140, 180), Point(260, 100)),
        Cubic(Point(0, 0), Point(90, 20), Point(150, 80), Point(160, 190)),
        arc(90.0, 0.0, 1.4),
    ):
        line = shapely.LineString(curve.polyline(1e-4))
        for cubic in offset_left(curve, distance).cubics:
            for x, y in cubic.polyline(0.02):
                off = abs(line.distance(shapely.Point(x, y)) - abs(distance))
                assert off < 0.01


@given(st.floats(20.0, 300.0), st.floats(-15.0, 15.0))
def test_the_parallel_of_a_circle_is_a_circle(radius, distance):
    # Closed form: offsetting an arc to its left (towards the centre) by d gives radius r - d.
    for cubic in offset_left(arc(radius, 0.2, 1.3), distance).cubics:
        for k in range(9):
            reached = math.hypot(*_xy(cubic.at(k / 8)))
            assert reached == pytest.approx(radius - distance, abs=0.01 + 3e-4 * radius)


def test_an_outlines_area_agrees_with_a_fine_polygon():
    # Reference library: shapely.
    outline = Outline.of(
        (
            Edge.whole("low", Chain.straight(Point(0, 0), Point(200, 0))),
            Edge.whole(
                "high",
                Chain((Cubic(Point(200, 0), Point(260, 140), Point(60, 240), Point(0, 0)),)),
            ),
        )
    )
    polygon = shapely.Polygon(outline.polyline(1e-4))
    assert outline.area_mm2 == pytest.approx(polygon.area, abs=0.05)


def _xy(point):
    return point.x, point.y
