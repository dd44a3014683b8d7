"""The desktop is given other letters, or becomes dark, while the window is open."""

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QFont, QGuiApplication, QMouseEvent
from PySide6.QtWidgets import QApplication, QLabel

from studio.canvas import sheet_item
from studio.canvas.length_field import LengthField
from studio.canvas.paths import to_scene
from studio.canvas.selection import Selection
from studio.canvas.sheet_item import forget_letters
from studio.canvas.theme import DARK, LIGHT
from studio.canvas.type_size import grown, larger, size_all_again, size_with_letters
from studio.cut import edit
from studio.design.file import encoded
from studio.window import look, recent
from studio.window.body_dialog import BodyDialog
from studio.window.look import TOLD_BY
from studio.window.style import theme_of
from tests.window import stashes
from tests.window.clipped import clipped
from tests.window.menu_words import words_of

LARGE, USUAL = 14.0, 9.0


@pytest.fixture
def desktop(qapp, monkeypatch):
    """Gives the desktop letters and colours; it has its own again at the end."""
    before = QFont(qapp.font())
    colours = {"now": LIGHT}
    monkeypatch.setattr(look, "desktop_theme", lambda: colours["now"])

    class Desktop:
        def letters(self, points):
            font = QFont(qapp.font())
            font.setPointSizeF(points)
            qapp.setFont(font)

        def colours(self, theme):
            colours["now"] = theme
            QGuiApplication.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Unknown)

    made = Desktop()
    made.letters(USUAL)
    forget_letters()
    yield made
    qapp.setFont(before)
    forget_letters()


def settle(times=6):
    for _ in range(times):
        QApplication.processEvents()


def test_words_fields_and_columns_grow_with_the_letters_and_shrink_with_them(desktop, window):
    window.document.select(Selection("piece", "front-leg"))
    settle()
    stage, table = window.road._stages[0][0], window.ledger._tables[0]
    field = next(one for one in window.findChildren(LengthField) if one.minimumWidth() == 96)
    before = window.grab().toImage()
    wide = table.minimumWidth()
    desktop.letters(LARGE)
    settle()
    assert larger() == pytest.approx(LARGE / 10.0, abs=0.01)
    assert stage.font().pointSizeF() == pytest.approx(1.05 * LARGE, abs=0.1)
    assert sheet_item.lettering(8.0, bold=False)[0].pointSizeF() == pytest.approx(0.8 * LARGE, 0.01)
    assert field.minimumWidth() == grown(96.0) > 96
    assert table.minimumWidth() > 1.3 * wide
    assert table.verticalHeader().defaultSectionSize() == grown(24.0) > 24
    assert clipped(window) == []
    seen = window.view.mapToScene(window.view.viewport().rect()).boundingRect()
    assert seen.contains(window.sheet.content())
    desktop.letters(USUAL)
    settle()
    assert table.minimumWidth() == wide
    assert field.minimumWidth() == 96
    assert window.grab().toImage() == before


def test_what_is_half_typed_stays_and_takes_no_step(desktop, window, qtbot):
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    window.road.open_stage(0)
    before = encoded(window.document.design)
    field = next(one for one in window.road.findChildren(LengthField) if one.isVisible())
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "71")
    typed = field.lineEdit().text()
    assert typed.startswith("71 ")
    for change in (lambda: desktop.letters(LARGE), lambda: desktop.colours(DARK)):
        change()
        settle()
        assert field.hasFocus()
        assert field.lineEdit().text() == typed
    assert window.theme is DARK
    assert encoded(window.document.design) == before
    assert not window.document.history.undo_label
    qtbot.keyClicks(field, "5")
    assert field.lineEdit().text().startswith("715 ")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert encoded(window.document.design) == before


def moved(view, at):
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(at),
        QPointF(view.mapToGlobal(at)),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(view, event)


def dragged(window, qtbot, meanwhile):
    """A node of a line pulled, and what comes in the midst of it."""
    window.document.select(Selection("line", "hand-pocket"))
    settle()
    drawn = next(one for one in window.document.pattern.lines if one.name == "hand-pocket")
    _, place = next(
        pair
        for pair in edit.grips(window.document.design.line("hand-pocket"), drawn)
        if pair[0].kind in ("node", "shape", "start")
    )
    shift = window.sheet.shift_of_panel(drawn.panel)
    view = window.view.viewport()
    start = window.view.mapFromScene(to_scene(place, shift))
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=start)
    moved(view, start + QPoint(2, 8))
    qtbot.wait(5)
    meanwhile()
    moved(view, start + QPoint(3, 16))
    qtbot.wait(5)
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=start + QPoint(3, 16))
    return encoded(window.document.design)


def test_under_a_hand_that_drags_nothing_moves_and_the_new_look_comes_when_it_lets_go(
    desktop, window, qtbot
):
    before = encoded(window.document.design)
    plain = dragged(window, qtbot, lambda: None)
    assert plain != before
    window.document.undo()
    assert encoded(window.document.design) == before
    seen = []

    def change():
        scale = window.view.transform()
        desktop.letters(LARGE)
        desktop.colours(DARK)
        qtbot.wait(250)
        seen.append((window.theme, larger(), window.view.transform() == scale))

    assert dragged(window, qtbot, change) == plain
    assert seen == [(LIGHT, 1.0, True)]
    qtbot.waitUntil(lambda: window.theme is DARK and larger() > 1.3)


def test_the_program_follows_the_desktop_until_the_maker_has_chosen(desktop, window):
    desktop.colours(DARK)
    settle()
    assert window.theme is DARK
    assert theme_of(window) is DARK
    assert window.sheet.theme is DARK
    window.look.choose(False)
    assert (window.theme, recent.dark()) == (LIGHT, False)
    desktop.colours(LIGHT)
    settle()
    desktop.colours(DARK)
    settle()
    assert window.theme is LIGHT
    window.look.choose(None)
    assert (window.theme, recent.dark()) == (DARK, None)
    desktop.colours(LIGHT)
    settle()
    assert window.theme is LIGHT


def test_the_entry_that_is_ticked_is_what_was_chosen(desktop, window):
    ticked = {chosen: one.isChecked() for chosen, one in window._menus._looks.items()}
    assert ticked == {None: True, False: False, True: False}
    window._menus._looks[True].trigger()
    assert window.theme is DARK
    assert [one.isChecked() for one in window._menus._looks.values()] == [False, False, True]
    window._menus._looks[None].trigger()
    assert window.theme is LIGHT


def test_one_change_is_taken_once_and_leads_to_no_other(desktop, window, monkeypatch):
    taken = []
    set_theme = type(window).set_theme
    monkeypatch.setattr(
        type(window), "set_theme", lambda self, theme: taken.append(theme) or set_theme(self, theme)
    )
    desktop.letters(LARGE)
    desktop.colours(DARK)
    for kind in TOLD_BY:
        QApplication.sendEvent(window, QEvent(kind))
    settle(20)
    assert taken == [DARK]
    for kind in TOLD_BY:
        QApplication.sendEvent(window, QEvent(kind))
    settle(20)
    assert taken == [DARK]


def test_a_dialog_that_is_open_has_room_for_the_new_letters(desktop, window, qtbot):
    dialog = BodyDialog(window)
    qtbot.addWidget(dialog)
    with qtbot.waitExposed(dialog):
        dialog.show()
    name = dialog._name
    name.setText("half a na")
    small = dialog.height()
    desktop.letters(LARGE)
    settle()
    label = next(one for one in dialog.findChildren(QLabel) if words_of(one) == "Name")
    assert label.font().pointSizeF() == pytest.approx(LARGE, abs=0.1)
    assert dialog.height() > small
    assert clipped(dialog) == []
    assert name.text() == "half a na"


def test_windows_beside_take_letters_and_colours(desktop, window, qtbot):
    beside = [window.lay_on_cloth(), window.check_pockets(), window.ask_how_much()]
    for one in beside:
        qtbot.waitExposed(one)
    desktop.letters(LARGE)
    desktop.colours(DARK)
    settle(12)
    for one in beside:
        assert theme_of(one) is DARK
        assert clipped(one) == []
        label = next(label for label in one.findChildren(QLabel) if label.isVisible())
        assert label.font().pointSizeF() >= 0.89 * LARGE
    assert beside[0].scene.theme is DARK
    for one in beside:
        one.close()


def test_the_window_that_traces_is_themed_while_it_is_open(desktop, window, qtbot):
    made = window.stash.tracing(stashes.OLD_LEFT)
    with qtbot.waitExposed(made):
        made.show()
    desktop.colours(DARK)
    settle()
    assert made.view.theme is DARK
    assert theme_of(made) is DARK
    made.deleteLater()


def test_a_length_given_twice_is_the_last_and_others_stay(qtbot, desktop):
    label = QLabel("words")
    qtbot.addWidget(label)
    size_with_letters(label, minimumWidth=100.0, minimumHeight=20.0)
    size_with_letters(label, minimumWidth=50.0)
    desktop.letters(20.0)
    forget_letters()
    size_all_again()
    assert (label.minimumWidth(), label.minimumHeight()) == (100, 40)
