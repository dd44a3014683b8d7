"""A panel traced in its window with the mouse, over a photograph of known truth."""

import math

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMessageBox
from shapely import Polygon, contains_xy

from studio.canvas.photograph import read_photograph, straightened
from studio.canvas.theme import DARK, LIGHT
from studio.cloth.perspective import perspective_of, sheet_corners
from studio.cloth.tracing import blank
from studio.design.cloth import Roll
from studio.errors import BadInput
from studio.window.trace_window import TraceWindow
from tests.cloth.photograph import HIGH, WIDE, Camera

CAMERA = Camera(tilt=20.0, roll=5.0, over=(250.0, 200.0))
OUTLINE = (
    (10.0, 10.0),
    (430.0, 0.0),
    (480.0, 180.0),
    (470.0, 390.0),
    (260.0, 400.0),
    (30.0, 380.0),
)
HOLE = ((380.0, 300.0), (420.0, 310.0), (405.0, 345.0))
SHEET = [(x + 90.0, y + 60.0) for x, y in sheet_corners(210.0, 297.0)]
WITHIN_MM = 0.3


def shade(x, y):
    grey = np.full(x.shape, 0.25)
    for places, level in ((OUTLINE, 0.5), (HOLE, 0.2), (SHEET, 0.97)):
        grey[contains_xy(Polygon(places), x, y)] = level
    return grey


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    made = tmp_path_factory.mktemp("photographs")
    pixels = CAMERA.photograph(shade)
    image = QImage(pixels.data, WIDE, HIGH, WIDE, QImage.Format.Format_Grayscale8)
    assert image.save(str(made / "coat.png"))
    return made


def leaves_unasked(window):
    window.hand._back.clear()
    window._opened = window._settings()


def opened(qtbot, stock, folder, theme=LIGHT):
    window = TraceWindow(stock, folder, "mm", theme)
    qtbot.addWidget(window, before_close_func=leaves_unasked)
    window.resize(1200, 800)
    with qtbot.waitExposed(window):
        window.show()
    return window


def near(view, place, zoom=8.0):
    """The view brought close to a place, and the pixel under which it lies."""
    view.fit()
    view.zoom(zoom / view.scale_now, view.spot_of(place))
    view.centerOn(view._scene(place))
    return view.spot_of(place).toPoint()


def click(view, place, zoom=8.0):
    QTest.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=near(view, place, zoom))


def drag(view, place, by):
    at = near(view, place)
    button = Qt.MouseButton.LeftButton
    QTest.mousePress(view.viewport(), button, pos=at)
    for share in (0.3, 0.6, 1.0):
        step = QPoint(round(by[0] * share), round(by[1] * share))
        QTest.mouseMove(view.viewport(), at + step)
    QTest.mouseRelease(view.viewport(), button, pos=at + QPoint(*by))


def from_sheet(place):
    return place[0] - SHEET[3][0], place[1] - SHEET[3][1]


def trace_all(window):
    view = window.view
    for corner in SHEET:
        click(view, CAMERA.pixel(corner), zoom=12.0)
    assert window.straighten()
    for place in OUTLINE:
        click(view, from_sheet(place))
    QTest.keyClick(view, Qt.Key.Key_Return)
    for place in ((200.0, 20.0), (205.0, 390.0)):
        click(view, from_sheet(place))
    window.hand.take("hole")
    for place in HOLE:
        click(view, from_sheet(place))
    QTest.keyClick(view, Qt.Key.Key_Enter)


def worst(places, truth):
    return max(min(math.dist(place, from_sheet(t)) for t in truth) for place in places)


def test_a_panel_is_traced_end_to_end_within_its_limit(qtbot, folder):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    assert window.hand.stage == "scale"
    trace_all(window)
    window.accept()
    assert window.result_stock is None
    assert "which side" in window.foot.hint.text()
    window.drawing.up.setCurrentText("the right side")
    window.accept()
    panel = window.result_stock
    assert len(panel.outline) == len(OUTLINE)
    assert worst(panel.outline, OUTLINE) < WITHIN_MM
    assert worst(panel.flaws[0].points, HOLE) < WITHIN_MM
    assert worst(panel.grain, ((200.0, 20.0), (205.0, 390.0))) < WITHIN_MM
    # The area of the true outline, by the shoelace formula.
    pairs = zip(OUTLINE, (*OUTLINE[1:], OUTLINE[0]), strict=True)
    area = sum(x * b - a * y for (x, y), (a, b) in pairs) / 2.0
    assert Polygon(panel.outline).area == pytest.approx(area, rel=1e-3)
    assert panel.trace.photograph == "coat.png"
    assert not panel.trace.face_down


def test_a_traced_panel_opens_again_over_its_photograph(qtbot, folder):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    trace_all(window)
    window.drawing.up.setCurrentText("the wrong side")
    window.accept()
    panel = window.result_stock
    again = opened(qtbot, panel, folder, DARK)
    assert again.hand.stage == "draw"
    assert again.drawing.face_down is True
    assert worst(again.hand.tracing.outline, OUTLINE) < WITHIN_MM
    assert again.made() == panel
    again.to_scale()
    assert again.hand.state.marks == panel.trace.pixels
    assert again.straighten()
    assert again.made() == panel


def test_points_are_dragged_inserted_deleted_and_undone(qtbot, folder):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    trace_all(window)
    view, hand = window.view, window.hand
    before = hand.tracing
    drag(view, before.outline[1], (80, 0))
    assert hand.tracing.outline[1][0] == pytest.approx(before.outline[1][0] + 10.0, abs=0.2)
    window.drawing.tools["move"].click()
    (x, y), (a, b) = hand.tracing.outline[0], hand.tracing.outline[1]
    at = near(view, ((x + a) / 2.0, (y + b) / 2.0))
    QTest.mouseDClick(view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert len(hand.tracing.outline) == len(OUTLINE) + 1
    QTest.keyClick(view, Qt.Key.Key_Delete)
    assert len(hand.tracing.outline) == len(OUTLINE)
    for _ in range(3):
        window.foot.undo.click()
    assert hand.tracing == before
    QTest.keyClick(view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert hand.tracing != before


def test_a_new_scale_carries_the_drawing_along(qtbot, folder):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    trace_all(window)
    window.to_scale()
    window.scale.sheets.setCurrentText("A3")
    assert window.straighten()
    wide = [x for x, _ in window.hand.tracing.outline]
    assert max(wide) - min(wide) == pytest.approx(470.0 * 297.0 / 210.0, abs=1.5)


def test_a_scale_that_was_changed_and_not_used_is_told_before_a_panel_is_taken(qtbot, folder):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    trace_all(window)
    window.drawing.up.setCurrentText("the right side")
    panel = window.made()
    again = opened(qtbot, panel, folder)
    again.to_scale()
    again.scale.sheets.setCurrentText("A3")
    again.accept()
    assert again.result_stock is None
    assert "straighten it" in again.foot.hint.text()
    # Set back, it is the panel that it was; used, it grows as A3 does to A4 (ISO 216).
    again.scale.sheets.setCurrentText("A4")
    assert again.made() == panel
    again.scale.sheets.setCurrentText("A3")
    assert again.straighten()
    grown = Polygon(again.made().outline).area / Polygon(panel.outline).area
    assert grown == pytest.approx(297.0 * 420.0 / (210.0 * 297.0), rel=1e-6)


def test_a_mark_that_was_moved_and_not_used_is_told_too(qtbot, folder):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    trace_all(window)
    window.drawing.up.setCurrentText("the right side")
    window.to_scale()
    drag(window.view, window.hand.state.marks[0], (20, 0))
    window.accept()
    assert window.result_stock is None
    assert "straighten it" in window.foot.hint.text()
    window.foot.undo.click()
    window.accept()
    assert worst(window.result_stock.outline, OUTLINE) < WITHIN_MM


def test_two_marks_bring_a_picture_taken_square_on_to_scale(qtbot, tmp_path):
    flat = Camera(tilt=0.0, roll=0.0)
    image = QImage(WIDE, HIGH, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.gray)
    image.save(str(tmp_path / "flat.png"))
    window = opened(qtbot, blank("coat", "drill", "flat.png"), tmp_path)
    window.scale.method.setCurrentIndex(1)
    click(window.view, flat.pixel((0.0, 100.0)), zoom=12.0)
    assert "1 of 2" in window.scale._told.text()
    click(window.view, flat.pixel((400.0, 100.0)), zoom=12.0)
    assert not window.straighten()
    assert "distance" in window.foot.hint.text()
    window.scale.apart.setValue(400.0)
    assert window.scale.straighten.isEnabled()
    window.scale.straighten.click()
    assert window.hand.stage == "draw"
    places = ((0.0, 0.0), (450.0, 0.0), (450.0, 400.0), (0.0, 400.0))
    for place in places:
        seen = window.photograph.seen.on_cloth(flat.pixel(place))
        click(window.view, seen)
    QTest.keyClick(window.view, Qt.Key.Key_Return)
    assert len(window.hand.tracing.outline) == 4
    one, two, three, _ = window.hand.tracing.outline
    assert math.dist(one, two) == pytest.approx(450.0, abs=WITHIN_MM)
    assert math.dist(two, three) == pytest.approx(400.0, abs=WITHIN_MM)


def test_the_straightened_picture_shows_things_where_they_are(folder, qtbot):
    photograph = read_photograph(folder / "coat.png")
    seen = perspective_of([CAMERA.pixel(corner) for corner in SHEET], sheet_corners(210.0, 297.0))
    cloth = straightened(photograph, seen, "#000000")
    left, _, _, top = cloth.field

    def grey(place):
        x = int((place[0] - left) / cloth.mm_per_pixel)
        y = int((top - place[1]) / cloth.mm_per_pixel)
        return cloth.image.pixelColor(x, y).red()

    # 1.5 mm to either side of the edges of sheet and hole: two pixels of this photograph.
    for place, level in (
        ((1.5, 150.0), 247),
        ((-1.5, 150.0), 127),
        ((208.5, 150.0), 247),
        ((211.5, 150.0), 127),
        ((100.0, 1.5), 247),
        ((100.0, -1.5), 127),
        ((100.0, 295.5), 247),
        (from_sheet((402.0, 318.0)), 51),
        (from_sheet((402.0, 302.0)), 127),
    ):
        assert grey(place) == pytest.approx(level, abs=6), place


def test_a_photograph_that_is_lost_or_none_leaves_the_drawing(qtbot, folder, tmp_path):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    trace_all(window)
    window.drawing.up.setCurrentText("the right side")
    panel = window.made()
    lost = opened(qtbot, panel, tmp_path)
    assert "is not shown" in lost.foot.hint.text()
    assert lost.made() == panel
    broken = tmp_path / "coat.png"
    broken.write_text("no picture")
    assert not lost.take_other_photograph(broken)
    assert str(broken) in lost.foot.hint.text()
    with pytest.raises(BadInput, match="no picture"):
        read_photograph(broken)
    assert lost.made() == panel


def test_without_a_photograph_it_is_drawn_on_ruled_paper(qtbot, tmp_path):
    window = opened(qtbot, blank("scrap", "drill"), tmp_path)
    assert window.hand.tool == "outline"
    for place in ((0.0, 0.0), (300.0, 0.0), (300.0, 400.0)):
        spot = window.view.spot_of(place).toPoint()
        QTest.mouseClick(window.view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    window.accept()
    assert "not finished" in window.foot.hint.text()
    QTest.keyClick(window.view, Qt.Key.Key_Return)
    window.accept()
    assert "grain" in window.foot.hint.text()
    assert window.result_stock is None
    QTest.keyClick(window.view, Qt.Key.Key_Escape)
    assert window.isVisible()


def test_the_flaws_of_a_roll_are_marked_and_changed(qtbot, tmp_path):
    window = opened(qtbot, Roll("rest", "drill", 900.0, 600.0), tmp_path)
    assert set(window.drawing.tools) == {"move", "hole", "stain", "worn", "seam"}
    window.drawing.tools["seam"].click()
    window.drawing.wide.setValue(20.0)
    for place in ((0.0, 300.0), (900.0, 310.0)):
        click(window.view, place)
    QTest.keyClick(window.view, Qt.Key.Key_Return)
    assert window.hand.tracing.flaws[0].wide == 20.0
    window.hand.pick_flaw(0)
    window.drawing._change(0, "avoided", False)
    window.accept()
    roll = window.result_stock
    assert (roll.width, roll.length) == (900.0, 600.0)
    assert roll.flaws[0].kind == "seam"
    assert not roll.flaws[0].avoided


def test_work_is_not_given_up_by_a_slip(qtbot, tmp_path, monkeypatch):
    window = opened(qtbot, Roll("rest", "drill", 900.0, 600.0), tmp_path)
    window.hand.take("hole")
    click(window.view, (100.0, 100.0))
    monkeypatch.setattr(window, "_gives_up", lambda: False)
    window.reject()
    assert window.isVisible()
    monkeypatch.setattr(window, "_gives_up", lambda: True)
    window.reject()
    assert not window.isVisible()


@pytest.mark.parametrize("change", ["sheet", "side", "both set back"])
def test_a_sheet_or_a_side_that_was_chosen_anew_is_not_given_up_by_a_slip(
    qtbot, folder, monkeypatch, change
):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    trace_all(window)
    window.drawing.up.setCurrentText("the right side")
    window.accept()
    again = opened(qtbot, window.result_stock, folder)
    asked = []
    monkeypatch.setattr(again, "_gives_up", lambda: bool(asked.append(True)))
    sheet = again.scale.sheets.currentText()
    if change != "side":
        again.scale.sheets.setCurrentText("A3")
    if change != "sheet":
        again.drawing.up.setCurrentText("the wrong side")
    if change == "both set back":
        again.scale.sheets.setCurrentText(sheet)
        again.drawing.up.setCurrentText("the right side")
    again.reject()
    assert bool(asked) is (change != "both set back")
    assert again.isVisible() is bool(asked)
    assert again.result_stock is None
    monkeypatch.setattr(again, "_gives_up", lambda: True)
    again.reject()
    assert not again.isVisible()


def test_escape_goes_on_drawing_and_the_question_tells_what_would_be_lost(
    qtbot, folder, monkeypatch
):
    window = opened(qtbot, blank("coat <b>old</b> & worn", "drill", "coat.png"), folder)
    window.scale.sheets.setCurrentText("A3")
    seen = []

    def shown(box):
        seen.append((box.text(), box.informativeText(), box.escapeButton().text()))
        box.escapeButton().click()

    monkeypatch.setattr(QMessageBox, "exec", shown)
    window.reject()
    assert window.isVisible()
    ((text, more, escape),) = seen
    assert "chosen" in text
    assert "coat <b>old</b> & worn" in more
    assert escape == "Go on"
    window.scale.sheets.setCurrentText("A4")


def test_the_magnifier_keeps_out_of_the_pointers_way(qtbot, folder):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    view = window.view
    view._pointer = QPointF(300.0, 200.0)
    right = view.grab().toImage()
    view._pointer = QPointF(view.viewport().width() - 40.0, view.viewport().height() - 40.0)
    left = view.grab().toImage()
    foot = view.viewport().height() - 190
    for across in (0, view.viewport().width() - 190):
        corner = QRect(across, foot, 190, 190)
        assert right.copy(corner) != left.copy(corner)


def test_a_lost_photograph_is_found_again_with_its_marks_and_another_is_marked_anew(
    qtbot, folder, tmp_path
):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    trace_all(window)
    window.drawing.up.setCurrentText("the right side")
    panel = window.made()
    lost = opened(qtbot, panel, tmp_path)
    assert lost.take_other_photograph(folder / "coat.png")
    assert lost.hand.stage == "draw"
    assert lost.made().outline == panel.outline
    other = tmp_path / "sleeve.png"
    other.write_bytes((folder / "coat.png").read_bytes())
    assert lost.take_other_photograph(other)
    assert lost.hand.stage == "scale"
    assert lost.hand.state.marks == ()
    lost.accept()
    assert "to scale first" in lost.foot.hint.text()
    assert lost.hand.tracing.outline == panel.outline


def test_a_mark_is_nudged_by_tenths_of_a_pixel_with_the_magnifier_on_it(qtbot, folder):
    window = opened(qtbot, blank("coat", "drill", "coat.png"), folder)
    view = window.view
    click(view, (600.0, 500.0), zoom=12.0)
    (x, y), *_ = window.hand.state.marks
    QTest.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    QTest.keyClick(view, Qt.Key.Key_Up)
    assert window.hand.state.marks[0] == pytest.approx((x + 0.1, y - 1.0))
    spot = view.spot_of(window.hand.state.marks[0])
    assert (view._pointer - spot).manhattanLength() < 1e-6
    QTest.keyClick(view, Qt.Key.Key_Delete)
    assert window.hand.state.marks == ()
