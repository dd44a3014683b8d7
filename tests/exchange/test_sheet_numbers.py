"""Numbers on the sheets to read: what adds up, what is told in the unit chosen, what is not."""

import math
import re

import pytest
from msgspec.structs import replace

from studio.cut.parts import BeltLoops, Fly, ShapedWaistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.cloth import Shortage
from studio.design.plain import plain_design
from studio.exchange.along import sheet_of
from studio.exchange.marks import label_lines
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from studio.sew.thread import thread_rows

PATTERN = evaluate(demo_design())
PIECES = {sewn.piece.name: sewn for sewn in PATTERN.pieces}


@pytest.mark.parametrize(
    ("unit", "called", "metres"), [("mm", "m", 1.0), ("inch", "yards", 0.9144)]
)
def test_thread_adds_up_to_what_is_told_in_all(unit, called, metres):
    # A yard is 0.9144 m (international yard and pound agreement of 1959).
    told = {one.title: one for one in work_sheet_of(PATTERN, unit).stages}["Thread"].sentences
    parts = [float(re.search(rf"([\d.]+) {called} of thread", one)[1]) for one in told[:-1]]
    seams = [float(re.search(rf"([\d.]+) {called} of seam", one)[1]) for one in told[:-1]]
    assert len(parts) > 4
    assert f"In all about {math.ceil(sum(parts) - 1e-6)} {called}," in told[-1]
    # 2.5 of thread to one of seam (handbook), and 15 per cent for waste.
    rows = thread_rows(PATTERN.measured, PIECES, 0.0)
    for row, seam, part in zip(rows, seams, parts, strict=False):
        assert seam == pytest.approx(row.seam / 1000.0 / metres, abs=0.0501)
        over = part - 2.5 * 1.15 * row.seam / 1000.0 / metres
        assert -1e-6 <= over < 0.1


def test_what_a_copy_does_without_is_told_in_the_unit_of_the_sheet():
    short = Shortage("back-leg", 1, "back.rise", 205.0, 240.0, 5.34)
    made = evaluate(replace(PATTERN.design, shortages=(short,)))
    cut = {one.title: one for one in work_sheet_of(made, "inch").stages}["Cut"].sentences
    (told,) = [one for one in cut if "the cloth is short there" in one]
    # Double of 12 less 5.34 is 18.66 mm: 0.735 inch; told in mm before, or as 18.7 mm: 0.736.
    assert "8.07 to 9.45 inch from the crotch, 0.735 inch wide instead of 0.945 inch" in told
    assert label_lines(made.piece("back-leg"), "inch")[-1] in told
    along = " ".join(
        {one.title: one for one in sheet_of(made, "inch").stages}[
            "Take off the piece back-leg"
        ].sentences
    )
    assert "0.735 inch wide instead of 0.945 inch: cut to the inner line" in along


def test_what_is_stretched_is_the_difference_of_the_two_lengths_beside_it():
    design = with_parts(plain_design(ORCHARD_BODY), ShapedWaistband())
    joins = tuple(
        replace(one, ease=-2.6) if one.name == "band top" else one for one in design.joins
    )
    made = evaluate(replace(design, joins=joins))
    row = next(one for one in made.ledger if one.name == "band top")
    assert row.verdict == "match"
    assert row.difference == pytest.approx(-3.0, abs=0.049)
    told = "the second side 3.0 mm shorter: stretch it to fit"
    stages = {one.title: one for one in work_sheet_of(made).stages}
    assert told in " ".join(stages["Band top"].sentences)
    walked = " ".join(sheet_of(made).stages[-1].sentences)
    assert "the second 3.0 mm shorter and stretched to fit" in walked
    faced = with_parts(plain_design(ORCHARD_BODY), ShapedWaistband(overlap=0.0, facing="main"))
    joins = tuple(
        replace(one, construction="bound-over") if one.construction == "laid-over" else one
        for one in faced.joins
    )
    bound = evaluate(replace(faced, joins=joins))
    none = evaluate(
        replace(
            faced,
            joins=tuple(
                replace(one, rows=()) if one.construction == "bound-over" else one for one in joins
            ),
        )
    )
    more, less = (
        {
            row.what: row.seam
            for row in thread_rows(
                pattern.measured, {sewn.piece.name: sewn for sewn in pattern.pieces}
            )
        }
        for pattern in (bound, none)
    )
    ditch = 2.0 * sum(
        one.b.length for one in bound.measured if one.join.construction == "bound-over"
    )
    got = more["Topstitching and hems"] - less.get("Topstitching and hems", 0.0)
    assert got == pytest.approx(ditch, abs=1.0)


def test_what_a_piece_does_not_reach_is_not_told_of_it():
    """A fly's facing below a band has no side seam: what is left of the darts is not its matter."""
    parts = (Fly(), ShapedWaistband(), BeltLoops())
    made = sheet_of(evaluate(with_parts(plain_design(ORCHARD_BODY), *parts)))
    stages = {one.title: " ".join(one.sentences) for one in made.stages}
    assert "It then measures" in stages["Take off the piece front"]
    assert "dart" not in stages["Take off the piece fly-facing"]
    for words in stages.values():
        assert not re.search(r"(?<![\d.])0\.0 mm", words)
    assert "the rest is cut on the line" in stages["Take off the piece belt-loop"]
