"""What lies on the table, as it is painted: flaws by their own signs, pieces where they lie."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPointF
from PySide6.QtGui import QImage, QPainter, QTransform

from studio.canvas.lay_items import LaidItem, StockItem, name_lines, shortened
from studio.canvas.lay_photographs import photograph_of
from studio.canvas.paths import to_scene, transform_of
from studio.canvas.theme import LIGHT
from studio.cloth.bed import bed_of
from studio.cloth.stance import lying, stance_of
from studio.curves import Affine, Point, Vector
from studio.demo import demo_design
from studio.design.cloth import Flaw, Placement, SalvagedPanel, Trace
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


def test_a_photograph_lies_where_its_marks_say(qapp, tmp_path):
    picture = QImage(400, 300, QImage.Format.Format_RGB32)
    picture.fill(0xFFFFFFFF)
    for x in range(195, 206):
        for y in range(95, 106):
            picture.setPixel(x, y, 0xFF000000)
    picture.save(str(tmp_path / "leg.png"))
    # Two pixels a millimetre: a similarity by two marks, in closed form.
    marks = ((0.0, 0.0), (100.0, 0.0))
    trace = Trace("leg.png", ((100.0, 200.0), (300.0, 200.0)), marks)
    found = photograph_of(tmp_path, trace)
    assert dark_place(found) == pytest.approx((50.0, 50.0), abs=1.0)
    turned_over = photograph_of(tmp_path, replace(trace, face_down=True))
    assert dark_place(turned_over) == pytest.approx((-50.0, 50.0), abs=1.0)
    assert photograph_of(tmp_path, replace(trace, photograph="lost.png")) is None


def dark_place(photograph):
    """Where the dark spot lies on the cloth, mm, y up."""
    image = photograph.picture.toImage()
    spots = [
        (x, y)
        for x in range(image.width())
        for y in range(image.height())
        if image.pixelColor(x, y).lightness() < 100
    ]
    x, y = (sum(axis) / len(spots) + 0.5 for axis in zip(*spots, strict=True))
    there = photograph.to_cloth.map(QPointF(x, y))
    return there.x(), -there.y()


def test_a_long_name_is_broken_where_the_wider_line_is_narrowest(qapp):
    assert name_lines("overalls back left", 10.0, 1000.0) == ["overalls back left"]
    assert name_lines("overalls back left", 10.0, 90.0) == ["overalls", "back left"]
    assert name_lines("one and all of the others", 10.0, 20.0) == ["one and all", "of the others"]
    # A single word is left to be shortened.
    assert name_lines("overallsbackleft", 10.0, 20.0) == ["overallsbackleft"]


def test_a_name_cut_short_keeps_its_end(qapp):
    told = [shortened(f"overalls back {side}", 10.0, True, 95.0) for side in ("left", "right")]
    assert told[0] != told[1]
    assert told[0].endswith("left")
    assert told[1].endswith("right")


def test_above_the_first_row_a_name_takes_two_lines_in_a_small_window_too(qapp, monkeypatch):
    """Four legs of old overalls were all called "ove…eft" or "ove…ght"."""
    written = []
    monkeypatch.setattr(
        "studio.canvas.lay_items.write",
        lambda _painter, _at, words, *_rest, **_how: written.append(words),
    )
    panel = SalvagedPanel("overalls back left", "main", SQUARE, ((9.0, 9.0), (9.0, 200.0)))
    for down, lines in ((300.0, ["back left", "overalls"]), (-700.0, ["ov…eft"])):
        item = StockItem(LIGHT)
        item.show_stock(panel, bed_of(panel), Affine.shift(Vector(0.0, down - 300.0)), "#5f7d8c")
        item.show_words(panel.name, "main")
        written.clear()
        image = QImage(200, 200, QImage.Format.Format_RGB32)
        painter = QPainter(image)
        painter.scale(0.17, 0.17)
        item.draw(painter)
        painter.end()
        assert len(written) == 1 + len(lines)  # What the cloth is, then its name from below.
        if len(lines) == 2:
            assert written[1:] == lines
