"""What was one piece before a seam divided it."""

from studio.cut.whole import strip_lengths, whole_of
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.design.pieces import Bound, PanelPiece, StripPiece

BAG = (Bound("bag", "left"),)
UPPER = PanelPiece("bag", "front", (*BAG, Bound("scrap", "left")))
LOWER = PanelPiece("bag-lower", "front", (*BAG, Bound("scrap", "right")))


def test_two_parts_of_a_seam_were_one_piece():
    assert whole_of(UPPER, (UPPER, LOWER), {"scrap"}).bounds == BAG
    assert whole_of(LOWER, (UPPER, LOWER), {"scrap"}).bounds == BAG


def test_a_part_that_was_divided_again_leads_back_to_the_first_piece():
    outer = PanelPiece("outer", "front", (*LOWER.bounds, Bound("more", "left")))
    inner = PanelPiece("inner", "front", (*LOWER.bounds, Bound("more", "right")))
    assert whole_of(inner, (UPPER, outer, inner), {"scrap", "more"}).bounds == BAG


def test_a_piece_whose_other_side_is_not_cut_or_whose_bound_is_no_seam_is_whole():
    assert whole_of(UPPER, (UPPER,), {"scrap"}) is UPPER
    assert whole_of(UPPER, (UPPER, LOWER), {"other"}) is UPPER


def test_strips_sewn_end_to_start_are_as_long_as_both():
    one, two = StripPiece("loop", 100.0, 50.0), StripPiece("loop-2", 60.0, 50.0)
    seam = Join(
        "loop-2 seam",
        JoinSide((EdgeRef("loop", "loop.end"),)),
        JoinSide((EdgeRef("loop-2", "loop-2.start"),)),
    )
    assert strip_lengths((one, two), (seam,)) == {"loop": 160.0}
    assert strip_lengths((one, two), ()) == {"loop": 100.0, "loop-2": 60.0}
