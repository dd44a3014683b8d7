"""Values that hold one another are let go of while the hand rests, and at no other time."""

import gc
import weakref

import pytest

from studio.window import sweeping
from studio.window.sweeping import Sweeper


class Held:
    def __init__(self):
        self.myself = self


@pytest.fixture
def sweeper(qapp):
    made = Sweeper()
    yield made
    made.deleteLater()
    gc.unfreeze()
    gc.enable()


def many_new(monkeypatch):
    monkeypatch.setattr(sweeping, "_FROM", 0)
    return weakref.ref(Held())


def test_no_round_begins_by_itself(sweeper):
    assert not gc.isenabled()
    gone = weakref.ref(Held())
    assert gone() is not None


def test_a_resting_hand_lets_them_go(sweeper, monkeypatch):
    gone = many_new(monkeypatch)
    sweeper.sweep()
    assert gone() is None


def test_a_hand_that_holds_is_not_disturbed(sweeper, monkeypatch):
    gone = many_new(monkeypatch)
    monkeypatch.setattr(sweeping, "_is_held", lambda: True)
    sweeper.sweep()
    assert gone() is not None


def test_it_is_not_worth_a_look_for_a_few(sweeper, monkeypatch):
    monkeypatch.setattr(sweeping, "_FROM", 10**9)
    gone = weakref.ref(Held())
    sweeper.sweep()
    assert gone() is not None


def test_older_values_go_too_in_time(sweeper, monkeypatch):
    monkeypatch.setattr(sweeping, "_FROM", 0)
    old = Held()
    gone = weakref.ref(old)
    sweeper.sweep()  # It outlives a look, and is among the older ones from now on.
    del old
    for _ in range(sweeping._ALL_EACH):
        sweeper.sweep()
    assert gone() is None
