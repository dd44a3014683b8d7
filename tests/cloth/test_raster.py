"""Maps of cells against areas by shapely and against counting cell by cell."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPolygon, Point, Polygon, box
from shapely.affinity import rotate, scale, translate

from studio.cloth.bed import Bed, bed_of
from studio.cloth.raster import (
    coverage,
    grid_of,
    grids_of,
    mask_of,
    on_stock,
    overlaps,
    place_of,
    turned,
)
from studio.design.cloth import Flaw, Roll

KITE = ((-60.0, -31.0), (55.0, -40.0), (20.0, 77.0), (-41.0, 52.0))
RING = Point(0.0, 0.0).buffer(200.0).difference(Point(40.0, 20.0).buffer(50.0))


def bed(usable, warp=90.0):
    return Bed("panel", "main", warp, box(*usable.bounds), MultiPolygon([usable]))


# The area of a polygon as shapely tells it; four lines a row err by far less than a cell in a
# hundred here.
@pytest.mark.parametrize("cell", [1.0, 3.0, 7.0])
def test_cells_covered_add_up_to_the_area(cell):
    cells = coverage(RING, (-210.0, -210.0), (int(420 / cell), int(420 / cell)), cell)
    assert cells.sum() * cell**2 == pytest.approx(RING.area, rel=2e-4)
    assert cells.min() > -1e-5
    assert cells.max() < 1.0 + 1e-5


def test_the_coverage_of_each_cell_is_what_shapely_cuts_of_it():
    cells = coverage(Polygon(KITE), (-66.0, -45.0), (42, 43), 3.0)
    for row, column in ((2, 20), (14, 4), (30, 30), (38, 27), (20, 20)):
        x, y = -66.0 + 3.0 * column, -45.0 + 3.0 * row
        cut = Polygon(KITE).intersection(box(x, y, x + 3.0, y + 3.0)).area / 9.0
        assert cells[row, column] == pytest.approx(cut, abs=0.05)


def test_what_lies_outside_the_cells_is_left_out():
    cells = coverage(box(-50.0, -50.0, 50.0, 50.0), (-20.0, -20.0), (20, 10), 2.0)
    assert np.all(cells == 1.0)
    assert coverage(box(90.0, 0.0, 95.0, 5.0), (0.0, 0.0), (5, 5), 2.0).sum() == 0.0
    assert coverage(box(-95.0, 0.0, -90.0, 5.0), (0.0, 0.0), (5, 5), 2.0).sum() == 0.0


@given(
    turn=st.floats(-180.0, 180.0),
    warp=st.floats(0.0, 360.0),
    offset=st.floats(0.0, 4.0),
    mirrored=st.booleans(),
)
def test_maps_count_the_forbidden_cells_under_a_mask(turn, warp, offset, mirrored):
    grid = grid_of(bed(RING, warp), 6.0)
    mask = mask_of(KITE, 6.0, turn=turn, mirrored=mirrored, offset=offset)
    found = overlaps(grid, mask)
    high, wide = mask.cells.shape
    rows, columns = grid.forbidden.shape
    assert found.shape == (rows - high + 1, columns - wide + 1)
    for row in range(0, found.shape[0], 9):
        for column in range(0, found.shape[1], 9):
            under = grid.forbidden[row : row + high, column : column + wide]
            assert found[row, column] == pytest.approx((under & mask.cells).sum(), abs=0.1)


@given(turn=st.floats(-180.0, 180.0), warp=st.floats(0.0, 360.0), mirrored=st.booleans())
def test_an_overlap_is_the_area_that_shapely_tells_to_half_a_cell_of_edge(turn, warp, mirrored):
    grid = grid_of(bed(RING, warp), 2.0)
    mask = mask_of(KITE, 2.0, turn=turn, mirrored=mirrored)
    found = overlaps(grid, mask)
    row, column = found.shape[0] // 2, found.shape[1] // 3
    face = scale(Polygon(KITE), -1.0 if mirrored else 1.0, 1.0, origin=(0.0, 0.0))
    piece = translate(
        rotate(face, turn + warp - 90.0, origin=(0.0, 0.0)),
        *place_of(grid, mask, row, column),
    )
    outside = piece.difference(RING)
    half_a_cell_of_edge = (outside.length / 2.0) * 2.0
    assert found[row, column] * 4.0 == pytest.approx(outside.area, abs=half_a_cell_of_edge + 8.0)


# Trigonometry: (10, 0) turned by the angle of the warp, measured from where up is.
@pytest.mark.parametrize(
    ("warp", "up", "right"),
    [
        (90.0, (0.0, 10.0), (10.0, 0.0)),
        (0.0, (10.0, 0.0), (0.0, -10.0)),
        (180.0, (-10.0, 0.0), (0.0, 10.0)),
        (30.0, (10.0 * math.cos(math.pi / 6.0), 5.0), (5.0, -10.0 * math.cos(math.pi / 6.0))),
    ],
)
def test_up_in_the_grain_frame_is_along_the_warp_on_the_stock(warp, up, right):
    assert on_stock(warp, 0.0, 10.0) == pytest.approx(up, abs=1e-9)
    assert on_stock(warp, 10.0, 0.0) == pytest.approx(right, abs=1e-9)


# Growing by a distance adds length * distance + pi * distance^2 to a convex area (Steiner's
# formula).
def test_a_mask_grows_by_its_offset():
    plain = mask_of(KITE, 1.0).cells.sum()
    grown = mask_of(KITE, 1.0, offset=5.0).cells.sum()
    kite = Polygon(KITE)
    assert grown - plain == pytest.approx(kite.length * 5.0 + np.pi * 25.0, rel=0.02)


def test_a_mirrored_piece_keeps_its_area_and_swaps_left_and_right():
    mirrored = turned(KITE, 0.0, mirrored=True)
    assert mirrored.area == pytest.approx(Polygon(KITE).area)
    assert mirrored.bounds[0] == -Polygon(KITE).bounds[2]
    assert mirrored.exterior.is_ccw


def test_parts_of_a_bed_are_grids_of_their_own():
    seam = Flaw("seam", ((200.0, 0.0), (200.0, 1000.0)), wide=20.0)
    roll = bed_of(Roll("roll", "main", 600.0, 1000.0, selvedge=0.0, flaws=(seam,)))
    right, left = grids_of(roll, 10.0)
    assert (~right.forbidden).sum() == 39 * 100
    assert (~left.forbidden).sum() == 19 * 100
    assert (~grid_of(roll, 10.0).forbidden).sum() == 58 * 100


def test_a_mask_larger_than_the_grid_has_no_place():
    grid = grid_of(bed(box(0.0, 0.0, 50.0, 50.0)))
    assert overlaps(grid, mask_of(KITE)).size == 0


def test_a_bed_without_usable_cloth_has_no_place():
    none = Bed("panel", "main", 90.0, box(0, 0, 9, 9), MultiPolygon([]))
    assert grids_of(none) == ()
    assert overlaps(grid_of(none), mask_of(KITE)).size == 0
