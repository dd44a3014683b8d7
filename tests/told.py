"""Whether what a problem says in inches is what was measured, worked out apart from the program."""

from __future__ import annotations

import re
from fractions import Fraction

from studio import numbers
from studio.errors import YokewrightError

_SIZES = re.compile(r"(?:\d+(?:\.\d+)? (?:to|by) )*\d+(?:\.\d+)? inch")


def says_what_was_measured(problem: YokewrightError) -> bool:
    """True when every length of the sentence, in inches, is that of `exact` in its place to the
    last digit that is told: the inch is 25.4 mm (the agreement of 1959). A bound may be off by a
    whole digit, to the side that is allowed.
    """
    told = numbers.retold(problem.sentence, "inch")
    sizes = [size for run in _SIZES.findall(told) for size in re.findall(r"\d+(?:\.\d+)?", run)]
    return (
        " mm" not in told
        and len(sizes) == len(problem.exact) > 0
        and all(_is(size, mm) for size, mm in zip(sizes, problem.exact, strict=True))
    )


def _is(size: str, mm: float) -> bool:
    last = Fraction(1, 10 ** len(size.partition(".")[2]))
    off = Fraction(size) - abs(Fraction(float(mm))) / Fraction("25.4")
    slack = last / 1000
    if isinstance(mm, numbers.AtLeast):
        return -slack <= off < last
    if isinstance(mm, numbers.AtMost):
        return -last < off <= slack
    return abs(off) <= last / 2 + slack
