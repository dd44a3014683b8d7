"""Numbers are shown in one way: unit, decimals and sign."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from studio import numbers
from studio.errors import BadInput, Told
from studio.typed_length import read_length


@pytest.mark.parametrize(
    ("mm", "unit", "decimals", "shown"),
    [
        (12.34, "mm", 1, "12.3 mm"),
        (12.34, "cm", 2, "1.23 cm"),
        (1000.0, "mm", 0, "1000 mm"),
        (0.0, "mm", 1, "0.0 mm"),
        (-7.5, "mm", 1, "\u22127.5 mm"),
        # The international yard and pound agreement of 1959: one inch is exactly 25.4 mm.
        (25.4, "inch", 1, "1.0 inch"),
        (914.4, "inch", 0, "36 inch"),
    ],
)
def test_a_length_is_shown_in_the_unit_asked_for(
    mm: float, unit: numbers.LengthUnit, decimals: int, shown: str
) -> None:
    assert numbers.length(mm, unit, decimals) == shown


@pytest.mark.parametrize(
    ("mm", "unit", "decimals", "shown"),
    [
        # An inch is 25.4 mm by definition (ISO 80000-3), so these are 44.45, 39.6875 and 58.85 mm.
        (1.75 * 25.4, "mm", 1, "44.5 mm"),
        (1.75 * 25.4, "cm", 2, "4.45 cm"),
        (1.5625 * 25.4, "inch", 3, "1.563 inch"),
        (39.688, "inch", 3, "1.563 inch"),
        (58.85, "mm", 1, "58.9 mm"),
        (-58.85, "mm", 1, "\u221258.9 mm"),
        (158.5, "mm", 0, "159 mm"),
        (159.5, "mm", 0, "160 mm"),
    ],
)
def test_halves_are_told_upwards_however_they_were_come_by(
    mm: float, unit: numbers.LengthUnit, decimals: int, shown: str
) -> None:
    assert numbers.length(mm, unit, decimals) == shown
    # As exact as lengths are: 1e-6 mm.
    assert numbers.length(mm - 1e-6, unit, decimals) == shown
    assert numbers.length(mm + 1e-6, unit, decimals) == shown


@pytest.mark.parametrize(
    ("mm", "shown"), [(3.0, "+3.0 mm"), (-3.0, "\u22123.0 mm"), (0.0, "0.0 mm")]
)
def test_a_difference_has_its_sign_and_nothing_has_none(mm: float, shown: str) -> None:
    assert numbers.length(mm, signed=True) == shown


@pytest.mark.parametrize("nothing", [-0.0, -0.04, -1e-12])
def test_what_rounds_to_nothing_has_no_minus(nothing: float) -> None:
    assert numbers.length(nothing) == "0.0 mm"
    assert numbers.length(nothing, signed=True) == "0.0 mm"
    assert numbers.angle(nothing) == "0.0°"


def test_what_is_sold_by_the_metre_is_told_in_yards_where_lengths_are_in_inches() -> None:
    # A yard is 36 inches, 914.4 mm (international yard and pound agreement of 1959).
    assert numbers.long_length(4140.0) == "4.1 m"
    assert numbers.long_length(4140.0, "inch") == "4.5 yards"
    assert numbers.long_length(4140.0, "cm", up=True) == "4.2 m"
    assert numbers.long_length(4.0 * 914.4, "inch", 0, up=True) == "4 yards"
    assert numbers.rounded_up(4140.0) == pytest.approx(4200.0)
    assert numbers.rounded_up(4200.0 + 1e-9) == pytest.approx(4200.0)
    with pytest.raises(BadInput):
        numbers.long_length(math.inf, up=True)


def test_an_area_is_given_in_square_millimetres_and_shown_in_squares_of_the_unit() -> None:
    assert numbers.area(25_000.0) == "250.0 cm²"
    assert numbers.area(25_000.0, "mm", 0) == "25000 mm²"
    assert numbers.area(25.4 * 25.4, "inch") == "1.0 inch²"


def test_an_angle_is_shown_in_degrees() -> None:
    assert numbers.angle(7.5) == "7.5°"
    assert numbers.angle(-90.0, 0) == "\u221290°"
    assert numbers.angle(2.0, signed=True) == "+2.0°"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_number_is_refused(bad: float) -> None:
    for show in (numbers.length, numbers.area, numbers.angle):
        with pytest.raises(BadInput, match="not a number that can be shown"):
            show(bad)


def test_an_unknown_unit_is_refused_by_name() -> None:
    with pytest.raises(BadInput, match="The unit ell is not known; use one of mm, cm, inch"):
        numbers.length(1.0, "ell")  # type: ignore[arg-type]


@given(
    st.floats(-1e5, 1e5),
    st.sampled_from(numbers.DECIMAL_UNITS),
    st.integers(0, 4),
    st.booleans(),
)
def test_a_length_reads_back_within_half_its_last_digit(
    mm: float, unit: numbers.LengthUnit, decimals: int, signed: bool
) -> None:
    digits, read_unit = numbers.length(mm, unit, decimals, signed=signed).split()
    assert read_unit == unit
    assert "-" not in digits
    read_mm = float(digits.replace("\u2212", "-")) * numbers.MILLIMETRES[unit]
    half_digit = 0.5 * 10.0**-decimals * numbers.MILLIMETRES[unit]
    assert abs(read_mm - mm) <= half_digit + 1e-9


@pytest.mark.parametrize(
    ("sentence", "unit", "told"),
    [
        # One inch is exactly 25.4 mm (the agreement of 1959).
        ("They differ by 25.4 mm: walk it.", "inch", "They differ by 1.000 inch: walk it."),
        ("It is 150 mm long.", "cm", "It is 15.0 cm long."),
        ("The phone, 160 by 78 by 9 mm, lies.", "cm", "The phone, 16.0 by 7.8 by 0.9 cm, lies."),
        ("rise, 205 to 240 mm from the crotch", "cm", "rise, 20.5 to 24.0 cm from the crotch"),
        ("off by \u22122.5 mm or +2.5 mm", "cm", "off by \u22120.25 cm or +0.25 cm"),
        ("(254.0 mm)", "inch", "(10.000 inch)"),
        # One square inch is 645.16 mm2; squares stay metric beside cm.
        ("it takes 712.0 cm\u00b2.", "inch", "it takes 110.4 inch\u00b2."),
        ("3.5 dm\u00b2 of cloth are short", "inch", "54 inch\u00b2 of cloth are short"),
        ("it takes 712.0 cm\u00b2.", "cm", None),
        # No lengths: a count, a share, areas, a word, an angle.
        ("2 notches, 5 %, 90 mm2, 4 mm\u00b2, 2 mmx, 7.5\u00b0", "cm", None),
        ("It is 150 mm long.", "mm", None),
    ],
)
def test_a_sentence_in_mm_is_told_in_another_unit(
    sentence: str, unit: numbers.LengthUnit, told: str | None
) -> None:
    assert numbers.retold(sentence, unit) == (told or sentence)


def test_a_length_that_is_known_is_told_from_what_it_was_before_it_was_rounded() -> None:
    # 12.449 mm is 0.4901 inch; the 12.4 that was written would be 0.488.
    said = "short by 12.4 mm of 20.0 mm"
    assert numbers.retold(said, "inch", exact=(12.449, 20.0)) == "short by 0.490 inch of 0.787 inch"
    assert numbers.retold(said, "inch") == "short by 0.488 inch of 0.787 inch"


def test_lengths_that_are_written_alike_are_told_each_from_its_own() -> None:
    # 12.46 and 12.54 mm are both written 12.5; they are 0.4906 and 0.4937 inch.
    said = Told("12.5 mm is to be sewn to 12.5 mm, not to 12.5 mm", (12.46, 12.54, 12.46))
    told = "0.491 inch is to be sewn to 0.494 inch, not to 0.491 inch"
    assert numbers.retold(said, "inch") == told
    # The last of them stands for what is said again.
    assert numbers.retold(str(said), "inch", exact=(12.46, 12.54)) == told[:-10] + "0.494 inch"


@pytest.mark.parametrize("unit", ["mm", "cm", "inch"])
@given(st.floats(1.0, 3000.0), st.integers(0, 2))
def test_a_bound_is_told_to_the_side_that_is_allowed(
    unit: numbers.LengthUnit, mm: float, decimals: int
) -> None:
    least, most = numbers.AtLeast(mm), numbers.AtMost(mm)
    said = f"from {numbers.length(least, decimals=decimals)}"
    told = numbers.retold(Told(said, (least,)), unit).removeprefix("from ")
    last = Fraction(1, 10 ** (decimals + numbers.DECIMALS[unit] - 1))
    over = Fraction(told.split()[0]) - Fraction(mm) / Fraction(str(numbers.MILLIMETRES[unit]))
    assert -last / 1000 <= over < last
    under = Fraction(mm) - Fraction(numbers.bare(most, "mm", decimals))
    assert -Fraction(1, 1000) <= under < Fraction(1, 10**decimals)


def test_an_area_that_is_known_is_told_from_what_it_was() -> None:
    # One square inch is 645.16 mm2: 71 248 mm2 are 110.43 of them, the 712.0 written are 110.36.
    said = "it takes 712.5 cm\u00b2."
    assert numbers.retold(Told(said, (71_248.0,)), "inch") == "it takes 110.4 inch\u00b2."
    assert numbers.retold(Told("3.5 dm\u00b2", (35_490.0,)), "inch") == "55 inch\u00b2"
    assert numbers.retold("3.5 dm\u00b2", "inch") == "54 inch\u00b2"


def test_numbers_that_are_no_lengths_are_told_with_the_digits_they_need() -> None:
    assert numbers.short(2.0) == "2"
    assert numbers.short(-12.5) == f"{numbers.MINUS}12.5"
    assert numbers.short(100.0) == "100"
    assert numbers.short(0.12344) == "0.123"
    assert numbers.plain(62.5) == "63"
    assert numbers.percent(0.625) == "63 %"
    assert numbers.percent(0.3333, 1) == "33.3 %"


def test_a_name_with_a_length_in_it_stays_what_the_maker_called_it() -> None:
    said = "strip 30 mm is 5.0 mm narrower than strip 30 mm wide."
    told = "strip 30 mm is 0.50 cm narrower than strip 30 mm wide."
    assert numbers.retold(said, "cm", names=("strip 30 mm", "yoke", "strip 30 mm wide")) == told


@pytest.mark.parametrize(
    ("mm", "read"),
    [
        # One inch is exactly 25.4 mm (the agreement of 1959); 15/16 of it 23.8125.
        (100.0, "3 15/16 inch"),
        (25.4, "1 inch"),
        (12.7, "1/2 inch"),
        (0.0, "0 inch"),
        (0.7, "0 inch"),
        (25.3, "1 inch"),
    ],
)
def test_a_length_is_read_off_an_inch_ruler_at_the_nearest_mark(mm: float, read: str) -> None:
    assert numbers.on_ruler(mm) == read


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_no_ruler_shows_less_than_nothing(bad: float) -> None:
    with pytest.raises(BadInput, match="not a length that a ruler shows"):
        numbers.on_ruler(bad)


def test_a_sentence_is_told_in_known_units_only() -> None:
    with pytest.raises(BadInput, match="ell is not known"):
        numbers.retold("5 mm", "ell")  # type: ignore[arg-type]


@given(st.floats(0.0, 5000.0), st.sampled_from(["cm", "inch"]), st.integers(0, 2))
def test_a_sentence_says_a_known_length_as_the_ledger_does(
    mm: float, unit: numbers.LengthUnit, decimals: int
) -> None:
    said = f"It is {numbers.length(mm, decimals=decimals)} long."
    more = numbers.DECIMALS[unit] - numbers.DECIMALS["mm"]
    told = numbers.length(mm, unit, decimals + more)
    assert numbers.retold(said, unit, exact=(mm,)) == f"It is {told} long."


def test_several_lengths_stand_in_a_field_with_the_digits_they_need():
    assert numbers.listed((2.0, 8.5)) == "2, 8.5"
    assert numbers.listed((2.0, 8.5), "cm") == "0.2, 0.85"
    # One inch is exactly 25.4 mm (the agreement of 1959).
    assert numbers.listed((1.5875, 10.0), "inch") == "0.0625, 0.393701"
    assert numbers.listed(()) == ""
    with pytest.raises(BadInput):
        numbers.listed((float("nan"),))


@pytest.mark.parametrize(
    ("mm", "unit", "shown"),
    [
        # The inch is 25.4 mm (the agreement of 1959): a sixteenth is 1.5875 mm.
        (25.4, "inch 1/16", "1 inch"),
        (100.0125, "inch 1/16", "3 15/16 inch"),
        (100.0, "inch 1/16", "≈3 15/16 inch"),
        (100.0, "inch 1/32", "≈3 15/16 inch"),
        (0.79375, "inch 1/32", "1/32 inch"),
        (0.79375, "inch 1/16", "≈1/16 inch"),
        (-12.7, "inch 1/16", "\u22121/2 inch"),
        (-12.6, "inch 1/16", "≈\u22121/2 inch"),
        (0.0, "inch 1/16", "0 inch"),
        # Less than half a mark: not nothing.
        (0.3, "inch 1/16", "0.012 inch"),
        (-0.3, "inch 1/16", "\u22120.012 inch"),
        (0.01, "inch 1/16", "≈0 inch"),
        (1016.0, "inch 1/32", "40 inch"),
    ],
)
def test_inches_are_told_as_a_tape_has_them(mm, unit, shown):
    assert numbers.length(mm, unit) == shown


@given(st.floats(-4000.0, 4000.0), st.sampled_from(["inch 1/16", "inch 1/32"]))
@example(0.7, "inch 1/16")
@example(-0.3, "inch 1/32")
def test_a_fraction_is_the_nearest_and_says_whether_it_is_exact(mm, unit):
    told = numbers.bare(mm, unit)
    parts = numbers.PARTS[unit]
    size = told.removeprefix(numbers.ABOUT).removeprefix(numbers.MINUS)
    value = sum(Fraction(part) for part in size.split())
    if "." in size:
        assert abs(mm) < 25.4 / parts / 2.0 + 1e-6
        assert abs(value - abs(Fraction(mm)) / Fraction("25.4")) <= Fraction("0.00051")
        return
    assert value.denominator in (1, 2, 4, 8, 16, parts)
    off = abs(value - abs(Fraction(mm)) / Fraction("25.4"))
    assert off <= Fraction(1, 2 * parts) + Fraction(1, 10**6)
    assert told.startswith(numbers.ABOUT) == (off > Fraction(1, 10**6) / parts)
    assert read_length(told, unit) == pytest.approx(float(value * Fraction("25.4")) * sign(mm))


def sign(number):
    return -1.0 if number < 0.0 else 1.0


def test_a_sentence_is_told_in_fractions_from_what_was_measured():
    said = Told(
        "Short by 12.7 mm of 100 by 40.0 mm, off by \u22122.5 mm.", (12.7, 100.0, 40.0, -2.5)
    )
    told = "Short by 1/2 inch of ≈3 15/16 by ≈1 9/16 inch, off by ≈\u22121/8 inch."
    assert numbers.retold(said, "inch 1/16") == told
    assert numbers.retold("712.0 cm\u00b2", "inch 1/16") == "110.4 inch\u00b2"
    assert numbers.long_length(914.4, "inch 1/32") == "1.0 yards"
    assert numbers.area(645.16, "inch 1/16") == "1.0 inch\u00b2"


def test_a_bound_is_a_fraction_on_the_side_that_is_allowed():
    # 100 mm are 62.99 sixteenths of an inch.
    assert numbers.bare(numbers.AtLeast(100.0), "inch 1/16") == "≈3 15/16"
    assert numbers.bare(numbers.AtMost(100.0), "inch 1/16") == "≈3 7/8"
    assert numbers.bare(numbers.AtMost(101.6), "inch 1/16") == "4"


def test_several_lengths_in_a_field_are_fractions_only_where_these_are_exact():
    assert numbers.listed((1.5875, 8.0, 25.4), "inch 1/16") == "1/16, 0.314961, 1"


def test_sheets_and_files_have_decimals():
    assert [numbers.decimal(unit) for unit in numbers.PARTS] == ["inch", "inch"]
    assert numbers.least("inch 1/32") == 0.79375
    assert numbers.least("mm") == 0.1
