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


def test_handles_that_fold_back_on_a_line_give_no_junk():
    folded = Cubic(Point(0, 0), Point(150, 0), Point(-50, 0), Point(100, 0))
    try:
        parallel = offset_left(folded, 5.0)
    except GeometryRefused:
        return
    assert len(parallel.cubics) <= 64
    assert all(math.isfinite(sum(cubic.numbers)) for cubic in parallel.cubics)


def test_a_polyline_never_repeats_a_point():
    for k in range(1, 40):
        cubic = Cubic(Point(0, 0), Point(k, 40), Point(60, 40 + k), Point(100, k / 7.0))
        points = kernel.polyline(cubic.twin, 0.1)
        assert all(math.dist(a, b) > 1e-9 for a, b in itertools.pairwise(points))
        assert points[0] == (0.0, 0.0)
        assert points[-1] == (100.0, k / 7.0)
