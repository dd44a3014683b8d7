"""The few errors a maker can meet: a sentence for the maker, and where it happened."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Self

_NOT_SAID = frozenset({"body", "name", "sketch", "toile"})
"""Places that only the program calls so; a measure such as "hip_girth" is one too."""

_FIRST_STOP = re.compile(r"\.(?=\s|$)")
"""Where the first sentence ends: no decimal point, no point of an edge's name."""


class Told(str):
    """A sentence for the maker and, as `exact`, the lengths in mm that it speaks of, unrounded and
    in its order: in another unit it is told from these (`numbers.retold`).
    """

    __slots__ = ("exact",)
    exact: tuple[float, ...]

    def __new__(cls, sentence: str, exact: Iterable[float] = ()) -> Self:
        """Where no lengths are given, those that the sentence brings."""
        made = super().__new__(cls, sentence)
        made.exact = tuple(exact) or exact_of(sentence)
        return made

    @staticmethod
    def joined(sentences: Iterable[str]) -> Told:
        """Sentences one after the other, those that say nothing left out."""
        said = [one for one in sentences if one]
        return Told(" ".join(said), [mm for one in said for mm in exact_of(one)])


class YokewrightError(Exception):
    """Something the maker must be told; `path` and `where` name the file and the place in it.
    `exact` are the lengths that the message speaks of, as `Told` has them.
    """

    def __init__(
        self, message: str, *, where: str = "", path: str = "", exact: Iterable[float] = ()
    ) -> None:
        super().__init__(message)
        self.message: str = Told(message, exact)
        self.where = where
        self.path = path

    def __str__(self) -> str:
        return ": ".join(part for part in (self.path, self.where, self.message) if part)

    @property
    def exact(self) -> tuple[float, ...]:
        """The lengths in mm that the message speaks of, unrounded."""
        return exact_of(self.message)

    @property
    def sentence(self) -> str:
        """What a window tells: the message, with the place in brackets where the maker gave it a
        name that the message leaves out. Of a file all is told, as a line of a log would have it.
        """
        if self.path:
            return Told(str(self), self.exact)
        where = self.where
        if not where or where in self.message or where in _NOT_SAID or "_" in where:
            return self.message
        placed = _FIRST_STOP.sub(lambda _: f" ({where}).", self.message, count=1)
        return Told(placed, self.exact)


class BadInput(YokewrightError):
    """A file, a number or a name that can not be used as it is."""


class NewerVersion(BadInput):
    """A file made by a later version of the program."""


class BodyRefused(BadInput):
    """A set of body measurements that no trouser block can be drawn from."""


class GeometryRefused(YokewrightError):
    """A curve, a cut or an outline that can not be made."""


def told_of(problem: Exception) -> str:
    """The sentence of what a maker must be told; of any other problem what it says itself."""
    return problem.sentence if isinstance(problem, YokewrightError) else str(problem)


def exact_of(sentence: str) -> tuple[float, ...]:
    """The lengths (mm) that a sentence brings, unrounded; none of a plain text."""
    return sentence.exact if isinstance(sentence, Told) else ()
