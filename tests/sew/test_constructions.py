"""Constructions: allowances, stitching, classes."""

import pytest

from studio.check import judge_allowances
from studio.design.joins import ConstructionName, EdgeRef, Finish, FinishName, Join, JoinSide
from studio.sew.allowance import allowance_rules, finish_allowance, sides_allowance
from studio.sew.constructions import CONSTRUCTIONS, FINISHES, Row

STANDARD = 12.0
A = JoinSide((EdgeRef("one", "one.edge"),))
B = JoinSide((EdgeRef("two", "two.edge"),))


def test_every_name_of_the_design_has_its_construction_and_every_finish():
    assert set(CONSTRUCTIONS) == set(ConstructionName.__args__)
    assert set(FINISHES) == set(FinishName.__args__)


@pytest.mark.parametrize(
    ("name", "wraps", "widths"),
    [
        # ISO 4916:1991 class 1, superimposed: both alike; the width is common practice, no source.
        ("plain", "a", (12.0, 12.0)),
        # ISO 4916:1991 class 2, lapped (LSc in ASTM D6193): double wraps single.
        ("felled", "a", (24.0, 12.0)),
        ("felled", "b", (12.0, 24.0)),
        # Common practice, no source.
        ("lapped", "a", (12.0, 0.0)),
        ("faced", "a", (12.0, 12.0)),
        ("bagged", "a", (12.0, 12.0)),
        ("bound", "a", (12.0, 12.0)),
        ("laid-over", "a", (12.0, 0.0)),
        ("bound-over", "a", (10.0, 0.0)),
    ],
)
def test_allowances_of_both_sides(name, wraps, widths):
    assert sides_allowance(Join("seam", A, B, name, wraps), STANDARD) == widths


@pytest.mark.parametrize(
    ("name", "width"),
    [
        # Depths and turn-ins are common practice, no source.
        ("hem", 40.0),
        ("double-hem", 30.0),
        ("turn-up", 110.0),
        ("casing", 55.0),
        ("turned", 22.0),
        ("faced", 12.0),
        ("bound", 0.0),
        ("raw", 0.0),
    ],
)
def test_what_a_finish_takes_when_nothing_is_set(name, width):
    assert finish_allowance(Finish(EdgeRef("one", "one.edge"), name), STANDARD) == width
    assert finish_allowance(Finish(EdgeRef("one", "one.edge"), name, 17.0), STANDARD) == 17.0


@pytest.mark.parametrize(
    ("name", "iso"),
    # ISO 4916:1991: class 1 superimposed, 2 lapped, 3 bound; 6 is one edge of one cloth.
    [("plain", "class 1"), ("felled", "class 2"), ("lapped", "class 2"), ("bound", "class 3")],
)
def test_classes_of_seams(name, iso):
    assert CONSTRUCTIONS[name].iso_4916 == iso


def test_a_felled_seam_is_stitched_down_on_the_side_that_is_wrapped():
    assert CONSTRUCTIONS["felled"].rows(STANDARD, "a") == (Row("b", 10.0),)
    rules = allowance_rules((Join("seam", A, B, "felled", "b"),), (), STANDARD)
    assert rules.rows == {("one", "one.edge"): (10.0,)}


def test_rows_the_maker_sets_take_the_place_of_those_that_come_along():
    two = Join("seam", A, B, "lapped", rows=(2.0, 8.0))
    assert allowance_rules((two,), (), STANDARD).rows == {("one", "one.edge"): (2.0, 8.0)}
    none = Join("seam", A, B, "lapped", rows=())
    assert allowance_rules((none,), (), STANDARD).rows == {}
    plain = Join("seam", A, B, "plain", rows=(5.0,))
    assert allowance_rules((plain,), (), STANDARD).rows == {("one", "one.edge"): (5.0,)}


def test_a_hem_too_narrow_to_stitch_has_no_row():
    assert FINISHES["hem"].rows(40.0) == (36.0,)
    assert FINISHES["hem"].rows(6.0) == ()
    assert FINISHES["double-hem"].rows(30.0) == (18.0,)
    assert FINISHES["double-hem"].rows(12.0) == ()
    assert FINISHES["casing"].rows(55.0) == (2.0, 43.0)


def test_only_what_turns_up_on_the_leg_folds():
    assert {name for name, kind in FINISHES.items() if kind.folds_up} == {
        "hem",
        "double-hem",
        "turn-up",
        "casing",
    }


def test_what_lies_over_a_seam_asks_nothing_of_the_edge_sewn_there():
    seam = Join("seam", JoinSide((EdgeRef("three", "three.edge"),)), B, "felled", "b")
    over = Join("over", A, B, "laid-over")
    for joins in ((seam, over), (over, seam)):
        rules = allowance_rules(joins, (), STANDARD)
        assert rules.widths["one", "one.edge"] == 12.0
        assert rules.widths["two", "two.edge"] == 24.0
        assert judge_allowances(rules) == ()
    assert ("two", "two.edge") not in allowance_rules((over,), (), STANDARD).widths
    # Two seams that truly want the edge cut differently are still told.
    lapped = allowance_rules((seam, Join("lap", A, B, "lapped")), (), STANDARD)
    assert [one.where for one in judge_allowances(lapped)] == ["lap"]


def test_what_lies_over_a_seam_needs_enough_to_cover_it():
    """Common practice, no source: 2 beyond the seam, 6 to turn under; bound 6 do."""
    assert CONSTRUCTIONS["laid-over"].least(STANDARD, "a") == (8.0, 0.0)
    assert CONSTRUCTIONS["bound-over"].least(STANDARD, "a") == (6.0, 0.0)
