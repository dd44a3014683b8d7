"""Where the words of a piece stand: its label and the word beside its grainline."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.curves import Point, Vector
from studio.exchange.clear_place import Polyline, is_clear
from studio.exchange.label_place import LabelPlace
from studio.exchange.paint.writing import LEADING, width_of

_SECOND = 0.75
"""Lines after the name, as a share of its size."""

_WORD_SHARES = (0.78, 0.22, 0.65, 0.35, 0.5)
"""Places along the grainline tried for its word."""

_LETTERS = 0.76
"""Height of letters above their baseline, as a share of their size."""


class Label(msgspec.Struct, frozen=True):
    """Centred lines about a middle (mm, y up), turned by degrees, perhaps with a leader from there
    to the piece.
    """

    middle: Point
    size: float
    turned: float
    lines: tuple[str, ...]
    leader: tuple[Point, Point] | None = None

    @staticmethod
    def at(place: LabelPlace) -> Label:
        """The label at its place."""
        return Label(place.middle, place.size, place.turned, place.lines, place.leader)

    @property
    def width(self) -> float:
        """Width of the widest line, mm."""
        return max(
            width_of(line, self.size if row == 0 else _SECOND * self.size, bold=row == 0)
            for row, line in enumerate(self.lines)
        )

    @property
    def height(self) -> float:
        """Height of all lines, mm."""
        return self.baselines[-1][0] - self.baselines[0][0] + self.size

    @property
    def baselines(self) -> tuple[tuple[float, float], ...]:
        """For each line its baseline below the middle (mm, downward) and its size."""
        step = _SECOND * self.size * LEADING
        count = len(self.lines)
        first = _LETTERS * self.size - (self.size + step * (count - 1)) / 2.0
        return tuple(
            (first + row * step, self.size if row == 0 else _SECOND * self.size)
            for row in range(count)
        )

    @property
    def outline(self) -> Polyline:
        """The closed box round the label, mm y up."""
        half = Vector(self.width / 2.0, self.height / 2.0)
        return _box_round(self.middle, half, Vector.at_angle(self.turned))


class Word(msgspec.Struct, frozen=True):
    """A word on a baseline that runs through `baseline` (its middle), turned by degrees."""

    baseline: Point
    turned: float
    outline: Polyline


def size_of(lines: tuple[str, ...], size: float) -> tuple[float, float]:
    """Width and height of a label's lines, mm."""
    label = Label(Point(0.0, 0.0), size, 0.0, lines)
    return label.width, label.height


def place_word(
    word: str,
    size: float,
    line: tuple[Point, Point],
    room: Polyline,
    in_the_way: Sequence[Polyline],
) -> Word | None:
    """A word along a line, beside it, where it covers nothing; None when there is no such place."""
    low, high = line
    turned = _readable((high - low).angle)
    along = Vector.at_angle(turned)
    half = Vector(width_of(word, size) / 2.0, _LETTERS * size / 2.0)
    # On a short line the word stands in the middle, so that it does not run past an arrow.
    short = low.distance_to(high) < 5.0 * half.x
    for share in reversed(_WORD_SHARES) if short else _WORD_SHARES:
        baseline = low.toward(high, share) + along.left() * (0.3 * size)
        outline = _box_round(baseline + along.left() * half.y, half, along)
        if is_clear(outline, room, in_the_way):
            return Word(baseline, turned, outline)
    return None


def _box_round(middle: Point, half: Vector, along: Vector) -> Polyline:
    points = [
        middle + along * (half.x * right) + along.left() * (half.y * up)
        for right, up in ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
    ]
    return [(point.x, point.y) for point in points]


def _readable(degrees: float) -> float:
    """The same line, read from the left or from below."""
    if degrees > 90.0 + 1e-6:
        return degrees - 180.0
    return degrees + 180.0 if degrees < -90.0 + 1e-6 else degrees
