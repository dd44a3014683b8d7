"""An old pair of a size, opened at its seams: the cloth it would give.

Drafted by our own block for a body scaled to the size, so it is as true as sizes are: an estimate.
"""

from __future__ import annotations

import math

import msgspec
from msgspec.structs import replace

from studio import numbers
from studio.block import Panel, draft
from studio.curves import tolerance
from studio.design.body import Body, Fit
from studio.design.cloth import Flaw, SalvagedPanel
from studio.errors import Told
from studio.sew import cut_line, cut_outline_points

SEAM_GIVES = 8.0
"""What is left of an allowance when a seam is opened and its frayed edge cut off, mm (practice)."""

HEM_GIVES = 30.0
"""What a hem gives when it is let down, mm (practice)."""

WORN_KNEE = (65.0, 110.0)
"""Half the width and half the height of the worn place over a knee, mm (practice)."""

MOUTH = (60.0, 160.0)
"""What a hand pocket's mouth takes from the front, along waist and side seam, mm (practice)."""

DART_BAND = 6.0
"""Stitch holes and crease along the legs of an old dart, mm (practice)."""

_RISE_SHARE = 1.0 / 3.0
"""Heights between waist and crotch grow by such a share of what girths do (memory)."""

_AROUND = 24


class OldSize(msgspec.Struct, frozen=True):
    """The size of an old pair as it is written in it: waist and inside leg, mm."""

    waist: float
    inside_leg: float

    @property
    def words(self) -> Told:
        """Such as "waist 860 mm, inside leg 810 mm"."""
        waist, leg = (numbers.length(mm, decimals=0) for mm in (self.waist, self.inside_leg))
        return Told(f"waist {waist}, inside leg {leg}", (self.waist, self.inside_leg))


def old_pair(size: OldSize, body: Body, fit: Fit, cloth: str) -> tuple[SalvagedPanel, ...]:
    """The four panels of an old pair, right side up, warp up: fronts with worn knees and without
    their pocket mouths, backs with the bands of their darts, hems let down. `body` gives the
    proportions, scaled to the size.

    Raises:
        BodyRefused: no block can be drafted for that size.
    """
    block = draft(scaled_body(body, size), fit)
    found = []
    for panel in block.panels:
        for leg, mirrored in (("left", False), ("right", True)):
            found.append(_opened(panel, f"old {panel.name}, {leg}", cloth, mirrored))
    return tuple(found)


def scaled_body(body: Body, size: OldSize) -> Body:
    """A body of the same build that an old pair of a size fits: girths by its waist, the leg by its
    inside leg, the rise by a third of what girths grow (memory). What was measured besides is left
    to the draft.
    """
    around = size.waist / body.waist_girth
    up = 1.0 + (around - 1.0) * _RISE_SHARE
    return Body(
        name=str(size.words),
        waist_girth=size.waist,
        hip_girth=body.hip_girth * around,
        inside_leg=size.inside_leg,
        body_rise=None if body.rise is None else body.rise * up,
        waist_to_hip=None if body.waist_to_hip is None else body.waist_to_hip * up,
    )


def _opened(panel: Panel, name: str, cloth: str, mirrored: bool) -> SalvagedPanel:
    gives = tuple(_given(edge.name) for edge in panel.outline)
    edges, _ = cut_line(panel.outline, gives)
    points = tuple(cut_outline_points(edges, tolerance.FLAT_MM * 10.0))
    flaws = [*_knee(panel), *_mouth(panel), *_darts(panel)]
    low, high = panel.levels.get("hem", 0.0), panel.levels.get("hip", 500.0)
    grain = ((0.0, low + 50.0), (0.0, high))
    if mirrored:
        points = tuple((-x, y) for x, y in reversed(points))
        flaws = [
            replace(flaw, points=tuple((-x, y) for x, y in reversed(flaw.points))) for flaw in flaws
        ]
    return SalvagedPanel(name, cloth, points, grain, tuple(flaws), "an estimate from its size")


def _given(edge: str) -> float:
    plain = edge.rpartition(".")[2]
    return {"hem": HEM_GIVES, "waist": 0.0}.get(plain, SEAM_GIVES)


def _knee(panel: Panel) -> list[Flaw]:
    """The worn place of a front, about its crease line."""
    if panel.name != "front" or "knee" not in panel.levels:
        return []
    wide, high = WORN_KNEE
    turns = [2.0 * math.pi * k / _AROUND for k in range(_AROUND)]
    level = panel.levels["knee"]
    points = tuple((wide * math.cos(turn), level + high * math.sin(turn)) for turn in turns)
    return [Flaw("worn", points, note="knee")]


def _mouth(panel: Panel) -> list[Flaw]:
    """What a curved pocket mouth took from a front."""
    waist, side = f"{panel.name}.waist", f"{panel.name}.side"
    outline = panel.outline
    if panel.name != "front" or not (outline.has(waist) and outline.has(side)):
        return []
    along, down = (outline.edge(name).chain for name in (waist, side))
    if along.start.distance_to(down.end) > tolerance.CORNER_MM:
        along, down = along.reversed(), down.reversed()
    # The waist runs away from the corner, the side seam towards it.
    corner, on_waist = along.start, along.at(MOUTH[0])
    on_side = down.at(max(0.0, down.length - MOUTH[1]))
    middle = on_waist.toward(on_side, 0.5)
    beyond = corner + (corner - middle)
    points = ((on_waist.x, on_waist.y), (on_side.x, on_side.y), (beyond.x, beyond.y))
    return [Flaw("hole", points, note="pocket mouth")]


def _darts(panel: Panel) -> list[Flaw]:
    return [
        Flaw("seam", tuple((at.x, at.y) for at in legs), DART_BAND, note=dart.name)
        for dart in panel.darts
        for legs in ((dart.first, dart.point, dart.last),)
    ]
