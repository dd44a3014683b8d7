"""What a line that crosses itself encloses; areas are summed by hand."""

import pytest
from msgspec.structs import replace

from studio.cloth.enclosed import enclosed
from studio.cloth.missing import missing_at
from studio.cloth.reduced import reduced_outline
from studio.cloth.referee import faults
from studio.curves import Chain, Edge, Outline, Point
from studio.design.cloth import Placement, Shortage
from tests.cloth.rectangles import NAMES, item_of, panel
from tests.cloth.rectangles import rectangle as sewn_rectangle
from tests.cloth.shapes import rectangle

BOW = ((0.0, 0.0), (40.0, 40.0), (40.0, 0.0), (0.0, 40.0))
"""Two triangles, each 40 mm wide and 20 mm high, that touch in the middle."""

TWICE = ((0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (10.0, 30.0), (10.0, -10.0), (0.0, -10.0))
"""A square of 30 mm less 10 by 30, and a square of 10 below it, whose line crosses its side."""


def test_a_line_that_does_not_cross_itself_is_left_as_it_is():
    assert tuple(enclosed(rectangle(30.0, 20.0)).exterior.coords[:-1]) == rectangle(30.0, 20.0)


@pytest.mark.parametrize(("line", "area"), [(BOW, 800.0), (TWICE, 700.0)])
def test_all_loops_of_a_line_that_crosses_itself_are_one_area(line, area):
    found = enclosed(line)
    assert found.is_valid
    assert found.exterior.is_ccw
    assert found.area == pytest.approx(area, abs=0.005 * 250.0)
    assert found.area >= area


def crossed():
    """The bow as a piece of 400 by 400 mm without allowances: its corners in the wrong order."""
    corners = [Point(10.0 * x, 10.0 * y) for x, y in BOW]
    edges = [
        Edge.whole(name, Chain.straight(corners[k], corners[(k + 1) % 4]))
        for k, name in enumerate(NAMES)
    ]
    outline = Outline(tuple(edges))
    plain = sewn_rectangle(400.0, 400.0, allowance=0.0)
    line = tuple(
        replace(one, chain=edge.chain) for one, edge in zip(plain.cut_line, edges, strict=True)
    )
    return replace(plain, piece=replace(plain.piece, outline=outline), cut_line=line)


def test_a_piece_that_crosses_itself_is_told_where_it_lies_off_the_cloth():
    bed = panel(300.0, 500.0)
    item = item_of(crossed(), bed)
    place = Placement("r", 0, "cloth", (150.0, 250.0))
    (fault,) = faults([item], [bed], [place], 0.0)
    # 400 mm on a cloth 300 mm wide: 50 mm beyond at each side.
    assert (fault.kind, fault.by) == ("outside", pytest.approx(50.0, abs=0.01))
    # Each triangle is 400 at its side and 300 where the cloth ends: 2 by 50 by 350.
    assert missing_at(crossed(), item.ways[0], place, bed).inside == pytest.approx(35000.0, abs=6)


def test_a_copy_that_does_without_some_allowance_may_cross_itself():
    short = Shortage("r", 0, "r.hem", 0.0, 400.0, 1.0)
    assert len(reduced_outline(crossed(), (short,))) >= 4
