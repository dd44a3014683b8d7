"""Remembered functions run again only when what they read is another thing."""

import pytest

from studio.design.joins import EdgeRef
from studio.memo import Made, forget_all, remembered


class Counted:
    def __init__(self):
        self.calls = 0

    def __call__(self, *read):
        self.calls += 1
        return list(read)


class Line(Made, frozen=True):
    length: float
    inner: dict[str, float]


def test_the_same_objects_give_the_same_result_object():
    counted, line = Counted(), Line(2.0, {"knee": 1.0})
    asked = remembered(counted, 4)
    assert asked(line, "name", (line, 1.5)) is asked(line, "name", (line, 1.5))
    assert counted.calls == 1


def test_what_was_made_is_read_again_when_it_is_equal_but_another():
    counted, line, other = Counted(), Line(2.0, {}), Line(2.0, {})
    assert line == other
    asked = remembered(counted, 4)
    asked(line)
    asked(other)
    assert counted.calls == 2


def test_what_the_maker_asked_for_is_the_same_when_it_is_equal():
    counted = Counted()
    asked = remembered(counted, 4)
    asked((EdgeRef("front", "side"), EdgeRef("yoke", "side")))
    asked((EdgeRef("front", "side"), EdgeRef("yoke", "side")))
    asked((EdgeRef("front", "side"), EdgeRef("yoke", "waist")))
    assert counted.calls == 2


def test_only_the_last_results_are_kept():
    counted = Counted()
    asked = remembered(counted, 2)
    for number in (1.0, 2.0, 3.0, 1.0):
        asked(number)
    assert counted.calls == 4


def test_what_was_used_last_stays_longest():
    counted = Counted()
    asked = remembered(counted, 2)
    for number in (1.0, 2.0, 1.0, 3.0, 1.0):
        asked(number)
    assert counted.calls == 3


def test_an_error_is_not_kept():
    counted = Counted()

    def refuse(number):
        counted(number)
        raise ValueError("no")

    asked = remembered(refuse, 4)
    for _ in range(2):
        with pytest.raises(ValueError, match="no"):
            asked(1.0)
    assert counted.calls == 2


def test_forgetting_starts_over():
    counted = Counted()
    asked = remembered(counted, 4)
    asked(1.0)
    forget_all()
    asked(1.0)
    assert counted.calls == 2
