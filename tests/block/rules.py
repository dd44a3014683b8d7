"""What must hold of every drafted block, each as a function that asserts it.

Measured on the drawn outlines by ways of their own: level lines by the roots of the cubics'
polynomials, closed darts by turning points, outlines by shapely.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from shapely.geometry import LineString, Polygon

from studio.block import Block, Dart, Panel
from studio.curves import Cubic, Vector, turn_between
from studio.design.body import Body, Fit

SEAM_MM = 1e-6
THIGH_BELOW = 25.0


def crossings(panel: Panel, y: float) -> list[float]:
    """Where a level line meets the outline, x in mm from left to right."""
    found: list[float] = []
    for edge in panel.outline:
        for cubic in edge.chain.cubics:
            found.extend(_crossings(cubic, y))
    return sorted(found)


def width_at(panel: Panel, y: float) -> float:
    """Width of a panel on a level line, mm."""
    found = crossings(panel, y)
    return found[-1] - found[0]


def sewn_waist(block: Block) -> float:
    return 2.0 * sum(panel.sewn_length(f"{panel.name}.waist") for panel in block.panels)


def hip_width(block: Block) -> float:
    return 2.0 * sum(width_at(panel, panel.levels["hip"]) for panel in block.panels)


def thigh_width(block: Block) -> float:
    return sum(width_at(p, p.levels["crotch"] - THIGH_BELOW) for p in block.panels)


def knee_width(block: Block) -> float:
    return sum(width_at(panel, panel.levels["knee"]) for panel in block.panels)


def length(block: Block, edge: str) -> float:
    return block.panel(edge.split(".")[0]).outline.edge(edge).length


def corner(block: Block, before: str, after: str) -> float:
    """Angle inside the corner between two edges of a panel, degrees."""
    name = before.split(".")[0]
    for found in block.panel(name).outline.corners():
        if {found.before, found.after} == {before, after}:
            return found.inner
    raise AssertionError(f"{before} and {after} do not meet")


def waist_is_as_asked(body: Body, fit: Fit, block: Block) -> None:
    assert abs(sewn_waist(block) - body.waist_girth - fit.waist_ease) < SEAM_MM


def hip_is_as_asked(body: Body, fit: Fit, block: Block) -> None:
    assert abs(hip_width(block) - body.hip_girth - fit.hip_ease) < SEAM_MM


def crotch_seam_is_as_asked(body: Body, fit: Fit, block: Block) -> None:
    if body.crotch_length is not None:
        seam = length(block, "front.rise") + length(block, "back.rise")
        assert abs(seam - body.crotch_length - fit.crotch_ease) < SEAM_MM


def thigh_and_knee_have_their_ease(body: Body, fit: Fit, block: Block) -> None:
    if body.thigh_girth is not None:
        assert thigh_width(block) >= body.thigh_girth + fit.thigh_ease - SEAM_MM
    if body.knee_girth is not None:
        assert knee_width(block) >= body.knee_girth + fit.knee_ease - SEAM_MM


def foot_passes_the_hem(body: Body, fit: Fit, block: Block) -> None:
    hem = length(block, "front.hem") + length(block, "back.hem")
    if body.heel_girth is not None:
        assert hem >= body.heel_girth + 10.0 - SEAM_MM
    if fit.hem_girth is not None:
        assert hem >= fit.hem_girth - SEAM_MM


def joined_seams_agree(body: Body, fit: Fit, block: Block) -> None:
    assert abs(length(block, "front.side") - length(block, "back.side")) < SEAM_MM
    shorter = length(block, "front.inseam") - length(block, "back.inseam")
    assert abs(shorter - fit.inseam_stretch) < SEAM_MM


def rises_meet_the_waist_square(body: Body, fit: Fit, block: Block) -> None:
    for name in ("front", "back"):
        assert abs(corner(block, f"{name}.rise", f"{name}.waist") - 90.0) < 0.01


def edges_run_on_over_the_seams(body: Body, fit: Fit, block: Block) -> None:
    for edge, seam, within in (
        ("waist", "side", 2.0),
        ("hem", "side", 2.0),
        ("hem", "inseam", 2.0),
        ("rise", "inseam", 0.1),
    ):
        both = sum(corner(block, f"{name}.{edge}", f"{name}.{seam}") for name in ("front", "back"))
        assert abs(both - 180.0) < within, (edge, seam)


def edges_are_smooth_inside(body: Body, fit: Fit, block: Block) -> None:
    """All but the waist, whose corners are those of its darts."""
    for panel in block.panels:
        for edge in panel.outline:
            if not edge.name.endswith("waist"):
                for one, two in zip(edge.chain.cubics, edge.chain.cubics[1:], strict=False):
                    assert abs(turn_between(one.tangent(1.0), two.tangent(0.0))) < 1e-6, edge.name


def darts_close_true(body: Body, fit: Fit, block: Block) -> None:
    for panel in block.panels:
        for dart in panel.darts:
            assert dart.intake >= 4.0 - SEAM_MM
            first, last = dart.first.distance_to(dart.point), dart.last.distance_to(dart.point)
            assert abs(first - last) < SEAM_MM
            before, mouth, after = _around(panel, dart)
            assert mouth.is_straight
            # The dart closed, the waist runs on over the leg: both angles add to half a turn.
            one = _angle(-before.tangent(1.0), dart.point - dart.first)
            two = _angle(after.tangent(0.0), dart.point - dart.last)
            assert abs(one + two - 180.0) < 2.0


def outline_is_simple_and_holds_its_darts(body: Body, fit: Fit, block: Block) -> None:
    for panel in block.panels:
        polygon = Polygon(panel.outline.polyline())
        assert polygon.is_valid
        assert polygon.exterior.is_simple
        assert panel.outline.area_mm2 > 0.0
        for dart in panel.darts:
            legs = LineString([(p.x, p.y) for p in (dart.first, dart.point, dart.last)])
            assert polygon.buffer(1e-6).covers(legs)
            assert dart.point.y > panel.levels["hip"]


def panels_lie_as_agreed(body: Body, fit: Fit, block: Block) -> None:
    front, back = block.panel("front"), block.panel("back")
    assert [edge.name for edge in front.outline] == [
        f"front.{edge}" for edge in ("hem", "side", "waist", "rise", "inseam")
    ]
    assert [edge.name for edge in back.outline] == [
        f"back.{edge}" for edge in ("hem", "inseam", "rise", "waist", "side")
    ]
    for panel in block.panels:
        levels = panel.levels
        order = [levels[name] for name in ("waist", "hip", "crotch", "knee", "hem")]
        assert order == sorted(order, reverse=True)
        assert order[-1] == 0.0
        hem = panel.outline.edge(f"{panel.name}.hem").chain
        assert hem.start.y == hem.end.y == 0.0
        assert abs(hem.start.x + hem.end.x) < SEAM_MM
    assert front.outline.edge("front.rise").chain.end.x < 0.0
    assert back.outline.edge("back.rise").chain.start.x > 0.0
    assert front.levels == back.levels


RULES: tuple[Callable[[Body, Fit, Block], None], ...] = (
    waist_is_as_asked,
    hip_is_as_asked,
    crotch_seam_is_as_asked,
    thigh_and_knee_have_their_ease,
    foot_passes_the_hem,
    joined_seams_agree,
    rises_meet_the_waist_square,
    edges_run_on_over_the_seams,
    edges_are_smooth_inside,
    darts_close_true,
    outline_is_simple_and_holds_its_darts,
    panels_lie_as_agreed,
)


def _crossings(cubic: Cubic, y: float) -> list[float]:
    y0, y1, y2, y3 = (p.y for p in (cubic.p0, cubic.p1, cubic.p2, cubic.p3))
    if not min(y0, y1, y2, y3) - 1e-9 <= y <= max(y0, y1, y2, y3) + 1e-9:
        return []
    powers = [y3 - 3 * y2 + 3 * y1 - y0, 3 * y2 - 6 * y1 + 3 * y0, 3 * y1 - 3 * y0, y0 - y]
    # Upright cubics run evenly in y: a leading power that is only rounding would ruin the roots.
    while powers and abs(powers[0]) < 1e-9:
        powers.pop(0)
    return [
        cubic.at(min(1.0, max(0.0, root.real))).x
        for root in np.roots(powers)
        if abs(root.imag) < 1e-9 and -1e-9 <= root.real <= 1.0 + 1e-9
    ]


def _around(panel: Panel, dart: Dart) -> tuple[Cubic, Cubic, Cubic]:
    """The waist before a dart's mouth, the mouth, and the waist after it."""
    cubics = panel.outline.edge(dart.edge).chain.cubics
    for before, mouth, after in zip(cubics, cubics[1:], cubics[2:], strict=False):
        if mouth.p0 == dart.first and mouth.p3 == dart.last:
            return before, mouth, after
    raise AssertionError(f"{dart.name} is not on {dart.edge}")


def _angle(one: Vector, two: Vector) -> float:
    return math.degrees(math.acos(one.unit().dot(two.unit())))
