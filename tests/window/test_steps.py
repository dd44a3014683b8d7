"""The recipe in the window: added, switched, moved, taken away, typed and pulled."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QLabel, QMenu, QToolButton

from studio.alter import KINDS, kind_of
from studio.canvas.paths import to_scene
from studio.canvas.selection import Selection
from studio.demo import ORCHARD_BODY
from studio.design import FoldPleat, Hinge, SwingRise
from studio.design.alterations import TrueSeam
from studio.design.file import encoded
from studio.design.plain import plain_design
from tests.shapes import deep_dart
from tests.window.menu_words import words_of


def pick(window, at):
    window.document.select(Selection("step", str(at)))


def hinge_at(window):
    steps = window.document.design.alterations
    return next(at for at, step in enumerate(steps) if isinstance(step, Hinge))


def drag(window, qtbot, start, by):
    view = window.view.viewport()
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=start)
    event = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(start + by),
        QPointF(view.mapToGlobal(start + by)),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(view, event)
    qtbot.wait(5)


def test_a_handle_of_the_picked_step_is_pulled_and_undone(window, qtbot):
    at = hinge_at(window)
    before = encoded(window.document.design)
    pick(window, at)
    window.view.fit(window.sheet.box_of(window.document.selection))
    made = window.document.pattern.steps[at]
    handle = next(
        h for h in kind_of(made.step).handles(made.before, made.step) if h.field == "amount"
    )
    start = window.view.mapFromScene(to_scene(handle.at, window.sheet.shift_of_panel("back")))
    drag(window, qtbot, start, QPoint(0, -30))
    qtbot.mouseRelease(window.view.viewport(), Qt.MouseButton.LeftButton, pos=start)
    assert window.document.design.alterations[at].amount > 25.0
    assert "Hinge" in window.document.history.undo_label
    window.document.undo()
    assert encoded(window.document.design) == before


def test_a_number_typed_for_a_step_is_one_step_of_the_history(window):
    at = hinge_at(window)
    pick(window, at)
    form = window.details.form
    field = next(w for w, known, _ in form._shown if known.name == "amount")
    field.setValue(12.0)
    assert window.document.design.alterations[at].amount == 12.0
    assert window.document.history.undo_label == "Set opens by"
    window.document.undo()
    assert field.value() == pytest.approx(20.0)


def test_steps_are_switched_moved_and_taken_away(window):
    steps = window.road._steps
    names = [type(step).__name__ for step in window.document.design.alterations]
    steps._rows[0][0].setChecked(False)
    assert not window.document.design.alterations[0].active
    pick(window, 1)
    steps._move(-1)
    moved = [type(step).__name__ for step in window.document.design.alterations]
    assert moved[:2] == names[1::-1]
    assert window.document.selection == Selection("step", "0")
    steps._remove()
    assert len(window.document.design.alterations) == len(names) - 1
    for _ in range(3):
        window.document.undo()
    assert [type(step).__name__ for step in window.document.design.alterations] == names


def test_every_kind_can_be_added_from_the_menu_and_its_form_opens(window):
    steps = window.road._steps
    menu = QMenu()
    steps._fill(menu)
    parts = [action.menu() for action in menu.actions()]
    assert [part.title() for part in parts] == ["&Front", "&Back"]
    titles = {words_of(action) for part in parts for action in part.actions()}
    assert {kind.title for kind in KINDS.values()} <= titles
    for action in parts[1].actions():
        count = len(window.document.design.alterations)
        action.trigger()
        assert len(window.document.design.alterations) == count + 1
        assert window.details.form is not None
        window.document.undo()


def test_a_step_that_cannot_be_done_is_marked_and_told_by_name(window):
    at = next(
        k for k, s in enumerate(window.document.design.alterations) if isinstance(s, SwingRise)
    )
    pick(window, at)
    form = window.details.form
    field = next(w for w, known, _ in form._shown if known.name == "amount")
    field.setValue(900.0)
    button = window.road._steps._rows[at][1]
    assert "⚠" in button.text()
    told = [f.message for f in window.document.pattern.findings if f.rule == "alteration"]
    assert told
    assert "Swing in the rise" in told[0]


def test_a_place_of_a_step_can_be_chosen_and_typed(window):
    at = hinge_at(window)
    pick(window, at)
    form = window.details.form
    holder = next(w for w, known, _ in form._shown if known.name == "opening")
    combo = holder.findChildren(type(holder.children()[1]))[0]
    assert combo.currentText() == "back.rise, from back.waist"


def test_a_toile_note_is_written_taken_and_struck_out(window):
    toile = window.road._toile
    toile._place.setCurrentText("back rise")
    toile._amount.setValue(15.0)
    count = len(window.document.design.alterations)
    toile.add()
    assert window.document.design.toile[0].amount == 15.0
    toile.take(0)
    made = window.document.design
    assert len(made.alterations) == count + 1
    assert made.alterations[-1].name == "back rise 15.0 mm too short"
    assert made.toile[0].taken
    window.document.undo()
    assert len(window.document.design.alterations) == count
    toile.drop(0)
    assert window.document.design.toile == ()


def test_of_a_notes_steps_only_the_ticked_are_taken(window):
    toile = window.road._toile
    toile._place.setCurrentText("hip")
    toile._amount.setValue(20.0)
    toile.add()
    ticks = toile.findChildren(QCheckBox)
    assert len(ticks) == 2
    take = next(b for b in toile.findChildren(QToolButton) if b.text() == "Take these steps")
    for tick in ticks:
        tick.setChecked(False)
    assert not take.isEnabled()
    ticks[1].setChecked(True)
    take.click()
    last = window.document.design.alterations[-1]
    assert (last.panel, last.amount) == ("back", 5.0)
    assert window.document.design.toile[0].taken


def test_what_a_note_proposes_follows_the_panels_and_a_step_in_the_way_is_told(window):
    plain = plain_design(ORCHARD_BODY)
    window.document.change("plain", plain)
    toile = window.road._toile
    toile._place.setCurrentText("front rise")
    toile._misfit.setCurrentIndex(toile._misfit.findData("short"))
    toile._amount.setValue(12.0)
    toile.add()

    def words():
        return [one.accessibleName() for one in toile.findChildren(QCheckBox)]

    assert words() == ["Hinge the front open by 12.0 mm at front.rise, turning about front.side."]
    deep = deep_dart()
    steps = (deep, FoldPleat("front", "deep"))
    window.document.change("pleat", replace(window.document.design, alterations=steps))
    emptied_later(window)
    assert words() == []
    told = [label.text() for label in toile.findChildren(QLabel)]
    assert any("crosses the dart deep" in text for text in told)
    window.document.undo()
    emptied_later(window)
    assert len(words()) == 1


def emptied_later(window):
    """Let go of cards that were taken away."""
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def test_the_edge_a_seam_is_trued_to_is_chosen_among_those_of_all_panels(window):
    back = next(p for p in window.document.pattern.panels if p.name == "back")
    window.road._steps._add(KINDS[TrueSeam].fresh(back))
    box = next(
        box
        for box in window.details.form.findChildren(QComboBox)
        if box.accessibleName() == "As long as"
    )
    assert box.currentText() == "front.side"
    offered = {box.itemText(at) for at in range(box.count())}
    assert {"front.side", "front.inseam", "back.rise"} <= offered
    box.setCurrentText("back.side")
    box.activated.emit(box.currentIndex())
    assert window.document.design.alterations[-1].other == "back.side"
