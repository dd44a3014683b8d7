"""A straight band is as long as the waist and its overlap, and twice as high as it is worn."""

import pytest
from msgspec.structs import replace

from studio.cut.waistband import cut_waistband
from studio.design.pieces import WaistbandPiece
from studio.errors import GeometryRefused

BAND = WaistbandPiece("band", "waist", 40.0, 30.0)


def test_a_band_goes_round_both_halves_and_over_itself_and_is_folded_in_its_middle():
    piece = cut_waistband(BAND, 390.0)
    box = piece.outline.box
    assert (box.width, box.height) == pytest.approx((2.0 * 390.0 + 30.0, 80.0))
    fold = next(mark.chain for mark in piece.marks if mark.name == "band.fold")
    assert (fold.start.y, fold.end.y) == (40.0, 40.0)


@pytest.mark.parametrize(
    ("half", "width", "overlap"),
    [(0.0, 40.0, 30.0), (390.0, 0.0, 30.0), (390.0, -40.0, 30.0), (390.0, 40.0, -1.0)],
)
def test_a_band_without_a_length_a_width_or_with_less_than_no_overlap_is_refused(
    half, width, overlap
):
    with pytest.raises(GeometryRefused, match="needs a length and a width") as problem:
        cut_waistband(replace(BAND, width=width, overlap=overlap), half)
    assert problem.value.where == "band"
