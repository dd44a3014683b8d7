"""A choice that is longer than its box, and windows that open as large as they would."""

import pytest
from PySide6.QtCore import QEvent, QPoint, QSize
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication, QComboBox, QDialog

from studio.canvas.plain_tip import plain_tip
from studio.window.choice_box import ChoiceBox
from studio.window.join_dialog import JoinDialog
from studio.window.step_form import StepForm
from studio.window.widgets import open_beside, open_large

LONG = "back.rise, from back.waist & on"


@pytest.fixture
def box(qtbot):
    made = ChoiceBox()
    made.addItems([LONG, "knee"])
    qtbot.addWidget(made)
    with qtbot.waitExposed(made):
        made.show()
    return made


@pytest.fixture
def tip_over(monkeypatch):
    """What the pointer that rests on a box tells; a tip that is shown goes away only in time."""
    told = []
    show = "studio.window.choice_box.QToolTip.showText"
    monkeypatch.setattr(show, lambda _at, words, _box: told.append(words))

    def rest(box):
        at = QPoint(5, 5)
        QApplication.sendEvent(box, QHelpEvent(QEvent.Type.ToolTip, at, box.mapToGlobal(at)))
        return told[-1]

    return rest


def test_words_that_have_no_room_end_in_dots_and_are_told_whole_by_the_pointer(box, tip_over):
    box.resize(400, box.height())
    assert box.shown_words == LONG
    assert tip_over(box) == ""
    box.resize(120, box.height())
    assert box.shown_words.startswith("back.rise")
    assert box.shown_words.endswith("…")
    assert box.currentText() == LONG
    assert tip_over(box) == plain_tip(LONG)
    box.setCurrentIndex(1)
    assert box.shown_words == "knee"
    assert tip_over(box) == ""


def test_what_is_seen_has_dots_and_other_boxes_cut_letters(box, qtbot):
    box.resize(120, box.height())
    plain = QComboBox()
    plain.addItems([LONG, "knee"])
    qtbot.addWidget(plain)
    with qtbot.waitExposed(plain):
        plain.show()
    plain.resize(box.size())
    assert box.grab().toImage() != plain.grab().toImage()
    for one in (box, plain):
        one.setCurrentIndex(1)
        one.clearFocus()
    assert box.grab().toImage() == plain.grab().toImage()


def test_a_tip_of_its_own_comes_first(box, tip_over):
    box.setToolTip("where it is measured from")
    box.resize(120, box.height())
    assert tip_over(box) == "where it is measured from"


class Wished(QDialog):
    def __init__(self, wide, high):
        super().__init__()
        self._wished = QSize(wide, high)

    def sizeHint(self):  # noqa: N802
        return self._wished


def test_a_window_opens_as_large_as_it_would_be_where_the_screen_has_the_room(qtbot):
    screen = QApplication.primaryScreen().availableSize()
    share = QSize(round(screen.width() * 0.85), round(screen.height() * 0.85))
    fits, larger = Wished(share.width(), share.height()), Wished(9000, 9000)
    for window in (fits, larger):
        qtbot.addWidget(window)
        open_large(window)
    assert fits.size() == share
    assert larger.width() <= screen.width()
    assert larger.height() <= screen.height()
    gone = []
    beside = open_beside(Wished(300, 200))
    beside.destroyed.connect(lambda: gone.append(True))
    assert beside.isVisible()
    beside.close()
    qtbot.waitUntil(lambda: gone == [True])


def test_the_lists_of_a_join_give_way_on_a_low_screen(qtbot, window):
    pattern = window.document.pattern
    dialog = JoinDialog(pattern.pieces, pattern.design.joins, window, "mm")
    qtbot.addWidget(dialog)
    with qtbot.waitExposed(dialog):
        dialog.show()
    for high in (700, 460):
        dialog.resize(dialog.width(), high)
        QApplication.processEvents()
        assert dialog.height() == high
        assert dialog.sides[0].geometry().bottom() < dialog.other_leg.geometry().top()
        assert dialog.other_leg.geometry().bottom() < dialog.called.geometry().top()


def test_boxes_of_forms_are_such_boxes(window):
    for at in range(len(window.document.design.alterations)):
        form = StepForm(window.document, at, "mm")
        boxes = form.findChildren(QComboBox)
        assert all(isinstance(one, ChoiceBox) for one in boxes)
    found = window.findChildren(QComboBox)
    assert found
    assert all(isinstance(one, ChoiceBox) for one in found)
