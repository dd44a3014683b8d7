"""A pure function that remembers its last results by the identity of what it read."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock
from typing import Any, Generic, TypeVar
from weakref import WeakSet

Result = TypeVar("Result")

_BY_VALUE = frozenset((str, float, int, bool, type(None)))


class _Known(Generic[Result]):
    """A result with what was read, held so that identities stay true; and if it was asked for
    again since it was last passed over.
    """

    __slots__ = ("read", "result", "used")

    def __init__(self, read: tuple[Any, ...], result: Result) -> None:
        self.read = read
        self.result = result
        self.used = False


class Remembered(Generic[Result]):
    """Calls a pure function once for the same arguments and gives the same object again.

    Values of the model are compared by identity (they never change), plain numbers and words by
    value, tuples item by item. Only `keep` results are held: the oldest goes first, unless it was
    asked for again since its turn last came. An exception is not kept. Safe to call from several
    threads.
    """

    def __init__(self, function: Callable[..., Result], keep: int) -> None:
        self._function = function
        self._keep = keep
        # Not a plain dict: finding its oldest passes over the place of every one dropped before.
        self._results: OrderedDict[Any, _Known[Result]] = OrderedDict()
        self._lock = Lock()
        _ALL.add(self)

    def __call__(self, *read: Any) -> Result:
        """The function's result."""
        # As `_key`, written out: most of a drag is spent finding that nothing has changed.
        key = tuple(
            [
                id(item)
                if (kind := item.__class__) not in _BY_VALUE and kind is not tuple
                else (_key(item) if item else item)
                if kind is tuple
                else item
                for item in read
            ]
        )
        # A look into a dict needs no lock, and most calls end here.
        known = self._results.get(key)
        if known is not None:
            known.used = True
            return known.result
        result = self._function(*read)
        with self._lock:
            self._results[key] = _Known(read, result)
            while len(self._results) > self._keep:
                self._drop_one()
        return result

    def recall(self, *read: Any) -> Result | None:
        """The result for these arguments if it is known; None when it would have to be made."""
        known = self._results.get(_key(read))
        if known is None:
            return None
        known.used = True
        return known.result

    def _drop_one(self) -> None:
        results = self._results
        while (oldest := results.popitem(last=False))[1].used:
            key, known = oldest
            known.used = False
            results[key] = known

    def forget(self) -> None:
        """Drop all results."""
        with self._lock:
            self._results.clear()


_ALL: WeakSet[Remembered[Any]] = WeakSet()


def forget_all() -> None:
    """Drop everything that any remembered function holds, for measurements and tests."""
    for one in list(_ALL):
        one.forget()


def _key(read: tuple[Any, ...]) -> tuple[Any, ...]:
    """Values by value, the model's objects by identity, tuples item by item.

    An identity is a bare number: at one place of one function's arguments stand either numbers or
    objects, never both, so the two cannot be taken for each other.
    """
    return tuple(
        [
            (_key(item) if item else item)
            if item.__class__ is tuple
            else item
            if item.__class__ in _BY_VALUE
            else id(item)
            for item in read
        ]
    )
