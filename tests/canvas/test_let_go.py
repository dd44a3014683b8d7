"""What waits until a hand lets go."""

import pytest
from PySide6.QtCore import QObject

from studio.canvas import let_go
from studio.canvas.let_go import LetGo


class Holder(QObject):
    is_held = False


@pytest.fixture
def holder(qapp, monkeypatch):
    monkeypatch.setattr(let_go, "_EVERY_MS", 1)
    return Holder()


def test_what_no_hand_hinders_is_done_at_once(holder):
    done = []
    LetGo(holder).then(lambda: done.append("now"))
    assert done == ["now"]


def test_what_was_asked_for_under_a_hand_is_done_once_in_turn_when_it_lets_go(holder, qtbot):
    done = []
    waits = LetGo(holder)

    def first():
        done.append("first")
        waits.then(last)

    def last():
        done.append("last")

    holder.is_held = True
    for one in (first, last, first):
        waits.then(one)
    qtbot.wait(20)
    assert done == []
    holder.is_held = False
    qtbot.waitUntil(lambda: done == ["first", "last"])
    qtbot.wait(20)
    assert done == ["first", "last"]


def test_who_asks_first_after_a_hand_has_let_go_finds_all_done_that_waited(holder):
    done = []
    waits = LetGo(holder)
    holder.is_held = True
    waits.then(lambda: done.append("waited"))
    holder.is_held = False
    waits.then(lambda: done.append("asked"))
    assert done == ["waited", "asked"]
