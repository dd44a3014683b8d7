"""Clean rolls: what is one, what is found on it is clear and short, and what needs more is told."""

import pytest

from studio.cloth.bed import bed_of
from studio.cloth.groups import groups_of
from studio.cloth.items import items_of
from studio.cloth.layout import layout_of
from studio.cloth.referee import faults
from studio.cloth.rolls import TooLong, roll_search, strip_of
from studio.demo import demo_design
from studio.design.cloth import Cloth, CuttingRule, Flaw, Lay, Placement, Roll
from studio.pattern import evaluate
from tests.cloth.shapes import item, rectangle

FOOT = ((0.0, 0.0), (120.0, 0.0), (120.0, 60.0), (50.0, 60.0), (50.0, 180.0), (0.0, 180.0))


def roll(width=420.0, length=1000.0, **others):
    return bed_of(Roll("roll", "main", width, length, **others))


def group(items, bed, lay=None):
    (found,) = groups_of(items, [bed], lay or Lay())
    return found


def layouts(items, bed, lay=None):
    """Every layout found in the solver's shortest run, and what it said at last."""
    on = group(items, bed, lay)
    found = [each for each in roll_search(on.task, strip_of(on.task), seconds=1) if each]
    return [each if isinstance(each, TooLong) else layout_of(on, each) for each in found]


def test_only_one_clean_roll_that_all_fit_across_is_a_strip():
    items = [item("foot", FOOT, ("roll",), copy=copy) for copy in range(2)]
    strip = strip_of(group(items, roll()).task)
    assert (strip.height, strip.length) == (pytest.approx(402.0), pytest.approx(1000.0))
    hole = Flaw("hole", ((200.0, 200.0), (220.0, 200.0), (220.0, 220.0)))
    assert strip_of(group(items, roll(flaws=(hole,))).task) is None
    locked = Lay((Placement("foot", 0, "roll", (100.0, 100.0), locked=True),))
    assert strip_of(group(items, roll(), locked).task) is None
    assert strip_of(group(items, roll(width=130.0)).task) is None
    sideways = [item("foot", FOOT, ("roll",), turns=(90.0,))]
    assert strip_of(group(sideways, roll(width=190.0)).task) is None


def test_what_is_cut_another_size_across_the_grain_is_not_for_a_strip_that_knows_one_size():
    """A strip would only be laid along the grain, though it may lie across."""
    pattern = evaluate(demo_design())
    rules = (CuttingRule("waistband", lies="across"),)
    for warp, is_strip in ((0.0, True), (5.0, False)):
        cloths = (Cloth("main", "#000000", warp_shrinkage=warp),)
        stash = (Roll("roll", "main", 1500.0, 1200.0),)
        items = items_of((pattern.piece("waistband"),), cloths, rules, stash)
        found = strip_of(group(items, bed_of(stash[0])).task)
        assert (found is not None) is is_strip


def test_pairs_are_laid_mirrored_and_pass_the_referee():
    items = [item("foot", FOOT, ("roll",), copy=copy, paired=True) for copy in range(6)]
    bed = roll()
    found = layouts(items, bed)
    assert found
    for layout in found:
        assert layout.left_out == ()
        assert faults(items, [bed], layout.placements, 2.0) == ()
    lengths = [layout.lengths["roll"] for layout in found]
    assert lengths == sorted(lengths, reverse=True)
    assert found[-1].used["roll"] == pytest.approx(6 * 13200.0 / (400.0 * 1000.0))


# Two strips of 196 side by side in 400 with 2 between and nothing at the edges: one row of 100.
def test_no_gap_is_kept_at_the_selvedge():
    items = [item("strip", rectangle(198.9, 100.0), ("roll",), copy=copy) for copy in range(2)]
    assert layouts(items, roll())[-1].lengths["roll"] == pytest.approx(100.0, abs=0.5)


def test_a_roll_that_is_too_short_is_told_the_length_it_would_need():
    items = [item("strip", rectangle(300.0, 100.0), ("roll",), copy=copy) for copy in range(3)]
    (told,) = layouts(items, roll(length=250.0))
    assert isinstance(told, TooLong)
    assert told.length == pytest.approx(304.0, abs=1.0)


def test_only_turns_that_fit_across_are_used():
    items = [item("strip", rectangle(500.0, 100.0), ("roll",), turns=(0.0, 90.0))]
    layout = layouts(items, roll())[-1]
    assert [placement.turn % 180.0 for placement in layout.placements] == [pytest.approx(90.0)]
