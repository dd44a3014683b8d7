"""What the work sheet tells of a pair that is pulled on, and of turn-ups."""

from __future__ import annotations

from msgspec.structs import replace

from studio.demo import ORCHARD_BODY
from studio.design.plain import plain_design
from studio.exchange.along import sheet_of
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate

HOW = {"waist": "casing", "hem": "turn-up"}


def sheet(unit="mm"):
    plain = plain_design(ORCHARD_BODY)
    finishes = tuple(
        replace(one, how=HOW[one.edge.edge.rpartition(".")[2]], allowance=None)
        for one in plain.finishes
    )
    stages = work_sheet_of(evaluate(replace(plain, finishes=finishes)), unit).stages
    return {stage.title: " ".join(stage.sentences) for stage in stages}


def test_the_elastic_is_told_by_the_body_and_its_casing():
    # Nine tenths of a waist of 780, a band 40 wide in a casing of 55: common practice, no source.
    words = sheet()["Have ready"]
    assert "elastic 40.0 mm wide or less" in words
    assert "cut elastic 702.0 mm long" in words
    assert "elastic 1.575 inch wide or less" in sheet("inch")["Have ready"]


def test_a_pair_without_a_casing_needs_no_elastic():
    stages = work_sheet_of(evaluate(plain_design(ORCHARD_BODY))).stages
    assert not any("elastic" in words for stage in stages for words in stage.sentences)


def test_a_waist_is_one_round_and_hems_are_one_a_leg():
    told = sheet()
    assert "all round, once. " in told["Finish front (waist) and back (waist)"]
    assert "all round, once a leg. " in told["Finish front (hem) and back (hem)"]


def test_by_hand_the_paper_is_folded_before_the_seams_beside_a_hem_are_cut():
    plain = plain_design(ORCHARD_BODY)
    finishes = tuple(
        replace(one, how="turn-up", allowance=None) if one.edge.edge == "front.hem" else one
        for one in plain.finishes
    )
    stages = sheet_of(evaluate(replace(plain, finishes=finishes))).stages
    told = {stage.title: stage for stage in stages}
    front = " ".join(told["Take off the piece front"].sentences)
    assert "one line 40.0 mm beyond it, and one 80.0 mm beyond it" in front
    back = " ".join(told["Take off the piece back"].sentences)
    assert "are cut, fold the paper to the back along it" in back
    assert "turn-up" not in back
    # A waist that is faced is not folded.
    assert back.count("fold the paper") == 1


def test_a_turn_up_tells_its_height_and_all_it_takes():
    assert "Turn-up 40.0 mm high, 110.0 mm in all;" in sheet()["Finish front (hem) and back (hem)"]
