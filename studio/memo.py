"""A pure function that remembers its last results by the identity of what it read."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Any, Generic, TypeVar

Result = TypeVar("Result")

_BY_VALUE = frozenset((str, float, int, bool, type(None)))


class Remembered(Generic[Result]):
    """Calls a pure function once for the same arguments and gives the same object again.

    Values of the model are compared by identity (they never change), plain numbers and words by
    value, tuples item by item. Only the last `keep` results are held. An exception is not kept.
    Safe to call from several threads.
    """

    def __init__(self, function: Callable[..., Result], keep: int) -> None:
        self._function = function
        self._keep = keep
        self._results: OrderedDict[Any, tuple[tuple[Any, ...], Result]] = OrderedDict()
        self._lock = Lock()

    def __call__(self, *read: Any) -> Result:
        """The function's result; what was read is held so that identities stay true."""
        key = _key(read)
        with self._lock:
            known = self._results.get(key)
            if known is not None:
                self._results.move_to_end(key)
                return known[1]
        result = self._function(*read)
        with self._lock:
            self._results[key] = (read, result)
            while len(self._results) > self._keep:
                self._results.popitem(last=False)
        return result

    def forget(self) -> None:
        """Drop all results."""
        with self._lock:
            self._results.clear()


def _key(read: tuple[Any, ...]) -> tuple[Any, ...]:
    """Values by value, the model's objects by identity, tuples item by item.

    An identity is a bare number: at one place of one function's arguments stand either numbers or
    objects, never both, so the two cannot be taken for each other.
    """
    return tuple(
        [
            _key(item)
            if item.__class__ is tuple
            else item
            if item.__class__ in _BY_VALUE
            else id(item)
            for item in read
        ]
    )
