"""The picture of the pieces."""

import pytest
from PySide6.QtGui import QColor, QImage

from studio.demo import demo_design
from studio.errors import BadInput
from studio.exchange.picture import write_png
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())


def test_the_picture_shows_each_cloth_in_its_own_tint(tmp_path):
    path = tmp_path / "pieces.png"
    write_png(
        PATTERN.pieces,
        path,
        colours={"main": "#0000ff", "knee": "#ff0000", "pocketing": "#00aa00"},
        width_px=900,
    )
    image = QImage(str(path))
    assert image.width() == 900
    hues = set()
    for x in range(0, image.width(), 3):
        for y in range(0, image.height(), 3):
            colour = QColor(image.pixel(x, y))
            if colour.saturation() > 60:
                hues.add(colour.hue() // 60)
    assert {0, 2, 4} <= hues


def test_a_picture_of_nothing_is_refused(tmp_path):
    with pytest.raises(BadInput, match="no pieces"):
        write_png((), tmp_path / "none.png")
