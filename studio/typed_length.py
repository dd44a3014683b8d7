"""A length as a maker types it: in the unit chosen or with a unit of its own, whole, as a decimal
or with a fraction. What is typed is taken exactly; no digit is lost on the way to millimetres.
"""

from __future__ import annotations

import re
from fractions import Fraction

from studio.errors import BadInput
from studio.numbers import ABOUT, MILLIMETRES, MINUS, LengthUnit

_EXACT = {unit: Fraction(str(mm)) for unit, mm in MILLIMETRES.items()}

_UNITS = {
    "mm": _EXACT["mm"],
    "cm": _EXACT["cm"],
    "m": Fraction(1000),
    "inch": _EXACT["inch"],
    "in": _EXACT["inch"],
    '"': _EXACT["inch"],
}
"""Millimetres of the units that may follow a number; cloth is sold by the metre."""

_PARTS = {
    "\N{VULGAR FRACTION ONE HALF}": " 1/2",
    "\N{VULGAR FRACTION ONE QUARTER}": " 1/4",
    "\N{VULGAR FRACTION THREE QUARTERS}": " 3/4",
    "\N{VULGAR FRACTION ONE EIGHTH}": " 1/8",
    "\N{VULGAR FRACTION THREE EIGHTHS}": " 3/8",
    "\N{VULGAR FRACTION FIVE EIGHTHS}": " 5/8",
    "\N{VULGAR FRACTION SEVEN EIGHTHS}": " 7/8",
    "\N{FRACTION SLASH}": "/",
    "\N{NO-BREAK SPACE}": " ",
    MINUS: "-",
}
"""What keyboards and tables write for a fraction and a minus."""

SIGNS = frozenset("0123456789+-./,eE ").union(*_UNITS, *_PARTS, ABOUT)
"""What a length may be written with; no other key makes one."""

_LENGTH = re.compile(
    r"(?P<sign>[+-]?) *"
    r"(?:(?P<decimal>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,2})?)"
    r"|(?:(?P<whole>[0-9]+) +)?(?P<over>[0-9]+) */ *(?P<under>[0-9]+))"
    r' *(?P<unit>mm|cm|m|inch|in|")?'
)

MOST_SIGNS = 40
"""No length a maker types is longer; it also bounds the work of reading one."""


def read_length(text: str, unit: LengthUnit) -> float:
    """The millimetres of a length that was typed: "12.5", "3 1/4", "3¼", "8 cm", "1.2 m", '1/2"'.

    A number without a unit is in `unit`; that a fraction is about so long is passed over. The
    result is the number of floating point that lies nearest to what was typed, so that 3.15 inch is
    80.01 mm and nothing beside it.

    Raises:
        BadInput: it is no length; the sentence says how to write one.
        KeyError: the unit is not one of `MILLIMETRES`.
    """
    plain = text
    for sign, written in _PARTS.items():
        plain = plain.replace(sign, written)
    plain = plain.strip().removeprefix(ABOUT)
    found = _LENGTH.fullmatch(plain) if len(text) <= MOST_SIGNS else None
    if found is None or (found["under"] and int(found["under"]) == 0):
        raise BadInput(f"{_quoted(text)} is not a length. {_how(text)}")
    if found["decimal"]:
        size = Fraction(found["decimal"])
    else:
        size = int(found["whole"] or 0) + Fraction(int(found["over"]), int(found["under"]))
    own = _UNITS[found["unit"]] if found["unit"] else _EXACT[unit]
    return float((-size if found["sign"] == "-" else size) * own)


def read_lengths(text: str, unit: LengthUnit) -> tuple[float, ...]:
    """The millimetres of several lengths typed with commas or semicolons between them: "2, 8.5".

    Raises:
        BadInput: one of them is no length.
        KeyError: the unit is not one of `MILLIMETRES`.
    """
    words = [word for word in text.replace(";", ",").split(",") if word.strip()]
    return tuple(read_length(word.strip(), unit) for word in words)


def in_mm(number: float, unit: LengthUnit) -> float:
    """The millimetres of a number of a unit, by the digits it is written with: 3.15 inch are 80.01
    mm, where a plain product gives 80.00999999999999.

    Raises:
        BadInput: it is not a finite number.
    """
    try:
        return float(Fraction(repr(number)) * _EXACT[unit])
    except (ValueError, OverflowError):
        raise BadInput(f"{_quoted(str(number))} is not a length that can be used.") from None


def _quoted(text: str) -> str:
    """What was typed, cut short when there is no end to it."""
    return repr(text if len(text) <= MOST_SIGNS else f"{text[:MOST_SIGNS]}…")


def _how(text: str) -> str:
    if "," in text:
        return "Write a point before its decimals, as in 12.5, and nothing between thousands."
    return "Write it as 12.5 or as 12 1/2; mm, cm, m or inch may follow."
