"""What lies on the table, as it is painted: flaws by their own signs, pieces where they lie."""

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage, QPainter, QTransform

from studio.canvas.lay_items import LaidItem, StockItem
from studio.canvas.lay_paths import photograph_transform, transform_of
from studio.canvas.paths import to_scene
from studio.canvas.theme import LIGHT
from studio.cloth.bed import bed_of
from studio.cloth.stance import lying, stance_of
from studio.curves import Affine, Point, Vector
from studio.demo import demo_design
from studio.design.cloth import Flaw, Placement, SalvagedPanel
from studio.pattern import evaluate

SQUARE = ((0.0, 0.0), (300.0, 0.0), (300.0, 300.0), (0.0, 300.0))
PIECE = evaluate(demo_design()).piece("bearer")


def flaw(kind, left, **facts):
    low, high = 100.0, 200.0
    corners = ((left, low), (left + 80.0, low), (left + 80.0, high), (left, high))
    return Flaw(kind, corners, **facts)


def painted(item, wide=300, high=300):
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    image.fill(0xFFFF00FF)
    painter = QPainter(image)
    painter.translate(0.0, high)
    item.draw(painter)
    painter.end()
    return image


def stock(*flaws):
    panel = SalvagedPanel("old leg", "main", SQUARE, ((9.0, 9.0), (9.0, 200.0)), flaws)
    item = StockItem(LIGHT)
    item.show_stock(panel, bed_of(panel), Affine(), "#5f7d8c")
    return painted(item)


def colours(image, left, right, top, bottom):
    return {image.pixel(x, y) for x in range(left, right) for y in range(top, bottom)}


def test_a_move_of_the_plane_is_one_of_the_scene():
    move = (
        Affine.mirror_x(4.0)
        .then(Affine.turn(31.0, Point(3.0, 8.0)))
        .then(Affine.shift(Vector(7.0, -2.0)))
    )
    for place in (Point(0.0, 0.0), Point(12.0, -5.0)):
        there = transform_of(move).map(to_scene(place))
        assert (there.x(), there.y()) == pytest.approx(
            (to_scene(move(place)).x(), to_scene(move(place)).y())
        )


def test_each_kind_of_flaw_has_a_sign_of_its_own(qapp):
    bare = colours(stock(), 120, 180, 130, 170)
    assert len(bare) == 1
    seen = {
        kind: colours(stock(flaw(kind, 110.0)), 120, 180, 106, 134)
        for kind in ("hole", "stain", "worn")
    }
    band = Flaw("seam", ((0.0, 150.0), (300.0, 150.0)), 60.0)
    seen["seam"] = colours(stock(band), 30, 110, 130, 170)
    # Two colours or more: a hatch, dots, stitches; a hole is bare table.
    assert seen["hole"] != bare
    assert len(seen["hole"]) == 1
    assert all(len(seen[kind]) > 1 for kind in ("stain", "worn", "seam"))


def test_a_piece_is_painted_where_it_lies(qapp):
    item = LaidItem(LIGHT)
    stance = stance_of(PIECE)
    item.show_piece(PIECE, stance, "#5f7d8c", "bearer, left")
    placement = Placement("bearer", 1, "roll", (300.0, -80.0), turn=25.0)
    item.lie(lying(stance, placement, 90.0))
    box = item.mapRectToScene(item.shape().boundingRect())
    middle = item.mapToScene(QPointF(0.0, 0.0))
    assert (middle.x(), middle.y()) == pytest.approx((300.0, 80.0))
    assert box.contains(QPointF(300.0, 80.0))


def test_trouble_is_seen_without_colour(qapp):
    item = LaidItem(LIGHT)
    item.show_piece(PIECE, stance_of(PIECE), "#5f7d8c", "bearer, left")
    item.setTransform(QTransform())

    def grey():
        image = QImage(200, 360, QImage.Format.Format_RGB32)
        image.fill(0xFFFFFFFF)
        painter = QPainter(image)
        painter.translate(100.0, 180.0)
        item.draw(painter)
        painter.end()
        return image.convertToFormat(QImage.Format.Format_Grayscale8)

    good = grey()
    item.show_state(trouble="Lies over yoke.")
    bad = grey()
    changed = sum(
        abs(good.pixelColor(x, y).red() - bad.pixelColor(x, y).red()) > 24
        for x in range(0, 200, 2)
        for y in range(0, 360, 2)
    )
    assert changed > 300
    assert "Lies over yoke." in item.toolTip()


def test_two_marks_bring_a_photograph_to_scale():
    """Closed form: the marks go where they are said to lie, and lengths by one factor."""
    move = photograph_transform(((100.0, 50.0), (500.0, 50.0)), ((0.0, 0.0), (200.0, 0.0)))
    start, end = (move.map(QPointF(x, 50.0)) for x in (100.0, 500.0))
    assert (start.x(), start.y()) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert (end.x(), end.y()) == pytest.approx((200.0, 0.0), abs=1e-9)
    aside = move.map(QPointF(100.0, 90.0))
    # Pixels run down, cloth up: forty pixels lower are twenty millimetres lower.
    assert (aside.x(), aside.y()) == pytest.approx((0.0, 20.0), abs=1e-9)


def test_four_corners_take_the_perspective_out():
    pixels = ((100.0, 400.0), (520.0, 420.0), (430.0, 90.0), (170.0, 80.0))
    marks = ((0.0, 0.0), (210.0, 0.0), (210.0, 297.0), (0.0, 297.0))
    move = photograph_transform(pixels, marks)
    for pixel, mark in zip(pixels, marks, strict=True):
        there = move.map(QPointF(*pixel))
        assert (there.x(), -there.y()) == pytest.approx(mark, abs=1e-6)
    assert photograph_transform(pixels[:1], marks[:1]) is None
