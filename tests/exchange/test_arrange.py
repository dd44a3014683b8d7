"""Pieces laid side by side on sheets."""

import pytest

from studio.curves import Box
from studio.demo import demo_design
from studio.errors import BadInput
from studio.exchange.arrange import arranged, cut_box, extent, on_sheets
from studio.pattern import evaluate
from tests.exchange.pieces import band, flap

PATTERN = evaluate(demo_design())


def true_box(one):
    box = None
    for edge in one.sewn.cut_line:
        moved = edge.chain.transformed(one.move).box
        box = moved if box is None else Box.round_all((box, moved))
    return box


@pytest.mark.parametrize("width", [950.0, 1200.0, 3000.0])
def test_pieces_never_overlap_and_keep_their_gap(width):
    laid = arranged(PATTERN.pieces, width, 12.0)
    assert [one.sewn for one in laid] == list(PATTERN.pieces)
    for k, one in enumerate(laid):
        for two in laid[k + 1 :]:
            assert not one.box.meets(two.box, 11.999)


def test_the_box_told_is_the_box_of_the_moved_cut_line():
    for one in arranged(PATTERN.pieces, 1200.0, 12.0):
        told, found = one.box, true_box(one)
        assert (told.left, told.bottom, told.right, told.top) == pytest.approx(
            (found.left, found.bottom, found.right, found.top), abs=1e-9
        )


def test_the_sheet_hangs_from_its_top_left():
    box = extent(arranged(PATTERN.pieces, 1200.0, 12.0))
    assert (box.left, box.top) == pytest.approx((0.0, 0.0))
    assert box.right <= 1200.0


def test_short_pieces_are_stacked_beside_tall_ones():
    pieces = [flap("tall", scale=2.5), flap("one"), flap("two")]
    laid = arranged(pieces, 600.0, 10.0)
    assert extent(laid).height == pytest.approx(cut_box(pieces[0]).height)


def test_a_piece_wider_than_the_sheet_sticks_out_alone():
    laid = arranged([band(900, 50), flap()], 400.0, 10.0)
    assert laid[0].box.width == pytest.approx(900.0)
    assert not laid[0].box.meets(laid[1].box, 9.99)


def test_nothing_takes_no_room():
    assert arranged((), 100.0, 1.0) == []
    assert extent(()) == Box(0.0, 0.0, 0.0, 0.0)


def test_sheets_hold_every_piece_once_inside():
    sheets = on_sheets(PATTERN.pieces, 811.0, 1159.0, 12.0)
    names = [one.sewn.piece.name for laid in sheets for one in laid]
    assert sorted(names) == sorted(sewn.piece.name for sewn in PATTERN.pieces)
    for laid in sheets:
        box = extent(laid)
        assert box.right <= 811.0 + 1e-6
        assert box.bottom >= -1159.0 - 1e-6


def test_only_a_piece_too_wide_is_turned():
    ((upright,), (turned,)) = ([one] for one in on_sheets([flap(), band(900, 50)], 400, 950, 5)[0])
    assert (upright.move.xx, upright.move.yx) == pytest.approx((1.0, 0.0))
    assert (turned.move.xx, turned.move.yx) == pytest.approx((0.0, 1.0))
    assert turned.box.height == pytest.approx(900.0)
    assert true_box(turned).height == pytest.approx(900.0)


def test_a_piece_larger_than_the_sheet_is_refused_by_name():
    with pytest.raises(BadInput, match="front-leg"):
        on_sheets(PATTERN.pieces, 500.0, 500.0, 12.0)
