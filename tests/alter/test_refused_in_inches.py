"""What a step refuses is told in inches from what was measured, not from what is told in mm."""

import pytest

from studio.alter import altered, altered_beside
from studio.alter.toile import proposed
from studio.design import LowerWaist, SwingRise, TakeOffDart, TrueSeam
from studio.design.alterations import (
    AddLevel,
    Lengthen,
    MoveDart,
    OpenDart,
    ShortenDart,
    SplitDart,
    Spread,
)
from studio.design.lines import OnEdge
from studio.design.toile import ToileNote
from studio.errors import GeometryRefused
from tests.shapes import back_panel, front_panel
from tests.told import says_what_was_measured

DART = "front-dart"


def on(edge, mm, corner="hem"):
    return OnEdge(f"front.{edge}", f"front.{corner}", mm=mm)


@pytest.mark.parametrize(
    "step",
    [
        AddLevel("front", "shin", "hem", -77.77),
        Lengthen("front", "crotch", -277.77),
        Lengthen("front", "crotch", 7.77, above=977.77),
        LowerWaist("front", 0.0, 1977.77),
        MoveDart("front", DART, on("side", 0.77)),
        MoveDart("front", DART, on("side", 5077.77)),
        OpenDart("front", "knee", on("side", 300.0), on("inseam", 300.0), 8.0, 477.77),
        ShortenDart("front", DART, 177.77),
        SplitDart("front", DART, 677.77),
        Spread("front", on("side", 300.0), on("inseam", 300.0), 0.0, 677.77),
        SwingRise("front", 877.77),
        TakeOffDart("front", DART, "side", 77.77),
        TrueSeam("front", "front.side", "back.side", ease=177.77),
    ],
    ids=lambda step: type(step).__name__,
)
def test_a_step_that_is_refused_says_so_in_inches_to_the_last_digit(step):
    with pytest.raises(GeometryRefused) as refused:
        altered_beside(front_panel(), step, (back_panel(),))
    assert says_what_was_measured(refused.value), (refused.value.sentence, refused.value.exact)


def test_what_a_toile_shows_is_refused_to_the_last_digit_too():
    note = ToileNote("back waist", "tight", 7.77)
    with pytest.raises(GeometryRefused) as refused:
        proposed(note, (front_panel(), back_panel()))
    assert says_what_was_measured(refused.value)


def test_a_fine_step_is_done():
    assert altered(front_panel(), (ShortenDart("front", DART, 7.77),)) != front_panel()
