"""Flat-pattern steps against plane geometry and against what makers do, worked out by hand."""

import itertools
import math

import pytest

from studio.alter import altered
from studio.alter.closing import closing_moves, dart_of
from studio.block.places import point_at
from studio.curves import Point, level_meetings
from studio.design import (
    Hinge,
    Lengthen,
    LowerWaist,
    MoveDart,
    OnEdge,
    Spread,
    SwingRise,
    TakeIn,
    TakeOffDart,
)
from tests.shapes import back_panel, front_panel


def length(panel, edge):
    return panel.outline.edge(f"{panel.name}.{edge}").length


def samples(panel, edge, count=40):
    chain = panel.outline.edge(f"{panel.name}.{edge}").chain
    return [chain.at(chain.length * k / count) for k in range(count + 1)]


def test_a_dart_closes_by_a_rigid_turn_that_keeps_every_length():
    # A rotation of the plane is an isometry: Euclid, Elements I.4.
    panel = back_panel()
    dart = panel.darts[0]
    move = closing_moves((dart,))[-1]
    assert move(dart.last).distance_to(dart.first) < 1e-9
    places = samples(panel, "side")
    for one, two in itertools.pairwise(places):
        assert move(one).distance_to(move(two)) == pytest.approx(one.distance_to(two), abs=1e-9)


def test_a_moved_dart_takes_its_whole_angle_along():
    # The angle at the point is that of the rotation, wherever it opens.
    panel = front_panel()
    before = dart_of(panel, "front-dart")
    made = altered(
        panel, (MoveDart("front", "front-dart", OnEdge("front.side", "front.waist", mm=150.0)),)
    )
    after = dart_of(made, "front-dart")
    assert after.point == before.point

    def angle(dart):
        one, two = dart.first - dart.point, dart.last - dart.point
        return abs(math.atan2(one.cross(two), one.dot(two)))

    assert angle(after) == pytest.approx(angle(before), abs=1e-9)


PIVOT = OnEdge("back.side", "back.waist", mm=200.0)
OPENING = OnEdge("back.rise", "back.waist", mm=210.0)


def test_a_hinge_leaves_the_side_of_its_pivot_as_long_as_it_was():
    panel = back_panel()
    made = altered(panel, (Hinge("back", PIVOT, OPENING, 20.0),))
    assert length(made, "side") == pytest.approx(length(panel, "side"), abs=1e-6)
    for edge in ("hem", "inseam"):
        assert made.outline.edge(f"back.{edge}") == panel.outline.edge(f"back.{edge}")


@pytest.mark.parametrize("off", [-0.4, -0.05, 0.0, 0.05, 0.4])
def test_a_level_line_that_was_hinged_along_stays_where_it_was(off):
    # Places are told to a tenth of a millimetre, so the cut runs a hair above or below the line it
    # was set on. The girth there is measured on the part that stays, whichever it is: a chord
    # across a panel that nothing has moved keeps its length, but for what the rise is redrawn by.
    panel = back_panel()
    hip = panel.levels["hip"]
    ends = [
        level_meetings(panel.outline.edge(edge).chain, hip)[0].first
        for edge in ("back.side", "back.rise")
    ]
    waist = panel.outline.edge("back.waist").chain
    places = []
    for edge, along in zip(("back.side", "back.rise"), ends, strict=True):
        chain = panel.outline.edge(edge).chain
        from_waist = along if chain.start in (waist.start, waist.end) else chain.length - along
        places.append(OnEdge(edge, "back.waist", mm=from_waist + off))
    made = altered(panel, (Hinge("back", places[0], places[1], 10.0),))
    assert made.levels["hip"] == hip
    assert made.levels["waist"] > panel.levels["waist"]


def test_a_hinge_opens_by_the_chord_it_was_asked_for():
    # Chord of a turn by a about a pivot r away: 2 r sin(a / 2) (Euclid, Elements III.29).
    panel = back_panel()
    pivot, opening = point_at(panel, PIVOT), point_at(panel, OPENING)
    made = altered(panel, (Hinge("back", PIVOT, OPENING, 20.0),))
    turn = 2.0 * math.asin(20.0 / (2.0 * pivot.distance_to(opening)))
    old = panel.outline.edge("back.waist").chain
    new = made.outline.edge("back.waist").chain
    for along in (0.0, old.length / 3.0, old.length):
        before, after = old.at(along) - pivot, new.at(along) - pivot
        assert after.length == pytest.approx(before.length, abs=1e-9)
        turned = abs(math.atan2(before.cross(after), before.dot(after)))
        assert turned == pytest.approx(turn, abs=1e-9)


def test_a_back_hinged_by_20_gains_about_20_on_its_rise():
    # Back hinged at hip and side so that the rise gains 20: common practice, no source. The cut
    # opens by a chord of 20 and 60 on each side of it are drawn over fair: a straight run of 120
    # and the gap is the longest it can be, and the turn of 4 degrees shortens a fair run by under
    # 3 against that where the rise leans against the chord by up to 20 degrees (2 = 20 - 20 cos
    # 25.8).
    panel = back_panel()
    made = altered(panel, (Hinge("back", PIVOT, OPENING, 20.0),))
    assert 17.0 <= length(made, "rise") - length(panel, "rise") <= 21.5


def test_a_parallel_spread_adds_its_amount_to_hem_and_waist():
    # A translation square to a line adds its length to what crosses it square (Euclid I.34).
    panel = front_panel()
    step = Spread(
        "front",
        OnEdge("front.waist", "front.side", mm=60.0),
        OnEdge("front.hem", "front.side", mm=40.0),
        15.0,
        15.0,
    )
    made = altered(panel, (step,))
    line = point_at(panel, step.end) - point_at(panel, step.start)
    lean = abs(line.x) / line.length
    assert length(made, "hem") - length(panel, "hem") == pytest.approx(
        15.0 * math.sqrt(1.0 - lean * lean), abs=0.02
    )
    for edge in ("rise", "inseam", "side"):
        assert length(made, edge) == pytest.approx(length(panel, edge), abs=1e-6)


@pytest.mark.parametrize("amount", [25.0, -25.0])
def test_lengthening_moves_all_above_up_by_the_amount(amount):
    panel = back_panel()
    made = altered(panel, (Lengthen("back", "knee", amount, -120.0),))
    for name, height in panel.levels.items():
        moved = 0.0 if name == "hem" else amount
        assert made.levels[name] == pytest.approx(height + moved, abs=1e-9)
    for edge in ("waist", "rise"):
        for one, two in zip(samples(panel, edge), samples(made, edge), strict=True):
            assert two.y - one.y == pytest.approx(amount, abs=1e-6)
            assert two.x == pytest.approx(one.x, abs=1e-6)
    # The inseam leans by under 3 degrees there: its run of 120 gains the amount within 1 per cent.
    assert length(made, "inseam") - length(panel, "inseam") == pytest.approx(amount, abs=0.5)


def test_centre_front_brought_in_30_runs_straight_to_the_hip_line():
    # Centre front brought in 30 at the waist and run to the hip line: common practice, no source.
    # By hand: the waist was 210, so its end moves from x = -90 to x = -60 at 1060; the rise above
    # the hip line is the slope from there to (-110, 860): sqrt(50^2 + 200^2) = 206.155.
    panel = front_panel()
    made = altered(panel, (SwingRise("front", 30.0, releases_darts=True),))
    rise = made.outline.edge("front.rise").chain
    hip = level_meetings(rise, 860.0)[0].first
    assert rise.at(0.0).distance_to(Point(-60.0, 1060.0)) < 1e-6
    assert hip == pytest.approx(206.155, abs=0.6)


def test_a_waist_lowered_50_stands_50_lower_on_a_straight_slope():
    # Waist lowered 50 on the grain: common practice, no source. By hand: the front rise falls from
    # (-90, 1060) to (-110, 860), so 50 down is x = -95; it loses sqrt(5^2 + 50^2) = 50.249.
    panel = front_panel()
    made = altered(panel, (LowerWaist("front", 50.0, 50.0),))
    top = made.outline.edge("front.rise").chain.start
    assert (top.x, top.y) == pytest.approx((-95.0, 1010.0), abs=1e-6)
    assert length(panel, "rise") - length(made, "rise") == pytest.approx(50.249, abs=1e-3)


def test_10_then_8_off_the_side_at_the_waist_takes_18_of_the_darts():
    # 10, then a further 8, taken off the side at the waist: common practice, no source. By hand:
    # the sewn waist stays what it was, the darts together lose 18, the side stays as long.
    panel = back_panel()
    name = panel.darts[0].name
    steps = (TakeOffDart("back", name, "side", 10.0), TakeOffDart("back", name, "side", 8.0))
    made = altered(panel, steps)
    assert made.sewn_length("back.waist") == pytest.approx(
        panel.sewn_length("back.waist"), abs=1e-6
    )
    assert length(made, "side") == pytest.approx(length(panel, "side"), abs=1e-6)
    taken = sum(dart.intake for dart in panel.darts) - sum(dart.intake for dart in made.darts)
    assert taken == pytest.approx(18.0, abs=0.2)
    assert length(panel, "waist") - length(made, "waist") == pytest.approx(18.0, abs=0.2)


@pytest.mark.parametrize("amount", [6.0, -6.0])
def test_a_side_taken_in_at_the_waist_shortens_the_waist_by_as_much(amount):
    panel = front_panel()
    made = altered(panel, (TakeIn("front", "front.side", amount, "waist", lower="hip"),))
    assert length(panel, "waist") - length(made, "waist") == pytest.approx(amount, abs=1e-6)
    assert length(made, "side") == pytest.approx(length(panel, "side"), abs=1e-6)


def test_a_thigh_let_out_is_as_much_wider_on_its_level_and_not_beyond_the_tapers():
    panel = front_panel()
    step = TakeIn("front", "front.side", -8.0, "crotch", upper="hip", lower="knee")
    made = altered(panel, (step,))

    def side_at(which, height):
        chain = which.outline.edge("front.side").chain
        return level_meetings(chain, height)[0].point.x

    assert side_at(made, 790.0) - side_at(panel, 790.0) == pytest.approx(8.0, abs=1e-6)
    for height in (860.5, 1000.0, 444.0, 100.0):
        assert side_at(made, height) == pytest.approx(side_at(panel, height), abs=1e-3)
