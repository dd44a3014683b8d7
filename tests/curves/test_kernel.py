"""The kernel's traps are closed: nothing hangs, nothing gives junk in silence."""

import itertools
import math

import pytest

from studio.curves import Cubic, Point, kernel, offset_left
from studio.errors import GeometryRefused

BAD = [math.nan, math.inf, -math.inf]


@pytest.mark.parametrize("bad", BAD)
@pytest.mark.parametrize("place", range(4))
def test_a_point_that_is_no_number_is_refused(bad, place):
    points = [Point(0, 0), Point(10, 40), Point(60, 40), Point(100, 0)]
    points[place] = Point(bad, 0.0)
    cubic = Cubic(*points)
    for ask in (lambda: cubic.length, lambda: cubic.box, lambda: cubic.nearest(Point(0, 0))):
        with pytest.raises(GeometryRefused):
            ask()


def test_tolerances_of_nothing_do_not_hang():
    twin = Cubic(Point(0, 0), Point(10, 40), Point(60, 40), Point(100, 0)).twin
    with pytest.raises(GeometryRefused):
        kernel.offset(twin, 5.0, 0.0)
    assert len(kernel.offset(twin, 5.0, 1e-4)) < 64
    assert len(kernel.polyline(twin, 0.0)) > 10
    assert kernel.parameter_at(twin, 0.0) == pytest.approx(0.0, abs=1e-9)


def test_a_curve_without_length_has_no_parallel():
    point = Point(5.0, 5.0)
    with pytest.raises(GeometryRefused):
        offset_left(Cubic(point, point, point, Point(5.0, 5.0 + 1e-9)), 5.0)


def on_a_line(beyond):
    """A curve from 0 to 100 on the x axis whose handles reach so far past each other's ends."""
    return Cubic(Point(0, 0), Point(100 + beyond, 0), Point(-beyond, 0), Point(100, 0))


@pytest.mark.parametrize("beyond", [50.0, 5.0])
@pytest.mark.parametrize("distance", [5.0, -5.0, 0.01])
def test_handles_that_fold_back_far_on_a_line_are_refused(beyond, distance):
    with pytest.raises(GeometryRefused, match="fold back"):
        offset_left(on_a_line(beyond), distance)


@pytest.mark.parametrize("beyond", [2.0, 0.5, -10.0, -45.0])
@pytest.mark.parametrize("distance", [5.0, -5.0, 0.01])
def test_handles_on_a_line_that_hardly_fold_back_or_not_give_the_line_beside(beyond, distance):
    parallel = offset_left(on_a_line(beyond), distance)
    ends = parallel.cubics[0].p0, parallel.cubics[-1].p3
    assert [end.x for end in ends] == pytest.approx([0.0, 100.0], abs=1e-6)
    for cubic in parallel.cubics:
        assert cubic.numbers[1::2] == pytest.approx((distance,) * 4, abs=1e-6)


def test_a_polyline_never_repeats_a_point():
    for k in range(1, 40):
        cubic = Cubic(Point(0, 0), Point(k, 40), Point(60, 40 + k), Point(100, k / 7.0))
        points = kernel.polyline(cubic.twin, 0.1)
        assert all(math.dist(a, b) > 1e-9 for a, b in itertools.pairwise(points))
        assert points[0] == (0.0, 0.0)
        assert points[-1] == (100.0, k / 7.0)
