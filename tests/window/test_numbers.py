"""Numbers clicked and typed on the sheet, marks of holds, and snapping while a point is dragged."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

from studio.canvas.hold_item import sign_of
from studio.canvas.number_field import NumberField
from studio.canvas.paths import to_scene
from studio.canvas.selection import Selection
from studio.curves import Point
from studio.design import holds
from studio.design.file import encoded
from tests.window.test_main_window import drag_to, on_view, press_on


def field_over(window, qtbot, title):
    """Click a number and give the field that opens."""
    transform = window.view.viewportTransform()
    item = window.sheet._dimensions
    for one, box in item.boxes(transform):
        if one.title == title:
            centre = box.center().toPoint()
            qtbot.mouseClick(window.view.viewport(), Qt.MouseButton.LeftButton, pos=centre)
            found = window.view.viewport().findChildren(NumberField)
            return found[-1].field if found else None
    raise AssertionError(f"no number {title}")


def pick_yoke(window):
    window.document.select(Selection("line", "yoke"))
    window.view.fit(window.sheet.box_of(window.document.selection))


def test_a_number_clicked_and_typed_is_one_step_of_the_history(window, qtbot):
    before = encoded(window.document.design)
    pick_yoke(window)
    field = field_over(window, qtbot, "Set the start of yoke")
    assert field.text() == "80.0 mm"
    qtbot.keyClicks(field, "92.5")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.document.design.line("yoke").path.start.mm == pytest.approx(92.5)
    assert window.document.history.undo_label == "Set the start of yoke"
    window.document.undo()
    assert encoded(window.document.design) == before


def test_escape_leaves_a_number_as_it_was(window, qtbot):
    before = encoded(window.document.design)
    pick_yoke(window)
    field = field_over(window, qtbot, "Hold: Length, yoke")
    qtbot.keyClicks(field, "300")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert encoded(window.document.design) == before
    assert window.document.history.undo_label == ""


def test_numbers_are_written_and_typed_in_the_unit_of_the_window(window, qtbot):
    window.set_unit("cm")
    pick_yoke(window)
    field = field_over(window, qtbot, "Set the end of yoke")
    assert field.text() == "3.00 cm"
    qtbot.keyClicks(field, "3 1/2")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.document.design.line("yoke").path.end.mm == pytest.approx(35.0)


def test_what_is_typed_over_a_number_can_be_read_while_it_is_typed(window, qtbot):
    pick_yoke(window)
    field = field_over(window, qtbot, "Set the start of yoke")
    QApplication.processEvents()
    written = field.fontMetrics().horizontalAdvance(field.text())
    assert field.lineEdit().width() >= written


def test_a_number_that_cannot_be_read_is_told_and_asked_for_again(window, qtbot):
    before = encoded(window.document.design)
    pick_yoke(window)
    window.set_unit("cm")
    field = field_over(window, qtbot, "Set the start of yoke")
    # A comma was swallowed before, and 9,5 read as 95.
    qtbot.keyClicks(field, "9,5")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert "Write a point" in field.problem
    assert field.isVisible()
    assert field.hasFocus()
    assert encoded(window.document.design) == before
    qtbot.keyClicks(field, "9.5")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.document.design.line("yoke").path.start.mm == pytest.approx(95.0)


def test_a_number_on_the_sheet_is_typed_with_a_fraction_or_another_unit(window, qtbot):
    window.set_unit("inch")
    # One inch is exactly 25.4 mm (the agreement of 1959); no tolerance.
    for text, mm in (("1 5/16", 33.3375), ("3.4 cm", 34.0)):
        pick_yoke(window)
        field = field_over(window, qtbot, "Set the end of yoke")
        field.selectAll()
        qtbot.keyClicks(field, text)
        qtbot.keyClick(field, Qt.Key.Key_Return)
        assert window.document.design.line("yoke").path.end.mm == mm


def test_every_kind_of_hold_has_a_sign_of_its_own():
    kinds = holds.Hold.__args__
    signs = {str(sign_of(kind)) for kind in kinds}
    assert len(signs) == len(kinds) == 14
    for kind in kinds:
        box = sign_of(kind).boundingRect()
        assert max(abs(box.left()), abs(box.right()), abs(box.top()), abs(box.bottom())) <= 6.5


def test_the_mark_of_a_hold_is_painted_beside_its_place(window):
    pick_yoke(window)
    QApplication.processEvents()
    drawn = next(line for line in window.document.pattern.lines if line.name == "yoke")
    shift = window.sheet.shift_of_panel("back")
    at = window.view.mapFromScene(to_scene(drawn.nodes[0].at, shift)) + QPoint(16, -16)

    def ink():
        image = window.view.grab().toImage()
        spots = [(at.x() + dx, at.y() + dy) for dx in range(-5, 6) for dy in range(-5, 6)]
        return {image.pixelColor(x, y).name() for x, y in spots}

    bare = ink()
    design = window.document.history.design
    window.document.change("hold", replace(design, holds=(holds.Square("yoke", "start"),)))
    QApplication.processEvents()
    assert window.theme.work not in bare
    assert window.theme.work in ink()


def test_a_dragged_node_snaps_to_the_level_of_the_start_and_says_so(window, qtbot):
    pick_yoke(window)
    QApplication.processEvents()
    drawn = next(line for line in window.document.pattern.lines if line.name == "yoke")
    wanted = Point(drawn.nodes[1].at.x, drawn.nodes[0].at.y)
    press_on(window, qtbot, "yoke", "node", 1)
    target = on_view(window, "back", wanted) + QPoint(0, 3)
    drag_to(window, qtbot, target)
    assert "level with the start" in window.sheet._snap.snap.words
    moved = next(line for line in window.document.pattern.lines if line.name == "yoke")
    assert moved.nodes[1].at.y == pytest.approx(drawn.nodes[0].at.y, abs=1e-9)
    qtbot.mouseRelease(window.view.viewport(), Qt.MouseButton.LeftButton, pos=target)
    assert window.sheet._snap.snap is None


def test_a_pocket_is_put_to_the_test_and_the_thing_taken_out_again(window):
    shown = window.check_pockets()
    shown._pocket.setCurrentText("back-pocket")
    shown._thing.setCurrentText("folding rule")
    shown.give()
    had = len(window.document.design.carried) - 1
    carried = window.document.design.carried[-1]
    assert (carried.pocket, carried.long) == ("back-pocket", 240.0)
    assert any(finding.rule == "pocket" for finding in window.document.pattern.findings)
    shown._set_size(0, 100.0)
    assert shown._thing.currentText() == "own size"
    shown.take_out(carried)
    assert len(window.document.design.carried) == had
    hand = next(one for one in window.document.pattern.pockets if one.kind == "hand")
    assert any("A hand passes" in words for words in shown.words_of(hand))
    shown.close()


@pytest.mark.parametrize("unit", ["mm", "cm", "inch"])
def test_no_number_on_the_sheet_covers_another(window, unit):
    window.set_unit(unit)
    design = window.document.history.design
    for step in range(len(design.alterations)):
        window.document.select(Selection("step", str(step)))
        window.view.fit()
        placed = [box for _, box in window.sheet._dimensions.boxes(window.view.viewportTransform())]
        assert not [
            (one, two)
            for at, one in enumerate(placed)
            for two in placed[:at]
            if one.intersects(two)
        ]
