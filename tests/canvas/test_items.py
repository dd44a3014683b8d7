"""What is drawn of a piece on the canvas."""

import pytest
from msgspec.structs import replace
from PySide6.QtGui import QImage, QPainter

from studio.canvas.items import PanelItem, PieceItem
from studio.canvas.theme import LIGHT
from studio.demo import ORCHARD_BODY
from studio.design.plain import plain_design
from studio.pattern import evaluate
from tests.shapes import front_panel


def drawn(sewn):
    image = QImage(400, 800, QImage.Format.Format_RGB32)
    image.fill("#ffffff")
    item = PieceItem(LIGHT)
    item.show_piece(sewn, "#808080", picked=False)
    painter = QPainter(image)
    painter.translate(200.0, 750.0)
    painter.scale(0.6, 0.6)
    item.draw(painter)
    painter.end()
    return image


@pytest.mark.usefixtures("qapp")
def test_a_dart_left_in_a_piece_is_drawn_on_it():
    sewn = next(one for one in evaluate(plain_design(ORCHARD_BODY)).pieces if one.piece.darts)
    without = replace(sewn, piece=replace(sewn.piece, darts=()))
    assert drawn(sewn) == drawn(sewn)
    assert drawn(sewn) != drawn(without)


@pytest.mark.usefixtures("qapp")
def test_the_name_of_a_level_line_is_not_written_over_the_panel_at_the_left():
    item = PanelItem(LIGHT)
    item.show_panel(front_panel())
    every = {name for _, name in item.levels_named(0.3)}
    assert {"hip", "crotch", "knee"} <= every
    item.room = 140.0
    # 42 pixels; at 0.15 pixels a mm there are 21, less than four letters take.
    assert "knee" in {name for _, name in item.levels_named(0.3)}
    assert not item.levels_named(0.15)
