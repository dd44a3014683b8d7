"""What clashes, what is redundant, what is free, what is locked, how far a value can go."""

import msgspec
import pytest

from studio.constrain import PointRef, Sketch, diagnosis, measured, reach, solved
from studio.constrain.kinds import Distance, Fixed, Level, RunLength
from studio.curves import Point
from studio.errors import BadInput
from tests.constrain.sketches import node, yoke

R = PointRef


def triangle(*more):
    nodes = (node(0, 0, held=True), node(30, 1), node(29, 41))
    asked = (
        Level(name="level", a=R(0), b=R(1)),
        Distance(name="base", a=R(0), b=R(1), mm=30.0),
        Distance(name="post", a=R(1), b=R(2), mm=40.0),
        *more,
    )
    return Sketch(nodes, (), asked)


def test_a_contradiction_is_a_conflict_and_names_the_newest_and_its_rival():
    found = diagnosis(triangle(Distance(name="base again", a=R(0), b=R(1), mm=35.0)))
    assert [(clash.newest, clash.others) for clash in found.conflicts] == [
        ("base again", ("base",))
    ]
    assert found.redundant == ()


def test_a_repetition_is_redundant():
    found = diagnosis(triangle(Distance(name="base again", a=R(1), b=R(0), mm=30.0)))
    assert [clash.newest for clash in found.redundant] == ["base again"]
    assert found.conflicts == ()


def test_freedom_counts_what_is_left_and_locked_points_are_listed():
    found = diagnosis(triangle())
    assert found.freedom == 1
    assert found.locked == (R(1),)
    whole = diagnosis(triangle(Distance(name="slope", a=R(0), b=R(2), mm=50.0)))
    assert whole.freedom == 0
    assert whole.locked == (R(1), R(2))


def test_an_unreachable_value_is_brought_as_far_as_it_goes():
    sketch = triangle(
        Fixed(name="pinned", point=R(2), at=Point(30.0, 40.0)),
    )
    free = msgspec.structs.replace(sketch, constraints=sketch.constraints[1:])
    got = reach(free, "post", 200.0)
    assert got.value == pytest.approx(80.0, abs=1e-3)
    assert set(got.against) <= {"base", "post", "pinned"}
    assert got.against


@pytest.mark.parametrize(
    ("base", "rest", "wanted"), [(30.0, 40.0, 71.0), (30.0, 40.0, 500.0), (100.0, 30.0, 20.0)]
)
def test_a_distance_goes_as_far_as_the_sides_of_a_triangle_let_it(base, rest, wanted):
    """Euclid, Elements I.20: two sides of a triangle are together longer than the third. To 1e-6
    of the way, as is promised.
    """
    sketch = Sketch(
        (node(0, 0, held=True), node(base, 1), node(base - 1, 30)),
        (),
        (
            Distance(name="base", a=R(0), b=R(1), mm=base),
            Distance(name="rest", a=R(1), b=R(2), mm=rest),
            Distance(name="third", a=R(0), b=R(2), mm=wanted),
        ),
    )
    got = reach(sketch, "third", wanted)
    limit = base + rest if wanted > base + rest else abs(base - rest)
    now = measured(sketch, "third")
    assert got.met
    assert got.value == pytest.approx(limit, abs=2e-6 * abs(wanted - now))
    assert set(got.against) == {"base", "rest", "third"}
    assert got.sketch.nodes[0].at.distance_to(got.sketch.nodes[2].at) == pytest.approx(got.value)


def test_a_value_goes_nowhere_while_the_others_clash_among_themselves():
    sketch = triangle(Distance(name="base again", a=R(0), b=R(1), mm=35.0))
    got = reach(sketch, "post", 45.0)
    assert not got.met
    assert got.value == pytest.approx(measured(sketch, "post"))
    assert {"base", "base again"} <= set(got.against)
    assert got.sketch is sketch


def test_what_is_known_already_is_not_solved_again(monkeypatch):
    sketch = triangle(Distance(name="slope", a=R(0), b=R(2), mm=90.0))
    whole = solved(sketch)
    assert not whole.met
    plain = reach(sketch, "slope", 90.0)
    monkeypatch.setattr("studio.constrain.diagnose.solved", None)
    assert reach(sketch, "slope", 90.0, whole) == plain


def test_a_reachable_value_is_reached():
    got = reach(solved(yoke()).sketch, "length", 300.0)
    assert got.value == 300.0
    assert got.against == ()
    assert got.sketch.chain("yoke").length == pytest.approx(300.0, abs=1e-6)


def test_what_a_request_measures_now():
    sketch = yoke()
    assert measured(sketch, "length") == pytest.approx(sketch.chain("yoke").length, abs=1e-6)
    with pytest.raises(BadInput, match="no number"):
        measured(sketch, "smooth one")


def test_a_length_no_line_can_have_is_unmet_by_name():
    short = yoke().with_constraint(RunLength(name="length", run="yoke", mm=100.0))
    solution = solved(short)
    assert not solution.met
    assert "length" in solution.unmet
