"""The search in the laying table: a lay is found, shown, stopped, kept as one step, and gone."""

import os
from pathlib import Path

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QLabel

from studio.cloth.referee import faults
from studio.curves import Vector
from studio.design.cloth import Lay, Placement
from studio.design.file import encoded
from tests.window import stashes
from tests.window.test_lay_window import lay_of, mouse, opened, placed, sound

LOCKED = Placement("knee-panel", 0, "waxed end", (150.0, 230.0), locked=True)
NOTHING_LAID = Lay()
SOUGHT = 4
"""Two knee panels and two pocket bags: what lies on the main cloth is left out."""


@pytest.fixture
def laying(qtbot, tmp_path):
    """A search of which is soon through."""
    return lean(qtbot, tmp_path)


def lean(qtbot, tmp_path, lay=NOTHING_LAID):
    made = opened(qtbot, tmp_path, replace(stashes.lean(), lay=lay))
    made.bar.left_out_changed.emit(frozenset({"main"}))
    return made


def processes():
    """Searches that run below this process, as Linux lists them."""
    found = []
    for path in Path("/proc").glob("[0-9]*"):
        try:
            words = (path / "cmdline").read_bytes()
            parent = (path / "stat").read_text().rpartition(")")[2].split()[1]
        except OSError:
            continue
        if parent == str(os.getpid()) and b"studio.cloth.worker" in words:
            found.append(path.name)
    return found


pytestmark = pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no list of processes")


def found(laying, qtbot, pieces=1):
    """Wait for a lay of so many pieces."""
    qtbot.waitUntil(lambda: len(laying.table.laid) >= pieces, timeout=60_000)


def click(laying, qtbot):
    qtbot.mouseClick(laying.bar.find_button, Qt.MouseButton.LeftButton)


def test_a_search_is_shown_as_it_goes_and_its_best_is_one_step(laying, qtbot):
    document = laying.main.document
    before = encoded(document.history.design)
    click(laying, qtbot)
    assert laying.bar.find_button.text() == "Stop"
    assert processes()
    found(laying, qtbot, SOUGHT)
    # Shown, and no step yet.
    assert lay_of(laying).placements == ()
    assert "4 of 4 pieces laid" in laying.bar.progress.text()
    # Nothing beside the table speaks of the lay before.
    cards = [label.text() for label in laying.pane.findChildren(QLabel) if label.isVisible()]
    assert not [words for words in cards if "in the tray" in words]
    assert laying.pane._bars
    assert any(bar._share > 0.0 for bar in laying.pane._bars)
    click(laying, qtbot)
    assert laying.bar.find_button.text() == "Find a lay"
    assert len(lay_of(laying).placements) == SOUGHT
    assert sound(laying)
    assert "All 4 pieces lie on the cloth." in laying.pane.verdict.text()
    assert document.history.undo_label == "Find a lay"
    document.undo()
    assert encoded(document.history.design) == before


def test_stopped_the_processes_are_gone(laying, qtbot):
    click(laying, qtbot)
    found(laying, qtbot)
    assert processes()
    click(laying, qtbot)
    qtbot.waitUntil(lambda: not processes(), timeout=2000)


def test_closing_the_table_ends_the_search_and_keeps_the_best(laying, qtbot):
    click(laying, qtbot)
    found(laying, qtbot)
    laying.close()
    qtbot.waitUntil(lambda: not processes(), timeout=2000)
    assert lay_of(laying).placements != ()


def test_closing_the_main_window_ends_the_search(laying, qtbot, monkeypatch):
    click(laying, qtbot)
    found(laying, qtbot)
    monkeypatch.setattr(laying.main.files, "may_leave", lambda: True)
    laying.main.close()
    qtbot.waitUntil(lambda: not processes(), timeout=2000)
    assert not laying.search.is_running


def test_a_locked_piece_stays_where_it_is(qtbot, tmp_path):
    laying = lean(qtbot, tmp_path, Lay((LOCKED,)))
    click(laying, qtbot)
    found(laying, qtbot, SOUGHT)
    click(laying, qtbot)
    assert placed(laying, "knee-panel", 0) == LOCKED
    assert sound(laying)
    assert [one for one in lay_of(laying).placements if one.locked] == [LOCKED]


def test_what_is_left_out_but_lies_there_stays_and_is_not_locked(qtbot, tmp_path):
    there = Placement("bearer", 0, "old leg, left", (300.0, 300.0))
    laying = lean(qtbot, tmp_path, Lay((there,)))
    click(laying, qtbot)
    found(laying, qtbot, SOUGHT + 1)
    click(laying, qtbot)
    assert placed(laying, "bearer", 0) == there
    assert {one.piece for one in lay_of(laying).placements} == {
        "bearer",
        "knee-panel",
        "pocket-bag",
    }


def test_a_hand_on_a_piece_stops_the_search_and_keeps_its_best(laying, qtbot):
    click(laying, qtbot)
    found(laying, qtbot, SOUGHT)
    start = laying.scene.middle_of(("pocket-bag", 0))
    mouse(laying, QEvent.Type.MouseButtonPress, start)
    mouse(laying, QEvent.Type.MouseMove, start + Vector(60.0, 0.0))
    assert not laying.search.is_running
    assert len(lay_of(laying).placements) == SOUGHT
    mouse(laying, QEvent.Type.MouseButtonRelease, start + Vector(60.0, 0.0))
    assert sound(laying)


def test_a_design_that_takes_a_step_is_sought_anew(laying, qtbot):
    click(laying, qtbot)
    found(laying, qtbot)
    document = laying.main.document
    design = document.history.design
    document.change("Wider seams", replace(design, standard_allowance=14.0))
    assert laying.search.is_running
    found(laying, qtbot, SOUGHT)
    click(laying, qtbot)
    table = laying.table
    assert not faults(table.items.values(), table.beds.values(), table.laid, table.lay.gap)
    assert document.history.design.standard_allowance == 14.0


def test_what_does_not_fit_is_told_with_what_can_be_done(qtbot, tmp_path):
    design = stashes.lean()
    design = replace(design, stash=(design.stash[0], stashes.NARROW, design.stash[2]))
    laying = opened(qtbot, tmp_path, design)
    laying.bar.left_out_changed.emit(frozenset({"main"}))
    click(laying, qtbot)
    found(laying, qtbot, 2)
    click(laying, qtbot)
    assert {item.piece for item in laying.table.not_laid} == {"knee-panel"}
    assert "2 pieces do not lie yet" in laying.pane.verdict.text()
    qtbot.waitUntil(lambda: bool(laying.adviser.advice), timeout=60_000)
    advice = laying.adviser.advice[("knee-panel", 0)]
    assert "strip" in advice.sentences[0]
    laying.adviser.forget()


def test_with_nothing_in_the_stash_no_search_begins(qtbot, tmp_path):
    laying = opened(qtbot, tmp_path, stashes.with_stash())
    click(laying, qtbot)
    assert not laying.search.is_running
    assert laying.bar.find_button.text() == "Find a lay"


def without_last(laying, monkeypatch):
    """A search that always leaves the last piece it has laid in the tray."""
    lay_of_found = laying.search._lay_of

    def left(layout):
        lay = lay_of_found(layout)
        return replace(lay, placements=lay.placements[:-1])

    monkeypatch.setattr(laying.search, "_lay_of", left)


def test_stopped_what_the_search_has_left_is_laid_where_there_is_room(laying, qtbot, monkeypatch):
    without_last(laying, monkeypatch)
    click(laying, qtbot)
    found(laying, qtbot, SOUGHT - 1)
    click(laying, qtbot)
    assert len(lay_of(laying).placements) == SOUGHT
    assert sound(laying)
    assert laying.main.document.history.undo_label == "Find a lay"


def test_ended_by_itself_a_search_leaves_nothing_that_has_room(laying, qtbot, monkeypatch):
    without_last(laying, monkeypatch)
    click(laying, qtbot)
    found(laying, qtbot, SOUGHT - 1)
    # The processes have come to their end.
    laying.search._searching._end_workers()
    qtbot.waitUntil(lambda: not laying.search.is_running, timeout=20_000)
    assert len(lay_of(laying).placements) == SOUGHT
    assert sound(laying)
