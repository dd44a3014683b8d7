"""Lines and pieces taken away in the window."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from studio.canvas.selection import Selection
from studio.design.file import encoded


def press(window, qtbot, words):
    """Press the button at the foot of the form on the right."""
    (button,) = [b for b in window.details.findChildren(QPushButton) if b.text() == words]
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


@pytest.mark.parametrize(
    ("kind", "name", "went"),
    [
        ("line", "knee-panel", "knee panel"),
        ("line", "fly", "fly-shield"),
        ("piece", "waistband", "waist, other leg"),
        ("piece", "twine-loop", "twine-loop tube"),
    ],
)
def test_one_click_takes_it_away_with_its_seams_and_one_undo_brings_all_back(
    window, qtbot, kind, name, went
):
    before = encoded(window.document.design)
    window.document.select(Selection(kind, name))
    press(window, qtbot, f"Take this {kind} away")
    pattern = window.document.pattern
    assert name not in [piece.name for piece in pattern.design.pieces]
    assert went in window._hint.text()
    assert window.document.selection.kind != kind
    assert window.document.history.undo_label == f"Take away {name}"
    window.document.undo()
    assert encoded(window.document.design) == before


def test_what_something_is_laid_on_stays_and_the_reason_is_told(window, qtbot):
    before = encoded(window.document.design)
    window.document.select(Selection("line", "secateurs-pocket"))
    press(window, qtbot, "Take this line away")
    assert "pencil-pocket is laid on it" in window._hint.text()
    assert encoded(window.document.design) == before


def test_a_leg_is_not_offered_to_be_taken_away(window):
    window.document.select(Selection("piece", "front-leg"))
    words = [button.text() for button in window.details.findChildren(QPushButton)]
    assert "Take this piece away" not in words
