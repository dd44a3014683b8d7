"""A piece moved by hand stops and slides; shapely is the referee of every place it is let to."""

import itertools
import math

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Polygon, box

from studio.cloth.bed import bed_of
from studio.cloth.by_hand import Hand
from studio.cloth.items import Item, Way
from studio.cloth.no_fit import ROUGH_MM, Shape, inner_fit, no_fit
from studio.cloth.outward import outward
from studio.cloth.stance import Stance, laid, lying, stance_of
from studio.cloth.table import Table, stance_there, table_of
from studio.curves import Affine
from studio.demo import demo_design
from studio.design.cloth import Cloth, Flaw, Lay, Placement, Roll, SalvagedPanel
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())
MAIN = Cloth("main", "#5f7d8c")
EXACT_MM = 0.01


def rectangle(name, wide, high, **way):
    x, y = wide / 2.0, high / 2.0
    cut = ((-x, -y), (x, -y), (x, y), (-x, y))
    facts = {"turns": (0.0, 180.0), "tolerance": 0.0, "faces": (False,)} | way
    return Item(name, 0, (Way("roll", Stance(name, Affine(), cut, cut, False), **facts),))


def rectangles(*placements, gap=2.0, **way):
    """A roll of 400 by 300 with no selvedge, a held piece of 100 by 60, others of 80 by 80."""
    items = [rectangle("held", 100.0, 60.0, **way)]
    items += [rectangle(one.piece, 80.0, 80.0) for one in placements]
    beds = {"roll": bed_of(Roll("roll", "main", 400.0, 300.0, selvedge=0.0))}
    return Table(beds, {(one.piece, 0): one for one in items}, Lay(placements, gap=gap))


def at(name, x, y, **facts):
    return Placement(name, 0, "roll", (x, y), **facts)


def lifted(table, x=60.0, y=40.0):
    held = at("held", x, y)
    return Hand(table, Placement("held", 0, "", (0.0, 0.0))), held


@pytest.mark.parametrize(
    ("wanted", "place"),
    [
        ((200.0, 150.0), (200.0, 150.0)),
        ((-90.0, 150.0), (50.0, 150.0)),
        ((200.0, 900.0), (200.0, 270.0)),
        ((500.0, -10.0), (350.0, 30.0)),
    ],
)
def test_a_rectangle_stops_at_the_edges_of_the_cloth(wanted, place):
    hand, held = lifted(rectangles())
    assert hand.over("roll", held, wanted).at == pytest.approx(place, abs=EXACT_MM)


def test_a_rectangle_slides_along_another_exactly_the_gap_away():
    hand, held = lifted(rectangles(at("a", 200.0, 150.0), gap=3.0))
    # Half of 80, half of 100, and the gap: the held one stays so far left of the other.
    for y in np.linspace(95.0, 205.0, 12):
        place = hand.over("roll", held, (112.0, y)).at
        assert place == pytest.approx((200.0 - 40.0 - 50.0 - 3.0, y), abs=EXACT_MM)


def test_a_rectangle_goes_round_a_corner_in_an_arc_of_the_gap():
    hand, held = lifted(rectangles(at("a", 200.0, 150.0), gap=10.0))
    corner = (200.0 - 40.0 - 50.0, 150.0 - 40.0 - 30.0)
    for angle in (200.0, 225.0, 250.0):
        inside = [c + 5.0 * t for c, t in zip(corner, unit(angle), strict=True)]
        there = hand.over("roll", held, tuple(inside)).at
        # An arc in chords on its outside, at most 1 / cos (22.5 / 4 degrees) further out.
        assert 10.0 <= math.dist(there, corner) <= 10.0 / math.cos(math.pi / 32.0) + EXACT_MM


def unit(degrees):
    return math.cos(math.radians(degrees)), math.sin(math.radians(degrees))


def test_beyond_the_middle_of_another_the_nearer_side_is_its_far_side():
    hand, held = lifted(rectangles(at("a", 200.0, 150.0)))
    assert hand.over("roll", held, (230.0, 150.0)).at[0] == pytest.approx(292.0, abs=EXACT_MM)


def test_there_may_be_no_room_at_all():
    others = [
        at(f"{x}-{y}", x, y) for x, y in itertools.product((50, 150, 250, 350), (50, 150, 250))
    ]
    hand, held = lifted(rectangles(*others))
    assert hand.over("roll", held, (200.0, 150.0)) is None


def test_a_piece_laid_closer_than_a_hand_can_is_let_back_to_where_it_was():
    others = [at("a", 60.0, 40.0), at("b", 243.0, 40.0)]
    home = at("held", 151.5, 30.0)
    table = rectangles(*others, home, gap=1.5)
    hand = Hand(table, home)
    assert hand.home is home
    assert hand.over("roll", home, (151.6, 30.1)).at == home.at


def test_turns_go_round_those_allowed_and_as_far_as_the_tolerance():
    hand, _ = lifted(rectangles(tolerance=3.0))
    held = at("held", 60.0, 40.0)
    assert hand.turned(held, steps=1).turn == 180.0
    assert hand.turned(hand.turned(held, steps=1), steps=1).turn == 0.0
    assert hand.turned(held, fine=2.5).turn == 2.5
    assert hand.turned(at("held", 0, 0, turn=2.5), fine=2.5).turn == 3.0
    assert hand.turned(at("held", 0, 0, turn=178.0), fine=-2.0).turn == 177.0


def test_a_piece_is_flipped_only_where_both_sides_are_good():
    held = at("held", 60.0, 40.0)
    one, both = lifted(rectangles())[0], lifted(rectangles(faces=(False, True)))[0]
    assert one.flipped(held) is held
    assert both.flipped(held).flipped
    assert not both.flipped(both.flipped(held)).flipped


def test_what_is_insisted_on_lies_exactly_there():
    hand, held = lifted(rectangles(at("a", 200.0, 150.0)))
    assert hand.insisted("roll", held, (203.0, 149.0)).at == (203.0, 149.0)


OLD_LEG = SalvagedPanel(
    "old leg",
    "main",
    ((0, 0), (640, 30), (600, 500), (560, 1120), (210, 1160), (60, 700)),
    ((300.0, 100.0), (330.0, 900.0)),
    (
        Flaw("hole", ((300, 300), (350, 310), (340, 360), (290, 350))),
        Flaw("seam", ((60, 760), (580, 800)), wide=20.0),
    ),
)
ROLL = Roll("canvas", "main", 1400.0, 1300.0)
BACK = Placement("back-leg", 0, "canvas", (300.0, 560.0))
FRONT = Placement("front-leg", 1, "canvas", (820.0, 600.0), turn=180.0)


def demo_table(*placements, gap=2.0):
    return table_of(
        PATTERN.pieces,
        (MAIN,),
        (),
        (ROLL, OLD_LEG),
        Lay((BACK, FRONT, *placements), gap=gap),
    )


def there(table, placement):
    """By the stance itself, not by what the hand makes of it."""
    move = lying(stance_there(table, placement), placement, table.beds[placement.stock].warp)
    return laid(stance_there(table, placement).cut, move)


def sound(table, placement):
    """What shapely says: all of it on usable cloth, the gap from every other."""
    area = there(table, placement)
    off_cloth = area.difference(table.beds[placement.stock].usable).area
    apart = [
        area.distance(there(table, other))
        for other in table.laid
        if other.stock == placement.stock
        and (other.piece, other.copy) != (placement.piece, placement.copy)
    ]
    return off_cloth <= 1e-6 and min(apart, default=math.inf) >= table.lay.gap - 1e-6


@pytest.mark.parametrize("name", ["bearer", "yoke", "front-leg", "waistband", "fly-facing"])
@pytest.mark.parametrize("stock", ["canvas", "old leg"])
@pytest.mark.parametrize("turn", [0.0, 180.0])
def test_wherever_a_piece_is_dragged_shapely_finds_it_sound(name, stock, turn):
    random = np.random.default_rng(7)
    table = demo_table(gap=3.0)
    held = Placement(name, 0, "", (0.0, 0.0), turn=turn)
    hand = Hand(table, held)
    found = [
        hand.over(stock, held, tuple(random.uniform((-100, -100), (1500, 1400)))) for _ in range(40)
    ]
    there_at_all = [one for one in found if one is not None]
    assert len(there_at_all) in (0, 40)
    assert bool(there_at_all) == (stock == "canvas" or name in ("bearer", "yoke", "fly-facing"))
    assert all(sound(table, one) for one in there_at_all)


def test_a_hand_gives_away_no_more_than_it_says():
    table = demo_table()
    held = Placement("bearer", 0, "", (0.0, 0.0))
    hand = Hand(table, held)
    for y in np.linspace(150.0, 1100.0, 25):
        place = hand.over("canvas", held, (330.0, y))
        area = there(table, place)
        apart = min(area.distance(there(table, other)) for other in table.laid)
        assert 2.0 - 1e-6 <= apart <= 2.0 + 2.0 * ROUGH_MM + EXACT_MM


def test_a_rougher_outline_holds_the_true_one_and_goes_out_by_a_tenth():
    for sewn in PATTERN.pieces:
        cut = Polygon(stance_of(sewn).cut)
        rough = Shape(cut).rough
        assert cut.difference(rough).area <= 1e-6
        assert shapely.hausdorff_distance(rough.exterior, cut.exterior) <= 2.0 * ROUGH_MM
        assert rough.difference(cut.buffer(ROUGH_MM + 1e-6, join_style="mitre")).area <= 1e-6
        assert len(rough.exterior.coords) <= len(cut.exterior.coords)


def test_straight_edges_are_left_where_they_are():
    ring = np.array(((0.0, 0.0), (10.0, 0.0), (20.0, 0.0), (20.0, 9.0), (0.0, 9.0)))
    assert Polygon(outward(ring, 0.1)).equals(box(0.0, 0.0, 20.0, 9.0))


def test_no_fit_of_two_convex_shapes_is_the_hull_of_their_sums():
    """Closed form: the Minkowski sum of convex sets is the convex hull of the sums of corners."""
    random = np.random.default_rng(3)
    for _ in range(20):
        one, other = (
            shapely.convex_hull(shapely.multipoints(random.uniform(-50, 50, (9, 2))))
            for _ in range(2)
        )
        sums = (
            shapely.get_coordinates(one.exterior)[:, None]
            - shapely.get_coordinates(other.exterior)[None]
        )
        hull = shapely.convex_hull(shapely.multipoints(sums.reshape(-1, 2)))
        found = no_fit(Shape(one), Shape(other), 0.0)
        # Rough outlines go out by a tenth each, and by more than that only at sharp corners.
        assert hull.difference(found).area <= 1e-6
        assert found.area <= hull.area + 2.0 * ROUGH_MM * hull.length + 1.0


def test_a_hole_in_the_cloth_is_kept_clear():
    cloth = box(0.0, 0.0, 100.0, 100.0).difference(box(45.0, 45.0, 55.0, 55.0))
    found = inner_fit(MultiPolygon([cloth]), Shape(box(-5.0, -5.0, 5.0, 5.0)))
    # Closed form for squares: 90 by 90 for the middle, less 20 by 20 about the hole.
    assert found.area == pytest.approx(90.0 * 90.0 - 20.0 * 20.0)
