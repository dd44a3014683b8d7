"""The DXF file, read back by ezdxf."""

import itertools
import math

import ezdxf
import pytest
import shapely
from msgspec.structs import replace
from shapely.geometry import LineString, Point

from studio.demo import demo_design
from studio.errors import BadInput, YokewrightError
from studio.exchange import dxf_out
from studio.exchange.dxf_out import (
    ANNOTATION,
    BOUNDARY,
    CURVE_POINTS,
    DRILLS,
    GRAIN,
    INTERNAL,
    NOTCHES,
    SEWING,
    TURN_POINTS,
    write_dxf,
)
from studio.pattern import evaluate
from tests.exchange.pieces import band, flap

PATTERN = evaluate(demo_design())


def written(pieces, path, style="Obstgärtner-Hose"):
    write_dxf(pieces, path, style=style)
    return ezdxf.readfile(path)


@pytest.fixture(scope="module")
def drawing(tmp_path_factory):
    return written(PATTERN.pieces, tmp_path_factory.mktemp("dxf") / "demo.dxf")


@pytest.fixture(scope="module")
def flap_block(tmp_path_factory):
    drawing = written((flap(),), tmp_path_factory.mktemp("dxf") / "flap.dxf")
    return drawing.blocks.get("FLAP")


def block_of(drawing, name):
    return drawing.blocks.get(name.upper())


def on_layer(block, kind, layer):
    return [entity for entity in block.query(kind) if entity.dxf.layer == layer]


def ring(block, layer):
    (line,) = on_layer(block, "POLYLINE", layer)
    assert line.is_closed
    return [(v.dxf.location.x, v.dxf.location.y) for v in line.vertices]


def length(points):
    return sum(math.dist(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True))


def area(points):
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return 0.5 * sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs)


def pair_of(point):
    return (point.x, point.y)


def texts(space):
    return {entity.dxf.text for entity in space.query("TEXT")}


def test_the_file_is_sound(drawing):
    assert drawing.audit().errors == []


def test_the_unit_is_the_millimetre(drawing):
    assert drawing.header["$INSUNITS"] == 4
    assert drawing.header["$MEASUREMENT"] == 1


@pytest.mark.parametrize("sewn", PATTERN.pieces, ids=lambda sewn: sewn.piece.name)
def test_each_piece_is_a_block_with_its_sewing_line_at_full_length(drawing, sewn):
    outline = sewn.piece.outline
    points = ring(block_of(drawing, sewn.piece.name), SEWING)
    assert length(points) == pytest.approx(outline.perimeter, abs=0.05)
    assert area(points) == pytest.approx(outline.area_mm2, abs=outline.perimeter * 0.005)


@pytest.mark.parametrize("sewn", PATTERN.pieces, ids=lambda sewn: sewn.piece.name)
def test_the_boundary_is_the_cut_line(drawing, sewn):
    points = ring(block_of(drawing, sewn.piece.name), BOUNDARY)
    assert length(points) == pytest.approx(sum(e.chain.length for e in sewn.cut_line), abs=0.05)


def test_no_chord_strays_more_than_0_005_mm_from_the_curve(flap_block):
    drawn = LineString([*(points := ring(flap_block, SEWING)), points[0]])
    for edge in flap().piece.outline:
        chain = edge.chain
        for k in range(400):
            at = chain.at(chain.length * k / 400)
            assert drawn.distance(Point(at.x, at.y)) <= 0.005 + 1e-6


@pytest.mark.parametrize("sewn", PATTERN.pieces, ids=lambda sewn: sewn.piece.name)
def test_notches_touch_the_boundary_and_end_before_the_sewing_line(drawing, sewn):
    block = block_of(drawing, sewn.piece.name)
    cut = LineString([*(points := ring(block, BOUNDARY)), points[0]])
    sewing = LineString([*(points := ring(block, SEWING)), points[0]])
    lines = on_layer(block, "LINE", NOTCHES)
    assert len(lines) == sum(2 if n.kind == "double" else 1 for n in sewn.notches)
    for line in lines:
        mouth, tip = Point(pair_of(line.dxf.start)), Point(pair_of(line.dxf.end))
        assert cut.distance(mouth) < 0.05
        assert sewing.distance(tip) > 1.0


def test_a_double_notch_straddles_the_place_of_a_single_one(flap_block):
    single, double = flap().notches
    lines = on_layer(flap_block, "LINE", NOTCHES)
    mouths = [line.dxf.start for line in lines]
    assert (mouths[0].x, mouths[0].y) == pytest.approx((single.mouth.x, single.mouth.y))
    middle = (mouths[1] + mouths[2]) / 2
    assert (middle.x, middle.y) == pytest.approx((double.mouth.x, double.mouth.y))
    assert mouths[1].distance(mouths[2]) == pytest.approx(3.0)


def test_marks_and_dart_legs_are_internal_lines(flap_block):
    piece = flap().piece
    lengths = sorted(
        sum(math.dist(a.dxf.location, b.dxf.location) for a, b in itertools.pairwise(v))
        for v in (line.vertices for line in on_layer(flap_block, "POLYLINE", INTERNAL))
    )
    dart = piece.darts[0]
    legs = dart.first.distance_to(dart.point) + dart.last.distance_to(dart.point)
    assert lengths == pytest.approx(sorted([piece.marks[0].chain.length, legs]), abs=0.01)


def test_grainline_and_drill_stand_on_their_layers(flap_block):
    sewn = flap()
    (grain,) = on_layer(flap_block, "LINE", GRAIN)
    assert pair_of(grain.dxf.start) == pytest.approx(pair_of(sewn.grain[0]))
    assert pair_of(grain.dxf.end) == pytest.approx(pair_of(sewn.grain[1]))
    (drill,) = on_layer(flap_block, "POINT", DRILLS)
    assert pair_of(drill.dxf.location) == pytest.approx(pair_of(sewn.drills[0]))


def test_every_vertex_is_marked_as_a_turn_or_a_curve_point(drawing):
    block = block_of(drawing, "yoke")
    marked = {
        (round(p.dxf.location.x, 6), round(p.dxf.location.y, 6))
        for layer in (TURN_POINTS, CURVE_POINTS)
        for p in on_layer(block, "POINT", layer)
    }
    vertices = {
        (round(x, 6), round(y, 6)) for layer in (BOUNDARY, SEWING) for x, y in ring(block, layer)
    }
    assert vertices == marked


def test_the_corners_of_the_sewing_line_are_turn_points(flap_block):
    turns = [pair_of(p.dxf.location) for p in on_layer(flap_block, "POINT", TURN_POINTS)]
    for corner in flap().piece.outline.corners():
        assert min(math.dist(pair_of(corner.point), turn) for turn in turns) < 1e-9


def test_a_pair_is_drawn_once_and_says_so(flap_block):
    assert "CUT 2 MIRRORED" in texts(flap_block)
    assert {e.dxf.layer for e in flap_block.query("TEXT")} == {BOUNDARY, ANNOTATION}
    assert "QUANTITY: 2" in texts(flap_block)


def test_inserts_lay_every_block_once_without_overlap(drawing):
    inserts = list(drawing.modelspace().query("INSERT"))
    assert sorted(i.dxf.name for i in inserts) == sorted(
        s.piece.name.upper() for s in PATTERN.pieces
    )
    grounds = []
    for insert in inserts:
        points = ring(drawing.blocks.get(insert.dxf.name), BOUNDARY)
        x, y = insert.dxf.insert.x, insert.dxf.insert.y
        grounds.append(LineString([(px + x, py + y) for px, py in points]).envelope)
    for k, one in enumerate(grounds):
        assert all(one.distance(other) > 1.0 for other in grounds[k + 1 :])


def test_the_style_and_its_units_are_told_in_the_sheet(drawing):
    told = texts(drawing.modelspace())
    assert {"STYLE NAME: Obstgartner-Hose", "UNITS: METRIC"} <= told


def test_a_piece_tells_whose_it_is_in_record_and_label(tmp_path):
    made = written((replace(flap("cuff"), made_for="Orchard hand"), flap()), tmp_path / "for.dxf")
    told = texts(made.blocks.get("CUFF"))
    assert {"SIZE: Orchard hand", "Orchard hand"} <= told
    assert not any(text.startswith("SIZE") for text in texts(made.blocks.get("FLAP")))


def test_names_in_other_letters_become_plain_valid_and_their_own(tmp_path):
    names = ("Gürtel/Schlaufe", "GURTEL SCHLAUFE", "後身頃", "")
    path = tmp_path / "names.dxf"
    drawing = written([flap(name) for name in names], path, style="Größe \N{EN DASH} Ø")
    assert all(byte < 128 for byte in path.read_bytes())
    blocks = [insert.dxf.name for insert in drawing.modelspace().query("INSERT")]
    assert blocks == ["GURTEL_SCHLAUFE", "GURTEL_SCHLAUFE-2", "_", "PIECE"]
    assert "PIECE NAME: Gurtel/Schlaufe" in texts(drawing.blocks.get(blocks[0]))


def test_a_band_wider_than_the_sheet_is_still_laid(tmp_path):
    drawing = written((band(4200, 80), flap()), tmp_path / "band.dxf")
    assert len(drawing.modelspace().query("INSERT")) == 2
    assert length(ring(drawing.blocks.get("BAND"), SEWING)) == pytest.approx(8560.0, abs=1e-6)


def test_nothing_to_write_and_nowhere_to_write_are_refused(tmp_path):
    with pytest.raises(BadInput, match="no pieces"):
        write_dxf((), tmp_path / "none.dxf", style="")
    with pytest.raises(BadInput, match=r"missing.*x\.dxf"):
        write_dxf(PATTERN.pieces, tmp_path / "missing" / "x.dxf", style="")


def test_a_file_that_fails_its_audit_does_not_replace_the_old_one(tmp_path, monkeypatch):
    path = tmp_path / "kept.dxf"
    path.write_text("the old one")

    def broken(self, stream, fmt="asc"):
        stream.write("0\nSECTION\n2\nNONSENSE\n0\n")

    monkeypatch.setattr(dxf_out.Drawing, "write", broken)
    with pytest.raises(YokewrightError, match=r"kept\.dxf.*audit"):
        write_dxf((flap(),), path, style="x")
    assert path.read_text() == "the old one"


@pytest.mark.parametrize(
    ("shape", "layer", "strokes"),
    # ASTM D6673-10: 80 T, 81 castle, 82 check, 83 U notches; slits stay on 4.
    [("slit", "4", 1), ("T", "80", 2), ("castle", "81", 3), ("check", "82", 2), ("U", "83", 8)],
)
def test_each_shape_of_notch_stands_on_its_layer(tmp_path, shape, layer, strokes):
    pattern = evaluate(replace(demo_design(), notch_shape=shape))
    leg = pattern.piece("front-leg")
    single = sum(notch.kind == "single" for notch in leg.notches)
    path = tmp_path / "leg.dxf"
    write_dxf([leg], path, style="one")
    block = ezdxf.readfile(path).blocks.get("FRONT-LEG") or next(
        b for b in ezdxf.readfile(path).blocks if "front" in b.name.lower()
    )
    found = [one for one in block.query("LINE") if one.dxf.layer == layer]
    assert len(found) == strokes * single
    ground = shapely.Polygon(leg.piece.outline.polyline(0.01)).buffer(-0.05)
    for one in found:
        ends = (one.dxf.start.x, one.dxf.start.y), (one.dxf.end.x, one.dxf.end.y)
        assert not ground.intersects(shapely.LineString(ends)), "past the sewing line"
