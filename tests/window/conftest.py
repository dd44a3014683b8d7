"""A window on the demonstration, with its unsaved work kept in a folder of the test's own."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QFileDialog

from studio.demo import demo_design
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from studio.window.widgets import end_typing


@pytest.fixture(autouse=True)
def settings_of_its_own(tmp_path):
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path))


def given_up(window):
    """Whatever was done in a window, or is half typed, is not asked about when it closes."""
    end_typing()
    window.document.history.mark_saved()


@pytest.fixture
def window(qtbot, tmp_path):
    made = MainWindow(replace(demo_design(), stash=()), None, recovery=Recovery(tmp_path / "aside"))
    qtbot.addWidget(made, before_close_func=lambda _: given_up(made))
    made.resize(1400, 900)
    with qtbot.waitExposed(made):
        made.show()
    made.view.setFocus()
    return made


@pytest.fixture
def names_offered(monkeypatch):
    """What is offered when a file is to be saved under a name; the maker gives up each time."""
    offered = []

    def ask(_over, _title, start, _kinds):
        offered.append(start)
        return "", ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", ask)
    return offered
