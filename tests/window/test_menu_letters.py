"""Each entry of each menu is taken by a letter of its own, whoever named it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from PySide6.QtCore import QPointF, Qt, QTimer
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QApplication, QCheckBox, QLabel, QMenu, QPushButton

from studio.canvas.selection import Selection
from studio.demo import demo_design
from studio.design import holds
from studio.window import recent
from studio.window.body_dialog import BodyDialog
from studio.window.main_window import MainWindow
from studio.window.menu_letters import numbered, with_letters
from studio.window.recovery import Recovery
from tests.window.asked import DIALOGS
from tests.window.menu_words import letter_of, words_of

ROAD = range(8)


def entries(words):
    return [QAction(one) for one in words]


def faults(menu):
    """What is wrong with the letters of a menu and of those that open from it, once all is filled
    as when it is opened.
    """
    menu.aboutToShow.emit()
    shown = [one for one in menu.actions() if not one.isSeparator()]
    letters = [letter_of(one) for one in shown]
    found = [
        (words_of(one), letter)
        for one, letter in zip(shown, letters, strict=True)
        if not letter or letters.count(letter) > 1
    ]
    for one in shown:
        if one.menu() is not None:
            found += faults(one.menu())
    return found


def menus_of(widget):
    return [one for one in widget.findChildren(QMenu) if one.actions() or one.title()]


@pytest.fixture
def stocked(qtbot, tmp_path):
    """A window on the demonstration with its stash, and a hold on a line."""
    design = replace(demo_design(), holds=(holds.Length("yoke", 255.0),))
    made = MainWindow(design, None, recovery=Recovery(tmp_path / "aside"))
    qtbot.addWidget(made, before_close_func=lambda _: made.document.history.mark_saved())
    with qtbot.waitExposed(made):
        made.show()
    return made


def test_each_entry_of_each_menu_of_the_window_has_its_letter(stocked, tmp_path):
    for at in range(8):
        path = tmp_path / f"trousers & co {at}.yoke"
        path.touch()
        recent.remember(path)
    seen = 0
    for stage in ROAD:
        stocked.road.open_stage(stage)
        for picked in (Selection("line", "yoke"), Selection("piece", "front-leg")):
            stocked.document.select(picked)
            QApplication.processEvents()
            menus = menus_of(stocked)
            seen = max(seen, len(menus))
            assert [fault for menu in menus for fault in faults(menu)] == []
    # Six of the bar, with four below them; lines, parts, steps, the stash, holds, two of a piece.
    assert seen >= 15


def test_menus_that_open_on_the_table_and_on_a_finding_have_their_letters(stocked, monkeypatch):
    laying = stocked.lay_on_cloth()
    QApplication.processEvents()
    found = menus_of(laying)
    assert found
    corner = laying.view.menu_at(QPointF(-5000.0, -5000.0))
    box = next(iter(laying.scene.items()))
    over = [corner]
    monkeypatch.setattr(laying.hand, "pick_at", lambda _place: True)
    over.append(laying.view.menu_at(QPointF(box.pos())))
    assert [len(menu.actions()) for menu in over] == [3, 4]
    findings = stocked.ledger.findings.menu_of(0)
    assert [words_of(one) for one in findings.actions()] == ["Go there", "Let it stand…"]
    assert [fault for menu in (*found, *over, findings) for fault in faults(menu)] == []


@pytest.mark.parametrize("asked", DIALOGS)
def test_each_field_and_button_of_a_dialog_has_its_letter(stocked, asked):
    seen = []

    def look():
        dialog = QApplication.activeModalWidget()
        marked = [
            *(one for one in dialog.findChildren(QLabel) if one.buddy() is not None),
            *dialog.findChildren(QCheckBox),
            *dialog.findChildren(QPushButton),
        ]
        seen.extend(letter_of(one) for one in marked)
        dialog.done(0)

    QTimer.singleShot(0, look)
    DIALOGS[asked](stocked)
    assert len(seen) >= 4
    assert all(seen)
    assert len(set(seen)) == len(seen)


def test_the_letter_of_a_field_goes_there(qtbot):
    dialog = BodyDialog()
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.activateWindow()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is dialog._name)
    field = dialog._fields["thigh_girth"]
    label = next(one for one in dialog.findChildren(QLabel) if one.buddy() is field)
    assert words_of(label) == "Thigh girth"
    key = Qt.Key[f"Key_{letter_of(label)}"]
    qtbot.keyClick(dialog, key, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(field.hasFocus, timeout=1000)


def test_undo_and_redo_keep_their_letter_whatever_they_would_do(stocked):
    part = replace(stocked.document.design, name="Rough & ready, undone")
    stocked.document.change("Name Rough & ready, undone", part)
    undo = stocked._menus._undo
    assert words_of(undo) == "Undo: Name Rough & ready, undone"
    assert letter_of(undo) == "U"
    stocked.document.undo()
    assert letter_of(stocked._menus._redo) == "R"


def test_the_first_letter_comes_first_then_that_of_another_word():
    told = with_letters(["Close a dart", "Cut the yoke", "Move a dart", "Mirror an edge"])
    assert told == ["&Close a dart", "Cut &the yoke", "&Move a dart", "Mirror an &edge"]


def test_others_give_way_so_that_all_get_a_letter():
    told = entries(with_letters(["ab", "a"]))
    assert [letter_of(one) for one in told] == ["B", "A"]
    told = entries(with_letters(["ab", "bc", "a"]))
    assert sorted(letter_of(one) for one in told) == ["A", "B", "C"]


def test_what_has_no_letter_left_gets_a_sign_before_it():
    told = entries(with_letters(["?", "!", "7 up", "7"]))
    assert [words_of(one) for one in told] == ["1  ?", "2  !", "7 up", "7"]
    assert [letter_of(one) for one in told] == ["1", "2", "U", "7"]


@given(st.lists(st.text(min_size=1, max_size=12), max_size=30))
def test_no_two_names_share_a_letter_and_none_is_changed(names):
    plain = ["".join(sign for sign in name if sign.isprintable()) or "x" for name in names]
    told = entries(with_letters(plain))
    letters = [letter_of(one) for one in told]
    assert all(letters)
    assert len(set(letters)) == len(letters)
    for one, name in zip(told, plain, strict=True):
        assert one.text().replace("&&", "\0").replace("&", "").replace("\0", "&").endswith(name)


def test_files_are_numbered_and_the_first_nine_are_taken_by_their_number():
    told = entries(numbered([f"R&D {at}" for at in range(1, 12)]))
    assert [letter_of(one) for one in told] == [*"123456789", "", ""]
    assert words_of(told[1]) == "2  R&D 2"
