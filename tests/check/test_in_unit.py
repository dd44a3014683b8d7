"""Findings read in another unit than mm; what is let stand goes by mm whichever is shown."""

import re

import pytest
from msgspec.structs import replace

from studio import numbers
from studio.check import (
    Finding,
    acceptance,
    all_in_unit,
    in_unit,
    is_accepted,
    names_in,
    with_acceptance,
)
from studio.demo import demo_design
from studio.design import Body
from studio.design.accepted import Accepted
from studio.design.carried import Carried
from studio.design.cloth import Shortage
from studio.pattern import evaluate

_BARE = re.compile(r"(?<![\w.-])\d+(?:\.\d+)?\b(?!\.\d| (?:mm|degrees|%|per cent|by|to)\b)")
"""A number that no unit follows."""


def troubled():
    """The demo with many findings that tell lengths: a small body for the pockets, a seam that
    does not match, a short allowance.
    """
    demo = demo_design()
    thing = Carried(demo.carried[0].pocket, "ruler", 400.0, 300.0, 20.0)
    joins = tuple(
        replace(join, ease=20.0, notches=(7.0, 9.0)) if join.name == "inseam" else join
        for join in demo.joins
    )
    return replace(
        demo,
        body=replace(demo.body, hand_girth=400.0, thigh_girth=700.0),
        carried=(*demo.carried, thing),
        joins=joins,
        shortages=(Shortage("back-leg", 1, "back.rise", 205.0, 240.0, 5.3),),
    )


PATTERN = evaluate(troubled())


@pytest.mark.parametrize("unit", ["cm", "inch"])
def test_no_finding_speaks_mm_when_another_unit_is_chosen(unit):
    names = tuple(names_in(PATTERN.design))
    spoken = {one.rule for one in PATTERN.findings if " mm" in one.message}
    assert spoken >= {"seam-length", "pocket", "allowance-short"}
    for finding in PATTERN.findings:
        told = in_unit(finding, unit, names)
        assert not re.search(r"\bmm\b", f"{told.where} {told.message}")
        assert (f" {unit}" in told.message) == (" mm" in finding.message)
        numbers_of = (finding.rule, finding.gravity, finding.measured, finding.limit)
        assert (told.rule, told.gravity, told.measured, told.limit) == numbers_of


def test_every_length_of_a_finding_has_its_unit():
    for finding in PATTERN.findings:
        assert not _BARE.search(finding.message), finding.message


def test_a_finding_is_told_from_its_numbers_not_from_their_rounding():
    finding = Finding("pocket", "warning", "p", "It is 142 mm long, not 150 mm.", 141.6, 150.0)
    assert in_unit(finding, "inch").message == "It is 5.57 inch long, not 5.91 inch."
    assert numbers.length(141.6, "inch", 2) == "5.57 inch"
    degrees = replace(finding, message="It is 142 mm.", unit="degrees")
    assert in_unit(degrees, "inch").message == "It is 5.59 inch."


def test_what_is_let_stand_is_kept_in_mm():
    finding = next(one for one in PATTERN.findings if one.rule == "allowance-short")
    kept = acceptance(finding, "as it is")
    assert " mm from " in kept.where
    assert with_acceptance([finding], [kept])[0].accepted == "as it is"


def test_what_was_let_stand_before_places_told_their_unit_still_stands():
    finding = Finding("waist-large", "warning", "top edge, 42 mm down", "It is large.", 71.0, 60.0)
    assert is_accepted(finding, Accepted("waist-large", "top edge, 42 down", "meant", 71.0, ""))
    assert not is_accepted(finding, Accepted("waist-large", "top edge, 43 down", "meant", 71.0, ""))
    worded = replace(finding, measured=None, message="A hand needs 150 mm. Move it.")
    said = "A hand needs 150. Move it."
    before = Accepted("waist-large", "top edge, 42 down", "meant", None, said)
    assert is_accepted(worded, before)


def test_every_finding_keeps_names_and_what_was_measured_on_the_body():
    body = Body(waist_girth=780.0, hip_girth=1000.76, inside_leg=787.4, body_rise=279.4)
    body = replace(body, waist_height=1117.6)
    # 11, 13 and 39.4 inch of exactly 25.4 mm; whole mm would be 10.98, 12.99 and 39.41.
    said = "The body rise of 279 mm was used, the heights give 330 mm, the hip 1001 mm."
    demo = demo_design()
    strip = replace(demo.pieces[0], name="strip 30 mm")
    design = replace(demo, body=body, pieces=(strip,))
    findings = (
        Finding("a", "note", "block", said),
        Finding("b", "note", "strip 30 mm", "strip 30 mm is off by 25.4 mm."),
        Finding("c", "note", "strip 30 mm", "strip 30 mm is off by 50.8 mm."),
    )
    first, *rest = all_in_unit(findings, design, "inch")
    assert "11.00 inch was used" in first.message
    assert "give 13.00 inch, the hip 39.40 inch" in first.message
    assert [one.message for one in rest] == [
        "strip 30 mm is off by 1.000 inch.",
        "strip 30 mm is off by 2.000 inch.",
    ]
    assert all_in_unit(findings, design, "mm") == findings
