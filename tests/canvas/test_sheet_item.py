"""What items of the sheet are drawn with: as wide and as large on any screen."""

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QImage, QPainter, QPainterPath

from studio.canvas.sheet_item import write
from studio.exchange.paint.pens import draw_firm, take_pen

WIDE, HIGH = 300, 200
"""A small screen, in the pixels of one of ordinary fineness."""


def screen(ratio):
    image = QImage(WIDE * ratio, HIGH * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(0.5, 0.5)
    return image, painter


def ink_of(image):
    """How much of each pixel is covered by black, 0 to 1: an array, rows from the top."""
    flat = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)
    return 1.0 - flat[:, :, 1] / 255.0


def level_line():
    path = QPainterPath(QPointF(20.0, 141.3))
    path.lineTo(580.0, 141.3)
    return path


def width_of(image, ratio):
    """How much ink stands on an upright through the middle, in pixels of ordinary fineness."""
    return ink_of(image)[:, WIDE * ratio // 2].sum() / ratio


@pytest.mark.parametrize("ratio", [1, 2, 3])
@pytest.mark.parametrize("width", [1.0, 1.8, 2.6])
def test_a_line_is_as_wide_on_a_finer_screen(qapp, ratio, width):
    image, painter = screen(ratio)
    take_pen(painter, "#000000", width)
    painter.drawPath(level_line())
    painter.end()
    assert width_of(image, ratio) == pytest.approx(width, abs=0.01)


@pytest.mark.parametrize("ratio", [1, 2, 3])
def test_a_firm_line_is_wider_than_a_pixel_and_no_wider_than_two(qapp, ratio):
    image, painter = screen(ratio)
    draw_firm(painter, level_line(), "#000000")
    painter.end()
    assert 1.2 <= width_of(image, ratio) <= 1.51


@pytest.mark.parametrize("ratio", [1, 2])
@pytest.mark.parametrize("turned", [0.0, 90.0])
def test_a_name_stands_centred_on_its_place_at_any_fineness(qapp, ratio, turned):
    image, painter = screen(ratio)
    write(painter, QPointF(300.0, 200.0), "HOOOOH", "#000000", size=12.0, turned=turned)
    painter.end()
    rows, columns = np.nonzero(ink_of(image) > 0.5)
    across = (columns.min() + columns.max() + 1) / 2.0 / ratio
    down = (rows.min() + rows.max() + 1) / 2.0 / ratio
    long, short = np.ptp(columns) / ratio, np.ptp(rows) / ratio
    assert across == pytest.approx(150.0, abs=1.5)
    if turned:
        assert down == pytest.approx(100.0, abs=1.5)
        assert short > 3.0 * long
    else:
        # The line it is written on.
        assert (rows.max() + 1) / ratio == pytest.approx(100.0, abs=1.5)
        assert long > 3.0 * short


def test_a_name_is_as_large_at_any_zoom(qapp):
    inks = []
    for zoom in (0.2, 1.0, 5.0):
        image, painter = screen(1)
        painter.scale(zoom, zoom)
        write(painter, QPointF(300.0, 200.0) / zoom, "yoke", "#000000", size=10.0, bold=True)
        painter.end()
        inks.append(ink_of(image).sum())
    assert inks[0] == pytest.approx(inks[1], rel=1e-6)
    assert inks[2] == pytest.approx(inks[1], rel=1e-6)


def test_what_lies_under_the_ground_of_a_name_shows_faintly(qapp):
    image, painter = screen(1)
    painter.fillRect(0, 0, 600, 400, Qt.GlobalColor.black)
    write(painter, QPointF(300.0, 200.0), "o", "#ffffff", size=10.0, ground="#ffffff")
    painter.end()
    beside_the_letter = ink_of(image)[94, 142]
    assert beside_the_letter == pytest.approx(1.0 - 0.86, abs=0.02)
