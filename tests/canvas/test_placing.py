"""Panels and pieces lie side by side, nothing on anything."""

import pytest

from studio.canvas.placing import GAP, place_panels, place_pieces, rooms_for_names
from studio.curves import Box
from studio.demo import demo_design
from studio.exchange.arrange import cut_box
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())


def moved(box, shift):
    return Box(box.left + shift.x, box.bottom + shift.y, box.right + shift.x, box.top + shift.y)


def test_nothing_overlaps():
    panels = place_panels(PATTERN.panels)
    boxes = [moved(panel.outline.box, panels[panel.name]) for panel in PATTERN.panels]
    left = max(box.right for box in boxes) + 100.0
    pieces = place_pieces(PATTERN.pieces, left, 1100.0)
    boxes += [moved(cut_box(sewn), pieces[sewn.piece.name]) for sewn in PATTERN.pieces]
    for k, one in enumerate(boxes):
        assert not any(one.meets(two, 20.0) for two in boxes[k + 1 :])


def test_panels_stand_on_one_level():
    shifts = place_panels(PATTERN.panels)
    feet = {round(panel.outline.box.bottom + shifts[panel.name].y, 6) for panel in PATTERN.panels}
    assert feet == {0.0}


def test_a_facing_lies_under_the_piece_it_faces():
    pieces = {sewn.piece.name: sewn for sewn in PATTERN.pieces}
    faced = {"belt-loop": "knee-panel", "bearer": "gone"}
    places = place_pieces(PATTERN.pieces, 0.0, 1100.0, faced)
    boxes = {name: moved(cut_box(sewn), places[name]) for name, sewn in pieces.items()}
    loop, panel = boxes["belt-loop"], boxes["knee-panel"]
    assert loop.centre.x == pytest.approx(panel.centre.x)
    assert loop.top == panel.bottom - GAP
    # Of what is not there nothing comes first, and still nothing overlaps.
    assert all(
        not one.meets(two, 20.0)
        for name, one in boxes.items()
        for other, two in boxes.items()
        if name < other
    )


def test_a_name_written_as_wide_as_its_room_runs_into_no_piece_and_no_other_name():
    places = place_pieces(PATTERN.pieces, 0.0, 1100.0)
    rooms = rooms_for_names(PATTERN.pieces, places)
    boxes = {s.piece.name: moved(cut_box(s), places[s.piece.name]) for s in PATTERN.pieces}
    names = {}
    for name, box in boxes.items():
        half = min(rooms[name], 5000.0) / 2.0
        names[name] = Box(box.centre.x - half, box.bottom - GAP, box.centre.x + half, box.bottom)
        assert rooms[name] >= box.width
    for name, one in names.items():
        others = [box for other, box in boxes.items() if other != name]
        others += [box for other, box in names.items() if other != name]
        assert not any(one.meets(other, -1e-6) for other in others), name
