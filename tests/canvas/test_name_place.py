"""Names of pieces on the sheet: on the piece, or below it, across no edge of it or a neighbour."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPointF
from PySide6.QtGui import QFont
from shapely.geometry import Polygon, box

from studio.canvas.name_place import DROP, NAME_SIZE, SMALL_NAME_SIZE, name_place
from studio.canvas.paths import path_of, to_scene
from studio.canvas.placing import GAP, gap_below, place_pieces, rooms_for_names
from studio.canvas.sheet_item import forget_letters, lettered, lettering
from studio.canvas.type_size import larger
from studio.curves import Chain, Point
from studio.cut.facing import facings
from studio.cut.parts import Fly, HandPocket, ShapedWaistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.pattern import evaluate, with_parts
from studio.sew.cut_line import cut_outline_points

pytestmark = pytest.mark.usefixtures("qapp")

_PLATE = 5.0
"""Pixels of the plate beside the letters on it."""

DESIGNS = {
    "the demonstration": demo_design,
    "a shaped band": lambda: with_parts(
        plain_design(ORCHARD_BODY), HandPocket(), Fly(), ShapedWaistband()
    ),
}


def placed(sewn, scale, name_room):
    cut = path_of((edge.chain for edge in sewn.cut_line), closed=True).boundingRect()
    sewing = path_of((edge.chain for edge in sewn.piece.outline), closed=True)
    low, high = map(to_scene, sewn.grain)
    return name_place(sewn.piece.name, sewing, cut, (low, high), scale, name_room)


def written(place, scale):
    """What the letters cover, mm on the scene, y down, by shapely."""
    size, bold = (SMALL_NAME_SIZE, False) if place.is_small else (NAME_SIZE, True)
    _, wide, high = lettered(place.text, size, bold=bold)
    x, y = place.at.x(), place.at.y()
    if place.turned:
        half = high / 2 + _PLATE
        return box(x - half / scale, y - wide / 2 / scale, x + half / scale, y + wide / 2 / scale)
    ink = lettering(size, bold=bold)[1].tightBoundingRect(place.text)
    foot = y + (high / 2 if place.on_piece else DROP * larger()) / scale
    top, bottom = foot + ink.top() / scale, foot + ink.bottom() / scale
    return box(x - wide / 2 / scale, top, x + wide / 2 / scale, bottom)


@pytest.fixture(params=[10.0, 14.0, 20.0])
def points(take_letters, request):
    """The size of the desktop's letters."""
    take_letters(request.param)
    return request.param


@pytest.mark.usefixtures("points")
@pytest.mark.parametrize("scale", [0.2, 0.24, 0.3, 0.5, 0.9, 2.0, 6.0])
@pytest.mark.parametrize("design", DESIGNS)
def test_no_name_crosses_an_edge_of_its_piece_or_of_another(design, scale):
    design = DESIGNS[design]()
    pattern = evaluate(design)
    faced = facings(design.pieces)
    gap = gap_below(larger())
    shifts = place_pieces(pattern.pieces, 0.0, 1200.0, faced, larger())
    rooms = rooms_for_names(pattern.pieces, shifts, gap)
    edges = {}
    for sewn in pattern.pieces:
        shift = shifts[sewn.piece.name]
        points = cut_outline_points(sewn.cut_line)
        edges[sewn.piece.name] = Polygon([(x + shift.x, -y - shift.y) for x, y in points]).exterior
    names = 0
    for sewn in pattern.pieces:
        name = sewn.piece.name
        place = placed(sewn, scale, (rooms[name], gap))
        if place is None:
            continue
        names += 1
        shift = shifts[name]
        at = place.at + QPointF(shift.x, -shift.y)
        shape = written(replace(place, at=at), scale)
        assert not any(edge.intersects(shape) for edge in edges.values()), name
    assert names >= (3 if scale > 0.2 else 1)


def sheet_piece(width, height):
    points = [Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height)]
    path = path_of((Chain.straight(*points, points[0]),), closed=True)
    grain = to_scene(Point(width / 2, height * 0.1)), to_scene(Point(width / 2, height * 0.9))
    return path, path.boundingRect(), grain


def test_a_name_stands_on_the_piece_level_or_turned_up_or_below_it_cut_short():
    level = name_place("leg", *sheet_piece(200.0, 100.0), 1.0, (130.0, GAP))
    assert (level.text, level.on_piece, level.turned) == ("leg", True, False)
    up = name_place("hand-pocket-bearer", *sheet_piece(40.0, 300.0), 1.0, (130.0, GAP))
    assert (up.text, up.on_piece, up.turned) == ("hand-pocket-bearer", True, True)
    below = name_place("belt-loop", *sheet_piece(60.0, 12.0), 1.0, (130.0, GAP))
    assert (below.text, below.on_piece) == ("belt-loop", False)
    short = name_place("hand-pocket-bearer", *sheet_piece(60.0, 12.0), 0.6, (130.0, GAP))
    assert not short.on_piece
    # Pieces of one pocket begin alike, so both ends of the name are kept.
    assert short.text.startswith("ha")
    assert "…" in short.text
    assert short.text.endswith("er")
    assert len(short.text) < len("hand-pocket-bearer")


def test_a_name_that_has_no_room_in_its_letters_is_written_small_before_it_is_cut_short():
    name, piece = "secateurs-pocket", sheet_piece(40.0, 40.0)
    bold = lettered(name, NAME_SIZE, bold=True)[1]
    small = lettered(name, SMALL_NAME_SIZE, bold=False)[1]
    assert small < 0.85 * bold
    for room, told, is_small in (
        (bold + 8.0, name, False),
        (bold - 1.0, name, True),
        (small + 8.0, name, True),
    ):
        place = name_place(name, *piece, 1.0, (room, GAP))
        assert (place.text, place.is_small, place.on_piece) == (told, is_small, False)
    short = name_place(name, *piece, 1.0, (small - 10.0, GAP))
    assert short.is_small
    assert "…" in short.text


def test_larger_letters_need_a_larger_gap_below_a_piece(qapp):
    piece = sheet_piece(40.0, 20.0)
    before = QFont(qapp.font())
    font = QFont(before)
    try:
        for points in (10.0, 14.0, 20.0):
            font.setPointSizeF(points)
            qapp.setFont(font)
            forget_letters()
            for gap, seen in ((0.9, False), (1.1, True)):
                high = gap * 15.5 * points / 10.0
                place = name_place("fly", *piece, 1.0, (400.0, high))
                assert (place is not None) == seen, (points, gap)
    finally:
        qapp.setFont(before)
        forget_letters()


def test_a_name_without_room_is_not_written():
    narrow = sheet_piece(12.0, 20.0)
    assert name_place("hand-pocket-bearer", *narrow, 0.3, (80.0, GAP)) is None
    # Too far away the next piece below is too near.
    assert name_place("leg", *narrow, 0.2, (80.0, GAP)) is None
    # Nor does it run into what lies close beside.
    assert name_place("belt-loop", *sheet_piece(60.0, 12.0), 1.0, (40.0, GAP)) is None


def test_a_name_stays_where_it_was_while_its_piece_changes_as_long_as_it_may():
    up = name_place("hand-pocket-bearer", *sheet_piece(40.0, 300.0), 1.0, (130.0, GAP))
    # Anew it would stand level on the wider piece; on a lower one it has to.
    wider = sheet_piece(200.0, 300.0)
    assert not name_place("hand-pocket-bearer", *wider, 1.0, (130.0, GAP)).turned
    assert name_place("hand-pocket-bearer", *wider, 1.0, (130.0, GAP), up).turned
    lower = name_place("hand-pocket-bearer", *sheet_piece(200.0, 60.0), 1.0, (130.0, GAP), up)
    assert (lower.on_piece, lower.turned) == (True, False)
