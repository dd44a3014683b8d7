"""Marks in a photograph bring it to scale; marks that cannot are refused with a sentence."""

import math

import pytest

from studio.cloth.perspective import (
    in_order,
    looks_upright,
    marks_apart,
    perspective_of,
    sheet_corners,
)
from studio.errors import BadInput

SHEET = ((100.0, 80.0), (900.0, 110.0), (1000.0, 700.0), (40.0, 640.0))
A4 = sheet_corners(297.0, 210.0)


def test_two_marks_keep_the_uprights_of_the_picture():
    pixels = ((100.0, 500.0), (100.0, 100.0))
    seen = perspective_of(pixels, marks_apart(pixels, 200.0))
    low, high = (seen.on_cloth(pixel) for pixel in pixels)
    assert high[0] == pytest.approx(low[0], abs=1e-9)
    assert high[1] - low[1] == pytest.approx(200.0, abs=1e-9)
    right = seen.on_cloth((300.0, 500.0))
    assert right[0] - low[0] == pytest.approx(100.0, abs=1e-9)


def test_two_marks_may_be_given_any_places_on_the_cloth():
    # Closed form: a quarter turn with 0.5 mm a pixel.
    seen = perspective_of(((0.0, 0.0), (100.0, 0.0)), ((10.0, 20.0), (10.0, 70.0)))
    assert seen.on_cloth((0.0, 40.0)) == pytest.approx((30.0, 20.0), abs=1e-9)
    assert seen.mm_per_pixel((7.0, 3.0)) == pytest.approx(0.5, abs=1e-12)


def test_four_corners_come_to_lie_where_the_sheet_has_them():
    seen = perspective_of(SHEET, A4)
    for pixel, place in zip(SHEET, A4, strict=True):
        assert seen.on_cloth(pixel) == pytest.approx(place, abs=1e-8)
        assert seen.in_picture(place) == pytest.approx(pixel, abs=1e-7)


def test_straight_lines_stay_straight_and_the_diagonals_cross_in_the_middle():
    # Closed form: a homography keeps incidence, so the crossing of the picture's diagonals is the
    # middle of the sheet.
    (x1, y1), (x2, y2), (x3, y3), (x4, y4) = SHEET
    cross = (x1 - x3) * (y2 - y4) - (y1 - y3) * (x2 - x4)
    one, two = x1 * y3 - y1 * x3, x2 * y4 - y2 * x4
    middle = (
        (one * (x2 - x4) - (x1 - x3) * two) / cross,
        (one * (y2 - y4) - (y1 - y3) * two) / cross,
    )
    assert perspective_of(SHEET, A4).on_cloth(middle) == pytest.approx((148.5, 105.0), abs=1e-8)


def test_a_picture_taken_square_on_has_one_scale_everywhere():
    square = ((0.0, 0.0), (594.0, 0.0), (594.0, 420.0), (0.0, 420.0))
    seen = perspective_of(square, A4)
    for pixel in ((0.0, 0.0), (900.0, 500.0), (-400.0, 77.0)):
        assert seen.mm_per_pixel(pixel) == pytest.approx(0.5, abs=1e-9)
    assert seen.field(594.0, 420.0) == pytest.approx((0.0, 0.0, 297.0, 210.0), abs=1e-7)


def test_the_side_of_a_pixel_is_what_a_small_step_measures():
    seen = perspective_of(SHEET, A4)
    x, y, step = 700.0, 300.0, 1e-3
    here, right, down = (seen.on_cloth(p) for p in ((x, y), (x + step, y), (x, y + step)))
    across = (right[0] - here[0], right[1] - here[1])
    along = (down[0] - here[0], down[1] - here[1])
    area = abs(across[0] * along[1] - across[1] * along[0]) / step**2
    assert seen.mm_per_pixel((x, y)) == pytest.approx(math.sqrt(area), rel=1e-5)


def test_the_horizon_is_not_measured():
    steep = ((400.0, 300.0), (600.0, 300.0), (900.0, 700.0), (100.0, 700.0))
    seen = perspective_of(steep, A4)
    with pytest.raises(BadInput, match="horizon"):
        seen.on_cloth((500.0, 100.0))
    left, bottom, right, top = seen.field(1000.0, 1000.0)
    assert left < 0.0 < 297.0 < right
    assert bottom < 0.0 < 210.0 < top < 5000.0


@pytest.mark.parametrize("turn", range(4))
@pytest.mark.parametrize("backwards", [False, True])
def test_corners_are_put_in_order_whatever_order_they_were_set_in(turn, backwards):
    mixed = (*SHEET[turn:], *SHEET[:turn])
    assert in_order(mixed[::-1] if backwards else mixed) == SHEET
    assert in_order((SHEET[0], SHEET[2], SHEET[1], SHEET[3])) == SHEET
    assert not looks_upright(SHEET)


@pytest.mark.parametrize(
    ("pixels", "marks", "told"),
    [
        (((5.0, 5.0), (6.0, 5.0)), ((0.0, 0.0), (100.0, 0.0)), "one place"),
        (((5.0, 5.0), (90.0, 5.0)), ((3.0, 3.0), (3.0, 3.0)), "distance"),
        (((5.0, 5.0), (math.nan, 5.0)), ((0.0, 0.0), (100.0, 0.0)), "not a number"),
        (SHEET[:3], A4[:3], "Two marks or four"),
        (SHEET, A4[:2], "Two marks or four"),
        (((0.0, 0.0), (500.0, 1.0), (1000.0, 2.0), (500.0, 800.0)), A4, "in a line"),
        ((SHEET[0], SHEET[2], SHEET[1], SHEET[3]), A4, "go round"),
        (((0.0, 0.0), (900.0, 0.0), (300.0, 200.0), (0.0, 900.0)), A4, "go round"),
        (SHEET[::-1], A4, "other way"),
        (SHEET, sheet_corners(297.0, 0.0), "in a line"),
    ],
)
def test_marks_that_tell_nothing_are_refused(pixels, marks, told):
    with pytest.raises(BadInput, match=told):
        perspective_of(pixels, marks)


@pytest.mark.parametrize(
    ("pixels", "distance", "told"),
    [
        (SHEET, 100.0, "Two marks"),
        (((5.0, 5.0), (5.0, 5.0)), 100.0, "one place"),
        (SHEET[:2], 0.0, "distance"),
        (SHEET[:2], math.nan, "distance"),
    ],
)
def test_two_marks_need_two_places_and_a_distance(pixels, distance, told):
    with pytest.raises(BadInput, match=told):
        marks_apart(pixels, distance)


def test_a_corner_within_the_others_is_no_sheet():
    with pytest.raises(BadInput):
        in_order(((0.0, 0.0), (900.0, 0.0), (200.0, 180.0), (0.0, 900.0)))
