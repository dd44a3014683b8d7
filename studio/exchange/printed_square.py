"""The test square on paper: how long its sides are, and how that is said."""

from __future__ import annotations

from studio import numbers
from studio.numbers import LengthUnit

SIDE = 100.0
"""Side of the test square, mm."""


def side_words(unit: LengthUnit = "mm") -> str:
    """The side as it is read on a ruler: "100 mm", "10 cm", "3 15/16 inch (100 mm)".

    3 15/16 inch are 100.0125 mm: nearer than a ruler can be read.
    """
    if numbers.decimal(unit) == "inch":
        return f"{numbers.on_ruler(SIDE)} ({numbers.length(SIDE, decimals=0)})"
    return numbers.length(SIDE, unit, 0)
