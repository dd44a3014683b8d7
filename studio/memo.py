"""Pure functions that remember their last results, and values that are cheap to remember by."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import TYPE_CHECKING, Any, TypeVar
from weakref import WeakSet

import msgspec

if TYPE_CHECKING:
    from functools import _lru_cache_wrapper

Result = TypeVar("Result")


class Made(msgspec.Struct, frozen=True, gc=False):
    """What the program makes of a design: curves, panels, pieces, seams.

    Two are equal when all their fields are; as what a remembered function reads, each stands for
    itself alone. So no work is done to find that nothing has changed. Do not look for one in a
    set, nor by it in a dict: an equal one would not be found.
    """

    __hash__ = object.__hash__


def remembered(function: Callable[..., Result], keep: int) -> _lru_cache_wrapper[Result]:
    """The function, called once for the same arguments, that gives the same object again.

    It is to be pure, and its arguments never to change: numbers, words and values of a design are
    the same when they are equal, what is `Made` when it is the same object, tuples item by item.
    Only `keep` results are held: the one longest not asked for goes first. An exception is not
    kept. Safe to call from several threads.
    """
    made = lru_cache(keep)(function)
    _ALL.add(made)
    return made


_ALL: WeakSet[_lru_cache_wrapper[Any]] = WeakSet()


def forget_all() -> None:
    """Drop everything that any remembered function holds, for measurements and tests."""
    for one in list(_ALL):
        one.cache_clear()
