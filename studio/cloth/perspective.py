"""From a photograph to the plane of the cloth: pixels (y down) to millimetres (y up).

Two marks of known distance give a similarity, for a picture taken square on. The four corners of
a sheet of known size give a homography, which takes the perspective out: R. Hartley and
A. Zisserman, Multiple View Geometry in Computer Vision, chapter 4 (the direct linear transform
for four points, both sides brought to unit size first). The bending of straight lines by a lens
is not taken out.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import msgspec
import numpy as np
from numpy.typing import NDArray

from studio.design.cloth import Place
from studio.errors import BadInput

LEAST_PIXELS = 4.0
"""Marks nearer to each other, or corners nearer to a line through two others, tell nothing."""

LEAST_MM = 1.0
"""Marks nearer to each other on the cloth tell nothing."""

FARTHEST = 0.25
"""A place is used while it is no farther from the camera than 1 / this of the marks: beyond,
towards the horizon, a pixel is several times as many mm.
"""


_PAIRS = ((0, 1), (1, 2), (0, 2))


class Perspective(msgspec.Struct, frozen=True):
    """Where a pixel lies on the cloth: a 3 by 3 matrix, row by row, for (x, y, 1), whose third
    result is 1 at the middle of the marks and falls to 0 at the horizon.
    """

    matrix: tuple[float, ...]

    def on_cloth(self, pixel: Place) -> Place:
        """The place on the cloth in mm; exact for the marks but for rounding.

        Raises:
            BadInput: the pixel lies near the horizon or beyond it.
        """
        x, y, w = _times(self.matrix, pixel)
        if w < FARTHEST:
            raise BadInput("This place lies too far towards the horizon of the picture.")
        return x / w, y / w

    def in_picture(self, place: Place) -> Place:
        """The pixel of a place on the cloth, mm.

        Raises:
            BadInput: the camera does not see the place.
        """
        x, y, w = _times(self.inverse, place)
        if w <= 0.0:
            raise BadInput("This place does not lie before the camera.")
        return x / w, y / w

    @property
    def inverse(self) -> tuple[float, ...]:
        """The matrix from mm to pixels, its third result positive for what the camera sees."""
        found = np.linalg.inv(np.array(self.matrix).reshape(3, 3))
        return tuple(float(number) for number in found.ravel())

    def mm_per_pixel(self, pixel: Place) -> float:
        """The side of a pixel on the cloth, mm: the root of the area it covers.

        Raises:
            BadInput: the pixel lies near the horizon or beyond it.
        """
        self.on_cloth(pixel)
        *_, w = _times(self.matrix, pixel)
        turned = float(np.linalg.det(np.array(self.matrix).reshape(3, 3)))
        return math.sqrt(abs(turned / w**3))

    def field(self, width: float, height: float) -> tuple[float, float, float, float]:
        """Left, bottom, right and top, in mm, of what a picture of so many pixels shows of the
        cloth short of the horizon.

        Raises:
            BadInput: nothing of the picture lies there.
        """
        frame = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
        kept: list[Place] = []
        for one, two in itertools.pairwise((*frame, frame[0])):
            first, second = _times(self.matrix, one)[2], _times(self.matrix, two)[2]
            if first >= FARTHEST:
                kept.append(self.on_cloth(one))
            if (first >= FARTHEST) != (second >= FARTHEST):
                share = (FARTHEST * (1.0 + 1e-9) - first) / (second - first)
                kept.append(self.on_cloth(_between(one, two, share)))
        if not kept:
            raise BadInput("Nothing of the picture lies near the marks.")
        xs, ys = [x for x, _ in kept], [y for _, y in kept]
        return min(xs), min(ys), max(xs), max(ys)


def perspective_of(pixels: Sequence[Place], marks: Sequence[Place]) -> Perspective:
    """The perspective that takes two or four pixels to their places on the cloth, mm.

    Exact: the marks come to lie where they are said to, within 1e-9 of their size.

    Raises:
        BadInput: not two or four of each; marks that are one, lie three in a line, do not form a
            quadrilateral that bulges everywhere, or go round the other way on the cloth.
    """
    if len(pixels) != len(marks) or len(pixels) not in (2, 4):
        raise BadInput("Two marks or four corners are needed, each with its place on the cloth.")
    if not all(math.isfinite(number) for place in (*pixels, *marks) for number in place):
        raise BadInput("A mark has a place that is not a number.")
    return _similarity(pixels, marks) if len(pixels) == 2 else _homography(pixels, marks)


def marks_apart(pixels: Sequence[Place], distance: float) -> tuple[Place, Place]:
    """Where two marks lie on the cloth when they are `distance` mm apart and the picture keeps
    its uprights: the first pixel of the picture is the origin.

    Raises:
        BadInput: not two pixels, pixels that are one, or no distance.
    """
    if len(pixels) != 2:
        raise BadInput("Two marks are needed.")
    (x, y), (other_x, other_y) = pixels
    apart = math.hypot(other_x - x, other_y - y)
    if apart < LEAST_PIXELS:
        raise BadInput("The two marks lie on one place of the picture.")
    if not distance >= LEAST_MM:
        raise BadInput("The two marks need a distance on the cloth.")
    scale = distance / apart
    return (x * scale, -y * scale), (other_x * scale, -other_y * scale)


def sheet_corners(width: float, height: float) -> tuple[Place, Place, Place, Place]:
    """The corners of a sheet in mm: upper left, upper right, lower right, lower left."""
    return (0.0, height), (width, height), (width, 0.0), (0.0, 0.0)


def in_order(pixels: Sequence[Place]) -> tuple[Place, ...]:
    """Four corners as they are seen: from the upper left on clockwise, whatever their order.

    Raises:
        BadInput: not four corners, or one lies within the triangle of the others.
    """
    if len(pixels) != 4:
        raise BadInput("Four corners are needed.")
    middle_x = sum(x for x, _ in pixels) / 4.0
    middle_y = sum(y for _, y in pixels) / 4.0
    # y runs down in a picture, so that growing angles go round clockwise.
    around = sorted(pixels, key=lambda at: math.atan2(at[1] - middle_y, at[0] - middle_x))
    if _bulge(around, LEAST_PIXELS, "corners") < 0.0:
        raise BadInput("The four corners do not go round a sheet.")
    first = min(range(4), key=lambda at: around[at][0] + around[at][1])
    return (*around[first:], *around[:first])


def looks_upright(pixels: Sequence[Place]) -> bool:
    """Whether four corners in order look like a sheet that is higher than wide."""
    sides = [math.dist(one, two) for one, two in itertools.pairwise((*pixels, pixels[0]))]
    return sides[1] + sides[3] > sides[0] + sides[2]


def _similarity(pixels: Sequence[Place], marks: Sequence[Place]) -> Perspective:
    if math.dist(*pixels) < LEAST_PIXELS:
        raise BadInput("The two marks lie on one place of the picture.")
    if math.dist(*marks) < LEAST_MM:
        raise BadInput("The two marks need a distance on the cloth.")
    seen = [complex(x, -y) for x, y in pixels]
    lies = [complex(x, y) for x, y in marks]
    turn = (lies[1] - lies[0]) / (seen[1] - seen[0])
    shift = lies[0] - turn * seen[0]
    a, b = turn.real, turn.imag
    return Perspective((a, b, shift.real, b, -a, shift.imag, 0.0, 0.0, 1.0))


def _homography(pixels: Sequence[Place], marks: Sequence[Place]) -> Perspective:
    seen = _bulge(pixels, LEAST_PIXELS, "corners in the picture")
    lies = _bulge(marks, LEAST_MM, "corners on the cloth")
    if seen * lies > 0.0:
        # Both turn alike only when one of them is mirrored: y runs down in the picture.
        raise BadInput("The corners go round the other way on the cloth than in the picture.")
    from_unit, to_unit = _unit(marks), _unit(pixels)
    unit_pixels, unit_marks = _moved(to_unit, pixels), _moved(from_unit, marks)
    rows, wanted = [], []
    for (x, y), (u, v) in zip(unit_pixels, unit_marks, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        wanted += [u, v]
    try:
        solved = np.linalg.solve(np.array(rows), np.array(wanted))
    except np.linalg.LinAlgError as problem:
        raise BadInput("The four corners give no perspective.") from problem
    unit = np.append(solved, 1.0).reshape(3, 3)
    whole = np.linalg.inv(from_unit) @ unit @ to_unit
    middle = (sum(x for x, _ in pixels) / 4.0, sum(y for _, y in pixels) / 4.0)
    whole = whole / float(whole[2] @ (*middle, 1.0))
    return Perspective(tuple(float(number) for number in whole.ravel()))


def _bulge(places: Sequence[Place], least: float, what: str) -> float:
    """1 when four places go round with x to y, -1 against it.

    Raises:
        BadInput: three lie in a line, sides cross, or a corner is drawn in.
    """
    turns = []
    for at in range(4):
        (x, y), (next_x, next_y), (last_x, last_y) = (places[(at + k) % 4] for k in range(3))
        longest = max(math.dist(places[(at + k) % 4], places[(at + j) % 4]) for k, j in _PAIRS)
        swept = (next_x - x) * (last_y - y) - (next_y - y) * (last_x - x)
        if abs(swept) < least * longest:
            raise BadInput(f"Three of the four {what} lie in a line.")
        turns.append(math.copysign(1.0, swept))
    if len(set(turns)) > 1:
        raise BadInput(f"The four {what} must go round the sheet, one after the other.")
    return turns[0]


def _unit(places: Sequence[Place]) -> NDArray[np.float64]:
    """The move that brings places about the origin, at a distance of the root of 2 on average."""
    points = np.array(places, dtype=float)
    middle = points.mean(axis=0)
    size = math.sqrt(2.0) / float(np.hypot(*(points - middle).T).mean())
    return np.array([[size, 0, -size * middle[0]], [0, size, -size * middle[1]], [0, 0, 1.0]])


def _moved(matrix: NDArray[np.float64], places: Sequence[Place]) -> list[Place]:
    return [(float(x), float(y)) for x, y, _ in (matrix @ (*place, 1.0) for place in places)]


def _times(matrix: Sequence[float], place: Place) -> tuple[float, float, float]:
    x, y = place
    a, b, c, d, e, f, g, h, i = matrix
    return a * x + b * y + c, d * x + e * y + f, g * x + h * y + i


def _between(one: Place, two: Place, share: float) -> Place:
    return one[0] + (two[0] - one[0]) * share, one[1] + (two[1] - one[1]) * share
