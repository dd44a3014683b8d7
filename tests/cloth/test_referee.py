"""The referee tells good layouts from bad ones and by how much; distances are shapely's."""

import pytest

from studio.cloth.bed import bed_of
from studio.cloth.referee import faults
from studio.cloth.stance import laid, lying
from studio.design.cloth import Flaw, Placement, Roll, SalvagedPanel
from tests.cloth.shapes import item, rectangle

HOLE = Flaw("hole", ((300.0, 300.0), (320.0, 300.0), (320.0, 320.0), (300.0, 320.0)))
ROLL = bed_of(Roll("roll", "main", 500.0, 800.0, selvedge=10.0, flaws=(HOLE,)))
ACROSS = bed_of(
    SalvagedPanel("leg", "main", rectangle(400.0, 200.0), ((0.0, 100.0), (400.0, 100.0)))
)
BEDS = (ROLL, ACROSS)
ITEMS = (
    item("yoke", rectangle(100.0, 40.0), ("roll", "leg"), tolerance=3.0),
    item("band", rectangle(60.0, 200.0), ("roll",), turns=(0.0,)),
)
YOKE = Placement("yoke", 0, "roll", (60.0, 20.0))
BAND = Placement("band", 0, "roll", (150.0, 100.0))


def wrong(*placements, gap=2.0):
    return [(fault.kind, fault.by) for fault in faults(ITEMS, BEDS, placements, gap)]


def moved(placement, x, y, **others):
    fields = {name: getattr(placement, name) for name in placement.__struct_fields__}
    return Placement(**{**fields, "at": (x, y), **others})


def test_a_layout_that_can_be_cut_has_no_fault():
    assert wrong(YOKE, BAND) == []
    assert wrong(moved(YOKE, 60.0, 20.0, turn=180.0), BAND) == []


def test_a_hair_beyond_cloth_or_gap_passes_and_more_does_not():
    assert wrong(moved(YOKE, 60.0 - 0.009, 20.0)) == []
    assert wrong(moved(YOKE, 60.0 - 0.02, 20.0)) == [("outside", pytest.approx(0.02))]
    beside = BAND.at[0] - 30.0 - 50.0
    assert wrong(moved(YOKE, beside - 1.991, 60.0), BAND) == []
    assert wrong(moved(YOKE, beside - 1.98, 60.0), BAND) == [("too near", pytest.approx(0.02))]


def test_selvedges_are_not_cloth_to_cut_from():
    assert wrong(moved(YOKE, 55.0, 20.0)) == [("outside", pytest.approx(5.0))]


def test_how_far_one_lies_over_another_is_told_with_the_gap():
    over = moved(YOKE, BAND.at[0] - 80.0 + 7.0, 60.0)
    assert wrong(over, BAND) == [("too near", pytest.approx(2.0 + 7.0))]
    (fault,) = faults(ITEMS, BEDS, (over, BAND), 2.0)
    shared = laid(ITEMS[0].ways[0].stance.cut, lying(ITEMS[0].ways[0].stance, over, 90.0))
    assert shared.buffer(1e-9).covers(shared.representative_point().__class__(fault.at))


def test_without_a_gap_edges_may_touch():
    assert wrong(moved(YOKE, BAND.at[0] - 80.0, 60.0), BAND, gap=0.0) == []


# The hole lies whole under the piece: its largest circle has half its side as radius.
def test_a_hole_under_the_middle_of_a_piece_is_told():
    (fault,) = faults(ITEMS, BEDS, (moved(YOKE, 310.0, 310.0),), 2.0)
    assert (fault.kind, fault.by) == ("outside", pytest.approx(10.0, abs=0.02))
    assert fault.at == pytest.approx((310.0, 310.0), abs=1.0)


def test_a_flaw_that_is_only_drawn_may_be_covered():
    only_drawn = Flaw("worn", HOLE.points, avoided=False)
    bed = bed_of(Roll("roll", "main", 500.0, 800.0, flaws=(only_drawn,)))
    assert faults(ITEMS, (bed,), (moved(YOKE, 310.0, 310.0),), 2.0) == ()


def test_a_turn_counts_from_the_warp_and_from_the_nearest_turn_allowed():
    upright = Placement("yoke", 0, "leg", (100.0, 100.0), turn=3.0)
    assert wrong(upright) == []
    line = laid(ITEMS[0].ways[1].stance.cut, lying(ITEMS[0].ways[1].stance, upright, 0.0))
    assert line.bounds[3] - line.bounds[1] > 100.0
    assert wrong(moved(upright, 100.0, 100.0, turn=-178.0)) == []
    assert wrong(moved(upright, 100.0, 100.0, turn=185.0)) == [("turn", pytest.approx(2.0))]
    assert wrong(moved(BAND, 150.0, 400.0, turn=180.0)) == [("turn", pytest.approx(180.0))]


def test_stock_face_copies_and_names_are_held_to():
    assert wrong(Placement("band", 0, "leg", (100.0, 100.0))) == [("stock", 0.0)]
    assert wrong(moved(YOKE, 60.0, 20.0, flipped=True)) == [("face", 0.0)]
    assert wrong(YOKE, moved(YOKE, 60.0, 400.0)) == [("twice", 0.0)]
    assert wrong(Placement("knee", 0, "roll", (60.0, 20.0))) == [("unknown", 0.0)]
    assert wrong(Placement("yoke", 1, "roll", (60.0, 20.0))) == [("unknown", 0.0)]


def test_pieces_on_two_stocks_never_meet():
    assert wrong(Placement("yoke", 0, "leg", (150.0, 100.0)), BAND) == []


def test_a_fault_among_locked_pieces_only_says_so():
    over = moved(YOKE, 150.0, 60.0, locked=True)
    (one,) = faults(ITEMS, BEDS, (over, BAND), 2.0)
    (both,) = faults(ITEMS, BEDS, (over, moved(BAND, *BAND.at, locked=True)), 2.0)
    assert not one.locked
    assert both.locked
