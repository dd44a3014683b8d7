"""A seam walked in the window: by slider and play, notched, ended."""

import pytest
from PySide6.QtCore import Qt

from studio.canvas.selection import Selection
from studio.design.file import encoded


def begin(window, name="side seam"):
    window.document.select(Selection("join", name))
    window.walk()
    return window.walking


def test_the_slider_rolls_one_side_along_the_other(window):
    bar = begin(window)
    assert bar.isVisible()
    bar.slider.setValue(2000)
    assert f"{bar.walk.length_a / 2:.1f} mm of" in bar._told.text()
    assert "notches meet" in bar._found.text()
    assert all(not item.isVisible() for item in window.sheet._pieces.values())
    bar.end()
    assert not bar.isVisible()
    assert all(item.isVisible() for item in window.sheet._pieces.values())
    assert window.view.tool is window.tool


def test_play_runs_to_the_end_and_stops(window, qtbot):
    bar = begin(window)
    bar.slider.setValue(3950)
    bar.toggle_play()
    qtbot.waitUntil(lambda: not bar._timer.isActive(), timeout=3000)
    assert bar.slider.value() == bar.slider.maximum()


def test_a_notch_is_added_on_both_sides_where_the_walk_stands(window):
    before = encoded(window.document.design)
    bar = begin(window, "inseam")
    count = {
        name: len(window.document.pattern.piece(name).notches) for name in ("front-leg", "back-leg")
    }
    bar.slider.setValue(1000)
    bar.notch_here()
    for name, had in count.items():
        assert len(window.document.pattern.piece(name).notches) == had + 1
    assert any(abs(met.along_a - bar.walk.length_a / 4) < 0.2 for met in bar.walk.met)
    window.document.undo()
    assert encoded(window.document.design) == before


def test_a_notch_set_by_hand_is_taken_away_where_the_walk_stands_on_it(window):
    bar = begin(window, "inseam")
    bar.slider.setValue(1000)
    assert bar._notch.text() == "Notch both here"
    bar.notch_here()
    assert bar._notch.text() == "Take this notch away"
    bar.slider.setValue(1040)
    assert bar._notch.text() == "Notch both here"
    bar.slider.setValue(1001)
    had = next(join for join in window.document.design.joins if join.name == "inseam").notches
    bar.notch_here()
    kept = next(join for join in window.document.design.joins if join.name == "inseam").notches
    assert len(kept) == len(had) - 1
    assert window.document.history.undo_label.startswith("No notch on inseam")
    bar.end()


@pytest.mark.parametrize("tick", [0, 40, 3970, 4000])
def test_where_no_notch_is_cut_that_is_told_and_none_is_kept(window, tick):
    bar = begin(window, "inseam")
    before = window.document.design
    bar.slider.setValue(tick)
    bar.notch_here()
    assert "No notch is cut within 12.0 mm of the end" in window._hint.text()
    assert window.document.design is before
    bar.end()


def test_a_notch_where_a_patch_is_walked_is_cut_in_the_patch_and_drilled_under_it(window):
    bar = begin(window, "back pocket")
    pattern = window.document.pattern
    patch, leg = pattern.piece("back-pocket"), pattern.piece("back-leg")
    bar.slider.setValue(1000)
    bar.notch_here()
    pattern = window.document.pattern
    assert len(pattern.piece("back-pocket").notches) == len(patch.notches) + 1
    assert len(pattern.piece("back-leg").drills) == len(leg.drills) + 1
    assert "One notch meets." in bar._found.text()
    bar.end()


def test_escape_ends_the_walk(window, qtbot):
    bar = begin(window)
    qtbot.keyClick(bar.slider, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: bar.walk is None, timeout=1000)


def test_a_walk_ends_when_its_seam_is_gone(window):
    from msgspec.structs import replace

    bar = begin(window)
    design = window.document.history.design
    rest = tuple(join for join in design.joins if join.name != "side seam")
    window.document.change("no side seam", replace(design, joins=rest))
    assert bar.walk is None


def test_without_a_picked_seam_the_maker_is_told(window):
    window.document.select(Selection("line", "yoke"))
    window.walk()
    assert window.walking.walk is None
    assert "Pick a seam" in window._hint.text()


def test_how_a_seam_is_sewn_is_changed_with_one_choice(window):
    window.document.select(Selection("join", "side seam"))
    form = window.details.form
    form.sewn.setCurrentIndex(form.sewn.findData("felled"))
    form.sewn.activated.emit(form.sewn.currentIndex())
    join = next(j for j in window.document.design.joins if j.name == "side seam")
    assert join.construction == "felled"
    legs = window.document.pattern.piece("front-leg")
    widths = dict(zip([e.name for e in legs.piece.outline], legs.allowances, strict=True))
    assert widths["front.side"] == 24.0
    form.rows.setText("2, 9.5")
    form.rows.editingFinished.emit()
    join = next(j for j in window.document.design.joins if j.name == "side seam")
    assert join.rows == (2.0, 9.5)
    assert "class 2" in form._class.text()
    form.rows.setText("two")
    form.rows.editingFinished.emit()
    assert form.rows.text() == "2, 9.5"
