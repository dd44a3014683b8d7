"""Draws a panel's numbers as an outline of named edges with its darts."""

from __future__ import annotations

import msgspec

from studio.block import seams
from studio.block.panel import Dart, Panel
from studio.block.proportions import Levels, PanelNumbers
from studio.block.seams import Numbers
from studio.block.waistline import Waistline, waistline
from studio.curves import Chain, Cubic, Edge, Outline, Point

CLOSE_MM = 1e-9
"""Side seams are made equal within this; a thousand times finer than asked of a block."""

SWING_MOST = 0.42
"""Most the waist's chord may be swung, radians; past it the waist would run over a peak."""

ROUNDS = 12

SIDE_UP_SHARE = 0.4
"""The front's side corner takes this share of the lift that an even waist curve would give it:
a corner some 5 above the waist line, where the handbook has it on the line (practice)."""


class Upper(msgspec.Struct, frozen=True):
    """What depends on where the waist lies: the waist itself and the side above the hip."""

    waist: Waistline
    side: Numbers


class Drawn(msgspec.Struct, frozen=True):
    """All seams of one panel as numbers, rise on the left."""

    rise: seams.Rise
    inseam: tuple[Numbers, Numbers]
    lower_side: tuple[Numbers, Numbers]
    upper: Upper

    @property
    def side_length(self) -> float:
        """Side seam, hem to waist, mm."""
        return sum(seams.length(part) for part in self.lower_side) + seams.length(self.upper.side)


def drawn(numbers: PanelNumbers, levels: Levels, *, side: float | None = None) -> Drawn:
    """The seams of a panel; with `side`, the waist is swung until the side seam is that long.

    When that length is out of reach the nearest is drawn; the caller compares `side_length`.
    """
    rise = seams.rise(numbers, levels)
    hip = seams.hip_x(rise, numbers, levels)
    lower = seams.lower_side(numbers, levels, hip)
    inseam = seams.inseam(numbers, levels)
    if side is None:
        upper = _raised(numbers, levels, rise, hip, SIDE_UP_SHARE)
    else:
        upper = _swung(numbers, levels, rise, hip, side - sum(map(seams.length, lower)))
    return Drawn(rise, inseam, lower, upper)


def level_waist(numbers: PanelNumbers, levels: Levels) -> Drawn:
    """The seams with the side end of the waist on the waist line, within 0.5 mm."""
    rise = seams.rise(numbers, levels)
    hip = seams.hip_x(rise, numbers, levels)
    return Drawn(
        rise,
        seams.inseam(numbers, levels),
        seams.lower_side(numbers, levels, hip),
        _raised(numbers, levels, rise, hip, 0.0),
    )


def _raised(
    numbers: PanelNumbers, levels: Levels, rise: seams.Rise, hip: float, share: float
) -> Upper:
    """The waist with its side end at a share of the height an even curve would lift it to."""
    even = _upper(numbers, levels, rise, hip, 0.0)
    excess = (1.0 - share) * (even.waist.side[1] - levels.waist)
    return _upper(numbers, levels, rise, hip, -excess / (even.waist.side[0] - rise.top[0]))


def _upper(
    numbers: PanelNumbers, levels: Levels, rise: seams.Rise, hip: float, swing: float
) -> Upper:
    slope = seams.top_slope(numbers, levels, hip)
    line = waistline(rise.top, rise.along, numbers.waist, numbers.darts, -slope, swing)
    x, y = line.side
    return Upper(
        line,
        seams.upright(hip, levels.hip, seams.hip_slope(numbers, levels, hip), x, y, slope),
    )


def _swung(
    numbers: PanelNumbers, levels: Levels, rise: seams.Rise, hip: float, above: float
) -> Upper:
    """Newton's method by the secant on the swing; the side grows by about the waist a radian."""
    swing, rate = 0.0, numbers.waist
    upper = _upper(numbers, levels, rise, hip, swing)
    gap = seams.length(upper.side) - above
    for _ in range(ROUNDS):
        if abs(gap) < CLOSE_MM:
            break
        fresh = min(max(swing - gap / rate, -SWING_MOST), SWING_MOST)
        if fresh == swing:
            break
        upper = _upper(numbers, levels, rise, hip, fresh)
        fresh_gap = seams.length(upper.side) - above
        if fresh_gap != gap:
            rate = (fresh_gap - gap) / (fresh - swing)
        swing, gap = fresh, fresh_gap
    return upper


def front_panel(shape: Drawn, levels: Levels) -> Panel:
    """The front as a panel: hem, side, waist, rise, inseam, counter-clockwise."""
    point = _Points(1.0)
    waist, mouths = _waist(point, shape.upper.waist)
    edges = {
        "hem": (Cubic.straight(point.end(shape.inseam[1]), point.start(shape.lower_side[0])),),
        "side": (*(point.cubic(part) for part in shape.lower_side), point.cubic(shape.upper.side)),
        "waist": tuple(cubic.reversed() for cubic in reversed(waist)),
        "rise": (_straight(point, shape.rise.straight), point.cubic(shape.rise.curve)),
        "inseam": tuple(point.cubic(part) for part in shape.inseam),
    }
    darts = [
        (side_end, rise_end, dart_point) for rise_end, side_end, dart_point in reversed(mouths)
    ]
    return _panel("front", edges, darts, levels)


def back_panel(shape: Drawn, levels: Levels) -> Panel:
    """The back, its rise on the right: hem, inseam, rise, waist, side, counter-clockwise."""
    point = _Points(-1.0)
    waist, mouths = _waist(point, shape.upper.waist)
    edges = {
        "hem": (Cubic.straight(point.start(shape.lower_side[0]), point.end(shape.inseam[1])),),
        "inseam": tuple(point.cubic(part).reversed() for part in reversed(shape.inseam)),
        "rise": (
            point.cubic(shape.rise.curve).reversed(),
            _straight(point, shape.rise.straight).reversed(),
        ),
        "waist": tuple(waist),
        "side": (
            point.cubic(shape.upper.side).reversed(),
            *(point.cubic(part).reversed() for part in reversed(shape.lower_side)),
        ),
    }
    return _panel("back", edges, mouths, levels)


class _Points:
    """Turns numbers into points, mirrored for the back; one place, one stored point."""

    def __init__(self, flip: float) -> None:
        self.flip = flip
        self.known: dict[tuple[float, float], Point] = {}

    def at(self, x: float, y: float) -> Point:
        point = self.known.get((x, y))
        if point is None:
            point = self.known[x, y] = Point(self.flip * x, y)
        return point

    def start(self, numbers: Numbers) -> Point:
        return self.at(numbers[0], numbers[1])

    def end(self, numbers: Numbers) -> Point:
        return self.at(numbers[6], numbers[7])

    def cubic(self, n: Numbers) -> Cubic:
        flip = self.flip
        return Cubic(
            self.at(n[0], n[1]),
            Point(flip * n[2], n[3]),
            Point(flip * n[4], n[5]),
            self.at(n[6], n[7]),
        )


def _straight(point: _Points, numbers: Numbers) -> Cubic:
    return Cubic.straight(point.start(numbers), point.end(numbers))


def _waist(point: _Points, line: Waistline) -> tuple[list[Cubic], list[tuple[Point, Point, Point]]]:
    """Stretches and mouths from the rise to the side, and each dart's ends and point."""
    cubics = [point.cubic(line.stretches[0])]
    mouths = []
    for dart, stretch in zip(line.darts, line.stretches[1:], strict=True):
        rise_end, side_end = point.at(*dart.near_rise), point.cubic(stretch).p0
        cubics.append(Cubic.straight(cubics[-1].p3, side_end))
        cubics.append(point.cubic(stretch))
        mouths.append((rise_end, side_end, point.at(*dart.point)))
    return cubics, mouths


def _panel(
    name: str,
    edges: dict[str, tuple[Cubic, ...]],
    mouths: list[tuple[Point, Point, Point]],
    levels: Levels,
) -> Panel:
    outline = Outline(
        tuple(Edge.whole(f"{name}.{edge}", Chain(cubics)) for edge, cubics in edges.items())
    )
    darts = tuple(
        Dart(_dart_name(name, number), f"{name}.waist", first, last, tip)
        for number, (first, last, tip) in enumerate(mouths, start=1)
    )
    heights = {
        "waist": levels.waist,
        "hip": levels.hip,
        "crotch": levels.crotch,
        "knee": levels.knee,
        "hem": levels.hem,
    }
    return Panel(name, outline, darts, heights)


def _dart_name(panel: str, number: int) -> str:
    """The front has one dart at most; the back's are numbered from the rise, also when alone."""
    return "front-dart" if panel == "front" else f"{panel}-dart-{number}"
