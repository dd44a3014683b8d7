"""A window on the demonstration, with its unsaved work kept in a folder of the test's own."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QSettings

from studio.demo import demo_design
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery


@pytest.fixture(autouse=True)
def settings_of_its_own(tmp_path):
    QSettings.setDefaultFormat(QSettings.Format.IniFormat)
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path))


@pytest.fixture
def window(qtbot, tmp_path):
    made = MainWindow(replace(demo_design(), stash=()), None, recovery=Recovery(tmp_path / "aside"))
    qtbot.addWidget(made, before_close_func=lambda _: made.document.history.mark_saved())
    made.resize(1400, 900)
    with qtbot.waitExposed(made):
        made.show()
    made.view.setFocus()
    return made
