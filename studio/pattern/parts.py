"""Small parts added to a design: each is made from the pattern as it is with those before it."""

from __future__ import annotations

import math

from studio.cut.parts import Part
from studio.design import Design
from studio.errors import BadInput
from studio.pattern.road import evaluate


def with_parts(design: Design, *parts: Part) -> Design:
    """The design with parts, such as pockets and loops, added one after the other.

    Raises:
        BadInput: a number of a part is less or more than makes sense for it (`Part.numbers`), or a
            count is not whole; `where` names part and number.
        BodyRefused: as `evaluate`.
        GeometryRefused: as `evaluate`; or a part finds no place, nothing to sit on, or its name
            taken.
    """
    for part in parts:
        _check_numbers(part)
        pattern = evaluate(design)
        panels = {panel.name: panel for panel in pattern.panels}
        pieces = {sewn.piece.name: sewn.piece for sewn in pattern.pieces}
        design = part.added(design, panels, pieces)
    return design


def _check_numbers(part: Part) -> None:
    for number in part.numbers:
        value = float(getattr(part, number.field))
        where = f"{part.name}: {number.label}"
        unit = "" if number.is_count else "°" if number.is_angle else " mm"
        if not (math.isfinite(value) and number.least <= value <= number.most):
            raise BadInput(
                f"It is {value:g}{unit}, and has to lie between {number.least:g}{unit} and "
                f"{number.most:g}{unit}.",
                where=where,
            )
        if number.is_count and not value.is_integer():
            raise BadInput(f"It is {value:g}, and has to be a whole number.", where=where)
