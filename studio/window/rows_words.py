"""How rows of topstitching, and a stretch along an edge, are typed in the unit of the window."""

from __future__ import annotations

from studio import numbers
from studio.numbers import LengthUnit

USUAL_ROWS: dict[LengthUnit, tuple[float, float]] = {
    "mm": (2.0, 8.0),
    "cm": (2.0, 8.0),
    # A sixteenth and five sixteenths of an inch.
    "inch": (1.5875, 7.9375),
}
"""An example: beside the edge, and a presser foot's width from it, in mm (common practice, no
source).
"""


_STRETCH: dict[LengthUnit, tuple[float, float]] = {
    "mm": (20.0, 300.0),
    "cm": (20.0, 300.0),
    "inch": (25.4, 304.8),
}
"""An example of a stretch along an edge, mm."""


def told_rows(unit: LengthUnit) -> str:
    """What to type: "Rows are distances from the edge in cm with commas, such as 0.2, 0.8."."""
    such = numbers.listed(USUAL_ROWS[numbers.decimal(unit)], unit)
    called = numbers.decimal(unit)
    return f"Rows are distances from the edge in {called} with commas, such as {such}."


def told_stretch(unit: LengthUnit, begins: str) -> str:
    """What to type for a stretch along an edge or a seam: "From and to in cm with a comma, such as
    2, 30, measured from the waist." `begins` says whence it is measured.
    """
    called = numbers.decimal(unit)
    such = numbers.listed(_STRETCH[called], unit)
    return f"From and to in {called} with a comma, such as {such}, measured from {begins}."
