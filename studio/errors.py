"""The few errors a maker can meet: a sentence for the maker, and where it happened."""

from __future__ import annotations


class YokewrightError(Exception):
    """Something the maker must be told; `path` and `where` name the file and the place in it."""

    def __init__(self, message: str, *, where: str = "", path: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.where = where
        self.path = path

    def __str__(self) -> str:
        return ": ".join(part for part in (self.path, self.where, self.message) if part)


class BadInput(YokewrightError):
    """A file, a number or a name that can not be used as it is."""


class NewerVersion(BadInput):
    """A file made by a later version of the program."""


class BodyRefused(BadInput):
    """A set of body measurements that no trouser block can be drawn from."""


class GeometryRefused(YokewrightError):
    """A curve, a cut or an outline that can not be made."""
