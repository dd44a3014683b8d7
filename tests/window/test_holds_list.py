"""What holds leave free, and why they clash, is told a moment later, of what is shown."""

import threading

import pytest
import shiboken6
from msgspec.structs import replace

from studio.canvas.selection import Selection
from studio.cut.hold_state import state_of_holds
from studio.demo import demo_design
from studio.design import holds
from studio.window import holds_list
from studio.window.document import Document
from studio.window.holds_list import HoldsList

MET = replace(demo_design(), holds=(holds.Length("yoke", 255.0),))
OTHER = replace(demo_design(), holds=(holds.Length("yoke", 265.0), holds.Square("yoke", "start")))
UNMET = replace(demo_design(), holds=(holds.Length("yoke", 200.0),))
"""Shorter than the straight line between its ends."""


def listed(design, qtbot):
    document = Document(design)
    shown = HoldsList(document, "yoke", "mm")
    qtbot.addWidget(shown)
    return document, shown


def rests(shown, qtbot):
    qtbot.waitUntil(lambda: not shown.is_busy, timeout=9000)


class Slow:
    """Stands before `state_of_holds` and lets it go on when told."""

    def __init__(self, monkeypatch):
        self.go, self.begun, self.asked = threading.Event(), threading.Event(), []
        monkeypatch.setattr(holds_list, "state_of_holds", self)

    def __call__(self, design, panels, line):
        self.asked.append((design, threading.get_ident()))
        self.begun.set()
        assert self.go.wait(9.0)
        return state_of_holds(design, panels, line)


@pytest.fixture
def slow(monkeypatch):
    made = Slow(monkeypatch)
    yield made
    made.go.set()


def test_of_holds_that_are_met_that_is_told_at_once_and_what_is_left_later(qtbot, slow):
    _, shown = listed(MET, qtbot)
    assert shown._told.text() == "All of it holds."
    slow.go.set()
    rests(shown, qtbot)
    assert shown._told.text().startswith("All of it holds. ")
    assert "ways to move are left." in shown._told.text()
    assert slow.asked[0][1] != threading.get_ident()


def test_that_holds_clash_is_told_at_once_and_the_reason_later(qtbot, slow):
    document, shown = listed(UNMET, qtbot)
    [found] = [one for one in document.pattern.findings if one.rule == "hold"]
    assert shown._told.text() == found.message
    assert shown.is_busy
    slow.go.set()
    rests(shown, qtbot)
    assert "can go as far as" in shown._told.text()
    assert shown._told.text() == state_of_holds(UNMET, document.pattern.panels, "yoke")


def test_where_nothing_holds_nothing_is_asked(qtbot, slow):
    _, shown = listed(demo_design(), qtbot)
    assert shown._told.text() == ""
    assert not shown.is_busy
    assert slow.asked == []


def test_an_answer_for_a_design_that_is_not_shown_any_more_is_dropped(qtbot, slow):
    document, shown = listed(UNMET, qtbot)
    assert slow.begun.wait(9.0)
    heard = []
    shown._judge.answered.connect(heard.append)
    document.change("Lengthen", OTHER)
    shown.refresh()
    assert shown._told.text() == "All of it holds."
    slow.go.set()
    rests(shown, qtbot)
    assert heard == [state_of_holds(OTHER, document.pattern.panels, "yoke")]
    assert shown._told.text() == heard[0]


def test_under_the_hand_nothing_is_asked_and_what_was_asked_is_dropped(qtbot, slow):
    document, shown = listed(UNMET, qtbot)
    assert slow.begun.wait(9.0)
    document.preview(MET)
    shown.refresh()
    assert shown._told.text() == "All of it holds."
    assert not shown.is_busy
    slow.go.set()
    qtbot.waitUntil(lambda: not shown._judge._working, timeout=9000)
    qtbot.wait(50)
    assert shown._told.text() == "All of it holds."
    assert [design for design, _ in slow.asked] == [UNMET]
    document.rollback()
    shown.refresh()
    rests(shown, qtbot)
    assert "can go as far as" in shown._told.text()


def test_the_same_design_is_judged_once(qtbot, slow):
    _, shown = listed(UNMET, qtbot)
    slow.go.set()
    rests(shown, qtbot)
    told = shown._told.text()
    shown.refresh()
    shown.judge()
    assert not shown.is_busy
    assert shown._told.text() == told
    assert len(slow.asked) == 1


def test_the_list_may_go_while_it_is_worked_out(qtbot, slow):
    document = Document(UNMET)
    shown = HoldsList(document, "yoke", "mm")
    assert slow.begun.wait(9.0)
    worker = next(one for one in threading.enumerate() if one.name == "beside the window")
    shiboken6.delete(shown)
    slow.go.set()
    worker.join(9.0)
    assert not worker.is_alive()
    qtbot.wait(50)
    assert document.design is UNMET


def test_the_window_may_close_while_it_is_worked_out(window, qtbot, slow):
    window.document.replace(UNMET, None)
    window.document.select(Selection("line", "yoke"))
    assert slow.begun.wait(9.0)
    assert "cannot all hold" in window.details.form.holds._told.text()
    worker = next(one for one in threading.enumerate() if one.name == "beside the window")
    assert window.close()
    slow.go.set()
    worker.join(9.0)
    assert not worker.is_alive()
    qtbot.wait(50)
    assert not window.isVisible()
