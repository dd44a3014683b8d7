"""A body that no trousers can be drawn for is refused, and the measure is named."""

from __future__ import annotations

import math
import re
from typing import Any

import msgspec
import pytest

from studio.block import draft
from studio.block.plausible import WORDS, checked
from studio.design.body import Body, Fit
from studio.errors import BodyRefused
from tests.block.bodies import MIDDLE
from tests.told import says_what_was_measured


@pytest.mark.parametrize(
    ("measures", "where", "says"),
    [
        ({"waist_girth": 0.0}, "waist_girth", "more than nothing"),
        ({"hip_girth": -960.0}, "hip_girth", "more than nothing"),
        ({"hip_girth": math.nan}, "hip_girth", "not a number"),
        ({"inside_leg": math.inf}, "inside_leg", "not a number"),
        ({"crotch_length": math.nan}, "crotch_length", "not a number"),
        ({"hand_girth": 0.0}, "hand_girth", "more than nothing"),
        ({"hand_girth": math.inf}, "hand_girth", "not a number"),
        ({"body_rise": None}, "body_rise", "missing"),
        ({"body_rise": None, "waist_height": 700.0}, "waist_height", "not above the inside leg"),
        ({"waist_girth": 1700.0}, "waist_girth", "between 432 mm and 1536 mm"),
        ({"waist_girth": 300.0}, "waist_girth", "between 432 mm and 1536 mm"),
        ({"body_rise": 120.0}, "body_rise", "hip girth of 960"),
        ({"body_rise": 470.0, "stature": 1700.0}, "body_rise", "stature of 1700"),
        ({"body_rise": None, "waist_height": 860.0}, "waist_height", "body rise of 120"),
        ({"inside_leg": 60.0}, "inside_leg", "An inside leg of 60"),
        ({"inside_leg": 900.0, "stature": 1500.0}, "inside_leg", "stature of 1500"),
        ({"waist_to_hip": 280.0}, "waist_to_hip", "body rise of 275"),
        ({"thigh_girth": 980.0}, "thigh_girth", "hip girth of 960"),
        ({"thigh_girth": 880.0}, "thigh_girth", "more than this hip and rise"),
        ({"thigh_girth": 550.0, "knee_girth": 600.0}, "knee_girth", "smaller than the thigh"),
        ({"knee_girth": 300.0, "ankle_girth": 320.0}, "ankle_girth", "smaller than the knee"),
        ({"crotch_length": 480.0}, "crotch_length", "from about 5"),
        ({"crotch_length": 1000.0}, "crotch_length", "not 1000"),
        ({"crotch_length": 585.0, "thigh_girth": 750.0}, "thigh_girth", "can not both"),
    ],
)
def test_an_impossible_body_is_refused(
    measures: dict[str, float | None], where: str, says: str
) -> None:
    with pytest.raises(BodyRefused) as refused:
        draft(msgspec.structs.replace(MIDDLE, **measures), Fit())
    assert refused.value.where == where
    assert says in refused.value.message
    if " mm" in refused.value.message:
        assert says_what_was_measured(refused.value)


@pytest.mark.parametrize(
    ("wishes", "where"),
    [
        ({"waist_ease": math.nan}, "waist_ease"),
        ({"waist_ease": 500.0}, "waist_ease"),
        ({"hip_ease": -400.0}, "hip_ease"),
        ({"thigh_ease": 900.0}, "thigh_ease"),
        ({"knee_ease": -300.0}, "knee_ease"),
        ({"crotch_ease": 500.0}, "crotch_ease"),
        ({"hem_girth": -4.0}, "hem_girth"),
        ({"hem_girth": 100.0}, "hem_girth"),
        ({"hem_girth": 4000.0}, "hem_girth"),
        ({"hem_girth": math.inf}, "hem_girth"),
        ({"inseam_stretch": 50.0}, "inseam_stretch"),
    ],
)
def test_an_impossible_fit_is_refused(wishes: dict[str, Any], where: str) -> None:
    with pytest.raises(BodyRefused) as refused:
        draft(MIDDLE, Fit(**wishes))
    assert refused.value.where == where


def test_every_measure_and_wish_can_be_named() -> None:
    fields = (*msgspec.structs.fields(Body), *msgspec.structs.fields(Fit))
    assert {field.name for field in fields} - {"name"} <= WORDS.keys()


@pytest.mark.parametrize(("per_unit", "unit"), [(10.0, "centimetres"), (25.4, "inches")])
def test_a_body_in_another_unit_is_told_so(per_unit: float, unit: str) -> None:
    body = Body(
        waist_girth=720 / per_unit,
        hip_girth=960 / per_unit,
        inside_leg=740 / per_unit,
        body_rise=275 / per_unit,
    )
    with pytest.raises(BodyRefused, match=unit) as refused:
        draft(body, Fit())
    assert "millimetres" in refused.value.message
    assert refused.value.where == "hip_girth"


def test_a_refusal_tells_where_and_what_in_one_line() -> None:
    with pytest.raises(BodyRefused) as refused:
        draft(msgspec.structs.replace(MIDDLE, waist_girth=1700.0), Fit())
    assert str(refused.value) == (
        "waist_girth: A waist girth of 1700 mm can not be drawn with a hip girth of 960 mm; "
        "it has to lie between 432 mm and 1536 mm."
    )


@pytest.mark.parametrize("hip", [961.0, 963.3, 1007.7])
def test_bounds_that_are_told_can_be_drawn(hip: float) -> None:
    """A bound of 432.45 told as 432 was refused when it was typed as told."""
    known = msgspec.structs.replace(MIDDLE, hip_girth=hip)
    with pytest.raises(BodyRefused) as refused:
        draft(msgspec.structs.replace(known, waist_girth=1700.0), Fit())
    low, high = map(float, re.findall(r"([\d.]+) mm", refused.value.message)[-2:])
    for waist in (low, high):
        checked(msgspec.structs.replace(known, waist_girth=waist), Fit(), [])
    with pytest.raises(BodyRefused, match=r"A waist girth of 431.6 mm can not be drawn"):
        draft(msgspec.structs.replace(known, waist_girth=431.6), Fit())
