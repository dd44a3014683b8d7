"""A number that is being typed is read before the design is saved or another is opened."""

import os

import pytest
from msgspec.structs import replace
from PySide6.QtTest import QTest

from studio.canvas.selection import Selection
from studio.cut.patch_shape import shape_of
from studio.design.file import load, save
from studio.window import dialogs
from studio.window.line_form import LineForm

POCKET = "secateurs-pocket"


def width_of(design):
    return shape_of(design.line(POCKET)).width


@pytest.fixture
def typing(window, qtbot):
    """The width of a pocket with 150 typed in it, and neither Enter nor Tab pressed."""
    window.activateWindow()
    window.document.select(Selection("line", POCKET))
    field = window.details.findChild(LineForm).patch.width_field
    field.setFocus()
    qtbot.waitUntil(field.hasFocus)
    field.selectAll()
    QTest.keyClicks(field, "150")
    assert width_of(window.document.design) != 150.0
    return field


def test_what_is_typed_is_saved_and_the_field_keeps_the_hand(window, typing, tmp_path):
    window.document.path = tmp_path / "mine.yoke"
    assert window.files.save()
    assert width_of(load(tmp_path / "mine.yoke")) == 150.0
    assert not window.document.history.is_dirty


def test_what_is_typed_is_asked_about_and_not_given_to_another_design(
    window, typing, tmp_path, monkeypatch
):
    asked = []

    def leave(_over, name):
        asked.append((name, width_of(window.document.design)))
        return dialogs.Answer.DISCARD

    monkeypatch.setattr(dialogs, "ask_unsaved", leave)
    other, without = tmp_path / "other.yoke", tmp_path / "without.yoke"
    design = window.document.design
    save(replace(design, name="other"), other)
    save(replace(design, lines=(), holds=(), pieces=(), joins=(), finishes=()), without)
    for path in (other, without):
        assert window.files.open_file(path)
        assert window.document.design == load(path)
        assert not window.document.history.is_dirty
    assert asked == [("Orchard trousers", 150.0)]


def test_a_disk_that_knows_no_permissions_is_told_of(window, tmp_path, monkeypatch):
    told, path = [], tmp_path / "mine.yoke"
    window.document.save(path)
    window.document.told.connect(told.append)

    def refuse(*_):
        raise PermissionError(1, "Operation not permitted")

    path.chmod(0o644)
    monkeypatch.setattr(os, "chmod", refuse)
    window.document.change("Name", replace(window.document.design, name="one"))
    assert window.files.save()
    assert "could not be set on this disk" in told[-1]
    assert load(path).name == "one"
