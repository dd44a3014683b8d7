"""Undo and redo bring back the very bytes."""

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from studio.demo import demo_design
from studio.design.file import encoded
from studio.window.document import Document
from studio.window.history import History

BASE = demo_design()


def with_allowance(mm):
    return msgspec.structs.replace(BASE, standard_allowance=float(mm))


@given(st.lists(st.tuples(st.integers(5, 9), st.sampled_from(["", "nudge"])), max_size=12))
def test_undoing_all_gives_the_start_and_redoing_all_the_end_byte_for_byte(steps):
    history = History(BASE)
    for mm, merge in steps:
        history.commit("Set", with_allowance(mm), merge)
    end = encoded(history.design)
    while history.undo():
        pass
    assert encoded(history.design) == encoded(BASE)
    while history.redo():
        pass
    assert encoded(history.design) == end


def test_a_step_that_changes_nothing_is_dropped():
    history = History(BASE)
    assert not history.commit("Nothing", demo_design())
    assert history.undo_label == ""


def test_nudges_merge_until_something_else_is_picked():
    history = History(BASE)
    for mm in (5, 6, 7):
        history.commit("Nudge", with_allowance(mm), "nudge a")
    history.end_merging()
    history.commit("Nudge", with_allowance(8), "nudge a")
    history.undo()
    assert history.design.standard_allowance == 7.0
    history.undo()
    assert history.design == BASE


def test_merged_nudges_that_come_home_leave_no_step():
    history = History(BASE)
    history.commit("Nudge", with_allowance(5), "nudge a")
    history.commit("Nudge", BASE, "nudge a")
    assert history.undo_label == ""
    assert not history.is_dirty


def test_a_new_step_forgets_what_was_undone():
    history = History(BASE)
    history.commit("One", with_allowance(5))
    history.undo()
    history.commit("Two", with_allowance(6))
    assert history.redo_label == ""
    assert history.undo_label == "Two"


def test_saved_is_a_design_not_a_moment():
    history = History(BASE)
    history.commit("One", with_allowance(5))
    assert history.is_dirty
    history.mark_saved()
    history.undo()
    assert history.is_dirty
    history.redo()
    assert not history.is_dirty


def test_what_is_undone_and_done_again_is_shown_as_it_was_without_being_made_anew(monkeypatch):
    document = Document(BASE)
    first = document.pattern
    document.change("Narrower", with_allowance(8))
    second = document.pattern
    document.preview(with_allowance(14))
    document.commit("Wider")
    third = document.pattern
    assert not third.draft
    monkeypatch.setattr("studio.pattern.road.drawn_lines", None)
    for step, shown in (
        (document.undo, second),
        (document.undo, first),
        (document.redo, second),
        (document.redo, third),
    ):
        step()
        assert document.pattern is shown
