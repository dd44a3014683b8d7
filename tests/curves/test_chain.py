"""Laws of chains."""

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from studio.curves import Chain, Cubic, Point
from studio.errors import GeometryRefused
from tests.curves.strategies import POINTS, RIGID, chains

SHARE = st.floats(0.02, 0.98)
BOW = Chain((Cubic(Point(0, 0), Point(40, 6), Point(80, 6), Point(120, 0)),))


@given(chains(), SHARE)
def test_a_split_keeps_the_length_and_shares_one_point(chain, share):
    before, after = chain.split(chain.length * share)
    assert before.length + after.length == pytest.approx(chain.length, abs=1e-6)
    assert before.end == after.start
    assert (before.start, after.end) == (chain.start, chain.end)


@given(chains(), SHARE, SHARE)
def test_a_stretch_is_as_long_as_its_ends_are_apart(chain, one, two):
    low, high = sorted((one * chain.length, two * chain.length))
    if high - low < 0.01:
        return
    stretch = chain.between(low, high)
    assert stretch.length == pytest.approx(high - low, abs=3e-6)
    assert stretch.start.distance_to(chain.at(low)) < 3e-6
    assert stretch.end.distance_to(chain.at(high)) < 3e-6


@given(chains(), SHARE)
def test_the_distance_of_a_place_on_the_chain_is_found_again(chain, share):
    place = chain.at(chain.length * share)
    along, gap = chain.nearest(place)
    assert gap < 1e-6
    assert chain.at(along).distance_to(place) < 1e-5


@given(chains(), RIGID)
def test_moved_or_reversed_it_is_as_long(chain, move):
    assert chain.transformed(move).length == pytest.approx(chain.length, abs=1e-5)
    back = chain.reversed()
    assert (back.start, back.end) == (chain.end, chain.start)
    assert back.at(10.0).distance_to(chain.at(chain.length - 10.0)) < 1e-5


def test_a_gap_is_refused_with_its_place():
    one = Cubic.straight(Point(0, 0), Point(10, 0))
    two = Cubic.straight(Point(10, 0.5), Point(20, 0))
    with pytest.raises(GeometryRefused, match=r"0\.5 mm at \(10\.0, 0\.0\)"):
        Chain.of((one, two))
    with pytest.raises(GeometryRefused):
        Chain.of(())


def test_distances_past_the_ends_are_the_ends():
    chain = Chain.straight(Point(0, 0), Point(10, 0), Point(10, 10))
    assert chain.at(-5.0) == Point(0, 0)
    assert chain.at(99.0) == Point(10, 10)
    with pytest.raises(GeometryRefused, match="no length"):
        chain.between(4.0, 4.0)


def test_a_cut_near_a_joint_leaves_no_sliver():
    chain = Chain.straight(Point(0, 0), Point(10, 0), Point(10, 10))
    for near in (10.0 - 1e-8, 10.0, 10.0 + 1e-8):
        before, after = chain.split(near)
        assert len(before.cubics) == len(after.cubics) == 1
        assert before.end.distance_to(Point(10, 0)) < 1e-7


@given(chains())
def test_a_joint_is_found_exactly(chain):
    for start, cubic in zip(chain.starts, chain.cubics, strict=True):
        assert chain.distance_of(cubic.p0) <= start
    assert chain.distance_of(chain.end) in (chain.length, *chain.starts)


@given(chains(), POINTS)
@example(BOW, Point(60, 30))
@example(BOW, Point(60, -30))
def test_what_surely_lies_on_a_side_lies_there_nearest_as_well(chain, point):
    is_left = chain.surely_left(point)
    if is_left is not None:
        off = chain.side_of(point)
        assert (off > 0.0) == is_left
        assert abs(off) > 0.5e-3


def test_most_places_beside_a_slight_curve_are_surely_there():
    assert BOW.surely_left(Point(60, 30)) is True
    assert BOW.surely_left(Point(60, -30)) is False
    assert BOW.surely_left(Point(60, 5)) is None
    # Beyond its ends it depends on where it would go on.
    assert BOW.surely_left(Point(400, 0)) is None


def test_the_side_of_a_place_is_judged_by_the_straight_stretch_it_lies_beside():
    # By plane geometry: a place is as far left of a straight as it was set off it.
    curve = Cubic(
        Point(82.21127144966857, 346.1105805282427),
        Point(-81.51420382040857, 393.28607122411665),
        Point(-178.8842479478405, 370.4982631601621),
        Point(-251.85451490860953, 346.11058052824274),
    )
    straight = Cubic.straight(curve.p3, Point(42.92536006239396, 113.96963532249634))
    for chain in (Chain((curve, straight)), Chain((straight.reversed(), curve.reversed()))):
        for share in (0.15, 0.3, 0.5, 0.7, 0.9):
            along = straight.tangent(share)
            for off in (-20.0, -1.0, 0.01, 1.0, 20.0):
                place = straight.at(share) + along.left() * off
                wanted = off if chain.cubics[0] is curve else -off
                assert chain.side_of(place) == pytest.approx(wanted, abs=1e-6)


@given(chains(), chains(), st.floats(0.0, 20.0))
def test_the_curves_near_a_box_are_those_whose_boxes_meet_it(chain, other, gap):
    expected = [
        (index, cubic)
        for index, cubic in enumerate(chain.cubics)
        if cubic.box.meets(other.box, gap)
    ]
    assert chain.curves_near(other.box, gap) == expected
