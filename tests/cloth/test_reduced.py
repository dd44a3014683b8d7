"""A copy that does without some allowance is laid, and cut, with what is left."""

import math

import pytest
from msgspec.structs import replace
from shapely import LinearRing, LineString, Point, Polygon

from studio.check import shortage_taken
from studio.cloth.bed import bed_of
from studio.cloth.items import items_of
from studio.cloth.laid_pieces import laid_pieces
from studio.cloth.missing import shortages_of
from studio.cloth.reduced import reduced_outline
from studio.cloth.referee import faults
from studio.cloth.settle import settled
from studio.cloth.shortfall import least_loss
from studio.cloth.table import table_of
from studio.cut.copies import drawn_legs
from studio.demo import demo_design
from studio.design.cloth import Lay, Roll, SalvagedPanel, Shortage
from studio.pattern import evaluate
from studio.sew import cut_outline_points

DEMO = evaluate(demo_design())
LEG = DEMO.piece("back-leg")
BAND = DEMO.piece("twine-loop")
"""A plain rectangle with the same allowance all round."""


def band_edge():
    edge = BAND.piece.outline.edges[0]
    return edge, BAND.allowances[0]


def test_without_shortages_it_is_the_cut_line():
    assert reduced_outline(BAND, ()) == tuple(cut_outline_points(BAND.cut_line, 0.02))


def test_an_edge_loses_its_length_times_what_is_missing():
    edge, width = band_edge()
    whole = Polygon(cut_outline_points(BAND.cut_line))
    short = Shortage("twine-loop", 0, edge.name, 20.0, 60.0, 5.0)
    left = Polygon(reduced_outline(BAND, (short,)))
    assert whole.area - left.area == pytest.approx(40.0 * 5.0, abs=1e-6)
    line = LineString(edge.chain.between(25.0, 55.0).polyline())
    assert left.exterior.distance(line) == pytest.approx(width - 5.0, abs=1e-9)


def test_the_sewing_line_is_never_cut_into():
    edge, width = band_edge()
    short = Shortage("twine-loop", 0, edge.name, 0.0, edge.length, width + 3.0)
    left = Polygon(reduced_outline(BAND, (short,)))
    assert left.buffer(1e-6).contains(Polygon(BAND.piece.outline.polyline()))


@pytest.mark.parametrize("name", ["front-leg", "back-leg", "bearer"])
def test_no_slit_is_left_at_the_ends_of_a_stretch(name):
    """A slit ran from the narrower cut line to the sewing line at a third of all ends."""
    sewn = DEMO.piece(name)
    ring = LinearRing(sewn.piece.outline.polyline())
    whole = min(ring.distance(Point(at)) for at in reduced_outline(sewn, ()))
    tried = 0
    for edge, width in zip(sewn.piece.outline, sewn.allowances, strict=True):
        if width < 8.0:
            continue
        tried += 1
        for long in (3.0, 7.5, 20.0):
            long = min(long, edge.length)
            for start, end in ((0.0, long), (edge.length - long, edge.length)):
                short = Shortage(name, 0, edge.name, start, end, 0.7)
                line = reduced_outline(sewn, (short,))
                nearest = min(ring.distance(Point(at)) for at in line)
                assert nearest > min(whole, width - 0.7) - 0.1
    assert tried >= 3


def test_a_corner_keeps_what_lies_near_to_the_sewing_lines_corner():
    edge, width = band_edge()
    whole = Polygon(cut_outline_points(BAND.cut_line))
    beside = BAND.allowances[1]
    reach = math.hypot(width, beside)
    short = Shortage("twine-loop", 0, edge.name, edge.length, edge.length, reach - width)
    left = Polygon(reduced_outline(BAND, (short,)))
    # Of the rectangle beyond the corner a quarter of a circle is left (closed form).
    removed = width * beside - math.pi * width**2 / 4.0
    assert whole.area - left.area == pytest.approx(removed, rel=2e-3)


def test_a_shortage_of_an_edge_that_is_not_there_takes_nothing_off():
    gone = Shortage("twine-loop", 0, "cuff", 0.0, 40.0, 5.0)
    assert reduced_outline(BAND, (gone,)) == tuple(cut_outline_points(BAND.cut_line, 0.02))


def narrow_panel(lack):
    """A little more than the leg's own cut outline, but that much short at its crotch point."""
    outline = Polygon(cut_outline_points(LEG.cut_line)).buffer(0.5, join_style="mitre")
    _, low, right, high = outline.bounds
    half = outline.intersection(Polygon.from_bounds(-999.0, low - 9, right - 0.5 - lack, high + 9))
    points = tuple((float(x), float(y)) for x, y in list(half.exterior.coords)[:-1])
    return SalvagedPanel("old leg", "main", points, ((0.0, 0.0), (0.0, 500.0)))


@pytest.mark.parametrize("lack", [3.0, 7.0])
def test_what_falls_short_once_taken_can_be_laid_and_the_referee_agrees(lack):
    panel = narrow_panel(lack)
    bed = bed_of(panel)
    item = items_of((LEG,), (), (), (panel,))[0]
    found = least_loss(item, LEG, (bed,))
    assert found.missing
    assert not found.crosses
    design = DEMO.design
    for short in shortages_of(found, LEG.piece.outline):
        design = shortage_taken(design, short, "no more cloth", DEMO.pieces, DEMO.panels)
    pattern = evaluate(design)
    there = (pattern.piece("back-leg"),)
    table = table_of(there, (), (), (panel,), Lay(), shortages=design.shortages)
    placement = settled(table, found.placement)
    assert placement is not None
    assert math.dist(placement.at, found.placement.at) < 0.5
    assert faults(table.items.values(), (bed,), (placement,), 2.0) == ()
    whole = items_of((LEG,), (), (), (panel,))
    assert [one.kind for one in faults(whole, (bed,), (found.placement,), 2.0)] == ["outside"]


def test_a_laid_copy_is_drawn_as_it_is_cut_and_its_twin_whole():
    edge = LEG.piece.outline.edge("back.inseam")
    short = Shortage("back-leg", 0, edge.name, 30.0, 90.0, 6.0)
    pattern = evaluate(replace(DEMO.design, shortages=(short,)))
    roll = Roll("canvas", "main", 1500.0, 3000.0)
    placements = tuple(
        replace(found.placement, at=(300.0 + 600.0 * copy, 600.0))
        for copy in (0, 1)
        for item in (items_of((LEG,), (), (), (roll,))[copy],)
        if (found := least_loss(item, LEG, (bed_of(roll),))) is not None
    )
    laid = laid_pieces(
        pattern.pieces, placements, (bed_of(roll),), (), drawn_legs(pattern.panels), (short,)
    )
    areas = [Polygon(cut_outline_points(one.sewn.cut_line)).area for one in laid]
    assert areas[1] - areas[0] == pytest.approx(60.0 * 6.0, rel=0.05)
    assert [len(one.sewn.second) for one in laid] == [len(LEG.second)] * 2
