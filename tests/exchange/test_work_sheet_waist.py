"""What the work sheet tells of a waist without a band: its round, its facing, what is caught."""

import re

import pytest
from msgspec.structs import replace

from studio.cut.parts import BeltLoops, Fly, HandPocket, ShapedWaistband, Waistband
from studio.demo import ORCHARD_BODY
from studio.design import FoldPleat, OnEdge, OpenDart
from studio.design.plain import plain_design
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts

PLAIN = plain_design(ORCHARD_BODY)


def sheet(design, unit="mm"):
    stages = work_sheet_of(evaluate(design), unit).stages
    return {stage.title: " ".join(stage.sentences) for stage in stages}


def waists(told):
    """The steps that finish something of the waist."""
    return [
        title
        for title, words in told.items()
        if title.startswith("Finish") and "waist" in f"{title} {words.partition('. ')[0]}"
    ]


@pytest.mark.parametrize("how", ["faced", "turned", "casing", "bound"])
def test_a_waist_that_a_pocket_divides_is_finished_in_one_round(how):
    """The front ends at the mouth, and meets the back at the centre only; the bearer goes on to the
    side.
    """
    pair = with_parts(PLAIN, HandPocket())
    finishes = tuple(
        replace(one, how=how) if one.edge.edge.endswith(".waist") and one.how == "faced" else one
        for one in pair.finishes
    )
    told = sheet(replace(pair, finishes=finishes))
    assert waists(told) == ["Finish the waist"]
    words = told["Finish the waist"]
    for piece in ("front (waist)", "back (waist)", "hand-pocket-bearer (waist up to hand-pocket)"):
        assert words.count(piece) == 1
    assert "all round, once" in words


def test_what_lies_in_a_waist_without_a_band_is_caught_there():
    told = sheet(with_parts(PLAIN, HandPocket(facing=30.0), Fly(), BeltLoops()))
    caught = re.search(r"Catch in it: (.*?)\.", told["Finish the waist"]).group(1).split("; ")
    assert sorted(caught) == [
        "the first end of fly-shield",
        "the waist of fly-facing",
        "the waist of hand-pocket-bag",
        "the waist of hand-pocket-facing",
    ]


def test_below_a_band_what_was_caught_is_caught_in_its_seam_alone():
    told = sheet(with_parts(PLAIN, HandPocket(), Fly(), Waistband()))
    assert waists(told) == []
    assert "hook and bar" not in " ".join(told.values())
    assert "Facing for" not in told["Cut"]


def test_a_facing_that_is_no_piece_is_told_where_cloth_is_cut_and_how_it_is_sewn():
    """50 wide is common practice, no source."""
    told = sheet(PLAIN)
    assert "Facing for the waist of front, back: " in told["Cut"]
    assert "trace that edge 50.0 mm wide" in told["Cut"]
    assert "trace that edge 1.969 inch wide" in sheet(PLAIN, "inch")["Cut"]
    assert "turn it to the inside" in told["Finish front (waist) and back (waist)"]
    assert "Facing:" in told["Words"]


def test_a_waist_without_a_band_is_closed_above_its_zip():
    told = sheet(with_parts(PLAIN, Fly()))
    assert "A hook and bar to close the waist above the zip of fly edge." in told["Have ready"]
    (last,) = waists(told)
    assert "sew hook and bar there" in told[last]
    assert not any("hook" in words for words in sheet(PLAIN).values())


def test_a_pleat_below_a_band_is_told_by_the_line_along_which_the_band_was_cut_off():
    steps = (
        OpenDart(
            "front",
            "pleat",
            OnEdge("front.waist", "front.side", mm=95.0),
            OnEdge("front.hem", "front.side", share=0.5),
            60.0,
            150.0,
        ),
        FoldPleat("front", "pleat"),
    )
    told = sheet(with_parts(replace(PLAIN, alterations=steps), ShapedWaistband(width=48.0)))
    words = next(one for title, one in told.items() if "pleats of front" in title.lower())
    assert re.search(r"Fold pleat, \d+\.\d mm wide at the band-front line, as a pleat", words)
