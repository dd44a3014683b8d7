"""Lengths and areas of the file, read back by ezdxf and shapely, against the printed digits."""

import math

import ezdxf
import pytest
from msgspec.structs import replace
from shapely import LineString, Polygon

from studio import numbers
from studio.curves import Affine, Chain, Cubic, Point
from studio.demo import demo_design
from studio.exchange.chords import CHORD_ERROR, LEAST_ERROR, chord_error
from studio.exchange.dxf_out import BOUNDARY, SEWING, write_dxf
from studio.pattern import evaluate

DEMO = demo_design()
BODIES = [
    DEMO.body,
    replace(DEMO.body, waist_girth=760.0, hip_girth=955.0, inside_leg=775.0),
    replace(DEMO.body, waist_girth=905.0, hip_girth=1070.0, inside_leg=815.0),
]


def printed(mm):
    return [numbers.length(mm, unit, numbers.DECIMALS[unit]) for unit in numbers.DECIMAL_UNITS]


def quarter(radius, turns=1):
    """A quarter of a circle as a cubic, or as several that swing on."""
    k = 4.0 / 3.0 * math.tan(math.pi / 8.0) * radius
    one = Cubic(Point(radius, 0), Point(radius, k), Point(k, radius), Point(0, radius))
    return Chain((one,) * turns)


@pytest.mark.parametrize("body", BODIES, ids=["demo", "smaller", "larger"])
def test_every_length_and_area_reads_back_with_the_digits_printed(body, tmp_path):
    pattern = evaluate(replace(DEMO, body=body, stash=()))
    write_dxf(pattern.pieces, tmp_path / "x.dxf", style="x")
    drawing = ezdxf.readfile(tmp_path / "x.dxf")
    vertices = []
    for sewn in pattern.pieces:
        block = drawing.blocks.get(sewn.piece.name.upper())
        lines = {SEWING: [e.chain for e in sewn.piece.outline]}
        lines[BOUNDARY] = [e.chain for e in sewn.cut_line]
        for layer, chains in lines.items():
            (line,) = (one for one in block.query("POLYLINE") if one.dxf.layer == layer)
            points = [(v.dxf.location.x, v.dxf.location.y) for v in line.vertices]
            vertices.append(len(points))
            ring = Polygon(points)
            assert printed(ring.length) == printed(sum(chain.length for chain in chains))
            at = [points.index((chain.start.x, chain.start.y)) for chain in chains]
            for chain, start, end in zip(chains, at, [*at[1:], len(points)], strict=True):
                edge = LineString([*points, points[0]][start : end + 1])
                assert printed(edge.length) == printed(chain.length)
            if layer == SEWING:
                for unit in ("cm", "inch"):
                    told = numbers.area(sewn.piece.outline.area_mm2, unit)
                    assert numbers.area(ring.area, unit) == told
    # As chords all within CHORD_ERROR would have: 2967 on the demo's lines, at most 350 on one. A
    # chord's error falls with the square of its length, so those of LEAST_ERROR are sqrt(32) times
    # as many.
    assert max(vertices) < 350 * math.sqrt(CHORD_ERROR / LEAST_ERROR)
    assert sum(vertices) < 2 * 2967


def test_a_line_whose_digits_hold_has_the_coarsest_chords():
    assert chord_error([Chain.straight(Point(0, 0), Point(100, 0))], closed=False) == CHORD_ERROR
    # A quarter of a circle of 100: pi / 2 x 100 = 157.08, far from every edge of rounding.
    assert chord_error([quarter(100.0)], closed=False) == CHORD_ERROR


def test_a_length_just_above_a_rounding_edge_has_finer_chords():
    whole = quarter(100.0).length
    radius = 100.0 * 157.051 / whole
    arc = quarter(radius)
    assert arc.length == pytest.approx(157.051, abs=1e-6)
    coarse = LineString(arc.polyline(CHORD_ERROR)).length
    assert printed(coarse) != printed(arc.length)
    error = chord_error([arc], closed=False)
    assert LEAST_ERROR < error < CHORD_ERROR
    assert printed(LineString(arc.polyline(error)).length) == printed(arc.length)


def test_a_length_on_a_rounding_edge_ends_the_search():
    arc = quarter(100.0 * (157.05 + 2e-7) / quarter(100.0).length)
    assert chord_error([arc], closed=False) == LEAST_ERROR


def test_an_area_on_a_rounding_edge_of_square_inches_has_finer_chords():
    # A circle of four cubics, of 48.15 square inches and a little more: 31,064.9 mm2.
    ring = [quarter(100.0)]
    ring += [ring[0].transformed(Affine.turn(turn, Point(0, 0))) for turn in (90.0, 180.0, 270.0)]
    grown = math.sqrt(48.1501 * 25.4**2 / sum(chain.swept_area() for chain in ring))
    ring = [chain.transformed(Affine(xx=grown, yy=grown)) for chain in ring]
    error = chord_error(ring, closed=True)
    points = [place for chain in ring for place in chain.polyline(error)[:-1]]
    assert numbers.area(Polygon(points).area, "inch") == "48.2 inch²"
