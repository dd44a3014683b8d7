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
from studio.exchange.block_in import read_drawing

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


def test_a_gap_as_wide_as_a_pencil_line_is_closed_and_told_with_its_place(tmp_path):
    document = drawing()
    lines(document, [*SQUARE[:3], ((0, 300), (0, 0.3))])
    imported = read_drawing(saved(document, tmp_path))
    assert length_of(imported.panels[0]) == pytest.approx(1000.0, abs=0.3)
    assert imported.left_out == ()
    (note,) = imported.notes
    assert "a gap of 0.30 mm was closed at (0.00, 0." in note


def test_an_outline_that_ends_before_its_start_is_closed_too(tmp_path):
    document = drawing()
    document.modelspace().add_lwpolyline([(0, 0), (200, 0), (200, 300), (0, 300), (0, 0.4)])
    imported = read_drawing(saved(document, tmp_path))
    assert length_of(imported.panels[0]) == pytest.approx(1000.0, abs=0.5)
    assert "a gap of 0.40 mm" in imported.notes[0]


def test_a_gap_wider_than_a_millimetre_stays_open_and_is_told_with_its_place(tmp_path):
    document = drawing()
    lines(document, [*SQUARE[:3], ((0, 300), (0, 1.3))])
    with pytest.raises(BadInput, match="no closed outline") as refusal:
        read_drawing(saved(document, tmp_path))
    assert "(0.00, 1.30)" in str(refusal.value)


def test_ticks_of_notches_at_corners_are_no_part_of_the_outline(tmp_path):
    document = drawing()
    for corner, end in (((0, 0), (8, 8)), ((200, 0), (200, 8)), ((200, 300), (190, 300))):
        lines(document, [(corner, end), (end, (end[0] - 2, end[1] - 1))], layer="Notches")
    lines(document, SQUARE, layer="Outline")
    imported = read_drawing(saved(document, tmp_path))
    assert [panel.name for panel in imported.panels] == ["outline"]
    assert length_of(imported.panels[0]) == pytest.approx(1000.0, abs=1e-6)


def test_a_line_from_corner_to_corner_on_another_layer_cuts_no_outline(tmp_path):
    document = drawing()
    lines(document, [((0, 0), (200, 300))], layer="Bias")
    lines(document, SQUARE, layer="Outline")
    imported = read_drawing(saved(document, tmp_path))
    assert length_of(imported.panels[0]) == pytest.approx(1000.0, abs=1e-6)


def test_what_is_left_out_is_told_once_for_all_that_is_alike_and_outlines_first(tmp_path):
    document = drawing()
    for k in range(40):
        document.modelspace().add_point((k, 20), dxfattribs={"layer": str(k % 3)})
    for layer in ("Text", "0"):
        document.modelspace().add_text("front", dxfattribs={"layer": layer})
    lines(document, SQUARE)
    lines(document, [((20, k), (60, k)) for k in (40, 80, 120)], layer="Levels")
    assert read_drawing(saved(document, tmp_path)).left_out == (
        "3 times LINE on layer Levels: its line stays open, the first between (20.00, 40.00) "
        "and (60.00, 40.00)",
        "40 times POINT, 2 times TEXT: not an outline",
    )


def test_a_drawing_far_too_small_asks_whether_its_unit_is_the_right_one(tmp_path):
    document = drawing()
    document.modelspace().add_text("FRONT")
    document.modelspace().add_lwpolyline([(0, 0), (16, 0), (16, 42), (0, 42)], close=True)
    path = saved(document, tmp_path)
    with pytest.raises(BadInput, match="too small") as refusal:
        read_drawing(path)
    assert "measures 16.0 mm by 42.0 mm: is the unit the right one?" in str(refusal.value)
    assert read_drawing(path, "inch").notes == ()


def test_panels_the_size_of_a_hand_are_taken_with_a_word_about_the_unit(tmp_path):
    document = drawing()
    document.modelspace().add_lwpolyline([(0, 0), (37, 0), (37, 107), (0, 107)], close=True)
    path = saved(document, tmp_path)
    assert "measures 37.0 mm by 107.0 mm" in read_drawing(path).notes[0]
    assert read_drawing(path, "cm").notes == ()


@pytest.mark.parametrize("turn", [-90.0, -7.0, 0.0, 7.0, 60.0, 90.0])
def test_a_panel_is_turned_until_its_grain_line_stands_upright(tmp_path, turn):
    document = drawing()
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def turned(x, y):
        return (c * x - s * y, s * x + c * y)

    corners = [turned(*place) for place in ((0, 0), (200, 0), (230, 400), (0, 400))]
    document.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "front"})
    grain = turned(80, 40), turned(80, 300)
    lines(document, [grain], layer="Grain line")
    imported = read_drawing(saved(document, tmp_path))
    ends = [edge.cubics[0][0] for edge in imported.panels[0].edges]
    widths = sorted(abs(two.y - one.y) for one, two in zip(ends, [*ends[1:], ends[0]], strict=True))
    assert widths == pytest.approx([0.0, 0.0, 400.0, 400.0], abs=1e-6)
    assert imported.left_out == ()
    assert len(imported.notes) == (1 if turn else 0)


def test_darts_drawn_as_two_lines_become_darts_of_their_edge(tmp_path):
    document = drawing()
    lines(document, SQUARE, layer="front")
    lines(document, [((90, 300), (100.2, 190)), ((110, 300.1), (99.9, 190.1))], layer="darts")
    document.modelspace().add_lwpolyline([(150, 300), (154, 294), (158, 300)])  # A notch.
    imported = read_drawing(saved(document, tmp_path))
    panel = imported.panels[0]
    (dart,) = panel.darts
    assert dart.edge in [edge.name for edge in panel.edges]
    assert dart.first.distance_to(dart.last) == pytest.approx(20.0, abs=1e-3)
    assert (dart.first.x, dart.point.y) == pytest.approx((110.0, 190.05), abs=0.01)
    assert length_of(panel) == pytest.approx(1000.0, abs=1e-6)
    assert block_of_drawing(imported).panels[0].darts[0].point == dart.point
    assert all("darts" not in told for told in imported.left_out)


def test_where_a_piece_has_a_sew_line_the_panel_is_that_and_not_the_cut_line(tmp_path):
    # ASTM D6673-10: the boundary of a piece is on layer 1, its sew line on layer 14.
    document = drawing()
    block = document.blocks.new("FRONT")
    for layer, out in (("1", 10), ("14", 0)):
        places = [(-out, -out), (200 + out, -out), (200 + out, 300 + out), (-out, 300 + out)]
        block.add_lwpolyline(places, close=True, dxfattribs={"layer": layer})
    document.modelspace().add_blockref("FRONT", (0, 0))
    imported = read_drawing(saved(document, tmp_path))
    assert [panel.name for panel in imported.panels] == ["front"]
    assert length_of(imported.panels[0]) == pytest.approx(1000.0, abs=1e-6)
    assert "cut line" in imported.left_out[0]


SHEET = """<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"
 width="60cm" height="50cm" viewBox="0 0 300 250">
<defs><path id="leg" d="M 0 0 H 100 V -150 H 0 Z"/></defs>
<g id="layer1" transform="translate(20,200)"><use xlink:href="#leg" transform="rotate(30)"/>
<rect id="band" x="150" y="-40" width="120" height="20"/></g></svg>"""


def test_outlines_of_an_svg_drawing_are_panels_at_the_size_it_says(tmp_path):
    # W3C SVG 1.1, 7.10: the viewBox is fitted to the size; here 2 mm to its unit.
    path = tmp_path / "sheet.svg"
    path.write_text(SHEET)
    imported = read_drawing(path)
    assert sorted(panel.name for panel in imported.panels) == ["band", "leg"]
    lengths = {panel.name: length_of(panel) for panel in imported.panels}
    assert lengths == pytest.approx({"leg": 1000.0, "band": 560.0}, abs=1e-6)


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
    sewn = pattern.piece("knee-panel").piece.outline
    panel = next(p for p in imported.panels if p.name == "knee-panel")
    assert length_of(panel) == pytest.approx(sewn.perimeter, abs=0.5)


def test_a_straight_edge_of_many_parts_that_lies_askew_is_one_straight_line(tmp_path):
    turn = math.radians(7.0)
    corners = [(0, 0), *((23.0 * k, 0) for k in range(1, 8)), (184, 0), (184, 300), (0, 300)]
    turned = [
        (
            round(x * math.cos(turn) - y * math.sin(turn), 3),
            round(x * math.sin(turn) + y * math.cos(turn), 3),
        )
        for x, y in corners
    ]
    document = drawing()
    document.modelspace().add_lwpolyline(turned, close=True)
    panel = read_drawing(saved(document, tmp_path)).panels[0]
    assert [len(edge.cubics) for edge in panel.edges] == [1, 1, 1, 1]
    assert length_of(panel) == pytest.approx(968.0, abs=0.005)
