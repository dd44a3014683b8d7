"""A salvaged panel from a drawing: sizes true, holes within, grain as drawn, bad files refused."""

import math

import ezdxf
import pytest
from shapely import Polygon

from studio.cloth.bed import bed_of
from studio.errors import BadInput
from studio.exchange.panel_in import read_panel


def svg(tmp_path, body, head='width="400mm" height="300mm" viewBox="0 0 400 300"', name="one.svg"):
    path = tmp_path / name
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>')
    return path


def box(places):
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return min(xs), min(ys), max(xs), max(ys)


RECT = '<rect x="10" y="20" width="200" height="100"/>'


@pytest.mark.parametrize(
    ("head", "mm"),
    [
        # SVG 1.1 section 7.10 and CSS Values and Units 3: 1in = 2.54cm = 96px = 72pt = 6pc.
        ('width="400mm" height="300mm" viewBox="0 0 400 300"', 1.0),
        ('width="40cm" height="30cm" viewBox="0 0 400 300"', 1.0),
        ('width="400mm" height="300mm" viewBox="0 0 800 600"', 0.5),
        ('width="4in" height="3in" viewBox="0 0 400 300"', 0.254),
        ('width="400px" height="300px"', 25.4 / 96.0),
        ('width="400px" height="300px" viewBox="0 0 200 150"', 2.0 * 25.4 / 96.0),
        ('width="400pt" height="300pt" viewBox="0 0 400 300"', 25.4 / 72.0),
        ('width="40pc" height="30pc" viewBox="0 0 400 300"', 25.4 / 60.0),
    ],
)
def test_an_svg_keeps_its_size_in_every_unit(tmp_path, head, mm):
    panel = read_panel(svg(tmp_path, RECT, head), "leg", "drill").panel
    left, bottom, right, top = box(panel.outline)
    assert right - left == pytest.approx(200.0 * mm, abs=2e-3)
    assert top - bottom == pytest.approx(100.0 * mm, abs=2e-3)


def test_y_is_turned_up_and_the_outline_goes_round_counter_clockwise(tmp_path):
    path = svg(tmp_path, '<path d="M 10 10 L 110 10 L 10 210 Z"/>')
    panel = read_panel(path, "leg", "drill").panel
    assert Polygon(panel.outline).exterior.is_ccw
    # The wide end is at the top of the picture, so it is at the top of the panel.
    assert sorted(panel.outline) == [(0.0, 0.0), (0.0, 200.0), (100.0, 200.0)]
    assert panel.grain == ((50.0, 0.0), (50.0, 200.0))


def test_curves_keep_the_area_of_a_circle(tmp_path):
    panel = read_panel(svg(tmp_path, '<circle cx="150" cy="150" r="120"/>'), "leg", "drill").panel
    assert Polygon(panel.outline).area == pytest.approx(math.pi * 120.0**2, rel=2e-4)
    rounded = svg(tmp_path, '<path d="M50 50 H250 A50 50 0 0 1 250 150 H50 Z"/>', name="two.svg")
    area = Polygon(read_panel(rounded, "leg", "drill").panel.outline).area
    assert area == pytest.approx(200.0 * 100.0 + math.pi * 50.0**2 / 2.0, rel=2e-4)


def test_transforms_and_copies_are_followed(tmp_path):
    body = (
        '<defs><g id="patch"><rect width="20" height="30"/></g></defs>'
        f'<g transform="translate(5 5) scale(1.5)">{RECT}</g>'
        '<use href="#patch" x="60" y="60"/>'
    )
    panel = read_panel(svg(tmp_path, body), "leg", "drill").panel
    assert box(panel.outline) == pytest.approx((0.0, 0.0, 300.0, 150.0), abs=2e-3)
    assert box(panel.flaws[0].points) == pytest.approx((40.0, 95.0, 60.0, 125.0), abs=2e-3)


def test_closed_outlines_within_are_holes_and_the_rest_is_told(tmp_path):
    body = (
        RECT
        + '<circle id="burn" cx="60" cy="60" r="10"/>'
        + '<circle cx="60" cy="60" r="5"/>'
        + '<rect id="aside" x="300" y="20" width="50" height="50"/>'
        + '<rect id="edge" x="195" y="50" width="40" height="20"/>'
        + '<path id="loose" d="M 20 30 L 90 40"/>'
        + '<path id="speck" d="M 20 30 h1 v1 h-1 z"/>'
        + RECT
    )
    drawn = read_panel(svg(tmp_path, body), "leg", "drill")
    assert [flaw.kind for flaw in drawn.panel.flaws] == ["hole"]
    told = "\n".join(drawn.left_out)
    for words in (
        "within a hole",
        "aside: it lies beside",
        "edge: it crosses",
        "loose: its line stays open",
        "speck: it is too small",
        "drawn twice",
    ):
        assert words in told
    usable = bed_of(drawn.panel).usable.area
    assert usable == pytest.approx(200.0 * 100.0 - math.pi * 100.0, rel=1e-3)


def test_a_line_named_grain_gives_the_grain(tmp_path):
    for body in (
        f'{RECT}<line id="grain" x1="50" y1="40" x2="150" y2="100"/>',
        f'{RECT}<g id="grain"><path d="M150 100 L50 40"/></g>',
    ):
        drawn = read_panel(svg(tmp_path, body), "leg", "drill")
        assert drawn.panel.grain == ((140.0, 20.0), (40.0, 80.0))
        assert drawn.left_out == ()


def test_a_size_without_a_unit_is_refused_until_the_unit_is_named(tmp_path):
    for head in (
        'width="400" height="300"',
        'viewBox="0 0 400 300"',
        'width="100%" height="100%" viewBox="0 0 400 300"',
    ):
        path = svg(tmp_path, RECT, head)
        with pytest.raises(BadInput, match="does not say its unit") as refusal:
            read_panel(path, "leg", "drill")
        assert refusal.value.where == "unit"
        assert refusal.value.path == str(path)
        left, bottom, right, top = box(read_panel(path, "leg", "drill", "cm").panel.outline)
        assert (right - left, top - bottom) == pytest.approx((2000.0, 1000.0), abs=2e-3)


BOMB = (
    '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>'
    '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><text>&b;</text></svg>'
)
OUTSIDE = (
    '<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>'
    '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><text>&a;</text></svg>'
)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        ("", "is not XML"),
        ("not a drawing", "is not XML"),
        ("<svg><rect></svg>", "is not XML"),
        ("<html/>", "is not an SVG"),
        (BOMB, "declares entities"),
        (OUTSIDE, "declares entities"),
    ],
)
def test_what_is_no_sound_svg_is_refused_by_file_and_reason(tmp_path, content, told):
    path = tmp_path / "bad.svg"
    path.write_text(content)
    with pytest.raises(BadInput, match=told) as refusal:
        read_panel(path, "leg", "drill")
    assert str(refusal.value).startswith(str(path))


def test_a_document_type_alone_is_no_harm(tmp_path):
    path = tmp_path / "typed.svg"
    path.write_text(
        '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" '
        '"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" '
        f'viewBox="0 0 400 300">{RECT}</svg>'
    )
    assert len(read_panel(path, "leg", "drill").panel.outline) == 4


def test_copies_of_copies_are_refused_before_they_are_made(tmp_path):
    levels = '<g id="c0"><rect width="10" height="10"/></g>'
    for level in range(1, 8):
        copies = f'<use href="#c{level - 1}"/>' * 10
        levels += f'<g id="c{level}">{copies}</g>'
    with pytest.raises(BadInput, match="more lines"):
        read_panel(svg(tmp_path, levels), "leg", "drill")
    circle = '<g id="me"><use href="#me"/><rect width="10" height="10"/></g>'
    with pytest.raises(BadInput, match="more lines"):
        read_panel(svg(tmp_path, circle), "leg", "drill")


@pytest.mark.parametrize(
    "body",
    [
        "",
        "<text>leg</text>",
        '<path d="M 0 0 L 100 0 L 100 100"/>',
        '<path d="M0 0 L100 100 L100 0 L0 100 Z"/>',
        '<path d="M 1 a b"/>',
    ],
)
def test_without_a_closed_outline_there_is_no_panel(tmp_path, body):
    path = svg(tmp_path, body)
    with pytest.raises(BadInput, match=r"no closed outline|not a sound SVG") as refusal:
        read_panel(path, "leg", "drill")
    assert refusal.value.path == str(path)


def test_a_missing_file_and_a_strange_one_are_told(tmp_path):
    for name in ("none.svg", "none.dxf"):
        with pytest.raises(BadInput, match="cannot be read"):
            read_panel(tmp_path / name, "leg", "drill")
    with pytest.raises(BadInput, match="neither a DXF nor an SVG"):
        read_panel(tmp_path / "leg.pdf", "leg", "drill")
    with pytest.raises(BadInput, match="unknown unit"):
        read_panel(svg(tmp_path, RECT), "leg", "drill", "furlong")


def dxf(tmp_path, units=4):
    document = ezdxf.new(units=units)
    model = document.modelspace()
    model.add_lwpolyline([(0, 0), (300, 0), (280, 500), (20, 500)], close=True)
    model.add_circle((150, 200), 20)
    return document, model, tmp_path / "leg.dxf"


def test_a_dxf_gives_outline_holes_and_the_grain_of_layer_7(tmp_path):
    document, model, path = dxf(tmp_path)
    document.layers.add("7")
    model.add_line((140, 400), (150, 100), dxfattribs={"layer": "7"})
    document.saveas(path)
    drawn = read_panel(path, "leg", "drill")
    assert drawn.left_out == ()
    assert drawn.panel.grain == ((150.0, 100.0), (140.0, 400.0))
    assert drawn.panel.outline[0] in ((0.0, 0.0), (300.0, 0.0), (280.0, 500.0), (20.0, 500.0))
    area = bed_of(drawn.panel).usable.area
    assert area == pytest.approx((300.0 + 260.0) / 2.0 * 500.0 - math.pi * 400.0, rel=1e-4)


def test_sew_lines_on_their_layer_are_no_holes(tmp_path):
    # ASTM D6673-10: layer 1 piece boundary, 11 internal cut-outs, 14 sew lines.
    document = ezdxf.new(units=4)
    model = document.modelspace()
    for layer, inset in (("1", 0), ("14", 10), ("11", 100)):
        corners = [(inset, inset), (300 - inset, inset), (300 - inset, 300 - inset)]
        model.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})
    path = tmp_path / "piece.dxf"
    document.saveas(path)
    drawn = read_panel(path, "leg", "drill")
    assert len(drawn.panel.flaws) == 1
    assert any("sew line" in told for told in drawn.left_out)


def test_a_dxf_in_inches_and_one_without_a_unit(tmp_path):
    document, _, path = dxf(tmp_path, units=1)
    document.saveas(path)
    assert box(read_panel(path, "leg", "drill").panel.outline)[2] == pytest.approx(300 * 25.4)
    document, _, path = dxf(tmp_path, units=0)
    document.saveas(path)
    with pytest.raises(BadInput) as refusal:
        read_panel(path, "leg", "drill")
    assert refusal.value.where == "$INSUNITS"
    assert box(read_panel(path, "leg", "drill", "mm").panel.outline)[2] == pytest.approx(300.0)
