"""Remembered functions run again only when what they read is another thing."""

import pytest

from studio.memo import Remembered


class Counted:
    def __init__(self):
        self.calls = 0

    def __call__(self, *read):
        self.calls += 1
        return list(read)


def test_the_same_objects_give_the_same_result_object():
    counted, value = Counted(), object()
    remembered = Remembered(counted, 4)
    assert remembered(value, "name", (value, 1.5)) is remembered(value, "name", (value, 1.5))
    assert counted.calls == 1


def test_equal_but_other_objects_are_read_again():
    counted = Counted()
    remembered = Remembered(counted, 4)
    remembered([1])
    remembered([1])
    assert counted.calls == 2


def test_only_the_last_results_are_kept():
    counted = Counted()
    remembered = Remembered(counted, 2)
    for number in (1.0, 2.0, 3.0, 1.0):
        remembered(number)
    assert counted.calls == 4


def test_what_was_used_last_stays_longest():
    counted = Counted()
    remembered = Remembered(counted, 2)
    for number in (1.0, 2.0, 1.0, 3.0, 1.0):
        remembered(number)
    assert counted.calls == 3


def test_an_error_is_not_kept():
    def refuse(_):
        raise ValueError("no")

    remembered = Remembered(refuse, 4)
    for _ in range(2):
        with pytest.raises(ValueError, match="no"):
            remembered(1.0)


def test_forgetting_starts_over():
    counted = Counted()
    remembered = Remembered(counted, 4)
    remembered(1.0)
    remembered.forget()
    remembered(1.0)
    assert counted.calls == 2
