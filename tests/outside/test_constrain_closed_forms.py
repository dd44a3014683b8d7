"""The solver against constructions known in closed form and an independent minimiser."""

import math

import numpy as np
import pytest
from scipy.optimize import minimize

from studio.constrain import PointRef, Sketch, solved
from studio.constrain.kinds import Angle, Distance, Fixed, Level, Mirror, OnLine, Upright
from studio.curves import Point
from tests.constrain.sketches import node

R = PointRef


def test_a_triangle_of_3_4_5_has_a_right_angle():
    # Euclid, Elements I.48.
    sketch = Sketch(
        (node(0, 0, held=True), node(33, 4), node(25, 44)),
        (),
        (
            Distance(name="three", a=R(0), b=R(1), mm=30.0),
            Distance(name="four", a=R(1), b=R(2), mm=40.0),
            Distance(name="five", a=R(2), b=R(0), mm=50.0),
        ),
    )
    solution = solved(sketch)
    assert solution.met
    a, b, c = (n.at for n in solution.sketch.nodes)
    assert (a - b).dot(c - b) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("turn", [20.0, 75.0, 130.0])
def test_the_angle_in_a_semicircle_is_right(turn):
    # Thales: Euclid, Elements III.31.
    at = 50.0 * np.exp(1j * math.radians(turn)) + (3.0 - 2.0j)
    sketch = Sketch(
        (
            node(-50, 0, held=True),
            node(50, 0, held=True),
            node(0, 0, held=True),
            node(at.real, at.imag),
        ),
        (),
        (Distance(name="radius", a=R(2), b=R(3), mm=50.0),),
    )
    a, b, _, p = (n.at for n in solved(sketch).sketch.nodes)
    assert (a - p).dot(b - p) == pytest.approx(0.0, abs=1e-6)


def test_pythagoras_on_a_level_line():
    # Euclid, Elements I.47: hypotenuse 130 over a height of 50 leaves 120 along the level.
    sketch = Sketch(
        (node(0, 50, held=True), node(100, 3), node(0, 0, held=True)),
        (),
        (
            Level(name="level", a=R(2), b=R(1)),
            Distance(name="slope", a=R(0), b=R(1), mm=130.0),
        ),
    )
    at = solved(sketch).sketch.nodes[1].at
    assert (at.x, at.y) == pytest.approx((120.0, 0.0), abs=1e-9)


def test_a_mirrored_point_is_the_reflection():
    # Reflection of p in the line through 0 along (3, 4)/5: 2 (p.u) u - p.
    sketch = Sketch(
        (node(0, 0, held=True), node(30, 40, held=True), node(10, 50, held=True), node(40, 20)),
        (),
        (Mirror(name="mirror", a=R(2), b=R(3), c=R(0), d=R(1)),),
    )
    at = solved(sketch).sketch.nodes[3].at
    u = np.array((0.6, 0.8))
    p = np.array((10.0, 50.0))
    assert (at.x, at.y) == pytest.approx(tuple(2.0 * (p @ u) * u - p), abs=1e-9)


def random_sketch(seed):
    random = np.random.default_rng(seed)
    places = random.uniform(-80.0, 80.0, (5, 2)) + np.arange(5)[:, None] * (60.0, 15.0)
    nodes = (node(*places[0].tolist(), held=True), *(node(*p.tolist()) for p in places[1:]))
    asked = (
        Distance(name="one", a=R(0), b=R(1), mm=70.0),
        Distance(name="two", a=R(1), b=R(2), mm=80.0),
        Level(name="level", a=R(2), b=R(3)),
        Upright(name="upright", a=R(3), b=R(4)),
        OnLine(name="beside", point=R(4), start=R(0), end=R(1), mm=25.0),
    )
    return Sketch(nodes, (), asked)


def slsqp(sketch):
    """The same least movement by sequential quadratic programming (scipy.optimize, SLSQP)."""
    held = sketch.nodes[0].at
    base = np.array([(n.at.x, n.at.y) for n in sketch.nodes[1:]]).ravel()

    def places(z):
        return np.vstack([(held.x, held.y), z.reshape(-1, 2)])

    def rows(z):
        p = places(z)
        along = p[1] - p[0]
        to = p[4] - p[0]
        return np.array(
            [
                np.hypot(*(p[1] - p[0])) - 70.0,
                np.hypot(*(p[2] - p[1])) - 80.0,
                p[3][1] - p[2][1],
                p[4][0] - p[3][0],
                (along[0] * to[1] - along[1] * to[0]) / np.hypot(*along) - 25.0,
            ]
        )

    found = minimize(
        lambda z: 0.5 * ((z - base) ** 2).sum(),
        base,
        jac=lambda z: z - base,
        constraints={"type": "eq", "fun": rows},
        method="SLSQP",
        options={"maxiter": 1000, "ftol": 1e-15},
    )
    return found, base


@pytest.mark.parametrize("seed", range(12))
def test_movement_is_as_small_as_that_of_an_independent_minimiser(seed):
    # scipy.optimize.minimize(method="SLSQP"): Kraft, D. (1988), DFVLR-FB 88-28.
    sketch = random_sketch(seed)
    solution = solved(sketch)
    assert solution.met
    reference, base = slsqp(sketch)
    ours = np.array([(n.at.x, n.at.y) for n in solution.sketch.nodes[1:]]).ravel()
    least = 0.5 * ((ours - base) ** 2).sum()
    assert least <= reference.fun * (1.0 + 1e-6) + 1e-6
    if abs(least - reference.fun) < 1e-6 * reference.fun:
        assert ours == pytest.approx(reference.x, abs=1e-3)


def test_an_angle_is_kept_as_typed():
    sketch = Sketch(
        (node(0, 0, held=True), node(80, 10)), (), (Angle(name="a", a=R(0), b=R(1), degrees=30.0),)
    )
    at = solved(sketch).sketch.nodes[1].at
    assert math.degrees(math.atan2(at.y, at.x)) == pytest.approx(30.0, abs=1e-9)


def test_a_pinned_point_goes_where_it_is_pinned():
    sketch = Sketch((node(4, 5),), (), (Fixed(name="pin", point=R(0), at=Point(7.0, 9.0)),))
    assert solved(sketch).sketch.nodes[0].at == Point(7.0, 9.0)
