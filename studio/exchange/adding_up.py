"""Whether lengths that stand beside each other add up as they are told, and what is said where they
do not.
"""

from __future__ import annotations

from decimal import Decimal

from studio.numbers import MINUS

EACH_ROUNDED = " (each length rounded by itself)"
"""Behind a difference in a sentence that is not the one of the two lengths told in it."""

DIFFERENCES_ROUNDED = (
    "Each length is rounded by itself: a difference can be one off in its last digit."
)
"""Beside a table in which one is not the difference of the two lengths in its row."""


def adds_up(first: str, second: str, difference: str) -> bool:
    """Whether the second length less the first is the difference, all told by `numbers.length` in
    one decimal unit. Each is rounded from what was measured, so that it may be one off in the last
    digit. What is no decimal is taken to add up: a fraction says itself where it is not exact, and
    beside what was not measured there is nothing to add.
    """
    a, b, over = map(_decimal, (first, second, difference))
    return a is None or b is None or over is None or b - a == over


def _decimal(told: str) -> Decimal | None:
    number = told.partition(" ")[0].replace(MINUS, "-")
    is_decimal = "/" not in told and number.lstrip("+-").replace(".", "", 1).isdigit()
    return Decimal(number) if is_decimal else None
