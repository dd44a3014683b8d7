"""What of a drawing could not be used, told so that it can be read: alike things at once."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable

import msgspec

NOT_AN_OUTLINE = "not an outline"
"""Texts, points and dimensions: every drawing has them, and nobody misses them."""

_NUMBERED = re.compile(r"( in block .*?)?( \(handle [0-9A-Fa-f]+\))?$")
_PLACED = re.compile(r" between \(.*$")


class LeftOut(msgspec.Struct, frozen=True):
    """An entity that could not be used: which, where, why."""

    what: str
    why: str

    @property
    def sentence(self) -> str:
        """As it is told to the maker."""
        return f"{self.what}: {self.why}"

    @property
    def kind(self) -> tuple[str, str]:
        """What things that are alike have in common: all but their number and their place."""
        return _NUMBERED.sub("", self.what), _PLACED.sub("", self.why)


def told(left_out: Iterable[LeftOut]) -> tuple[str, ...]:
    """A sentence for each, one for all that are alike, in whatever block they stand; at the end one
    for all that never could have been an outline.
    """
    alike: dict[tuple[str, str], list[LeftOut]] = {}
    others: Counter[str] = Counter()
    for one in left_out:
        if one.why == NOT_AN_OUTLINE:
            others[one.what.partition(" ")[0]] += 1
        else:
            alike.setdefault(one.kind, []).append(one)
    counted = ", ".join(f"{count} times {word}" for word, count in others.items())
    sentences = [_sentence(group) for group in alike.values()]
    return (*sentences, *([f"{counted}: {NOT_AN_OUTLINE}"] if counted else []))


def _sentence(group: list[LeftOut]) -> str:
    first = group[0]
    if len(group) == 1:
        return first.sentence
    what, why = first.kind
    placed = _PLACED.search(first.why)
    where = f", the first{placed[0]}" if placed else ""
    return f"{len(group)} times {what}: {why}{where}"
