"""What a hand drags stays under it, whatever the rest of the window does meanwhile."""

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QFocusEvent, QFont, QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget

from studio.canvas.sheet_item import forget_letters
from tests.window import stashes

LEFT, MIDDLE, NONE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton, Qt.MouseButton.NoButton
WITHIN_PIXELS = 0.75
"""A view scrolls by whole pixels."""


@pytest.fixture
def letters(qapp):
    """Gives the desktop letters of so many points; it has its own again at the end."""
    before = QFont(qapp.font())

    def give(points):
        font = QFont(qapp.font())
        font.setPointSizeF(points)
        qapp.setFont(font)

    give(9.0)
    forget_letters()
    yield give
    qapp.setFont(before)
    forget_letters()


def sheet(window):
    return window.view


def panels(window):
    window._show("panels")
    return window.view


def table(window):
    return window.lay_on_cloth().view


def tracing(window):
    made = window.stash.tracing(stashes.OLD_LEFT)
    made.show()
    return made.view


def send(view, kind, at, button, buttons):
    port = view.viewport()
    spot, place = QPointF(at), QPointF(port.mapToGlobal(at))
    held = Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(port, QMouseEvent(kind, spot, place, button, buttons, held))


def take_hold(view, button=LEFT):
    """A drag begun in the middle of a view; where on the screen the pointer is."""
    at = view.viewport().rect().center()
    send(view, QEvent.Type.MouseMove, at, NONE, NONE)
    send(view, QEvent.Type.MouseButtonPress, at, button, button)
    send(view, QEvent.Type.MouseMove, at + QPoint(9, 9), NONE, button)
    QApplication.processEvents()
    assert view.is_held
    return view.viewport().mapToGlobal(at + QPoint(9, 9))


def let_go(view, screen, button=LEFT):
    send(view, QEvent.Type.MouseButtonRelease, view.viewport().mapFromGlobal(screen), button, NONE)


def under(view, screen):
    """What of the scene lies under a place on the screen, in pixels of the view's own scale."""
    spot = QPointF(view.viewport().mapFromGlobal(screen))
    return view.viewportTransform().inverted()[0].map(spot)


def closed(window, view):
    """Windows beside are closed before the one that they belong to."""
    top = view.window()
    if top is not window:
        top.hide()
        top.deleteLater()


def widen_a_pane(view):
    """The largest change that longer words or larger letters make: a pane beside the view grows."""
    here = view
    while here.parentWidget() is not None:
        beside = here.parentWidget().findChildren(
            QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly
        )
        for one in beside:
            if one is not here and one.isVisible() and one.width() > 150 and one.height() > 150:
                one.setMinimumWidth(one.width() + 26)
                return
        here = here.parentWidget()
    raise AssertionError("no pane beside the view")


def add_a_line_below(view):
    """A sentence under the view comes to need a line more."""
    view.setFixedHeight(view.height() - 18)


@pytest.mark.parametrize("change", [widen_a_pane, add_a_line_below])
@pytest.mark.parametrize("own_view", [False, True])
@pytest.mark.parametrize("button", [LEFT, MIDDLE])
@pytest.mark.parametrize("made", [sheet, panels, table, tracing])
def test_a_pane_that_grows_moves_no_picture_under_the_hand(
    window, qtbot, made, button, own_view, change
):
    view = made(window)
    qtbot.wait(30)
    if own_view:
        view.zoom(1.5)
    screen = take_hold(view, button)
    before, scale, size = under(view, screen), view.scale_now, view.viewport().size()
    corner = view.viewport().mapToGlobal(QPoint())
    change(view)
    for _ in range(8):
        QApplication.processEvents()
    assert view.viewport().size() != size or view.viewport().mapToGlobal(QPoint()) != corner
    send(view, QEvent.Type.MouseMove, view.viewport().mapFromGlobal(screen), NONE, button)
    gone = (under(view, screen) - before) * scale
    assert view.scale_now == scale
    assert abs(gone.x()) <= WITHIN_PIXELS
    assert abs(gone.y()) <= WITHIN_PIXELS
    let_go(view, screen, button)
    if not own_view and button is LEFT:
        qtbot.waitUntil(lambda: not view._let_go._waiting)
        shown = view.viewportTransform()
        view.fit()
        assert shown == view.viewportTransform()
    closed(window, view)


@pytest.mark.parametrize("made", [sheet, panels, table, tracing])
def test_letters_and_colours_that_change_as_a_hand_takes_hold_move_no_picture(
    window, qtbot, letters, made
):
    view = made(window)
    qtbot.wait(30)
    # The new letters are taken, and what follows from them is still to come.
    letters(14.0)
    window.look._take_letters()
    screen = take_hold(view)
    before, scale = under(view, screen), view.scale_now
    window.look.choose(True)
    qtbot.wait(250)
    send(view, QEvent.Type.MouseMove, view.viewport().mapFromGlobal(screen), NONE, LEFT)
    gone = (under(view, screen) - before) * scale
    assert view.scale_now == scale
    assert abs(gone.x()) <= WITHIN_PIXELS
    assert abs(gone.y()) <= WITHIN_PIXELS
    let_go(view, screen)
    qtbot.wait(250)
    seen = view.mapToScene(view.viewport().rect()).boundingRect()
    assert seen.contains(view.content())
    window.look.choose(None)
    closed(window, view)


def test_a_pan_does_not_outlive_the_focus_nor_a_release_that_another_window_had(window):
    view = window.view
    take_hold(view, MIDDLE)
    QApplication.sendEvent(view, QFocusEvent(QEvent.Type.FocusOut))
    assert not view.is_held
    take_hold(view, MIDDLE)
    across = view.horizontalScrollBar().value()
    at = view.viewport().rect().center()
    send(view, QEvent.Type.MouseMove, at + QPoint(60, 0), NONE, NONE)
    assert not view.is_held
    assert view.horizontalScrollBar().value() == across


def test_what_is_saved_under_the_hand_lays_nothing_out_afresh(window, qtbot, tmp_path):
    window.document.save(tmp_path / "a.yoke")
    view = window.view
    screen = take_hold(view)
    calls = []
    window.lay_out_anew = lambda: calls.append(view.is_held)
    window.sheet.is_crowded = lambda _pattern: not calls
    window.document.save(tmp_path / "a.yoke")
    assert calls == []
    let_go(view, screen)
    qtbot.waitUntil(lambda: calls == [False])
