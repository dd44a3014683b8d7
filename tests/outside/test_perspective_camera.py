"""Perspective taken out of a photograph, held against a pinhole camera of known pose.

Source of the camera: R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision,
chapter 6 (finite projective camera); made with numpy in `tests/cloth/photograph.py`.
"""

import itertools
import math

import pytest

from studio.cloth.perspective import in_order, marks_apart, perspective_of, sheet_corners
from tests.cloth.photograph import Camera, as_set

FIELD = [(x, y) for x in range(0, 501, 50) for y in range(0, 401, 50)]
"""500 mm across, every 50 mm."""

WITHIN_MM = 0.3


def worst(camera, corners, seen, shift):
    return max(
        math.dist(seen.on_cloth(camera.pixel(place)), (place[0] - shift[0], place[1] - shift[1]))
        for place in FIELD
    )


@pytest.mark.parametrize("tilt", [0.0, 10.0, 20.0, 30.0])
@pytest.mark.parametrize("roll", [-7.0, 0.0, 12.0])
def test_an_a4_sheet_in_the_middle_brings_a_field_of_500_mm_to_scale(tilt, roll):
    camera = Camera(tilt=tilt, roll=roll)
    left, low = 100.0, 90.0
    # ISO 216: A4 is 210 by 297 mm, here lying across.
    corners = [(x + left, y + low) for x, y in sheet_corners(297.0, 210.0)]
    pixels = [as_set(camera.pixel(corner)) for corner in corners]
    seen = perspective_of(in_order(pixels), sheet_corners(297.0, 210.0))
    assert worst(camera, corners, seen, (left, low)) < WITHIN_MM


def test_with_marks_that_are_not_rounded_the_camera_is_undone_exactly():
    camera = Camera(tilt=35.0, roll=-9.0)
    corners = sheet_corners(297.0, 210.0)
    seen = perspective_of([camera.pixel(corner) for corner in corners], corners)
    assert worst(camera, corners, seen, (0.0, 0.0)) < 1e-7


def test_two_marks_are_enough_when_the_picture_is_taken_square_on():
    camera = Camera(tilt=0.0, roll=0.0)
    ends = ((20.0, 30.0), (480.0, 30.0))
    pixels = [as_set(camera.pixel(end)) for end in ends]
    seen = perspective_of(pixels, marks_apart(pixels, 460.0))
    for one, two in itertools.pairwise(FIELD):
        measured = math.dist(*(seen.on_cloth(camera.pixel(place)) for place in (one, two)))
        assert measured == pytest.approx(math.dist(one, two), abs=WITHIN_MM)


def test_two_marks_mislead_when_the_camera_was_tilted():
    # The other side of the check: the limit is not met by chance.
    camera = Camera(tilt=20.0, roll=0.0)
    ends = ((20.0, 30.0), (480.0, 30.0))
    pixels = [camera.pixel(end) for end in ends]
    seen = perspective_of(pixels, marks_apart(pixels, 460.0))
    far = [seen.on_cloth(camera.pixel(place)) for place in ((20.0, 380.0), (480.0, 380.0))]
    assert abs(math.dist(*far) - 460.0) > 10.0
