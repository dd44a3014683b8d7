"""What is remembered from one start to the next, and what is in hand after something was added."""

import pytest
from PySide6.QtWidgets import QMenu

from studio.cut.parts import BeltLoops, PatchPocket, ToolLoop
from studio.window import recent
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from tests.window.menu_words import words_of


def choose(window, words):
    """Click an entry of a menu, wherever it is."""
    (action,) = [
        action
        for menu in window.findChildren(QMenu)
        for action in menu.actions()
        if words_of(action) == words
    ]
    action.trigger()


@pytest.mark.parametrize("unit", ["cm", "inch", "mm"])
def test_the_unit_chosen_is_that_of_the_next_window(window, qtbot, tmp_path, unit):
    choose(window, "cm")
    choose(window, unit)
    again = MainWindow(window.document.design, None, recovery=Recovery(tmp_path / "again"))
    qtbot.addWidget(again, before_close_func=lambda one: one.document.history.mark_saved())
    again.take_its_place()
    assert again.unit == unit
    ticked = [
        words_of(action)
        for menu in again.findChildren(QMenu)
        for action in menu.actions()
        if action.isChecked() and words_of(action) in ("mm", "cm", "inch")
    ]
    assert ticked == [unit]


def test_a_unit_that_is_none_is_not_taken_from_the_settings(window):
    recent.QSettings().setValue("unit", "furlong")
    assert recent.unit() == "mm"


@pytest.mark.parametrize(
    ("part", "kind"),
    [
        (PatchPocket(name="phone"), "line"),
        (ToolLoop(name="hammer"), "piece"),
        (BeltLoops(name="loops"), "piece"),
    ],
    ids=["patch", "loop", "belt"],
)
def test_what_was_added_is_picked(window, part, kind):
    assert window.adding.take_part(part)
    assert (window.document.selection.kind, window.document.selection.name) == (kind, part.name)
