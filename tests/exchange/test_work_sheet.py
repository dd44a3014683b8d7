"""The work sheet: every piece cut, every seam sewn once and in order, thread by hand."""

import math

import pypdfium2 as pdfium
import pytest
from msgspec.structs import replace

from studio.cut.parts import BeltLoops, Fly, ShapedWaistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.design.topstitch import Topstitch
from studio.exchange.sheet_pdf import write_sheet
from studio.exchange.work_sheet import work_sheet_of
from studio.exchange.work_sheet_needs import binding_to_cut, bound_length
from studio.pattern import evaluate, with_parts
from studio.sew.constructions import CONSTRUCTIONS, FINISHES
from studio.sew.thread import RATIOS, WASTE, thread_rows, times_sewn
from studio.sew.walk import Walk

PATTERN = evaluate(demo_design())
PIECES = {sewn.piece.name: sewn for sewn in PATTERN.pieces}
SHEET = work_sheet_of(PATTERN)


def stage(title):
    return next(stage for stage in SHEET.stages if stage.title == title)


def test_every_piece_is_cut_from_its_cloth_as_often_as_it_is_needed():
    cut = " ".join(stage("Cut").sentences)
    for sewn in PATTERN.pieces:
        assert f"{sewn.piece.name}, cut {sewn.piece.quantity}" in cut
    for cloth in PATTERN.design.cloths:
        assert f"From {cloth.name}" in cut


def test_every_seam_and_every_finish_is_a_step_in_the_order_of_sewing():
    titles = [stage.title.lower() for stage in SHEET.stages]
    joins = [name for name in PATTERN.order.steps if name in {j.name for j in PATTERN.design.joins}]
    places = [titles.index(name.lower()) for name in joins]
    assert places == sorted(places)
    assert len(joins) == len(PATTERN.design.joins)
    assert any(title.startswith("finish front-leg (hem)") for title in titles)
    assert not any("caught" in title for title in titles)


def test_a_step_says_how_it_is_sewn_and_why_now():
    words = " ".join(stage("Inseam").sentences)
    assert "Sew front-leg (inseam) to back-leg (inseam): flat-felled, once a leg." in words
    assert "Allowances 12.0 mm and 24.0 mm." in words
    assert "Topstitch at 10.0 mm" in words
    assert "Why now: " in words
    assert "794.5 mm" in words
    assert stage("Inseam").figure is not None
    assert "left to right" in " ".join(stage("Crotch seam").sentences)
    assert "once." in " ".join(stage("Waist").sentences)


def test_darts_are_sewn_before_anything_else_of_their_piece():
    told = " ".join(stage("Darts of front-leg").sentences)
    assert "knee-low-a, 8.0 mm wide at the side seam, 42.0 mm long" in told
    assert "knee-high-b, 8.0 mm wide at the inseam, 42.0 mm long" in told
    assert "in both pieces" in told
    # By the same rule the cut line is folded: common practice, no source.
    assert "upright darts, as at the waist, towards the middle, level ones downwards" in told
    titles = [one.title for one in SHEET.stages]
    assert titles.index("Darts of front-leg") < titles.index("Knee panel")
    assert all("Darts of yoke" not in title for title in titles)


def test_the_buttonhole_is_told_with_its_length():
    assert "20.0 mm long" in stage("Button of waistband").sentences[0]


def test_what_is_caught_in_a_seam_is_told_with_its_place_and_notched():
    words = " ".join(stage("Side seam").sentences)
    assert "Catch in it: " in words
    assert "knee-panel (side seam)" in words
    assert "twine-loop (start) at 655.0 mm from the start of the first side" in words
    join = next(join for join in PATTERN.measured if join.join.name == "side seam")
    assert any(abs(met.along_a - 655.0) < 1e-6 for met in Walk(join, PIECES).met)
    assert "belt-loop" in " ".join(stage("Waist").sentences)


def test_a_wish_that_cannot_be_followed_is_told_in_front():
    wished = replace(PATTERN.design, sewing=("side seam", "yoke seam"))
    before = " ".join(work_sheet_of(evaluate(wished)).before)
    assert "yoke seam comes before side seam" in before


def test_findings_that_do_not_stand_are_told_in_front():
    joins = tuple(replace(j, ease=9.0) if j.name == "inseam" else j for j in PATTERN.design.joins)
    before = " ".join(work_sheet_of(evaluate(replace(PATTERN.design, joins=joins))).before)
    assert "not clean" in before


def test_thread_is_length_times_the_ratio_of_its_stitch_and_waste():
    """Ratios of ISO 4915 stitch types from thread makers' guides: 301 2.5, 304 5.5, 401 5.5."""
    assert RATIOS == {"301": 2.5, "304": 5.5, "401": 5.5}
    rows = {row.what: row for row in thread_rows(PATTERN.measured, PIECES)}
    # By hand: inseam and yoke seam on both legs, the crotch seam once.
    lengths = {row.name: max(row.length_a, row.length_b) for row in PATTERN.ledger}
    felled = 2.0 * (lengths["inseam"] + lengths["yoke seam"]) + lengths["crotch seam"]
    assert rows["Flat-felled"].seam == pytest.approx(felled, abs=1e-6)
    assert rows["Flat-felled"].thread == pytest.approx(felled * 2.5 * 1.15, abs=1e-6)
    assert WASTE == 0.15
    assert rows["Plain, edges bound"].seam == pytest.approx(2.0 * lengths["pocket bag"], abs=1e-6)
    plain = 2.0 * sum(lengths[n] for n in ("side seam", "pocket mouth"))
    plain += lengths["waist"] + lengths["waist, other leg"] + lengths["twine-loop tube"]
    # Six darts of 8 by 42 on each leg: four in the front, two in the knee panel.
    plain += 2.0 * 6.0 * math.hypot(42.0, 4.0)
    assert rows["Plain"].seam == pytest.approx(plain, abs=1e-6)


def test_seams_of_both_legs_are_sewn_twice_and_the_others_once():
    times = {join.join.name: times_sewn(join, PIECES) for join in PATTERN.measured}
    assert times["inseam"] == times["pocket bag"] == 2
    assert times["crotch seam"] == times["waist"] == times["back pocket"] == 1


def test_binding_is_in_the_cutting_list_with_length_and_width():
    """Bias 30 wide and a tenth over: common practice, no source."""
    lengths = {row.name: max(row.length_a, row.length_b) for row in PATTERN.ledger}
    facing = PIECES["fly-facing"].piece.outline.edge("fly").length
    assert bound_length(PATTERN, PIECES) == pytest.approx(2.0 * lengths["pocket bag"] + facing)
    assert binding_to_cut(1000.0) == pytest.approx(1100.0)
    assert binding_to_cut(969.3) == pytest.approx(1070.0)
    assert "bias strips 30.0 mm wide, joined to 1070.0 mm" in " ".join(stage("Cut").sentences)
    plain = evaluate(plain_design(ORCHARD_BODY))
    assert all("Binding" not in told for told in work_sheet_of(plain).stages[0].sentences)


def test_zip_button_and_interfacing_are_listed():
    """The demonstration's zip is asked for as 140 long; a plain pair has none."""
    told = " ".join(stage("Have ready").sentences)
    assert "A zip for fly edge, 140.0 mm long." in told
    assert "A button for waistband" in told
    assert "waistband, fly-facing, cut to the sewing line" in told
    plain = work_sheet_of(evaluate(plain_design(ORCHARD_BODY)))
    ready = next(one for one in plain.stages if one.title == "Have ready")
    assert not any(word in " ".join(ready.sentences) for word in ("zip", "button", "Interfacing"))


def test_rows_asked_for_are_stitched_before_their_patch_is_laid_on():
    titles = [one.title for one in SHEET.stages]
    rows = stage("Rows on back-pocket")
    assert "40.0 mm, 46.0 mm from top" in rows.sentences[0]
    assert "22.0 mm, 28.0 mm, 34.0 mm from top" in stage("Rows on knee-panel").sentences[0]
    assert titles.index("Finish back-pocket (top)") < titles.index(rows.title)
    assert titles.index(rows.title) < titles.index("Back pocket")
    assert titles.count("Rows on knee-panel") == 1
    # One stroke for every edge of the piece and one for either row.
    strokes = [line.stroke for line in rows.figure.lines]
    assert strokes.count("before") == 5
    assert strokes.count("cut") == 2


def test_zip_and_loops_are_steps_before_the_waist():
    titles = [one.title for one in SHEET.stages]
    for title in ("Zip of fly edge", "Make belt-loop"):
        assert titles.index("Crotch seam") < titles.index(title) < titles.index("Waist")
    assert "each of the 5" in stage("Make belt-loop").sentences[0]
    assert titles.index("Upper ends of belt-loop") > titles.index("Close waistband")
    # The shield goes to the other front: it is not caught in the edge that is faced.
    assert "Catch in it" not in " ".join(stage("Fly edge").sentences)
    assert "On the other front" in " ".join(stage("Zip of fly edge").sentences)


def test_a_zip_comes_before_a_shaped_band_is_set_on_either_leg():
    design = with_parts(plain_design(ORCHARD_BODY), Fly(), BeltLoops(), ShapedWaistband())
    sheet = work_sheet_of(evaluate(design))
    titles = [one.title for one in sheet.stages]
    zip_at = titles.index("Zip of fly edge")
    assert zip_at < min(titles.index(name) for name in ("Band seam", "Band seam, other leg"))
    # The band takes 45 off a fly for a zip of 140, whose edge goes 20 on below it.
    ready = next(one for one in sheet.stages if one.title == "Have ready")
    assert "A zip for fly edge, 95.0 mm long." in ready.sentences


def test_what_is_on_one_leg_says_which():
    assert "It belongs to the left leg, as worn." in stage("Back pocket").sentences
    assert "It belongs to the right leg, as worn." in stage("Waist, other leg").sentences
    for title in ("Inseam", "Crotch seam", "Pencil-pocket on secateurs-pocket"):
        assert not any("It belongs" in told for told in stage(title).sentences)


def test_a_folded_waistband_is_closed_in_one_step():
    titles = [one.title for one in SHEET.stages]
    assert titles.count("Close waistband") == 1
    assert not any(title.startswith("Finish waistband") for title in titles)


def test_every_construction_says_how_it_is_sewn():
    assert all(kind.words for kind in CONSTRUCTIONS.values())
    assert {name for name, kind in FINISHES.items() if not kind.words} == {"faced", "caught", "raw"}
    assert "turn it right side out" in " ".join(stage("Twine-loop tube").sentences)
    mouth = " ".join(stage("Pocket mouth").sentences)
    assert "press the seam open" not in mouth
    assert "turn the facing to the inside" in mouth


def test_the_pdf_holds_the_sheet(tmp_path):
    path = tmp_path / "work.pdf"
    write_sheet(SHEET, path)
    with pdfium.PdfDocument(path) as book:
        text = " ".join(page.get_textpage().get_text_bounded() for page in book)
    assert "Thread" in text
    assert "Crotch seam" in text


def test_a_band_with_rows_of_its_own_is_closed_all_the_same():
    design = demo_design()
    row = Topstitch("waistband", "waistband.fold", (5.0,))
    pattern = evaluate(replace(design, topstitching=(*design.topstitching, row)))
    titles = [stage.title for stage in work_sheet_of(pattern).stages]
    assert titles.count("Rows on waistband") == titles.count("Close waistband") == 1
