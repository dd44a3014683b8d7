"""Letters are as large as the desktop has them, and no words are cut off by it."""

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QPushButton

from studio.canvas import sheet_item
from studio.canvas.selection import Selection
from studio.canvas.type_size import base_points, grown
from studio.demo import demo_design
from studio.design import Hinge
from studio.window import dialogs
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from studio.window.road_pane import ALTERATIONS, CLOTH
from tests.window.asked import DIALOGS
from tests.window.clipped import clipped

STAGES = 8


@pytest.fixture(params=[9.0, 14.0])
def points(take_letters, request):
    """The size of the desktop's letters."""
    take_letters(request.param)
    return request.param


@pytest.fixture
def large(points, qtbot, tmp_path):
    """A window of the demonstration on a small screen."""
    made = MainWindow(demo_design(), None, recovery=Recovery(tmp_path / "aside"))
    qtbot.addWidget(made, before_close_func=lambda _: made.document.history.mark_saved())
    made.resize(1280, 800)
    with qtbot.waitExposed(made):
        made.show()
    return made


def settle():
    """A layout that finds its words higher than before asks for another turn."""
    for _ in range(3):
        QApplication.processEvents()


def modal(run):
    """Let a dialog be shown and closed again; what of its words does not fit, and its height."""
    seen = []

    def look():
        dialog = QApplication.activeModalWidget()
        assert isinstance(dialog, QDialog)
        settle()
        seen.append((clipped(dialog), dialog.height()))
        dialog.done(0)

    QTimer.singleShot(0, look)
    run()
    return seen[0]


def test_words_are_as_large_as_those_of_the_desktop_and_never_small(large, points):
    wanted = max(10.0, points)
    assert base_points() == pytest.approx(wanted, abs=0.05)
    assert grown(100.0) == pytest.approx(10.0 * wanted, abs=1.0)
    stage = large.road._stages[0][0]
    assert stage.font().pointSizeF() == pytest.approx(1.05 * wanted, abs=0.1)
    written, _ = sheet_item.lettering(8.0, bold=False)
    assert written.pointSizeF() == pytest.approx(0.8 * wanted, abs=0.05)


def test_the_window_fits_a_small_screen(large):
    assert (large.width(), large.height()) == (1280, 800)


def test_pieces_are_named_on_the_sheet_of_a_small_screen(large):
    """In letters of 14 points one piece of 14 was named."""
    settle()
    large.view.viewport().grab()
    places = [item._name_place(large.view.scale_now) for item in large.sheet._pieces.values()]
    assert len(places) == 14
    assert sum(place is not None for place in places) >= 12
    whole = [place for place in places if place is not None and "…" not in place.text]
    assert len(whole) >= 9


def test_no_words_of_a_stage_or_of_what_is_picked_are_cut_off(large):
    design = large.document.design
    hinge = next(k for k, step in enumerate(design.alterations) if isinstance(step, Hinge))
    cut_off = {}
    for stage in range(STAGES):
        large.road.open_stage(stage)
        settle()
        cut_off[stage] = clipped(large)
    for kind, name in (
        ("line", "hand-pocket"),
        ("line", "knee-panel"),
        ("piece", "front-leg"),
        ("piece", "waistband"),
        ("join", "side seam"),
        ("step", str(hinge)),
        ("cloth", "main"),
        ("stock", design.stash[0].name),
    ):
        large.road.open_stage({"step": ALTERATIONS}.get(kind, CLOTH))
        large.document.select(Selection(kind, name))
        settle()
        cut_off[kind, name] = clipped(large)
    assert {where: found for where, found in cut_off.items() if found} == {}


ASKED = {
    "keys": lambda window: dialogs.show_keys(window),
    "cautions": lambda window: dialogs.show_cautions(window),
    "about": lambda window: dialogs.show_about(window),
    **DIALOGS,
}


def test_no_words_of_a_dialog_are_cut_off_and_each_fits_a_small_screen(large):
    seen = {asked: modal(lambda run=run: run(large)) for asked, run in ASKED.items()}
    assert {asked: cut_off for asked, (cut_off, _) in seen.items() if cut_off} == {}
    assert max(height for _, height in seen.values()) < 780


def test_no_words_of_a_window_beside_are_cut_off(large, qtbot):
    for show in (large.check_pockets, large.ask_how_much, large.lay_on_cloth):
        beside = show()
        qtbot.waitExposed(beside)
        settle()
        assert clipped(beside) == []
        beside.close()


def test_words_that_are_cut_off_are_found(qtbot):
    """The check itself: a label and a button narrower than their words, one that has room."""
    holder = QDialog()
    qtbot.addWidget(holder)
    for at, (kind, wide) in enumerate(((QLabel, 20), (QPushButton, 20), (QLabel, 200))):
        made = kind("words of some length", holder)
        made.setGeometry(0, 40 * at, wide, 30)
    with qtbot.waitExposed(holder):
        holder.show()
    found = clipped(holder)
    assert len(found) == 2
    assert found[0].startswith("QLabel")
    assert found[1].startswith("QPushButton")
