"""Where the block comes from: drafted for the body, or taken from a drawing."""

from __future__ import annotations

from typing import TypeAlias

import msgspec

from studio.curves.point import Point
from studio.design.body import Fit

CubicPoints: TypeAlias = tuple[Point, Point, Point, Point]


class DraftedBlock(
    msgspec.Struct, frozen=True, tag="drafted", tag_field="from", forbid_unknown_fields=True
):
    """Drafted from the design's body with this fit."""

    fit: Fit = Fit()


class DrawnEdge(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A named edge as cubics joined end to end, in mm, y up."""

    name: str
    cubics: tuple[CubicPoints, ...]


class DrawnDart(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A dart of a drawn panel: its two ends on an edge, in the edge's direction, and its point."""

    name: str
    edge: str
    first: Point
    last: Point
    point: Point


class DrawnPanel(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A panel as imported: named edges, counter-clockwise, closed within 1e-6 mm."""

    name: str
    edges: tuple[DrawnEdge, ...]
    darts: tuple[DrawnDart, ...] = ()
    levels: dict[str, float] = {}


class ImportedBlock(
    msgspec.Struct, frozen=True, tag="drawing", tag_field="from", forbid_unknown_fields=True
):
    """Panels fitted to a drawing; `left_out` lists what of the drawing could not be used."""

    panels: tuple[DrawnPanel, ...]
    source: str = ""
    left_out: tuple[str, ...] = ()


Block: TypeAlias = DraftedBlock | ImportedBlock
