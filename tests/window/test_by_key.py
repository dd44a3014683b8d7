"""Without a mouse: what has the focus is seen, no key does two things, no letter two menus."""

import re

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog, QMenu, QPushButton, QSlider, QWidget

from studio.canvas.selection import Selection
from studio.window.lay_panes import _Clicked
from studio.window.style import style_sheet_of
from studio.window.widgets import redo_keys

SEEN = 24
"""So many pixels at least differ about a widget that has the focus."""


def reached_by_tab(window):
    return [
        widget
        for widget in window.findChildren(QWidget)
        if widget.isVisible()
        and widget.isEnabled()
        and widget.window() is window
        and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
        and widget.focusProxy() is None
        and not isinstance(widget, QSlider)  # Qt's own, with a mark of its own.
        and not widget.findChildren(QMenu, options=Qt.FindChildOption.FindDirectChildrenOnly)
    ]


def differing(one, other):
    assert one.size() == other.size()
    return sum(
        one.pixel(x, y) != other.pixel(x, y)
        for x in range(one.width())
        for y in (*range(min(4, one.height())), *range(max(0, one.height() - 4), one.height()))
    )


def unmarked(window, widgets):
    """What looks alike with the focus and without it, along its upper and lower edge."""
    found = []
    for widget in widgets:
        window.setFocus()
        QApplication.processEvents()
        before = widget.grab().toImage()
        widget.setFocus(Qt.FocusReason.TabFocusReason)
        QApplication.processEvents()
        assert widget.hasFocus(), widget
        if differing(before, widget.grab().toImage()) < SEEN:
            found.append(f"{type(widget).__name__} {widget.accessibleName()}")
    return found


def test_whatever_tab_reaches_shows_that_it_has_the_focus(window, qtbot):
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    for stage in (2, 3, 5, 7):
        window.road.open_stage(stage)
        window.document.select(Selection("join", "side seam"))
        QApplication.processEvents()
        widgets = reached_by_tab(window)
        assert len(widgets) > 10
        assert unmarked(window, widgets) == []


def test_a_hand_that_works_on_the_sheet_sees_no_ring(window, qtbot):
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    view = window.view
    window.setFocus()
    QApplication.processEvents()
    before = view.grab().toImage()
    for reason, ringed in (
        (Qt.FocusReason.MouseFocusReason, False),
        (Qt.FocusReason.TabFocusReason, True),
        (Qt.FocusReason.ActiveWindowFocusReason, True),  # As it was when another window came.
        (Qt.FocusReason.MouseFocusReason, False),
    ):
        view.setFocus(reason)
        QApplication.processEvents()
        assert view.hasFocus()
        assert (differing(before, view.grab().toImage()) >= SEEN) == ringed, reason
        view.clearFocus()


def test_a_row_of_the_laying_table_shows_that_it_has_the_focus(qtbot, window):
    holder = QDialog()
    holder.setStyleSheet(style_sheet_of(window.theme))
    qtbot.addWidget(holder)
    row, other = _Clicked("a row", lambda: None), QPushButton("other", holder)
    row.setParent(holder)
    row.setGeometry(0, 40, 200, 40)
    other.setGeometry(0, 0, 100, 30)
    holder.resize(240, 100)
    with qtbot.waitExposed(holder):
        holder.show()
    holder.activateWindow()
    qtbot.waitUntil(holder.isActiveWindow)
    other.setFocus()
    assert unmarked(holder, [row]) == []


def all_actions(menu):
    for action in menu.actions():
        yield action
        if action.menu() is not None:
            yield from all_actions(action.menu())


def test_no_key_does_two_things_and_no_letter_opens_two_menus(window):
    keys = [
        keys.toString()
        for action in set(all_actions(window.menuBar()))
        for keys in action.shortcuts()
    ]
    assert len(keys) > 15
    assert len(keys) == len(set(keys))
    letters = [re.search("&(.)", one.text()).group(1).lower() for one in window.menuBar().actions()]
    assert len(letters) == len(set(letters))


def test_what_is_done_again_by_key_is_done_by_either_key_in_every_window(window):
    assert {"Ctrl+Y", "Ctrl+Shift+Z"} <= {keys.toString() for keys in redo_keys()}
