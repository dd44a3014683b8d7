"""On the wearer: what is seen, and on which leg."""

import pytest
import shapely
from msgspec.structs import replace
from PySide6.QtGui import QColor

from studio.cut.parts import HandPocket, ShapedWaistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from studio.window.add_acts import _laid_on
from studio.window.wearer_pane import _THREAD, _view_of, once_side
from tests.shapes import COIN_POCKET


def test_a_band_that_opens_is_seen_on_both_legs():
    # Its ends are cut once for each leg, and the one on the other leg is drawn turned over.
    plain = plain_design(ORCHARD_BODY)
    pattern = evaluate(with_parts(plain, ShapedWaistband(width=60.0)))
    for name in ("front", "back"):
        view = _view_of(pattern, name)
        tops = [shape for shape in view.shapes if max(y for _, y in shape.points) > view.top - 1.0]
        assert [(shape.once, shape.layer) for shape in tops] == [(False, -1)]


def test_a_pocket_for_coins_is_laid_on_a_bearer_and_is_seen_in_the_mouth_before_it():
    design = with_parts(plain_design(ORCHARD_BODY), HandPocket(at_side=90.0, bow=40.0))
    assert _laid_on(design) == ["hand-pocket-bearer", "hand-pocket-bag"]
    pattern = evaluate(with_parts(design, COIN_POCKET))
    assert _laid_on(pattern.design) == ["hand-pocket-bearer", "hand-pocket-bag", "coin"]
    view = _view_of(pattern, "front")
    layers = [shape.layer for shape in view.shapes]
    assert layers == [0, 0, 0.5, 1]
    assert not [one for one in pattern.findings if one.gravity == "grave"]


def test_what_is_cut_once_is_seen_on_the_leg_that_the_work_sheet_names(window):
    # Seen from behind, the wearer's left leg is at the left; seen from the front, at the right.
    pattern = window.document.pattern
    (pocket,) = [
        stage for stage in work_sheet_of(pattern).stages if stage.title.startswith("Secateurs-")
    ]
    assert "It belongs to the left leg, as worn." in pocket.sentences
    sides = {panel.name: once_side(panel) for panel in pattern.panels}
    assert sides == {"front": 1.0, "back": -1.0}
    # Its outline is stitched in the left half of the back view, and nothing like it in the right.
    image = window.wearer.grab().toImage()
    thread = QColor(_THREAD)

    def stitched(half):
        """Points of thread between crotch and knee, in a half of the back view."""
        rows = range(int(image.height() * 0.35), int(image.height() * 0.5))
        middle, width = image.width() * 3 // 4, image.width() // 6
        columns = range(middle - width, middle) if half == "left" else range(middle, middle + width)
        return sum(
            abs(image.pixelColor(x, y).red() - thread.red()) < 25
            and abs(image.pixelColor(x, y).blue() - thread.blue()) < 25
            for y in rows
            for x in columns
        )

    assert stitched("left") > 10 * max(1, stitched("right"))


def test_a_turn_up_is_seen_on_the_wearer_as_high_as_it_stands():
    design = demo_design()
    turned = tuple(
        replace(one, how="turn-up", turn_up=52.0) if one.edge.edge == "front.hem" else one
        for one in design.finishes
    )
    (leg,) = (
        shape
        for shape in _view_of(evaluate(replace(design, finishes=turned)), "front").shapes
        if shape.turn_ups
    )
    heights = [y for _, y in leg.turn_ups[0]]
    assert max(heights) - min(heights) == pytest.approx(52.0, abs=1e-6)
    assert min(heights) == pytest.approx(min(y for _, y in leg.points), abs=1e-6)
    # It ends on both seams of the leg.
    seam = shapely.Polygon(leg.points).exterior
    top = [point for point in leg.turn_ups[0] if point[1] > max(heights) - 1e-6]
    assert max(seam.distance(shapely.Point(end)) for end in (min(top), max(top))) < 1.0
    plain = _view_of(evaluate(design), "front")
    assert not any(shape.turn_ups for shape in plain.shapes)
