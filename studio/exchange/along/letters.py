"""Letters for the points of a panel: the same point keeps its letter from step to step."""

from __future__ import annotations

import string

from studio.curves import Point, tolerance

_ALPHABET = string.ascii_uppercase.replace("I", "").replace("O", "")
"""I and O are left out: on paper they are taken for 1 and 0 (common practice, no source)."""


class Letters:
    """Hands out A, B, ... Z, then A1, B1, ... for the points of one panel."""

    def __init__(self) -> None:
        self._points: list[Point] = []

    def of(self, point: Point) -> str:
        """The letter of a point, a new one when nothing lies there yet."""
        for index, known in enumerate(self._points):
            if known.distance_to(point) < tolerance.CORNER_MM:
                return _letter(index)
        self._points.append(point)
        return _letter(len(self._points) - 1)


def _letter(index: int) -> str:
    again, place = divmod(index, len(_ALPHABET))
    return _ALPHABET[place] + (str(again) if again else "")
