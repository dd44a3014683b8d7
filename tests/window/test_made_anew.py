"""Panes follow the design: forms made anew by what is typed in them, rows and fields after undo."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLineEdit, QPushButton

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


def entry(window, name):
    rows = window.road.findChildren(QPushButton)
    return next(one.text() for one in rows if one.text().startswith(f"{name}   "))


def test_a_row_of_the_road_tells_what_a_line_and_a_piece_are_by_now(window):
    document = window.document
    line, piece = document.design.lines[0], document.design.pieces[0]
    other = "mark" if line.kind != "mark" else "seam"
    design = document.design.with_line(replace(line, kind=other))
    document.change("Another kind", design)
    assert f"   {other}," in entry(window, line.name)
    cloth = next(one.name for one in design.cloths if one.name != piece.cloth)
    pieces = (replace(piece, cloth=cloth), *design.pieces[1:])
    document.change("Another cloth", replace(design, pieces=pieces))
    assert entry(window, piece.name).endswith(f"   {cloth}")
    document.undo()
    assert entry(window, piece.name).endswith(f"   {piece.cloth}")


def test_the_shape_of_notches_follows_an_undo(window):
    boxes = window.road.findChildren(QComboBox)
    box = next(one for one in boxes if one.accessibleName() == "Notches are cut as")
    before = box.currentText()
    assert before != "U"
    box.textActivated.emit("U")
    assert box.currentText() == "U"
    window.document.undo()
    assert box.currentText() == before


@pytest.mark.parametrize("wanted", ["", "a.b"])
def test_a_name_that_is_refused_gives_way_to_the_name_there_is(window, qtbot, wanted):
    name = window.document.design.lines[0].name
    window.document.select(Selection("line", name))
    refused = []
    window.document.refused.connect(refused.append)
    field = named_field(window, "Name of the line")
    field.setFocus()
    field.setText(wanted)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.text() == name
    assert len(refused) == 1
