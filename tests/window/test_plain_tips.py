"""Names that look like markup, or bear an ampersand, are shown as they were written."""

import ast
from pathlib import Path

import pytest
from PySide6.QtGui import Qt, QTextDocument
from PySide6.QtWidgets import QLabel, QMessageBox

import studio
from studio.canvas.plain_tip import plain_tip
from studio.cut.parts import PatchPocket
from studio.window import dialogs
from studio.window.entry_button import EntryButton
from studio.window.lay_bar import LayBar
from tests.window.menu_words import words_of

NAME = "a <b>x</b> & y"
ROOMS = [Path(studio.__file__).parent / room for room in ("canvas", "window")]


def read(tip):
    """What a tip shows."""
    if not Qt.mightBeRichText(tip):
        return tip
    document = QTextDocument()
    document.setHtml(tip)
    return document.toPlainText()


@pytest.mark.parametrize("words", [NAME, "plain & simple", "one\ntwo <i>", "a < b > c", "<br>", ""])
def test_a_tip_shows_the_words_as_they_are(qapp, words):
    assert read(plain_tip(words)) == words


def test_every_tip_that_is_not_written_out_is_made_plain():
    tips = []
    for path in (path for room in ROOMS for path in room.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "setToolTip":
                (told,) = node.args
                plain = isinstance(told, ast.Call) and getattr(told.func, "id", "") == "plain_tip"
                tips.append((f"{path.name}:{node.lineno}", plain or isinstance(told, ast.Constant)))
    assert len(tips) > 30
    assert [where for where, good in tips if not good] == []


@pytest.mark.parametrize("say", [dialogs.tell, dialogs.ask])
def test_both_sentences_of_a_box_are_plain(qtbot, monkeypatch, say):
    shown = []

    def kept(box):
        labels = box.findChildren(QLabel)
        shown.extend(label.textFormat() for label in labels if NAME in label.text())

    monkeypatch.setattr(QMessageBox, "exec", kept)
    more = () if say is dialogs.tell else ("Yes", ("No", QMessageBox.ButtonRole.RejectRole))
    say(None, f"{NAME} is not done.", f"{NAME} has no room.", *more)
    assert shown == [Qt.TextFormat.PlainText] * 2


def test_a_piece_and_a_step_named_so_are_told_so(window):
    part = PatchPocket(name=NAME, panel="back", width=90.0, height=90.0)
    assert window.adding.take_part(part)
    tips = [item.toolTip() for item in window.sheet.items() if item.toolTip()]
    assert NAME in map(read, tips)
    assert NAME not in tips
    assert window._menus._undo.text() == "&" + f"Undo: Add {NAME}".replace("&", "&&")
    entries = [one for one in window.findChildren(EntryButton) if NAME in one.text()]
    assert entries
    assert all(NAME in read(one.toolTip()) for one in entries if one.toolTip())


def test_a_cloth_left_out_is_named_in_the_tip_alone(qtbot):
    bar = LayBar("mm")
    qtbot.addWidget(bar)
    bar.show_cloths({"main": 3, NAME: 2, "lining": 1}, [])
    narrow = bar.minimumSizeHint().width()
    assert bar.left_out.text() == "Nothing left out"
    bar.show_cloths({"main": 3, NAME * 9: 2, "lining": 1}, [NAME * 9])
    assert bar.left_out.text() == "1 cloth left out"
    assert bar.minimumSizeHint().width() <= narrow
    assert NAME * 9 in read(bar.left_out.toolTip())
    actions = bar._menu.actions()
    assert words_of(actions[1]) == f"{NAME * 9} (2)"
    told = []
    bar.left_out_changed.connect(told.append)
    actions[0].setChecked(False)
    assert told == [frozenset({"main", NAME * 9})]
