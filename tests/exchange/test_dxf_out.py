"""The DXF file, read back by ezdxf."""

import math

import ezdxf
import pytest

from studio.demo import demo_design
from studio.errors import BadInput
from studio.exchange.dxf_out import LAYERS, NOTCHES, SEWING, ascii_text, write_dxf
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())


@pytest.fixture(scope="module")
def drawing(tmp_path_factory):
    path = tmp_path_factory.mktemp("dxf") / "demo.dxf"
    write_dxf(PATTERN.pieces, path, style="Obstgärtner-Hose")
    return ezdxf.readfile(path)


def block_of(drawing, name):
    return drawing.blocks.get(name.upper())


def ring(block, layer):
    line = next(e for e in block.query("POLYLINE") if e.dxf.layer == layer)
    return [(v.dxf.location.x, v.dxf.location.y) for v in line.vertices]


def length(points):
    return sum(math.dist(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True))


def area(points):
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return 0.5 * sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs)


def test_the_file_is_sound(drawing):
    assert drawing.audit().errors == []


def test_the_unit_is_the_millimetre(drawing):
    assert drawing.header["$INSUNITS"] == 4
    assert drawing.units == ezdxf.units.MM


@pytest.mark.parametrize("sewn", PATTERN.pieces, ids=lambda sewn: sewn.piece.name)
def test_each_piece_is_a_block_with_its_sewing_line_at_full_length(drawing, sewn):
    outline = sewn.piece.outline
    points = ring(block_of(drawing, sewn.piece.name), SEWING)
    assert length(points) == pytest.approx(outline.perimeter, abs=0.05)
    assert area(points) == pytest.approx(outline.area_mm2, abs=outline.perimeter * 0.005)


@pytest.mark.parametrize("sewn", PATTERN.pieces, ids=lambda sewn: sewn.piece.name)
def test_the_boundary_is_the_cut_line(drawing, sewn):
    points = ring(block_of(drawing, sewn.piece.name), "1")
    assert length(points) == pytest.approx(sum(e.chain.length for e in sewn.cut_line), abs=0.05)


@pytest.mark.parametrize("sewn", PATTERN.pieces, ids=lambda sewn: sewn.piece.name)
def test_notches_start_on_the_boundary_and_end_before_the_sewing_line(drawing, sewn):
    lines = [e for e in block_of(drawing, sewn.piece.name).query("LINE") if e.dxf.layer == NOTCHES]
    assert len(lines) >= len(sewn.notches)
    for notch in sewn.notches:
        gap = min(edge.chain.nearest(notch.mouth)[1] for edge in sewn.cut_line)
        assert gap < 0.02
        depth = notch.mouth.distance_to(notch.tip)
        assert depth < notch.mouth.distance_to(notch.at)


def test_one_insert_a_piece(drawing):
    inserts = drawing.modelspace().query("INSERT")
    assert sorted(i.dxf.name for i in inserts) == sorted(
        s.piece.name.upper() for s in PATTERN.pieces
    )


def test_every_entity_stands_on_a_layer_of_the_standard(drawing):
    for sewn in PATTERN.pieces:
        for entity in block_of(drawing, sewn.piece.name):
            assert entity.dxf.layer in LAYERS


def test_every_vertex_of_the_boundary_is_a_turn_or_a_curve_point(drawing):
    block = block_of(drawing, "yoke")
    marked = {
        (round(p.dxf.location.x, 6), round(p.dxf.location.y, 6))
        for p in block.query("POINT")
        if p.dxf.layer in ("2", "3")
    }
    vertices = {(round(x, 6), round(y, 6)) for x, y in ring(block, "1")}
    assert vertices == marked


def test_text_is_seven_bit(drawing, tmp_path):
    assert ascii_text("Größe 38 – Jeanne d'Arc") == "Grosse 38 ? Jeanne d'Arc"
    path = tmp_path / "seven.dxf"
    write_dxf(PATTERN.pieces[:1], path, style="Größe")
    assert all(byte < 128 for byte in path.read_bytes())


def test_nothing_to_write_and_nowhere_to_write_are_refused(tmp_path):
    with pytest.raises(BadInput, match="no pieces"):
        write_dxf((), tmp_path / "none.dxf", style="")
    with pytest.raises(BadInput, match=r"missing.*x\.dxf"):
        write_dxf(PATTERN.pieces, tmp_path / "missing" / "x.dxf", style="")
