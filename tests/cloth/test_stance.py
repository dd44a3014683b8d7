"""A piece laid on cloth keeps its size, grows by its cloth's shrinkage, and turns with the warp."""

import math

import pytest
from shapely import Polygon
from shapely.affinity import rotate, scale, translate

from studio.cloth.bed import bed_of
from studio.cloth.items import items_of
from studio.cloth.stance import laid, lying, stance_of
from studio.demo import demo_design
from studio.design.cloth import Cloth, CuttingRule, Flaw, Placement, Roll, SalvagedPanel
from studio.errors import BadInput
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())
LEG = PATTERN.piece("back-leg")
SQUARE = ((0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0))


def extent(places):
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return max(xs) - min(xs), max(ys) - min(ys)


def test_the_middle_of_the_cut_lines_box_is_the_origin():
    xs, ys = zip(*stance_of(LEG).cut, strict=True)
    assert min(xs) + max(xs) == pytest.approx(0.0, abs=1e-9)
    assert min(ys) + max(ys) == pytest.approx(0.0, abs=1e-9)


def test_cloth_that_shrinks_is_cut_so_much_larger_that_what_is_wanted_is_left():
    cloth = Cloth("main", "#000000", warp_shrinkage=4.0, weft_shrinkage=2.0)
    wide, high = extent(stance_of(LEG).sewing)
    cut_wide, cut_high = extent(stance_of(LEG, cloth).sewing)
    assert cut_wide * 0.98 == pytest.approx(wide, abs=1e-9)
    assert cut_high * 0.96 == pytest.approx(high, abs=1e-9)


@pytest.mark.parametrize("warp", [90.0, 37.0, 180.0])
def test_a_grainline_laid_lies_along_the_warp(warp):
    stance = stance_of(LEG)
    move = stance.move.then(lying(stance, Placement("back-leg", 0, "p", (50.0, 70.0)), warp))
    low, high = (move(end) for end in LEG.grain)
    along = high - low
    assert math.degrees(math.atan2(along.y, along.x)) == pytest.approx(warp, abs=1e-9)


def test_odd_copies_of_a_pair_are_mirrored_and_a_flipped_one_is_not():
    stance = stance_of(LEG)
    flips = [
        lying(stance, Placement("back-leg", copy, "p", (0.0, 0.0), flipped=flipped), 90.0).flips
        for copy, flipped in ((0, False), (1, False), (0, True), (1, True))
    ]
    assert flips == [False, True, True, False]


def test_a_piece_keeps_its_area_wherever_it_is_laid():
    stance = stance_of(LEG)
    placement = Placement("back-leg", 1, "p", (310.0, -20.0), turn=181.5)
    there = laid(stance.cut, lying(stance, placement, 12.0))
    assert there.area == pytest.approx(Polygon(stance.cut).area, rel=1e-12)
    box = laid(
        stance.cut, lying(stance, Placement("back-leg", 1, "p", (310.0, -20.0)), 90.0)
    ).bounds
    assert ((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0) == pytest.approx((310.0, -20.0))


def panel(**changed):
    facts = {"name": "old leg", "cloth": "main", "outline": SQUARE, "grain": ((9, 9), (9, 200))}
    return SalvagedPanel(**(facts | changed))


def test_flaws_are_taken_off_what_can_be_used():
    hole = Flaw("hole", ((50, 50), (90, 50), (90, 90), (50, 90)))
    seam = Flaw("seam", ((0, 200), (400, 200)), wide=30.0)
    drawn = Flaw("stain", SQUARE, avoided=False)
    bed = bed_of(panel(flaws=(hole, seam, drawn)))
    assert bed.usable.area == pytest.approx(400 * 300 - 40 * 40 - 400 * 30)
    assert len(bed.usable.geoms) == 2
    assert bed.warp == 90.0


def test_a_roll_loses_its_selvedges():
    bed = bed_of(Roll("canvas", "main", 1500.0, 900.0, selvedge=12.0))
    assert bed.usable.area == pytest.approx((1500 - 24) * 900)


@pytest.mark.parametrize(
    ("stock", "reason"),
    [
        (panel(outline=((0, 0), (9, 9), (9, 0), (0, 9))), "crosses itself"),
        (panel(outline=((0, 0), (9, 9))), "three points"),
        (panel(outline=((0, 0), (9, 9), (18, 18))), "encloses nothing|crosses itself"),
        (panel(grain=((3, 3), (3, 3))), "grain"),
        (panel(flaws=(Flaw("seam", ((3, 3),), wide=4.0),)), "two points"),
        (Roll("canvas", "main", 15.0, 900.0), "width"),
        (Roll("canvas", "main", 1500.0, 0.0), "length"),
    ],
)
def test_stock_that_cannot_be_used_is_refused_by_name(stock, reason):
    with pytest.raises(BadInput, match=reason) as refusal:
        bed_of(stock)
    assert refusal.value.where == stock.name


def ways(rule=None, **cloth):
    stash = (Roll("canvas", "main", 1500.0, 900.0), panel(cloth="knee"))
    cloths = (Cloth("main", "#000000", **cloth),)
    rules = (rule,) if rule is not None else ()
    return items_of((LEG,), cloths, rules, stash)


def test_every_copy_may_lie_on_every_stock_of_its_cloth():
    first, second = ways()
    assert (first.copy, second.copy) == (0, 1)
    assert [way.stock for way in first.ways] == ["canvas"]
    assert first.ways[0].turns == (0.0, 180.0)
    assert first.ways[0].faces == (False,)


@pytest.mark.parametrize(
    ("rule", "cloth", "turns"),
    [
        (CuttingRule("back-leg", one_way=True), {}, (0.0,)),
        (None, {"one_way": True}, (0.0,)),
        (CuttingRule("back-leg", lies="across"), {}, (0.0, 180.0, 90.0, 270.0)),
        (CuttingRule("back-leg", lies="free"), {"one_way": True}, (0.0,)),
    ],
)
def test_rules_and_one_way_cloth_say_how_it_may_be_turned(rule, cloth, turns):
    assert ways(rule, **cloth)[0].ways[0].turns == turns


def test_a_rule_may_name_other_cloths_and_single_stock():
    other = ways(CuttingRule("back-leg", cloths=("knee",)))[0]
    assert [way.stock for way in other.ways] == ["canvas", "old leg"]
    only = ways(CuttingRule("back-leg", cloths=("knee",), stock=("old leg",)))[0]
    assert [way.stock for way in only.ways] == ["old leg"]
    assert only.ways_on("canvas") == ()


def test_cloth_with_two_good_sides_may_be_laid_face_down():
    assert ways(sides="both")[0].ways[0].faces == (False, True)


UNWASHED = {"warp_shrinkage": 5.0, "weft_shrinkage": 1.0}


@pytest.mark.parametrize("lies", ["along", "across", "free"])
def test_however_a_piece_lies_on_cloth_that_shrinks_it_comes_out_of_the_wash_as_drawn(lies):
    """A piece across the grain was cut longer by what the warp shrinks, which runs across it."""
    drawn = Polygon(stance_of(LEG).sewing)
    for item in ways(CuttingRule("back-leg", lies=lies), sides="both", **UNWASHED):
        seen = []
        for way in item.ways:
            for turn in way.turns:
                for flipped in way.faces:
                    there = Placement("back-leg", item.copy, "canvas", (0.0, 0.0), turn, flipped)
                    assert item.way(there) is way
                    seen.append((turn, flipped))
                    line = laid(way.stance.sewing, lying(way.stance, there, 90.0))
                    # The roll's warp is +y; the wash takes so much off length and width.
                    washed = scale(line, 0.99, 0.95, origin=(0.0, 0.0))
                    upright = rotate(washed, -turn, origin=(0.0, 0.0))
                    if (item.copy % 2 == 1) != flipped:
                        upright = scale(upright, -1.0, 1.0, origin=(0.0, 0.0))
                    x, y = (
                        a - b
                        for a, b in zip(
                            drawn.centroid.coords[0], upright.centroid.coords[0], strict=True
                        )
                    )
                    off = translate(upright, x, y).symmetric_difference(drawn).area
                    assert off < 1e-6 * drawn.area
        assert len(set(seen)) == len(seen) == {"along": 4, "across": 8, "free": 48}[lies]


def test_one_way_is_enough_where_cloth_shrinks_alike_both_ways():
    rule = CuttingRule("back-leg", lies="across")
    assert len(ways(rule)[0].ways) == 1
    assert len(ways(rule, warp_shrinkage=3.0, weft_shrinkage=3.0)[0].ways) == 1
