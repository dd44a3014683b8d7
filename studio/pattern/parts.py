"""Small parts added to a design: each is made from the pattern as it is with those before it."""

from __future__ import annotations

from studio.cut.parts import Part
from studio.design import Design
from studio.pattern.road import evaluate


def with_parts(design: Design, *parts: Part) -> Design:
    """The design with parts, such as pockets and loops, added one after the other.

    Raises:
        BodyRefused: as `evaluate`.
        GeometryRefused: as `evaluate`; or a part finds no place, nothing to sit on, or its name
            taken.
    """
    for part in parts:
        pattern = evaluate(design)
        panels = {panel.name: panel for panel in pattern.panels}
        pieces = {sewn.piece.name: sewn.piece for sewn in pattern.pieces}
        design = part.added(design, panels, pieces)
    return design
