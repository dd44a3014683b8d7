"""Labels of narrow pieces: smaller, turned, the name alone, or beside them; never across."""

import math

import ezdxf
import pytest
from shapely.affinity import rotate
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as Spot

from studio.curves import Affine, Chain, Edge, Outline, Point
from studio.cut.parts import BeltLoops, Fly, HandPocket, ShapedWaistband
from studio.cut.piece import Piece
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.exchange.dxf_out import _size_of, write_dxf
from studio.exchange.label_place import place_beside, place_on
from studio.exchange.marks import lines_on
from studio.exchange.paint.offscreen import ensure_gui
from studio.exchange.paint.pieces import PieceDrawing, PieceStyle
from studio.pattern import evaluate, with_parts
from studio.sew.sewn import CutEdge, SewnPiece

LINES = ("front-strap", "cut 2 mirrored", "cloth: main")


def plain_size(lines, size):
    return max(map(len, lines)) * 0.6 * size, len(lines) * 1.4 * size


def rectangle(width, height, turned=0.0):
    move = Affine.turn(turned, Point(0.0, 0.0))
    corners = [Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height)]
    return [(at.x, at.y) for at in map(move, corners)]


def covered(place, size_of):
    wide, high = size_of(place.lines, place.size)
    at = place.middle
    upright = box(at.x - wide / 2, at.y - high / 2, at.x + wide / 2, at.y + high / 2)
    return rotate(upright, place.turned, origin=(at.x, at.y))


@pytest.mark.parametrize(
    ("room", "turned", "count", "share"),
    [
        (rectangle(200.0, 100.0), 0.0, 3, 1.0),
        (rectangle(30.0, 200.0), 90.0, 3, 1.0),
        (rectangle(15.0, 200.0), 90.0, 2, 0.7),
        (rectangle(14.0, 200.0), 90.0, 2, 0.6),
        (rectangle(6.0, 200.0), 90.0, 1, 0.4),
        (rectangle(200.0, 30.0, 40.0), 40.0, 3, 1.0),
        (rectangle(200.0, 7.0, -60.0), -60.0, 1, 0.5),
    ],
)
def test_a_label_is_made_smaller_turned_along_the_piece_or_the_name_alone(
    room, turned, count, share
):
    ground = Polygon(room)
    near = Point(ground.centroid.x, ground.centroid.y)
    place = place_on(LINES, 6.0, near, room, [], plain_size)
    assert ground.contains(covered(place, plain_size))
    assert place.lines == LINES[:count]
    assert place.turned == pytest.approx(turned, abs=1e-6)
    assert place.size >= share * 6.0 - 1e-9
    assert place.leader is None


def test_a_line_in_the_way_is_not_crossed_by_a_turned_label():
    room = rectangle(200.0, 40.0, 30.0)
    ground = Polygon(room)
    near = Point(ground.centroid.x, ground.centroid.y)
    middle = [(0.0, 20.0), (200.0, 20.0)]
    line = list(rotate(LineString(middle), 30.0, origin=(0.0, 0.0)).coords)
    place = place_on(LINES, 6.0, near, room, [line], plain_size)
    shape = covered(place, plain_size)
    assert ground.contains(shape)
    assert not shape.intersects(LineString(line))


def test_where_nothing_fits_the_name_stands_beside_with_a_leader_to_the_piece():
    room = rectangle(2.0, 60.0)
    near = Point(1.0, 30.0)
    assert place_on(LINES, 6.0, near, room, [], plain_size) is None
    place = place_beside(LINES[0], 6.0, near, room, 12.0, plain_size)
    shape = covered(place, plain_size)
    assert not shape.intersects(Polygon(room))
    # It keeps to the room there is round the piece: no neighbour is nearer.
    assert box(-6.0, -12.0, 8.0, 60.0).buffer(1e-6).contains(shape)
    top, end = place.leader
    assert end == near
    assert shape.distance(Spot(top.x, top.y)) == pytest.approx(0.0, abs=1e-9)
    assert LineString([(top.x, top.y), (end.x, end.y)]).intersects(Polygon(room).exterior)


def strip(width, height):
    points = [Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height)]
    edges = [
        Edge.whole(f"sliver.{k}", Chain.straight(points[k], points[(k + 1) % 4])) for k in range(4)
    ]
    piece = Piece("sliver", Outline.of(edges), warp=90.0)
    middle = Point(width / 2.0, height / 2.0)
    line = tuple(CutEdge(edge.name, edge.chain) for edge in edges)
    grain = (Point(width / 2.0, 5.0), Point(width / 2.0, 25.0))
    return SewnPiece(piece, (0.0,) * 4, line, (), grain, middle)


def label_shape(drawing):
    return Polygon(drawing._label.outline)


def test_on_paper_no_label_of_any_piece_crosses_an_edge():
    ensure_gui()
    banded = with_parts(
        plain_design(ORCHARD_BODY),
        HandPocket(),
        Fly(),
        BeltLoops(wide=4.0),
        ShapedWaistband(width=14.0),
    )
    pieces = [*evaluate(demo_design()).pieces, *evaluate(banded).pieces]
    for size in (6.0, 12.0):
        for sewn in pieces:
            drawing = PieceDrawing(sewn, PieceStyle(label_size=size))
            outline = Polygon(sewn.piece.outline.polyline())
            shape = label_shape(drawing)
            if drawing._label.leader is None:
                assert outline.contains(shape), sewn.piece.name
                assert not any(shape.intersects(LineString(line)) for line in lines_on(sewn)), (
                    sewn.piece.name
                )
            else:
                assert not outline.intersects(shape), sewn.piece.name


def test_on_paper_a_sliver_has_its_name_beside_it():
    ensure_gui()
    drawing = PieceDrawing(strip(2.0, 60.0), PieceStyle())
    assert drawing._label.lines == ("sliver",)
    assert drawing._label.leader is not None
    assert not label_shape(drawing).intersects(box(0.0, 0.0, 2.0, 60.0))
    wide = PieceDrawing(strip(40.0, 60.0), PieceStyle())
    assert wide._label.leader is None


def test_in_a_drawing_file_no_label_crosses_an_edge(tmp_path):
    pattern = evaluate(demo_design())
    loops = evaluate(with_parts(plain_design(ORCHARD_BODY), Fly(), BeltLoops(wide=4.0)))
    for known in (pattern, loops):
        write_dxf(known.pieces, tmp_path / "pieces.dxf", style="Orchard")
        drawing = ezdxf.readfile(tmp_path / "pieces.dxf")
        by_name = {sewn.piece.name.upper(): sewn for sewn in known.pieces}
        for name, sewn in by_name.items():
            outline = Polygon(sewn.piece.outline.polyline())
            words = drawing.blocks.get(name).query("TEXT[layer=='15']")
            assert words, name
            assert words[0].dxf.text == sewn.piece.name
            for text in words:
                at = text.dxf.insert
                wide, high = _size_of((text.dxf.text,), text.dxf.height)
                upright = box(at.x, at.y, at.x + wide, at.y + high)
                shape = rotate(upright, text.dxf.rotation, origin=(at.x, at.y))
                assert outline.contains(shape), (name, text.dxf.text)


def test_in_a_drawing_file_a_sliver_has_its_name_beside_it_and_a_leader(tmp_path):
    write_dxf([strip(2.0, 60.0)], tmp_path / "sliver.dxf", style="Orchard")
    block = ezdxf.readfile(tmp_path / "sliver.dxf").blocks.get("SLIVER")
    (text,) = block.query("TEXT[layer=='15']")
    (leader,) = block.query("LINE[layer=='15']")
    assert text.dxf.text == "sliver"
    assert text.dxf.insert.y < 0.0
    assert math.isclose(leader.dxf.end.y, 30.0)
