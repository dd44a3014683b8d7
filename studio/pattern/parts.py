"""Small parts added to a design: each is made from the pattern as it is with those before it."""

from __future__ import annotations

import math

from studio import numbers
from studio.cut.parts import Part
from studio.design import Design
from studio.errors import BadInput
from studio.pattern.places import with_places_kept
from studio.pattern.road import evaluate


def with_parts(design: Design, *parts: Part) -> Design:
    """The design with parts, such as pockets and loops, added one after the other. What was told in
    mm along its seams stays where it was on the garment.

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
        design = with_places_kept(design, part.added(design, panels, pieces))
    return design


def _check_numbers(part: Part) -> None:
    for number in part.numbers:
        value = float(getattr(part, number.field))
        where = f"{part.name}: {number.label}"
        if not math.isfinite(value):
            raise BadInput("It is not a number.", where=where)
        unit = "" if number.is_count else "°" if number.is_angle else " mm"
        exact = (value, numbers.AtLeast(number.least), numbers.AtMost(number.most))
        if not number.least <= value <= number.most:
            told, least, most = (f"{numbers.short(one)}{unit}" for one in exact)
            raise BadInput(
                f"It is {told}, and has to lie between {least} and {most}.",
                where=where,
                exact=exact,
            )
        if number.is_count and not value.is_integer():
            told = numbers.short(value)
            raise BadInput(f"It is {told}, and has to be a whole number.", where=where)
