"""Forms made anew by what is typed in them: the field that was typed in outlives its own signal."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from studio.canvas.selection import Selection
from studio.design.cloth import Roll
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from tests.window import stashes


@pytest.fixture
def window(qtbot, tmp_path):
    made = MainWindow(stashes.roomy(), None, recovery=Recovery(tmp_path / "aside"))
    qtbot.addWidget(made, before_close_func=lambda _: made.document.history.mark_saved())
    with qtbot.waitExposed(made):
        made.show()
    made.activateWindow()
    return made


def named_field(window, accessible):
    fields = window.details.findChildren(QLineEdit)
    return next(one for one in fields if one.accessibleName() == accessible)


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab])
@pytest.mark.parametrize("kind", ["line", "cloth", "stock"])
def test_a_field_outlives_the_name_typed_in_it(window, qtbot, kind, key):
    design = window.document.design
    name, accessible = {
        "line": (design.lines[0].name, "Name of the line"),
        "cloth": (design.cloths[0].name, "Name"),
        "stock": (next(one.name for one in design.stash if isinstance(one, Roll)), "Name"),
    }[kind]
    window.document.select(Selection(kind, name))
    field = named_field(window, accessible)
    gone, told, refused = [], [], []
    field.destroyed.connect(lambda: gone.append(True))
    # Heard after the form's own hearing, which has made the form anew by then.
    field.editingFinished.connect(lambda: told.append(list(gone)))
    window.document.refused.connect(refused.append)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "another")
    qtbot.keyClick(field, key)
    assert told == [[]]
    assert window.document.selection == Selection(kind, "another")
    assert named_field(window, accessible) is not field
    qtbot.waitUntil(lambda: bool(gone), timeout=2000)
    assert not refused
