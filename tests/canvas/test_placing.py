"""Panels and pieces lie side by side, nothing on anything."""

import itertools

import msgspec
import pytest

from studio.canvas import placing
from studio.canvas.placing import (
    GAP,
    gap_below,
    is_crowded,
    place_panels,
    place_pieces,
    rooms_for_names,
)
from studio.curves import Box
from studio.demo import demo_design
from studio.exchange.arrange import cut_box
from studio.pattern import evaluate

DEMO = demo_design()
PATTERN = evaluate(DEMO)
BROADER = evaluate(
    msgspec.structs.replace(
        DEMO, body=msgspec.structs.replace(DEMO.body, waist_girth=1150.0, hip_girth=1300.0)
    )
)


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


def shown_at(pieces, places, height):
    """Pixels a millimetre on a sheet of 1000 pixels' height and half as much again in width."""
    placed = [moved(cut_box(sewn), places[sewn.piece.name]) for sewn in pieces]
    assert all(box.top <= height + 1e-9 for box in placed)
    wide = max(box.right for box in placed)
    return min(1500.0 / wide, 1000.0 / (height - min(box.bottom for box in placed)))


def test_no_other_depth_of_the_columns_shows_more(monkeypatch):
    height = max(panel.outline.box.height for panel in PATTERN.panels)
    for pieces in (PATTERN.pieces, PATTERN.pieces[::3]):
        best = shown_at(pieces, place_pieces(pieces, 1000.0, height), height)
        for depth in (1.0, 1.2, 1.5, 2.0, 3.0):
            with monkeypatch.context() as patch:
                patch.setattr(placing, "_DEPTHS", (depth,))
                other = shown_at(pieces, place_pieces(pieces, 1000.0, height), height)
            assert best >= 0.97 * other
            if depth == 3.0 and pieces is PATTERN.pieces:
                assert best > 1.2 * other


def test_pieces_alike_stand_in_the_order_of_the_design():
    legs = [sewn for sewn in PATTERN.pieces if sewn.piece.name in ("front-leg", "back-leg")]
    for order in (legs, legs[::-1]):
        places = place_pieces(order, 1000.0, 1100.0)
        first, second = (moved(cut_box(one), places[one.piece.name]) for one in order)
        assert first.right < second.left


def test_a_wide_piece_lies_below_all_that_stands_over_it():
    by_name = {sewn.piece.name: sewn for sewn in PATTERN.pieces}
    legs = [by_name[name] for name in ("front-leg", "back-leg", "waistband")]
    for left in (0.0, 1500.0):
        places = place_pieces(legs, left, 1100.0)
        band = moved(cut_box(by_name["waistband"]), places["waistband"])
        over = [moved(cut_box(leg), places[leg.piece.name]) for leg in legs[:2]]
        foot = min([0.0, *(box.bottom for box in over if box.left < band.right + GAP)])
        assert band.left == 0.0
        assert foot - 3.0 * GAP < band.top <= foot - 2.0 * GAP


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


def placed(pattern):
    panels = place_panels(pattern.panels)
    left = sum(panel.outline.box.width + 2.0 * GAP for panel in pattern.panels) + GAP
    height = max(panel.outline.box.height for panel in pattern.panels)
    return panels, place_pieces(pattern.pieces, left, height)


def test_what_is_placed_is_not_crowded_and_what_grew_where_it_lay_is():
    for pattern in (PATTERN, BROADER):
        panels, pieces = placed(pattern)
        assert not is_crowded(pattern.panels, panels, pattern.pieces, pieces)
    panels, pieces = placed(PATTERN)
    assert is_crowded(BROADER.panels, panels, BROADER.pieces, pieces)


@pytest.mark.parametrize("pattern", [PATTERN, BROADER])
def test_a_piece_placed_below_takes_no_room_from_the_name_over_it(pattern):
    _, places = placed(pattern)
    rooms = rooms_for_names(pattern.pieces, places)
    for sewn in pattern.pieces:
        width = cut_box(sewn).width
        # Beside every piece is a gap, of which its name may have half.
        assert rooms[sewn.piece.name] >= width + GAP - 1.0


def test_where_letters_are_larger_pieces_lie_further_apart_below_one_another_and_deeper():
    box = {sewn.piece.name: cut_box(sewn) for sewn in PATTERN.pieces}
    depths, gaps = [], []
    for larger in (1.0, 1.4, 2.0):
        places = place_pieces(PATTERN.pieces, 1000.0, 1100.0, larger=larger)
        laid = {name: moved(one, places[name]) for name, one in box.items()}
        below = [
            upper.bottom - lower.top
            for upper, lower in itertools.permutations(laid.values(), 2)
            if abs(upper.centre.x - lower.centre.x) < 1.0 and upper.bottom > lower.top
        ]
        gaps.append(min(below))
        depths.append(min(one.bottom for one in laid.values()))
    assert gaps == pytest.approx([gap_below(one) for one in (1.0, 1.4, 2.0)])
    assert gap_below(1.0) == GAP
    assert depths == sorted(depths, reverse=True)
    assert depths[2] < depths[0]
