"""Every number shown to a maker is written here: unit, decimals and sign.

Files keep millimetres and degrees; only what is read on screen or paper goes through this module.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable
from fractions import Fraction
from typing import Literal, TypeAlias

from studio.errors import BadInput, exact_of

LengthUnit: TypeAlias = Literal["mm", "cm", "inch", "inch 1/16", "inch 1/32"]
"""What lengths are shown in. The last two are inches as a tape has them, for the screen: on sheets
and in files they are decimals (`decimal`).
"""

MINUS = "\N{MINUS SIGN}"
"""A true minus: as wide as a plus, and never taken for a hyphen."""

ABOUT = "\N{ALMOST EQUAL TO}"
"""Before a fraction that is not quite what was measured."""

DECIMAL_UNITS: tuple[LengthUnit, ...] = ("mm", "cm", "inch")

PARTS: dict[LengthUnit, int] = {"inch 1/16": 16, "inch 1/32": 32}
"""The units told as fractions, and in how many parts of an inch."""

MILLIMETRES: dict[LengthUnit, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "inch": 25.4,
    "inch 1/16": 25.4,
    "inch 1/32": 25.4,
}
"""Millimetres in one of each unit. Exact: the inch is 25.4 mm by definition (ISO 80000-3)."""


DECIMALS: dict[LengthUnit, int] = {"mm": 1, "cm": 2, "inch": 3, "inch 1/16": 4, "inch 1/32": 5}
"""Digits after the point on the screen, so that a tenth of a millimetre shows in any unit; for a
fraction, those that it has as a decimal.
"""

_ALIKE = 1e-6
"""Parts of an inch that a length may be off a fraction and be told as that fraction."""

_YARD = 36.0 * MILLIMETRES["inch"]

ROUGH: dict[LengthUnit, int] = {"mm": 0, "cm": 1, "inch": 2, "inch 1/16": 2, "inch 1/32": 2}
"""Digits after the point of what is told to a millimetre: the size of a cloth, a place on it."""

_NUMBER = rf"[+{MINUS}-]?\d+(?:\.\d+)?"
_LENGTHS = re.compile(rf"(?<![\w.,+{MINUS}-])({_NUMBER}(?: (?:by|to) {_NUMBER})*) mm\b")
"""A length in mm in a sentence, or several that share the unit: "12.5 mm", "90 by 45 mm"."""

_AREAS = re.compile(r"(?<![\w.,])(\d+(?:\.\d+)?) ([cd])m²")
"""An area in a sentence, as `area` and `cloth_area` write it: "712.0 cm²", "3.5 dm²"."""

_SQUARES: dict[str, tuple[float, int]] = {"c": (100.0, 0), "d": (10_000.0, 1)}
"""Square millimetres in one of each, and how many digits fewer say as much in square inches."""


class AtLeast(float):
    """The least that something may be: told it is rounded upwards, in any unit, so that what is
    told can be typed.
    """


class AtMost(float):
    """The most that something may be: told it is rounded downwards."""


def length(mm: float, unit: LengthUnit = "mm", decimals: int = 1, *, signed: bool = False) -> str:
    """A length as a maker reads it, such as "12.5 mm", or "≈12 3/16 inch" where it is told as a
    fraction and that is not exact.

    Args:
        mm: The length in millimetres; an `AtLeast` or `AtMost` is rounded to the side allowed.
        unit: The unit to write it in.
        decimals: Digits after the point, 0 or more; a fraction has none.
        signed: Whether a length above zero gets a plus, as for a difference.

    Raises:
        BadInput: The length is not a finite number, or the unit is not known.
    """
    return f"{bare(mm, unit, decimals, signed=signed)} {decimal(unit)}"


def bare(mm: float, unit: LengthUnit = "mm", decimals: int = 1, *, signed: bool = False) -> str:
    """A length without its unit, for a table whose heading names it: "12.5".

    Raises:
        BadInput: The length is not a finite number, or the unit is not known.
    """
    size = mm / _millimetres(unit)
    if unit in PARTS:
        return _fraction(mm, size, PARTS[unit], signed=signed)
    return _digits(_bounded(mm, size, decimals), decimals, signed=signed)


def decimal(unit: LengthUnit) -> LengthUnit:
    """The unit in which the same lengths are told as decimals; also what it is called."""
    return "inch" if unit in PARTS else unit


def chosen_as(unit: LengthUnit) -> str:
    """What a unit is called where one is chosen: "cm", "inch, fractions to 1/16"."""
    return f"{decimal(unit)}, fractions to 1/{PARTS[unit]}" if unit in PARTS else unit


def least(unit: LengthUnit) -> float:
    """The least length, mm, that is told in a unit: its last digit, or one part of an inch."""
    return MILLIMETRES[unit] * (1.0 / PARTS[unit] if unit in PARTS else 10.0 ** -DECIMALS[unit])


def _fraction(given: float, size: float, parts: int, *, signed: bool) -> str:
    """So many inches as the nearest fraction: "12 3/16", "≈1/2"; halves upwards. What is less than
    half a part is told as a decimal, so that it is not told as nothing: "0.012".
    """
    exact = size * parts
    count = float(_digits(_bounded(given, exact, 0), 0, signed=False).replace(MINUS, "-"))
    if count == 0.0 and abs(exact) >= _ALIKE:
        told = _digits(_bounded(given, size, DECIMALS["inch"]), DECIMALS["inch"], signed=signed)
        return told if told.strip("+0.") else f"{ABOUT}0"
    sign = MINUS if count < 0 else "+" if signed and count > 0 else ""
    about = "" if abs(count - exact) < _ALIKE else ABOUT
    return f"{about}{sign}{_marks(abs(int(count)), parts)}"


def _marks(count: int, parts: int) -> str:
    """So many parts of an inch as a ruler has them: "3 15/16"."""
    whole, over = divmod(Fraction(count, parts), 1)
    return " ".join(str(part) for part in (whole, over) if part) or "0"


def plain(number: float, decimals: int = 0) -> str:
    """A number that is no length, for a sentence that says what it is, such as seconds or degrees:
    "12.5".

    Raises:
        BadInput: The number is not finite.
    """
    return _digits(number, decimals, signed=False)


def short(number: float, decimals: int = 3) -> str:
    """A number with as many digits after the point as it needs, at most `decimals`: "2", "12.5".

    Raises:
        BadInput: The number is not finite.
    """
    told = _digits(number, decimals, signed=False)
    return told.rstrip("0").rstrip(".") if decimals else told


def percent(share: float, decimals: int = 0) -> str:
    """A share of one as a maker reads it, such as "62 %".

    Raises:
        BadInput: The share is not a finite number.
    """
    return f"{_digits(_bounded(share, share * 100.0, decimals), decimals, signed=False)} %"


def listed(lengths: Iterable[float], unit: LengthUnit = "mm") -> str:
    """Lengths as they stand in a field where several are typed, with commas and no unit, each with
    as many digits as it needs, at most six: "2, 8.5"; as a fraction where that is exact. So what is
    typed beside one changes none.

    Raises:
        BadInput: A length is not a finite number, or the unit is not known.
    """
    whole = _millimetres(unit)
    told = []
    for mm in lengths:
        if not math.isfinite(mm):
            raise BadInput(f"{mm} is not a number that can be shown.")
        as_fraction = bare(mm, unit) if unit in PARTS else ABOUT
        told.append(f"{mm / whole:.6g}" if as_fraction.startswith(ABOUT) else as_fraction)
    return ", ".join(told)


def on_ruler(mm: float) -> str:
    """A length as the nearest mark of an inch ruler divided in sixteenths: "3 15/16 inch".

    Raises:
        BadInput: The length is not a finite number of 0 or more.
    """
    if not (math.isfinite(mm) and mm >= 0.0):
        raise BadInput(f"{mm} is not a length that a ruler shows.")
    return f"{_marks(round(mm / MILLIMETRES['inch'] * 16), 16)} inch"


def retold(
    sentence: str,
    unit: LengthUnit,
    *,
    exact: Iterable[float] = (),
    names: Iterable[str] = (),
) -> str:
    """A sentence told in mm, its lengths in another unit: "12.5 mm" becomes "1.25 cm".

    Each length gets as many more digits after the point as the unit has more than mm (`DECIMALS`),
    so that it says as much as before. `exact` are lengths in mm that the sentence may speak of,
    unrounded, beside those that it brings (`errors.Told`): where one of them was written, it is
    what is written now. Where several are written alike, they are taken in turn, so they are best
    given in the order of the sentence. Any other number is taken as it stands, off by half of its
    last digit in mm at the most. What a maker called something is left alone where `names` has it,
    such as "strip 30 mm". Areas are told in square centimetres or decimetres, and in square inches
    where lengths are in inches. A sentence in mm stays as it is.

    Raises:
        BadInput: The unit is not known.
    """
    _millimetres(unit)
    if unit == "mm":
        return str(sentence)
    known = _Known((*exact_of(sentence), *exact))
    called = [re.escape(name) for name in names if _LENGTHS.search(name)]
    either = "|".join((*sorted(called, key=len, reverse=True), _LENGTHS.pattern, _AREAS.pattern))

    def one(found: re.Match[str]) -> str:
        return _another(found[0], known, unit)

    def all_of(found: re.Match[str]) -> str:
        if found[2] is not None:
            return (
                found[0] if squares(unit) == "cm" else _in_square_inches(found[2], found[3], known)
            )
        if found[1] is None:
            return found[0]
        return f"{re.sub(_NUMBER, one, found[1])} {decimal(unit)}"

    return re.sub(either, all_of, sentence)


class _Known:
    """Exact lengths (mm) and areas (mm²) of a sentence. Of those that are written alike each is
    taken once, in turn, and the last of them from then on.
    """

    def __init__(self, exact: Iterable[float]) -> None:
        self._left = list(exact)

    def taken(self, written: str, write: Callable[[float, int], str]) -> float | None:
        """What `write` wrote so, with as many digits after the point."""
        decimals = len(written.partition(".")[2])
        alike = [one for one in self._left if write(one, decimals) == written]
        if len(alike) > 1:
            self._left.remove(alike[0])
        return alike[0] if alike else None


def _another(written: str, known: _Known, unit: LengthUnit) -> str:
    """A number of mm as it was written, in a unit, with so many more digits as say as much."""
    size = written.lstrip(f"+-{MINUS}")
    decimals = len(size.partition(".")[2]) + DECIMALS[unit] - DECIMALS["mm"]
    exact = known.taken(size, lambda mm, digits: bare(mm, "mm", digits).lstrip(MINUS))
    told = bare(float(size) if exact is None else exact, unit, decimals).replace(MINUS, "")
    about = ABOUT if told.startswith(ABOUT) else ""
    return f"{about}{written.removesuffix(size)}{told.removeprefix(about)}"


def _in_square_inches(written: str, square: str, known: _Known) -> str:
    """An area as it was written in square centimetres or decimetres, in square inches."""
    whole, fewer = _SQUARES[square]
    decimals = len(written.partition(".")[2])
    exact = known.taken(written, lambda mm2, digits: _rounded(abs(mm2) / whole, digits))
    mm2 = float(written) * whole if exact is None else exact
    return area(mm2, "inch", max(0, decimals - fewer))


def squares(unit: LengthUnit) -> LengthUnit:
    """The unit whose squares areas are told in, where lengths are in `unit`: cm, or inch."""
    return "inch" if decimal(unit) == "inch" else "cm"


def long_length(mm: float, unit: LengthUnit = "mm", decimals: int = 1, *, up: bool = False) -> str:
    """A length that is sold by the metre: "4.1 m", or "4.5 yards" where lengths are in inches; the
    yard is 36 inches. `up` takes what is over to the next digit, as for what is bought.

    Raises:
        BadInput: The length is not a finite number.
    """
    size, called = (mm / _YARD, "yards") if squares(unit) == "inch" else (mm / 1000.0, "m")
    if up:
        size = _up(size, decimals)
    return f"{_digits(size, decimals, signed=False)} {called}"


def rounded_up(mm: float, unit: LengthUnit = "mm", decimals: int = 1) -> float:
    """The length, mm, that `long_length` tells with `up`, so that a sum is that of what is told."""
    whole = _YARD if squares(unit) == "inch" else 1000.0
    return _up(mm / whole, decimals) * whole


def _up(size: float, decimals: int) -> float:
    if not math.isfinite(size):
        raise BadInput(f"{size} is not a number that can be shown.")
    # What is over by less than any length is exact is nothing over.
    return math.ceil(size * 10.0**decimals - 1e-6) / 10.0**decimals


def area(mm2: float, unit: LengthUnit = "cm", decimals: int = 1) -> str:
    """An area given in square millimetres, written in squares of the unit: "250.0 cm²".

    Raises:
        BadInput: The area is not a finite number, or the unit is not known.
    """
    return f"{_digits(mm2 / _millimetres(unit) ** 2, decimals, signed=False)} {decimal(unit)}²"


def cloth_area(mm2: float, decimals: int = 1) -> str:
    """An area of cloth given in square millimetres, in square decimetres: "12.5 dm²".

    Raises:
        BadInput: The area is not a finite number.
    """
    return f"{_digits(mm2 / 1e4, decimals, signed=False)} dm²"


def angle(deg: float, decimals: int = 1, *, signed: bool = False) -> str:
    """An angle given in degrees: "7.5°". Full turns are kept as they are.

    Raises:
        BadInput: The angle is not a finite number.
    """
    return f"{_digits(_bounded(deg, deg, decimals), decimals, signed=signed)}°"


def _millimetres(unit: LengthUnit) -> float:
    if unit not in MILLIMETRES:
        raise BadInput(f"The unit {unit} is not known; use one of {', '.join(MILLIMETRES)}.")
    return MILLIMETRES[unit]


def _bounded(given: float, size: float, decimals: int) -> float:
    """The size that is told of a number: of a bound, rounded to the side that is allowed."""
    if isinstance(given, AtLeast):
        return _up(size, decimals)
    return -_up(-size, decimals) if isinstance(given, AtMost) else size


def _digits(value: float, decimals: int, *, signed: bool) -> str:
    if not math.isfinite(value):
        raise BadInput(f"{value} is not a number that can be shown.")
    # Rounded before the sign is chosen, so that -0.04 is shown as 0.0 and gets no sign.
    size = _rounded(abs(value), decimals)
    if float(size) == 0.0:
        return size
    if value < 0:
        return MINUS + size
    return f"+{size}" if signed else size


def _rounded(size: float, decimals: int) -> str:
    """A size of 0 or more with so many digits after the point, halves upwards.

    Binary numbers hold hardly any half as it is: 44.45, an inch and three quarters, is 44.4499...
    when typed and 44.4500...1 when measured. So what lies below a half by less than half of the
    fourth digit after the last one told (5e-6 mm of 44.4 mm) is taken as that half.
    """
    return f"{size + 0.5 * 10.0 ** -(decimals + 4):.{decimals}f}"
