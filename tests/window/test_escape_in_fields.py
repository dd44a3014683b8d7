"""Escape in a field that is typed in: what stood there stands there again, and nothing is told."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QDialog, QPushButton, QSpinBox, QVBoxLayout

from studio.canvas.length_field import LengthField
from studio.canvas.selection import Selection
from studio.demo import demo_design
from studio.window.cut_form import CutForm
from studio.window.document import Document
from studio.window.lengths_field import LengthsField
from studio.window.number_box import NumberBox

ESCAPE = Qt.Key.Key_Escape


def length(told):
    field = LengthField("Down the rise", told.append)
    field.set_unit("inch")
    field.show_mm(100.0125)  # 3 15/16 inch of exactly 25.4 mm (the agreement of 1959).
    return field


def not_taken(told):
    field = LengthField("Own width", told.append, may_be_empty=True)
    field.show_mm(None)
    return field


def per_cent(told):
    field = NumberBox("Warp shrinks by", told.append, unit=" %")
    field.show_value(3.0)
    return field


def several(told):
    field = LengthsField("Rows", "mm", told.append)
    field.show_lengths((2.0, 8.0))
    return field


KINDS = [
    (length, "3.938 inch"),
    (not_taken, "not taken"),
    (per_cent, "3.0 %"),
    (several, "2, 8"),
]


class Typing:
    """A field beside a button, in a dialog that Escape closes."""

    def __init__(self, qtbot, make):
        self.qtbot, self.told = qtbot, []
        self.dialog = QDialog()
        column = QVBoxLayout(self.dialog)
        self.field = make(self.told)
        self.beside = QPushButton("Beside")
        column.addWidget(self.field)
        column.addWidget(self.beside)
        qtbot.addWidget(self.dialog)
        with qtbot.waitExposed(self.dialog):
            self.dialog.show()
        self.dialog.activateWindow()
        self.field.setFocus()
        qtbot.waitUntil(self.field.hasFocus, timeout=2000)

    def type(self, text):
        self.field.selectAll()
        self.qtbot.keyClicks(self.field, text)

    def press(self, key):
        self.qtbot.keyClick(self.field, key)


@pytest.mark.parametrize(("make", "shown"), KINDS)
@pytest.mark.parametrize("text", ["12", "12.", "99999", "5..5"])
def test_what_stood_there_stands_there_again_and_the_focus_stays(qtbot, make, shown, text):
    hand = Typing(qtbot, make)
    hand.type(text)
    assert hand.field.text() != shown
    hand.press(ESCAPE)
    assert hand.field.text() == shown
    assert hand.field.hasFocus()
    assert hand.dialog.isVisible()
    hand.beside.setFocus()
    assert not hand.field.hasFocus()
    assert hand.told == []
    assert hand.field.problem == ""
    assert hand.field.text() == shown


@pytest.mark.parametrize(("make", "shown"), KINDS)
def test_a_second_escape_does_what_escape_does_in_the_window(qtbot, make, shown):
    hand = Typing(qtbot, make)
    hand.type("12")
    hand.press(ESCAPE)
    assert hand.dialog.isVisible()
    hand.press(ESCAPE)
    assert not hand.dialog.isVisible()
    assert hand.told == []


@pytest.mark.parametrize(("make", "shown"), KINDS)
def test_an_escape_where_nothing_was_typed_is_left_to_the_window(qtbot, make, shown):
    hand = Typing(qtbot, make)
    hand.press(ESCAPE)
    assert not hand.dialog.isVisible()
    assert hand.told == []


@pytest.mark.parametrize(
    ("make", "taken"),
    [(length, 304.8), (not_taken, 12.0), (per_cent, 12.0), (several, (12.0,))],
)
def test_what_is_typed_after_an_escape_replaces_what_stood_there_and_is_taken(qtbot, make, taken):
    hand = Typing(qtbot, make)
    hand.type("7")
    hand.press(ESCAPE)
    hand.qtbot.keyClicks(hand.field, "12")
    hand.press(Qt.Key.Key_Return)
    assert hand.told == [taken]


def test_a_length_is_kept_to_its_last_digit_over_an_escape(qtbot):
    hand = Typing(qtbot, length)
    hand.type("3.93751")
    hand.press(ESCAPE)
    hand.press(Qt.Key.Key_Return)
    assert hand.told == []
    assert hand.field.text() == "3.938 inch"


def test_a_refusal_is_told_no_more_after_an_escape(qtbot):
    hand = Typing(qtbot, several)
    hand.type("2, x")
    hand.press(Qt.Key.Key_Return)
    assert hand.field.problem
    hand.type("3")
    hand.press(ESCAPE)
    assert hand.field.problem == ""
    assert hand.field.text() == "2, 8"


@pytest.mark.parametrize(("make", "shown"), KINDS)
def test_a_shortcut_of_the_window_waits_for_the_second_escape(qtbot, make, shown):
    hand, ended = Typing(qtbot, make), []
    shortcut = QShortcut(QKeySequence(ESCAPE), hand.dialog)
    shortcut.activated.connect(lambda: ended.append(1))
    hand.type("12")
    hand.press(ESCAPE)
    assert ended == []
    assert hand.field.text() == shown
    hand.press(ESCAPE)
    assert ended == [1]


def test_a_number_of_pieces_is_given_back(qtbot):
    document = Document(demo_design())
    recipe = next(one for one in document.design.pieces if one.name == "belt-loop")
    form = CutForm(document, recipe, "mm")
    qtbot.addWidget(form)
    box = form.findChild(QSpinBox)
    before, shown = document.design, box.text()
    form.show()
    box.setFocus()
    box.selectAll()
    qtbot.keyClicks(box, "77")
    assert box.text() == "77"
    qtbot.keyClick(box, ESCAPE)
    assert box.text() == shown
    box.clearFocus()
    assert document.design is before


def test_in_the_details_of_a_line_nothing_changes_and_the_line_stays_picked(window, qtbot):
    window.document.select(Selection("line", "yoke"))
    field, _ = window.details.form.ends[0]
    before, shown = window.document.design, field.text()
    field.setFocus()
    assert field.hasFocus()
    field.selectAll()
    qtbot.keyClicks(field, "95")
    qtbot.keyClick(field, ESCAPE)
    assert field.text() == shown
    assert field.hasFocus()
    window.view.setFocus()
    assert not field.hasFocus()
    assert window.document.design is before
    assert window.document.selection == Selection("line", "yoke")


def test_undone_meanwhile_what_stands_is_not_set_anew(window, qtbot):
    """While a field has the focus, what is undone elsewhere is not shown in it."""
    window.document.select(Selection("line", "yoke"))
    field, _ = window.details.form.ends[0]
    first = window.document.design
    wider = replace(first, standard_allowance=first.standard_allowance + 2.0)
    window.document.change("Wider", wider)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "95")
    window.document.undo()
    qtbot.keyClick(field, ESCAPE)
    window.view.setFocus()
    assert window.document.design is first
