"""The laying table: pieces dragged, turned, locked and put back by mouse and keys, each a step."""

from __future__ import annotations

import math

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QEvent, QObject, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QApplication, QFrame, QPushButton, QWidget

from studio.canvas.paths import to_scene
from studio.canvas.theme import DARK
from studio.cloth.by_hand import Hand
from studio.cloth.referee import faults
from studio.curves import Point, Vector
from studio.design.cloth import CuttingRule, Flaw, Lay, Placement, Roll
from studio.design.file import encoded
from studio.window import dialogs, print_pages
from studio.window.lay_panes import MissingRow, Offer
from studio.window.lay_sheets import write_sheets
from studio.window.main_window import MainWindow
from studio.window.print_pages import counted
from studio.window.recovery import Recovery
from tests.exchange.reading import page_count, words_on
from tests.window import stashes
from tests.window.menu_words import words_of

FRONT = Placement("front-leg", 0, "canvas", (300.0, 600.0))
BACK = Placement("back-leg", 1, "canvas", (900.0, 600.0))


def opened(qtbot, tmp_path, design):
    made = MainWindow(design, None, recovery=Recovery(tmp_path / "aside"))
    qtbot.addWidget(made, before_close_func=lambda _: made.document.history.mark_saved())
    table = made.lay_on_cloth()
    table.resize(1300, 850)
    with qtbot.waitExposed(table):
        table.show()
    table.view.fit()
    table.main = made
    return table


@pytest.fixture
def laying(qtbot, tmp_path):
    """The table with two legs on the roll and all else in the tray."""
    design = replace(stashes.roomy(), lay=Lay((FRONT, BACK)))
    return opened(qtbot, tmp_path, design)


def pixel(laying, place):
    return QPointF(laying.view.mapFromScene(to_scene(place)))


def mouse(laying, kind, place, *, held=Qt.KeyboardModifier.NoModifier):
    viewport = laying.view.viewport()
    at = pixel(laying, place)
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    button = none if kind is QEvent.Type.MouseMove else left
    buttons = none if kind is QEvent.Type.MouseButtonRelease else left
    whole = QPointF(viewport.mapToGlobal(at.toPoint()))
    QApplication.sendEvent(viewport, QMouseEvent(kind, at, whole, button, buttons, held))
    QApplication.processEvents()


def drag(laying, start, end, *, let_go=True, held=Qt.KeyboardModifier.NoModifier):
    mouse(laying, QEvent.Type.MouseButtonPress, start, held=held)
    for k in range(1, 9):
        mouse(laying, QEvent.Type.MouseMove, start.toward(end, k / 8.0), held=held)
    if let_go:
        mouse(laying, QEvent.Type.MouseButtonRelease, end, held=held)


def lay_of(laying):
    return laying.main.document.history.design.lay


def placed(laying, piece, copy):
    return next(
        (one for one in lay_of(laying).placements if (one.piece, one.copy) == (piece, copy)), None
    )


def sound(laying):
    table = laying.table
    return not faults(table.items.values(), table.beds.values(), table.laid, table.lay.gap)


def test_it_opens_once_and_tells_how_it_stands(laying):
    assert laying.main.lay_on_cloth() is laying
    assert "2 of 24 pieces lie on the cloth." in laying.pane.verdict.text()
    assert len(laying.table.not_laid) == 22


def test_a_piece_dragged_out_of_the_tray_lies_where_it_was_let_go(laying):
    start = laying.scene.middle_of(("bearer", 0))
    end = laying.scene.to_table("canvas", (620.0, 200.0))
    drag(laying, start, end)
    at = placed(laying, "bearer", 0).at
    assert placed(laying, "bearer", 0).stock == "canvas"
    # A pixel is a few millimetres at this zoom.
    assert at == pytest.approx((620.0, 200.0), abs=2.0 / laying.view.scale_now)
    assert laying.main.document.history.undo_label == "Lay bearer, left on canvas"
    assert sound(laying)


def test_a_drag_ends_where_the_hand_says(laying):
    key = ("back-leg", 1)
    start = laying.scene.middle_of(key)
    end = start + Vector(-330.0, -40.0)
    drag(laying, start, end)
    by_mouse = placed(laying, *key)
    assert sound(laying)
    pressed = laying.view.mapToScene(pixel(laying, start).toPoint())
    let_go = laying.view.mapToScene(pixel(laying, end).toPoint())
    wanted = (BACK.at[0] + let_go.x() - pressed.x(), BACK.at[1] - let_go.y() + pressed.y())
    table = laying.table.with_lay(Lay((FRONT, BACK)))
    assert by_mouse.at == pytest.approx(Hand(table, BACK).over("canvas", BACK, wanted).at, abs=0.01)
    # It was stopped by the other leg: not where the mouse was.
    assert abs(by_mouse.at[0] - wanted[0]) > 20.0


def test_a_step_is_undone_and_done_again(laying):
    document = laying.main.document
    before = encoded(document.history.design)
    start = laying.scene.middle_of(("front-leg", 0))
    drag(laying, start, start + Vector(40.0, 0.0))
    after = encoded(document.history.design)
    assert after != before
    document.undo()
    assert encoded(document.history.design) == before
    laying.refresh()
    assert laying.scene.middle_of(("front-leg", 0)) == start
    document.redo()
    assert encoded(document.history.design) == after


def test_the_keys_of_undo_work_at_the_table_too(laying, qtbot):
    start = laying.scene.middle_of(("front-leg", 0))
    drag(laying, start, start + Vector(40.0, 0.0))
    assert placed(laying, "front-leg", 0) != FRONT
    laying.activateWindow()
    qtbot.keyClick(laying.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: placed(laying, "front-leg", 0) == FRONT, timeout=2000)


def test_what_was_told_is_over_with_the_next_step(laying, qtbot):
    laying.scene.pick(("front-leg", 0))
    for key in (Qt.Key.Key_L, Qt.Key.Key_Delete):
        qtbot.keyClick(laying.view, key)
    assert "is locked" in laying._hint.text()
    for key in (Qt.Key.Key_L, Qt.Key.Key_Delete):
        qtbot.keyClick(laying.view, key)
    assert placed(laying, "front-leg", 0) is None
    assert "locked" not in laying._hint.text()


def test_an_arrow_key_that_finds_no_room_says_so(laying, qtbot):
    laying.scene.pick(("front-leg", 0))
    for _ in range(40):
        qtbot.keyClick(laying.view, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert "no room for front-leg, left that way" in laying._hint.text()
    at = placed(laying, "front-leg", 0).at
    qtbot.keyClick(laying.view, Qt.Key.Key_Right)
    assert placed(laying, "front-leg", 0).at[0] == pytest.approx(at[0] + 1.0, abs=1e-6)
    assert "no room" not in laying._hint.text()


def test_escape_gives_a_drag_up(laying, qtbot):
    before = lay_of(laying)
    start = laying.scene.middle_of(("front-leg", 0))
    drag(laying, start, start + Vector(90.0, 0.0), let_go=False)
    qtbot.keyClick(laying.view, Qt.Key.Key_Escape)
    mouse(laying, QEvent.Type.MouseButtonRelease, start + Vector(90.0, 0.0))
    assert lay_of(laying) is before
    assert laying.scene.middle_of(("front-leg", 0)) == start
    assert laying.isVisible()


def test_a_drag_does_not_outlive_the_focus(laying):
    start = laying.scene.middle_of(("front-leg", 0))
    drag(laying, start, start + Vector(90.0, 0.0), let_go=False)
    laying.view.clearFocus()
    assert laying.scene.middle_of(("front-leg", 0)) == start
    assert lay_of(laying).placements == (FRONT, BACK)


def test_dropped_beside_all_cloth_it_goes_back_to_the_tray(laying):
    start = laying.scene.middle_of(("front-leg", 0))
    drag(laying, start, laying.scene.middle_of(("belt-loop", 0)))
    assert placed(laying, "front-leg", 0) is None
    assert laying.main.document.history.undo_label == "Take front-leg, left off the cloth"


def test_over_cloth_it_is_not_cut_from_it_is_told_and_goes_home(laying):
    start = laying.scene.middle_of(("knee-panel", 0))
    drag(laying, start, laying.scene.to_table("canvas", (600.0, 300.0)))
    assert placed(laying, "knee-panel", 0) is None
    assert "is not cut from canvas" in laying._hint.text()


def test_alt_lays_it_all_the_same_and_the_clash_is_told(laying):
    start = laying.scene.middle_of(("bearer", 1))
    drag(
        laying,
        start,
        laying.scene.to_table("canvas", (300.0, 600.0)),
        held=Qt.KeyboardModifier.AltModifier,
    )
    assert placed(laying, "bearer", 1) is not None
    assert "cannot be cut as laid" in laying.pane.verdict.text()
    assert not sound(laying)
    assert "Lies over" in laying.scene._pieces[("bearer", 1)].trouble


def test_keys_turn_lock_nudge_and_put_back(laying, qtbot):
    laying.scene.pick(("front-leg", 0))
    qtbot.keyClick(laying.view, Qt.Key.Key_R)
    assert placed(laying, "front-leg", 0).turn == 180.0
    qtbot.keyClick(laying.view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert placed(laying, "front-leg", 0).at == pytest.approx((310.0, 600.0), abs=1e-6)
    qtbot.keyClick(laying.view, Qt.Key.Key_L)
    assert placed(laying, "front-leg", 0).locked
    qtbot.keyClick(laying.view, Qt.Key.Key_Delete)
    assert placed(laying, "front-leg", 0) is not None
    assert "locked" in laying._hint.text()
    qtbot.keyClick(laying.view, Qt.Key.Key_L)
    qtbot.keyClick(laying.view, Qt.Key.Key_Delete)
    assert placed(laying, "front-leg", 0) is None


def chosen(laying, place, words):
    menu = laying.view.menu_at(pixel(laying, place))
    entry = next(one for one in menu.actions() if words_of(one).startswith(words))
    entry.trigger()


def test_the_menu_does_what_the_keys_do(laying):
    leg = laying.scene.middle_of(("front-leg", 0))
    chosen(laying, leg, "Turn")
    assert placed(laying, "front-leg", 0).turn == 180.0
    chosen(laying, leg, "Lock")
    assert placed(laying, "front-leg", 0).locked
    beside = laying.scene.to_table("canvas", (30.0, 20.0))
    chosen(laying, beside, "Take all")
    assert [one.piece for one in lay_of(laying).placements] == ["front-leg"]
    chosen(laying, beside, "Unlock all")
    chosen(laying, leg, "Put back")
    assert lay_of(laying).placements == ()


def test_nudges_are_one_step(laying, qtbot):
    laying.scene.pick(("front-leg", 0))
    for _ in range(5):
        qtbot.keyClick(laying.view, Qt.Key.Key_Up)
    assert placed(laying, "front-leg", 0).at[1] == pytest.approx(605.0)
    laying.main.document.undo()
    assert placed(laying, "front-leg", 0) == FRONT


def test_cloth_with_one_good_side_is_not_laid_face_down(laying, qtbot):
    laying.scene.pick(("front-leg", 0))
    qtbot.keyClick(laying.view, Qt.Key.Key_F)
    assert placed(laying, "front-leg", 0) == FRONT
    assert "may not lie otherwise" in laying._hint.text()


def test_brackets_turn_as_far_as_the_tolerance(qtbot, tmp_path):
    rule = CuttingRule("front-leg", tolerance=0.75)
    design = replace(stashes.roomy(), lay=Lay((FRONT,)), cutting=(rule,))
    laying = opened(qtbot, tmp_path, design)
    laying.scene.pick(("front-leg", 0))
    for expected in (0.5, 0.75):
        qtbot.keyClick(laying.view, Qt.Key.Key_BracketLeft)
        assert placed(laying, "front-leg", 0).turn == expected


def test_the_gap_is_a_step_and_is_kept_by_the_next_drag(laying):
    laying.bar.gap.setValue(6.0)
    assert lay_of(laying).gap == 6.0
    start = laying.scene.middle_of(("back-leg", 1))
    drag(laying, start, start + Vector(-420.0, 30.0))
    assert sound(laying)


def test_what_is_left_out_does_not_wait(laying):
    laying.bar.left_out_changed.emit(frozenset({"pocketing", "knee"}))
    assert {item.piece for item in laying.table.not_laid} == (
        {item.piece for item in laying.table.items.values()} - {"pocket-bag", "knee-panel"}
    )
    assert "2 of 20 pieces" in laying.pane.verdict.text()
    # Names would widen the window: they are in the tip.
    assert laying.bar.left_out.text() == "2 cloths left out"
    assert "pocketing" in laying.bar.left_out.toolTip()
    assert "knee" in laying.bar.left_out.toolTip()


def test_pieces_follow_the_design_at_their_places(laying, qtbot):
    document = laying.main.document
    design = document.history.design
    wider = replace(design, standard_allowance=20.0)
    before = laying.scene._pieces[("front-leg", 0)].shape().boundingRect().width()
    document.preview(wider)
    qtbot.waitUntil(
        lambda: laying.scene._pieces[("front-leg", 0)].shape().boundingRect().width() > before + 10,
        timeout=3000,
    )
    # Where it would clash it may be shown moved a little; it is not put anywhere else.
    assert math.dist(laying.table.laid[0].at, FRONT.at) < 10.0
    document.rollback()


def test_the_verdict_follows_a_design_that_passes_by(laying, qtbot):
    document = laying.main.document
    wider = replace(document.history.design, standard_allowance=20.0)
    document.preview(wider)
    qtbot.waitUntil(lambda: "fits" in verdict(laying) or "holds" in verdict(laying), timeout=9000)
    document.rollback()
    qtbot.waitUntil(lambda: "2 of 24" in verdict(laying), timeout=9000)


def test_of_a_piece_that_is_gone_amid_a_drag_nothing_more_is_told(laying, qtbot):
    document = laying.main.document
    design = document.history.design
    waiting = laying.table.not_laid[0]
    key = waiting.piece, waiting.copy
    document.preview(
        replace(design, pieces=tuple(one for one in design.pieces if one.name != waiting.piece))
    )
    # The report on the lay is made beside the window, and is still that of the whole design.
    qtbot.waitUntil(lambda: key not in laying.table.items, timeout=3000)
    laying.adviser.changed.emit()
    laying.pane.piece_asked.emit(key)
    assert laying.scene.picked is None
    document.rollback()


def verdict(laying):
    return laying.pane.verdict.text()


def test_pieces_that_no_longer_fit_are_offered_another_place(qtbot, tmp_path):
    # Side by side with little between them: with wider seams one has to move.
    front = replace(FRONT, at=(200.0, 600.0))
    back = Placement("front-leg", 1, "canvas", (558.0, 600.0))
    design = replace(stashes.roomy(), lay=Lay((front, back)))
    laying = opened(qtbot, tmp_path, design)
    assert sound(laying)
    document = laying.main.document
    document.change("Wider seams", replace(design, standard_allowance=20.0))
    qtbot.waitUntil(lambda: laying.following.offered is not None, timeout=9000)
    assert not sound(laying)
    assert lay_of(laying).placements == (front, back)
    laying.take_lay("Lay changed pieces", laying.following.offered.lay)
    assert sound(laying)
    assert len(lay_of(laying).placements) == 2


def test_a_stash_that_cannot_be_used_is_told(laying):
    broken = Roll("canvas", "main", 1500.0, 1250.0, flaws=(Flaw("hole", ((0.0, 0.0),)),))
    document = laying.main.document
    document.change("Break", replace(document.history.design, stash=(broken,)))
    laying.refresh()
    assert "canvas" in laying.pane.verdict.text()
    assert "three points" in laying.pane.verdict.text()
    document.undo()
    laying.refresh()
    assert "2 of 24" in laying.pane.verdict.text()


def test_an_empty_stash_is_told(qtbot, tmp_path):
    laying = opened(qtbot, tmp_path, stashes.with_stash())
    assert "stash is empty" in laying.pane.verdict.text()
    # Once, and not for every piece again.
    assert "card" not in [frame.property("role") for frame in laying.pane.findChildren(QFrame)]
    assert len(laying.table.not_laid) == 24


def test_the_sheets_are_written(laying, tmp_path):
    written = write_sheets(laying.main.document, tmp_path, "mm")
    assert {path.suffix for path in written} == {".pdf", ".dxf"}
    assert all(path.stat().st_size > 500 for path in written)


def test_the_plans_are_printed_as_they_are_written(laying, tmp_path, monkeypatch):
    told, out = [], tmp_path / "plans.pdf"
    monkeypatch.setattr(print_pages, "installed", lambda: ["mill"])
    monkeypatch.setattr(dialogs, "tell", lambda _over, title, words: told.append((title, words)))

    def into_file(dialog):
        dialog.printer().setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        dialog.printer().setOutputFileName(str(out))
        return True

    monkeypatch.setattr(QPrintDialog, "exec", into_file)
    plan = next(path for path in written(laying, tmp_path) if path.stem.endswith("-lay"))
    laying.bar.printing.click()
    assert page_count(out) == page_count(plan)
    for index in range(page_count(out)):
        assert words_on(out, index) == words_on(plan, index)
    assert told[0][0] == f"{counted(page_count(out))} sent to {out}."
    assert "what is cut stays cut" in told[0][1]


def written(laying, folder):
    return write_sheets(laying.main.document, folder, "mm")


def test_without_a_lay_there_is_nothing_to_print_and_that_is_told(qtbot, tmp_path, monkeypatch):
    laying = opened(qtbot, tmp_path, stashes.with_stash())
    told = []
    monkeypatch.setattr(print_pages, "installed", lambda: ["mill"])
    monkeypatch.setattr(dialogs, "tell", lambda _over, title, words: told.append((title, words)))
    monkeypatch.setattr(QPrintDialog, "exec", lambda _: pytest.fail("asked for a printer"))
    assert not laying.print_plans()
    assert "Nothing is laid" in told[0][1]


def test_dark_and_light(laying):
    laying.main.set_theme(DARK)
    assert laying.scene.theme is DARK
    assert laying.view.grab().toImage().pixelColor(5, 5).name() == DARK.ground


def test_closing_the_main_window_closes_the_table(laying):
    laying.main.document.history.mark_saved()
    laying.main.close()
    assert not laying.isVisible()


def test_tab_goes_from_piece_to_piece(laying, qtbot):
    laying.scene.pick(None)
    qtbot.keyClick(laying.view, Qt.Key.Key_Tab)
    assert laying.scene.picked == ("front-leg", 0)
    qtbot.keyClick(laying.view, Qt.Key.Key_Tab)
    assert laying.scene.picked == ("front-leg", 1)


def test_a_place_of_the_table_goes_to_a_cloth_and_back(laying):
    for stock in laying.table.beds:
        for at in ((0.0, 0.0), (123.0, 456.0)):
            there = laying.scene.to_stock(stock, laying.scene.to_table(stock, at))
            assert there == pytest.approx(at, abs=1e-9)
    assert isinstance(laying.scene.to_table("canvas", (1.0, 2.0)), Point)


class Watched(QObject):
    """At each painting of the right column: how much lower its cards are than what is in them."""

    def __init__(self, pane):
        super().__init__()
        self._pane = pane
        self.seen = []

    def eventFilter(self, watched, event):  # noqa: N802
        if event.type() == QEvent.Type.Paint:
            cards = [f for f in self._pane.findChildren(QFrame) if f.property("role") == "card"]
            self.seen += [card.heightForWidth(card.width()) - card.height() for card in cards]
        return super().eventFilter(watched, event)


def test_cards_made_anew_are_never_painted_squeezed(laying, qtbot):
    pane = laying.pane
    words = "A sentence that is long enough to be broken into some lines of the narrow column."
    pane.show_lists((), [MissingRow("first", (words,))])
    qtbot.wait(50)
    watched = Watched(pane)
    for widget in pane.findChildren(QWidget):
        widget.installEventFilter(watched)
    for count in (6, 1, 8):
        rows = [MissingRow(f"piece {count} {k}", (words,) * (k + 1)) for k in range(count)]
        pane.show_lists((), rows)
        for widget in pane.findChildren(QWidget):
            widget.installEventFilter(watched)
        pane.repaint()
        for _ in range(5):
            QApplication.processEvents()
            pane.repaint()
    assert len(watched.seen) > 15
    assert set(watched.seen) == {0}


def test_neither_table_nor_column_grows_wider_whatever_is_told_of_a_search(laying, qtbot):
    laying.resize(960, 700)
    qtbot.wait(20)
    table, pane = laying.width(), laying.pane.width()
    least = laying.minimumSizeHint().width()
    told = "Searching: 125 s, 21 of 24 pieces laid, 57 % of the cloth used; " * 4
    laying.bar.show_progress(told)
    laying.pane.show_verdict("long-winded-name-of-a-piece-without-a-space " * 3, good=False)
    laying.pane.show_verdict("x" * 120, good=False)
    qtbot.wait(50)
    assert (laying.width(), laying.pane.width()) == (table, pane)
    assert laying.minimumSizeHint().width() == least
    # What does not fit ends in dots.
    progress = laying.bar.progress
    assert progress.text() == told
    assert progress.shown_words().endswith("\N{HORIZONTAL ELLIPSIS}")
    assert progress.fontMetrics().horizontalAdvance(progress.shown_words()) <= progress.width()


def test_a_card_that_looks_as_before_does_what_is_offered_now(laying):
    done = []
    for what in ("first", "second"):
        offer = Offer("Lay them so", lambda what=what: done.append(what))
        laying.pane.show_lists((), [MissingRow("Changed pieces", ("They fit.",), (offer,))])
    button = next(b for b in laying.pane.findChildren(QPushButton) if b.text() == "Lay them so")
    button.click()
    assert done == ["second"]
