"""The few errors a maker can meet: a sentence for the maker, and where it happened."""

from __future__ import annotations

import re

_NOT_SAID = frozenset({"body", "name", "sketch", "toile"})
"""Places that only the program calls so; a measure such as "hip_girth" is one too."""

_FIRST_STOP = re.compile(r"\.(?=\s|$)")
"""Where the first sentence ends: no decimal point, no point of an edge's name."""


class YokewrightError(Exception):
    """Something the maker must be told; `path` and `where` name the file and the place in it."""

    def __init__(self, message: str, *, where: str = "", path: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.where = where
        self.path = path

    def __str__(self) -> str:
        return ": ".join(part for part in (self.path, self.where, self.message) if part)

    @property
    def sentence(self) -> str:
        """What a window tells: the message, with the place in brackets where the maker gave it a
        name that the message leaves out. Of a file all is told, as a line of a log would have it.
        """
        if self.path:
            return str(self)
        where = self.where
        if not where or where in self.message or where in _NOT_SAID or "_" in where:
            return self.message
        return _FIRST_STOP.sub(lambda _: f" ({where}).", self.message, count=1)


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
