"""Where the block comes from: drafted for the body, or taken from a drawing."""

from __future__ import annotations

from typing import TypeAlias

from msgspec import field

from studio.curves.point import Point
from studio.design.body import Fit
from studio.design.kept import Kept

CubicPoints: TypeAlias = tuple[Point, Point, Point, Point]


class DraftedBlock(Kept, frozen=True, tag="drafted", tag_field="from"):
    """Drafted from the design's body with this fit."""

    fit: Fit = Fit()


class DrawnEdge(Kept, frozen=True):
    """A named edge as cubics joined end to end, in mm, y up."""

    name: str
    cubics: tuple[CubicPoints, ...]


class DrawnDart(Kept, frozen=True):
    """A dart of a drawn panel: its two ends on an edge, in the edge's direction, and its point."""

    name: str
    edge: str
    first: Point
    last: Point
    point: Point


class DrawnPanel(Kept, frozen=True):
    """A panel as imported: named edges, counter-clockwise, closed within 1e-6 mm."""

    name: str
    edges: tuple[DrawnEdge, ...]
    darts: tuple[DrawnDart, ...] = ()
    levels: dict[str, float] = field(default_factory=dict)

    def __hash__(self) -> int:
        return hash((self.name, self.edges, self.darts, frozenset(self.levels.items())))


class ImportedBlock(Kept, frozen=True, tag="drawing", tag_field="from"):
    """Panels fitted to a drawing; `left_out` lists what of the drawing could not be used, `notes`
    what was done to it: gaps closed, panels turned.
    """

    panels: tuple[DrawnPanel, ...]
    source: str = ""
    left_out: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


Block: TypeAlias = DraftedBlock | ImportedBlock
