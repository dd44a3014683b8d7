"""Drawings become panels; what cannot be used is told."""

import itertools
import math

import ezdxf
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ellipeinc

from studio.block.imported import block_of_drawing
from studio.curves import Cubic
from studio.errors import BadInput
from studio.exchange.dxf_in import read_drawing

SQUARE = [((0, 0), (200, 0)), ((200, 0), (200, 300)), ((200, 300), (0, 300)), ((0, 300), (0, 0))]


def drawing(units=4):
    return ezdxf.new("R2010", units=units)


def saved(document, tmp_path, name="block.dxf"):
    path = tmp_path / name
    document.saveas(path)
    return path


def length_of(panel):
    return sum(Cubic(*points).length for edge in panel.edges for points in edge.cubics)


def lines(document, segments, layer="0"):
    for start, end in segments:
        document.modelspace().add_line(start, end, dxfattribs={"layer": layer})


def test_four_lines_in_any_order_and_direction_close_over_small_gaps(tmp_path):
    document = drawing()
    lines(
        document,
        [
            ((200.03, 300), (0, 300.04)),
            ((200, 0), (0.02, 0)),
            ((0, 300), (0, 0.03)),
            ((200, 0.03), (200, 300)),
        ],
    )
    imported = read_drawing(saved(document, tmp_path))
    panel = imported.panels[0]
    assert [edge.name for edge in panel.edges] == [f"panel-1.edge-{k}" for k in (1, 2, 3, 4)]
    assert length_of(panel) == pytest.approx(1000.0, abs=0.2)
    assert imported.left_out == ()
    outline = block_of_drawing(imported).panels[0].outline
    assert outline.area_mm2 == pytest.approx(60000.0, abs=30.0)


def test_a_gap_of_a_third_of_a_millimetre_stays_open_and_is_told_with_its_place(tmp_path):
    document = drawing()
    lines(document, [*SQUARE[:3], ((0, 300), (0, 0.3))])
    with pytest.raises(BadInput, match="no closed outline") as refusal:
        read_drawing(saved(document, tmp_path))
    assert "(0.00, 0.30)" in str(refusal.value)


@settings(max_examples=15)
@given(st.permutations(range(4)), st.lists(st.booleans(), min_size=4, max_size=4))
def test_order_and_direction_of_lines_do_not_matter(tmp_path_factory, order, flips):
    document = drawing()
    segments = [SQUARE[k][::-1] if flips[k] else SQUARE[k] for k in order]
    lines(document, segments)
    imported = read_drawing(saved(document, tmp_path_factory.mktemp("dxf")))
    corners = [(edge.cubics[0][0].x, edge.cubics[0][0].y) for edge in imported.panels[0].edges]
    assert corners == [(0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0)]


def test_the_arc_of_a_bulge_is_as_long_as_it_should_be(tmp_path):
    # Closed form: a bulge b turns 4 atan b; over a chord c the radius is c (1 + b^2) / (4 b).
    bulge, chord = 0.35, 300.0
    document = drawing()
    document.modelspace().add_lwpolyline(
        [(0, 0, 0), (200, 0, bulge), (200, chord, 0), (0, chord, 0)], format="xyb", close=True
    )
    panel = read_drawing(saved(document, tmp_path)).panels[0]
    radius = chord * (1 + bulge * bulge) / (4 * bulge)
    arc = radius * 4.0 * math.atan(bulge)
    assert length_of(panel) == pytest.approx(200 + 200 + chord + arc, abs=1e-6)


def test_an_ellipse_is_as_long_as_the_elliptic_integral_says(tmp_path):
    # Reference library: scipy.special.ellipeinc, arc length a E(pi/2 ... ) of an ellipse.
    a, b = 150.0, 90.0
    document = drawing()
    document.modelspace().add_ellipse((0, 0), major_axis=(a, 0), ratio=b / a)
    panel = read_drawing(saved(document, tmp_path)).panels[0]
    whole = 4.0 * a * ellipeinc(math.pi / 2.0, 1.0 - (b / a) ** 2)
    assert length_of(panel) == pytest.approx(whole, abs=0.01)
    assert len(panel.edges) == 1


def test_a_circle_is_a_panel_of_one_edge(tmp_path):
    document = drawing()
    document.modelspace().add_circle((50, 50), 100)
    panel = read_drawing(saved(document, tmp_path)).panels[0]
    assert len(panel.edges) == 1
    assert length_of(panel) == pytest.approx(200.0 * math.pi, abs=1e-6)


def test_a_spline_is_taken_as_it_is(tmp_path):
    # Reference library: ezdxf's own flattening of the same spline.
    document = drawing()
    spline = document.modelspace().add_spline(fit_points=None, dxfattribs={"degree": 3})
    spline.control_points = [(0, 0), (80, -60), (160, 60), (240, 0), (300, 30)]
    spline.knots = [0, 0, 0, 0, 0.5, 1, 1, 1, 1]
    lines(document, [((300, 30), (300, 200)), ((300, 200), (0, 200)), ((0, 200), (0, 0))])
    panel = read_drawing(saved(document, tmp_path)).panels[0]
    flat = list(spline.flattening(1e-5))
    along = sum((two - one).magnitude for one, two in itertools.pairwise(flat))
    assert length_of(panel) == pytest.approx(along + 170 + 300 + 200, abs=0.01)


def test_digitised_points_become_few_cubics_within_a_twentieth_of_a_millimetre(tmp_path):
    curve = Cubic(*(read_point(p) for p in ((200, 0), (260, 100), (150, 200), (200, 300))))
    count = 500
    noise = np.random.default_rng(7).normal(0.0, 0.03, (count + 1, 2))
    noise[[0, -1]] = 0.0
    steps = [curve.at(curve.parameter_at(curve.length * k / count)) for k in range(count + 1)]
    points = [(0, 0), *((p.x + dx, p.y + dy) for p, (dx, dy) in zip(steps, noise, strict=True))]
    document = drawing()
    document.modelspace().add_lwpolyline([*points, (0, 300)], close=True)
    panel = read_drawing(saved(document, tmp_path)).panels[0]
    assert len(panel.edges) == 4
    cubics = [Cubic(*p) for p in panel.edges[1].cubics]
    assert len(cubics) <= 4
    places = [cubic.at(k / 20) for cubic in cubics for k in range(21)]
    assert max(curve.nearest(place)[1] for place in places) < 0.05


def read_point(pair):
    from studio.curves import Point

    return Point(float(pair[0]), float(pair[1]))


def test_blocks_in_blocks_are_opened_scaled_and_mirrored(tmp_path):
    document = drawing()
    inner = document.blocks.new("half")
    for start, end in SQUARE:
        inner.add_line(start, end)
    outer = document.blocks.new("FRONT panel")
    outer.add_blockref("half", (10, 0), dxfattribs={"xscale": -0.5, "yscale": 0.5})
    document.modelspace().add_blockref("FRONT panel", (1000, 0), dxfattribs={"xscale": 2.0})
    imported = read_drawing(saved(document, tmp_path))
    assert [panel.name for panel in imported.panels] == ["front-panel"]
    outline = block_of_drawing(imported).panels[0].outline
    assert outline.area_mm2 == pytest.approx(200.0 * 150.0, abs=1e-6)
    assert outline.box.right == pytest.approx(1020.0)


@pytest.mark.parametrize(
    ("code", "unit", "scale"), [(1, None, 25.4), (5, None, 10.0), (0, "cm", 10.0)]
)
def test_units_are_honoured(tmp_path, code, unit, scale):
    document = drawing(code)
    lines(
        document, [((0, 0), (20, 0)), ((20, 0), (20, 30)), ((20, 30), (0, 30)), ((0, 30), (0, 0))]
    )
    panel = read_drawing(saved(document, tmp_path), unit).panels[0]
    assert length_of(panel) == pytest.approx(100.0 * scale, abs=1e-6)


def test_a_drawing_without_a_unit_asks_for_one(tmp_path):
    document = drawing(0)
    lines(document, SQUARE)
    with pytest.raises(BadInput, match="--unit") as refusal:
        read_drawing(saved(document, tmp_path))
    assert refusal.value.where == "$INSUNITS"


def test_everything_that_was_not_used_is_listed_with_its_reason(tmp_path):
    document = drawing()
    space = document.modelspace()
    lines(document, SQUARE)
    space.add_text("front", dxfattribs={"insert": (10, 10)})
    space.add_circle((100, 100), 5)
    space.add_circle((100, 200), 40)
    space.add_line((500, 0), (600, 0))
    space.add_line((700, 0, 0), (700, 50, 80))
    space.add_line((5, 5), (5, 5))
    space.add_lwpolyline([(900, 0), (1100, 200), (1100, 0), (900, 200)], close=True)
    imported = read_drawing(saved(document, tmp_path))
    told = "\n".join(imported.left_out)
    assert len(imported.panels) == 1
    for reason in (
        "not an outline",
        "too small",
        "inside another",
        "stays open",
        "not flat",
        "no length",
        "crosses itself",
    ):
        assert reason in told, reason
    assert len(imported.left_out) == 7


@pytest.mark.parametrize("content", [b"", b"0\nSECTION\n2\nENT", b"\x00\x01\x02", b"hello there"])
def test_a_broken_file_is_refused_by_name(tmp_path, content):
    path = tmp_path / "broken.dxf"
    path.write_bytes(content)
    with pytest.raises(BadInput) as refusal:
        read_drawing(path)
    assert str(path) in str(refusal.value)


def test_a_missing_file_is_refused(tmp_path):
    with pytest.raises(BadInput, match="cannot be read"):
        read_drawing(tmp_path / "none.dxf")


def test_our_own_files_come_back(tmp_path):
    from studio.demo import demo_design
    from studio.exchange.dxf_out import write_dxf
    from studio.pattern import evaluate

    pattern = evaluate(demo_design())
    path = tmp_path / "pieces.dxf"
    write_dxf(pattern.pieces, path, style="x")
    imported = read_drawing(path)
    cut = pattern.piece("knee-panel").cut_line
    panel = next(p for p in imported.panels if p.name == "knee-panel")
    # At a leg of each of its two darts the cut line steps by a fifth of a millimetre: read back,
    # it runs on.
    assert length_of(panel) == pytest.approx(sum(e.chain.length for e in cut), abs=0.5)
