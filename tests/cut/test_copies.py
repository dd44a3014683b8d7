"""A left and a right piece are told apart, however the panel was drawn."""

from msgspec.structs import replace

from studio.curves import Affine
from studio.cut.copies import copy_name, copy_words, drawn_legs
from studio.demo import demo_design
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())
LEGS = drawn_legs(PATTERN.panels)


def piece(name):
    return PATTERN.piece(name).piece


def test_the_draft_draws_the_left_leg_front_and_back():
    assert LEGS == {"front": "left", "back": "left"}


def test_a_panel_drawn_the_other_way_round_is_the_right_leg():
    flipped = [
        replace(panel, outline=panel.outline.transformed(Affine(xx=-1.0)))
        for panel in PATTERN.panels
    ]
    assert drawn_legs(flipped) == {"front": "right", "back": "right"}


def test_the_second_of_a_pair_is_the_other_leg():
    assert [copy_name(piece("yoke"), copy, LEGS) for copy in (0, 1)] == [
        "yoke, left",
        "yoke, right",
    ]


def test_a_panel_without_a_known_rise_only_says_what_is_mirrored():
    assert [copy_words(piece("yoke"), copy, {}) for copy in (0, 1)] == ["as drawn", "mirrored"]


def test_singles_are_counted():
    assert copy_words(piece("belt-loop"), 1, LEGS) == "2 of 5"
    assert copy_name(piece("waistband"), 0, LEGS) == "waistband"


def test_several_pairs_are_counted_a_leg():
    twice = replace(piece("yoke"), count=2)
    assert [copy_words(twice, copy, LEGS) for copy in range(4)] == [
        "left 1 of 2",
        "right 1 of 2",
        "left 2 of 2",
        "right 2 of 2",
    ]
