"""Lengths are taken as they are typed, to the last digit."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio import numbers
from studio.errors import BadInput
from studio.typed_length import in_mm, read_length, read_lengths


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("12.5", "mm", 12.5),
        ("12.5", "cm", 125.0),
        (" 80 ", "mm", 80.0),
        (".5", "cm", 5.0),
        ("7.", "mm", 7.0),
        # One inch is exactly 25.4 mm (the international yard and pound agreement of 1959).
        ("1", "inch", 25.4),
        ("3.15", "inch", 80.01),
        ("1/2", "inch", 12.7),
        ("3 15/16", "inch", 100.0125),
        ("3\N{VULGAR FRACTION ONE HALF}", "inch", 88.9),
        ("\N{VULGAR FRACTION SEVEN EIGHTHS}", "inch", 22.225),
        ("31 1/2 inch", "mm", 800.1),
        ('1/4"', "mm", 6.35),
        ("2 in", "cm", 50.8),
        ("8 cm", "inch", 80.0),
        ("1.2 m", "cm", 1200.0),
        ("1 1/2m", "inch", 1500.0),
        ("0.815 m", "mm", 815.0),
        ("5mm", "inch", 5.0),
        ("-2.5", "cm", -25.0),
        (f"{numbers.MINUS}1 1/2", "inch", -38.1),
        ("+3", "mm", 3.0),
        ("1e3", "mm", 1000.0),
    ],
)
def test_a_length_is_read_in_the_unit_chosen_or_in_its_own(text, unit, mm):
    # Exactly: no tolerance.
    assert read_length(text, unit) == mm


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "12 1/2"),
        ("wide", "'wide' is not a length"),
        ("1/0", "not a length"),
        ("3 1/", "not a length"),
        ("3.5 1/2", "not a length"),
        ("1 2", "not a length"),
        ("--3", "not a length"),
        ("12 km", "not a length"),
        ("12 mmm", "not a length"),
        ("nan", "not a length"),
        ("inf", "not a length"),
        ("1_000", "not a length"),
        ("1e999", "not a length"),
        ("12,5", "Write a point before its decimals"),
        ("1,200", "nothing between thousands"),
        ("9" * 5000, "9…' is not a length"),
        # Digits of another script would be read otherwise than they look to some.
        ("\N{ARABIC-INDIC DIGIT ONE}2", "not a length"),
    ],
)
def test_what_is_no_length_is_refused_with_how_to_write_one(text, reason):
    with pytest.raises(BadInput) as told:
        read_length(text, "mm")
    assert reason in told.value.message
    assert len(told.value.message) < 200


@given(st.decimals(0, 4000, places=3), st.sampled_from(["mm", "cm", "inch"]))
def test_a_decimal_is_read_as_exactly_as_fractions_of_integers_say(number, unit):
    wanted = float(Fraction(number) * {"mm": 1, "cm": 10, "inch": Fraction(254, 10)}[unit])
    assert read_length(str(number), unit) == wanted
    assert in_mm(float(number), unit) == wanted


@given(st.integers(0, 120), st.integers(0, 31), st.sampled_from([2, 4, 8, 16, 32]))
def test_a_fraction_of_an_inch_is_read_exactly(whole, over, under):
    wanted = float((whole + Fraction(over, under)) * Fraction(254, 10))
    assert read_length(f"{whole} {over}/{under}", "inch") == wanted


@given(st.decimals(0, 3000, places=3), st.sampled_from(["mm", "cm", "inch"]))
def test_what_is_typed_is_shown_again_as_typed(number, unit):
    shown = numbers.bare(read_length(str(number), unit), unit, 3)
    assert Fraction(shown) == Fraction(number)


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), 10**400])
def test_a_number_that_is_none_is_refused(bad):
    with pytest.raises(BadInput, match="not a length that can be used"):
        in_mm(bad, "inch")


def test_several_lengths_are_read_between_commas_or_semicolons():
    assert read_lengths("2, 8.5", "mm") == (2.0, 8.5)
    assert read_lengths(" 1/4; 3 1/2 ,2 cm,", "inch") == (6.35, 88.9, 20.0)
    assert read_lengths(" ", "cm") == ()
    with pytest.raises(BadInput, match="'two' is not a length"):
        read_lengths("2, two", "mm")
