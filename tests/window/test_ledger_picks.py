"""The ledger shows what is picked, and picks by keys; what is grave is told before files are
written.
"""

from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel

from studio.canvas.selection import NOTHING, Selection
from studio.check import Finding
from studio.design import OnEdge
from studio.design.alterations import FairEdge
from studio.window.export_dialog import ExportDialog, grave_words


def rows_shown(window):
    table = window.ledger._tables[0]
    names = [row.name for row in window.document.pattern.ledger]
    return [names[index.row()] for index in table.selectionModel().selectedRows()]


def test_the_row_of_the_seam_that_is_picked_is_marked_and_no_other(window):
    assert rows_shown(window) == []
    for name in ("inseam", "waist"):
        window.document.select(Selection("join", name))
        assert rows_shown(window) == [name]
    window.document.select(Selection("piece", "yoke"))
    assert rows_shown(window) == []
    window.document.select(Selection("join", "inseam"))
    window.document.select(NOTHING)
    assert rows_shown(window) == []


def test_a_seam_is_picked_with_the_arrow_keys(window, qtbot):
    table = window.ledger._tables[0]
    names = [row.name for row in window.document.pattern.ledger]
    window.document.select(Selection("join", names[0]))
    table.setFocus()
    for name in names[1:4]:
        qtbot.keyClick(table, Qt.Key.Key_Down)
        assert window.document.selection == Selection("join", name)
    qtbot.keyClick(table, Qt.Key.Key_Up)
    assert rows_shown(window) == [names[2]]


def test_tab_through_the_window_picks_nothing_and_goes_from_a_pane_to_what_is_in_it(window, qtbot):
    window.document.select(Selection("join", "inseam"))
    window.view.setFocus()
    order = []
    for _ in range(60):
        order.append(QApplication.focusWidget().accessibleName())
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    assert window.document.selection == Selection("join", "inseam")
    at = order.index("Details of what is picked")
    assert order[at + 1 : at + 3] == ["How it is sewn", "Which side wraps"]
    assert at < order.index("Seam ledger")


FORTH, BACK = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.mark.parametrize("modifier", [FORTH, BACK])
def test_tab_goes_through_the_grips_of_a_line_and_then_on(window, qtbot, modifier):
    window.document.select(Selection("line", "yoke"))
    window.view.setFocus()
    grips = []
    while window.view.hasFocus():
        qtbot.keyClick(window.view, Qt.Key.Key_Tab, modifier)
        grips.append(window.document.selection.grip)
        assert len(grips) < 40
    assert len(set(grips)) == len(grips) > 4
    assert window.document.selection == Selection("line", "yoke")


def test_a_row_reached_by_tab_is_picked_by_enter(window, qtbot):
    table = window.ledger._tables[0]
    table.setFocus(Qt.FocusReason.TabFocusReason)
    assert window.document.selection == NOTHING
    table.setCurrentIndex(window.ledger.seams.index(0, 0))
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert window.document.selection.kind == "join"


def test_a_seam_that_goes_takes_its_mark_along(window):
    from msgspec.structs import replace

    window.document.select(Selection("join", "inseam"))
    design = window.document.history.design
    rest = tuple(join for join in design.joins if join.name != "inseam")
    window.document.change("Apart", replace(design, joins=rest))
    assert rows_shown(window) == []


def test_what_is_grave_is_told_before_files_are_written(qtbot):
    grave = [Finding("join", "grave", f"seam {k}", "differs") for k in range(6)]
    fine = [
        Finding("join", "grave", "hem", "differs", accepted="meant"),
        Finding("join", "warning", "fly", "short"),
    ]
    assert grave_words(fine) == ""
    assert "stand on seam 0. The pieces" in grave_words([grave[0], grave[0], *fine])
    assert "seam 0, seam 1, seam 2, seam 3 and 2 more." in grave_words(grave)
    for findings, count in ((fine, 0), (grave, 1)):
        dialog = ExportDialog(Path("."), None, "cm", findings)
        qtbot.addWidget(dialog)
        told = [one for one in dialog.findChildren(QLabel) if "Grave findings" in one.text()]
        assert len(told) == count


def test_a_finding_on_an_edge_of_a_panel_leads_to_it(window):
    design = window.document.design
    unfaired = tuple(one for one in design.alterations if not isinstance(one, FairEdge))
    window.document.change("Without fairing", replace(design, alterations=unfaired))
    rules = [one.rule for one in window.document.pattern.findings]
    window.ledger.findings.go_to(rules.index("kink"))
    assert window.document.selection == Selection("edge", "back.side")


def test_what_does_not_match_stands_first_and_its_row_leads_to_it(window):
    design = window.document.history.design
    line = design.line("yoke")
    low = replace(line.path, end=OnEdge("back.side", "back.waist", mm=400.0))
    window.document.change("Drag the yoke", design.with_line(replace(line, path=low)))
    ledger = window.document.pattern.ledger
    wrong = [row.name for row in ledger if row.verdict != "match"]
    right = [row.name for row in ledger if row.verdict == "match"]
    assert wrong
    assert ledger[0].verdict == "match"
    shown = [cells[0] for cells in window.ledger.seams._cells]
    assert shown == wrong + right
    table = window.ledger._tables[0]
    table.clicked.emit(window.ledger.seams.index(0, 0))
    assert window.document.selection == Selection("join", wrong[0])
    assert table.currentIndex().row() == 0
    window.document.undo()
    assert [cells[0] for cells in window.ledger.seams._cells] == [row.name for row in ledger]
    assert table.currentIndex().row() == [row.name for row in ledger].index(wrong[0])
