"""The work sheet: every piece cut, every seam sewn once and in order, thread by hand."""

import itertools
import math
import re

import pypdfium2 as pdfium
import pytest
import shapely
from msgspec.structs import replace

from studio.cut.count import with_count
from studio.cut.parts import BeltLoops, Fly, HandPocket, ShapedWaistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.design.topstitch import Topstitch
from studio.exchange.sheet_pdf import write_sheet
from studio.exchange.shut_darts import shut_lines
from studio.exchange.work_sheet import work_sheet_of
from studio.exchange.work_sheet_figures import notches_met
from studio.exchange.work_sheet_needs import binding_to_cut, bound_length
from studio.pattern import evaluate, with_parts
from studio.sew.constructions import CONSTRUCTIONS, FINISHES
from studio.sew.loop_places import spread_round
from studio.sew.loops import LoopKind
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
    assert "both ends of twine-loop at 655.0 mm from A, on one leg only" in words
    join = next(join for join in PATTERN.measured if join.join.name == "side seam")
    assert any(abs(met.along_a - 655.0) < 1e-6 for met in Walk(join, PIECES).met)
    assert "belt-loop" in " ".join(stage("Waist").sentences)


def test_a_wish_that_cannot_be_followed_is_told_in_front():
    wished = replace(PATTERN.design, sewing=("side seam", "yoke seam"))
    before = " ".join(work_sheet_of(evaluate(wished)).before)
    assert "yoke seam comes before side seam" in before


def test_findings_that_do_not_stand_are_told_in_front():
    joins = tuple(replace(j, ease=9.0) if j.name == "inseam" else j for j in PATTERN.design.joins)
    pattern = evaluate(replace(PATTERN.design, joins=joins))
    before = " ".join(work_sheet_of(pattern).before)
    assert "not clean" in before
    assert "differ by 9.0 mm" in before
    # An inch is 25.4 mm.
    in_inches = " ".join(work_sheet_of(pattern, "inch").before)
    assert "differ by 0.354 inch" in in_inches
    assert " mm" not in in_inches
    # 645.16 mm2 are a square inch.
    main = next(cloth.name for cloth in PATTERN.design.cloths)
    mm2 = sum(
        sewn.piece.outline.area_mm2 * sewn.piece.quantity
        for sewn in pattern.pieces
        if sewn.piece.cloth == main
    )
    cut = next(told for told in work_sheet_of(pattern, "inch").stages[0].sentences if main in told)
    assert f"Sewing lines of all copies together enclose {mm2 / 645.16:.0f} inch\u00b2." in cut


def test_thread_is_length_times_the_ratio_of_its_stitch_and_waste():
    """Ratios of ISO 4915 stitch types from thread makers' guides: 301 2.5, 304 5.5, 401 5.5."""
    assert RATIOS == {"301": 2.5, "304": 5.5, "401": 5.5}
    rows = {row.what: row for row in thread_rows(PATTERN.measured, PIECES)}
    assert "In the ditch" not in rows
    # By hand: inseam and yoke seam on both legs, the crotch seam once.
    lengths = {row.name: max(row.length_a, row.length_b) for row in PATTERN.ledger}
    felled = 2.0 * (lengths["inseam"] + lengths["yoke seam"]) + lengths["crotch seam"]
    assert rows["Flat-felled"].seam == pytest.approx(felled, abs=1e-6)
    assert rows["Flat-felled"].thread == pytest.approx(felled * 2.5 * 1.15, abs=1e-6)
    assert WASTE == 0.15
    assert rows["Plain, edges bound"].seam == pytest.approx(2.0 * lengths["pocket bag"], abs=1e-6)
    plain = 2.0 * sum(lengths[n] for n in ("side seam", "pocket mouth"))
    plain += lengths["waist"] + lengths["waist, other leg"] + lengths["twine-loop tube"]
    plain += lengths["fly shield"]
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


@pytest.mark.parametrize("down", [12.0, 8.0, 25.0])
def test_a_fly_too_short_for_a_zip_is_told_so_and_the_sheet_is_written(down):
    """A zip wants more than what is kept below it and a slider's room."""
    design = demo_design()
    line = design.line("fly")
    path = replace(line.path, end=replace(line.path.end, mm=down))
    pattern = evaluate(design.with_line(replace(line, path=path)))
    assert any(row.name == "fly edge" and row.verdict != "broken" for row in pattern.ledger)
    sheet = work_sheet_of(pattern)
    told = " ".join(next(one for one in sheet.stages if one.title == "Have ready").sentences)
    assert "too short for a zip" in told
    assert "A zip for" not in told
    assert not any(one.title.startswith("Zip of") for one in sheet.stages)


def test_rows_asked_for_are_stitched_before_their_patch_is_laid_on():
    titles = [one.title for one in SHEET.stages]
    rows = stage("Rows on back-pocket")
    assert "40.0 mm, 46.0 mm from the top" in rows.sentences[0]
    assert "through back-pocket alone" in rows.sentences[1]
    assert titles.index("Finish back-pocket (top)") < titles.index(rows.title)
    assert titles.index(rows.title) < titles.index("Back pocket")
    assert titles.count("Rows on back-pocket") == 1
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
    assert "On this front turn the allowance" in " ".join(stage("Fly shield").sentences)
    assert "It belongs to the right leg, as worn." in stage("Fly shield").sentences
    at = [titles.index(t) for t in ("Zip of fly edge", "Fly shield", "Close fly edge", "Waist")]
    assert at == sorted(at)
    assert titles.index("Finish fly-facing (fly line)") < at[0]


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
    assert {name for name, kind in FINISHES.items() if not kind.words} == {"caught", "raw"}
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


def points(figure):
    return {letter: point for letter, point in figure.points}


def strokes(title, kind):
    return [line.chain for line in stage(title).figure.lines if line.stroke == kind]


def polylines(chains):
    return shapely.MultiLineString([chain.polyline(0.01) for chain in chains])


@pytest.mark.parametrize(
    "title",
    [
        "Zip of fly edge",
        "Fly shield",
        "Close fly edge",
        "Make belt-loop",
        "Place belt-loop",
        "Upper ends of belt-loop",
        "Twine-loop tube",
        "Ends of waistband",
        "Close waistband",
        "Button of waistband",
    ],
)
def test_steps_of_zip_band_and_loops_have_figures_in_view(title):
    shown = stage(title).figure
    assert {line.stroke for line in shown.lines} >= {"cut"}
    view = shapely.box(shown.view.left, shown.view.bottom, shown.view.right, shown.view.top)
    for line in shown.lines:
        if line.stroke == "cut":
            assert view.contains(shapely.LineString(line.chain.polyline(0.1)))
    for _, point in shown.points:
        assert view.contains(shapely.Point(point.x, point.y))


def test_a_zip_is_drawn_as_long_as_it_is_and_beside_the_edge_by_shapely():
    """Of a zip for 140 the teeth lie 5 from the faced edge, on its facing."""
    edge = next(one for one in PATTERN.measured if one.join.name == "fly edge")
    line = shapely.LineString(edge.a.stretches[0].edge.chain.polyline(0.001))
    teeth = points(stage("Zip of fly edge").figure)["zip"]
    assert line.distance(shapely.Point(teeth.x, teeth.y)) == pytest.approx(5.0, abs=0.01)
    drawn = strokes("Zip of fly edge", "drawn")
    assert sorted(round(chain.length) for chain in drawn)[1:] == [140, 140, 140]
    # On the other front, mirrored, the row lies 2 inside the fold, all along it.
    (row,) = strokes("Fly shield", "cut")
    over = shapely.LineString([(-x, y) for x, y in line.coords])
    inside = shapely.LineString(row.polyline(0.001))
    assert over.hausdorff_distance(inside) == pytest.approx(2.0, abs=0.1)
    # The facing is stitched down 6 inside its free edge.
    row = max(strokes("Close fly edge", "cut"), key=lambda chain: chain.length)
    free = PIECES["fly-facing"].piece.outline.edge("fly").chain
    for share in (0.2, 0.5, 0.8):
        assert free.nearest(row.at(share * row.length))[1] == pytest.approx(6.0, abs=0.01)


def test_belt_loops_are_told_and_drawn_where_they_are_notched():
    told = " ".join(stage("Place belt-loop").sentences)
    waist = next(one for one in PATTERN.measured if one.join.name == "waist")
    (places,) = spread_round([waist], [LoopKind("belt-loop", 5, 12.0)]).values()
    places = [mm for mm in places if mm > 0.0]
    assert "One sits at the centre back" in told
    assert f"{places[0]:.1f} mm and {places[1]:.1f} mm from the centre back" in told
    assert "caught in waist, or in waist, other leg" in told
    seam = polylines(strokes("Place belt-loop", "cut"))
    loops = strokes("Place belt-loop", "drawn")
    assert len(loops) == len(places)
    for loop in loops:
        # 12 wide and 50 long, its upper end on the waist (as good as straight over 12 mm).
        assert loop.length == pytest.approx(2.0 * (12.0 + 50.0), abs=1e-6)
        assert seam.distance(shapely.LineString(loop.polyline(0.1))) < 0.5
    for name in ("Waist", "Waist, other leg"):
        assert "the lower ends of belt-loop at their notches" in " ".join(stage(name).sentences)


@pytest.mark.parametrize(
    ("count", "first"),
    [(1, "One sits at the centre back, on the seam."), (2, "The middles of the loops lie ")],
)
def test_few_belt_loops_are_told_in_whole_sentences(count, first):
    sheet = work_sheet_of(evaluate(with_count(demo_design(), "belt-loop", count)))
    told = next(one for one in sheet.stages if one.title == "Place belt-loop").sentences
    assert told[0].startswith(first)
    assert ("One sits" in told[0]) == (count % 2 == 1)
    assert not any(re.search(r"lie +from|others lie", sentence) for sentence in told)


def test_loops_without_places_are_spread_by_eye():
    finishes = tuple(replace(one, spread=0) for one in PATTERN.design.finishes)
    sheet = work_sheet_of(evaluate(replace(PATTERN.design, finishes=finishes)))
    told = next(one for one in sheet.stages if one.title == "Place belt-loop")
    assert "Spread them round the waist" in told.sentences[0]
    assert told.figure is None


def test_loops_of_a_band_sewn_on_front_and_back_apart_are_laid_before_each_seam():
    """The seam's notches are those of the loops: as far from the side as is told."""
    parts = (BeltLoops(), BeltLoops(name="wide-loop", wide=30.0, count=2))
    design = with_parts(PLAIN, Fly(), *parts, ShapedWaistband(overlap=0.0))
    sheet = work_sheet_of(evaluate(design), "cm")
    titles = [one.title for one in sheet.stages]
    stages = dict(zip(titles, sheet.stages, strict=True))
    for name in ("Place belt-loop, back", "Place belt-loop, front", "Place wide-loop, back"):
        assert stages[name].figure is not None
    assert "Place wide-loop, front" not in titles
    for one in ("belt-loop", "wide-loop"):
        assert titles.count(f"Make {one}") == 1
    for panel in ("back", "front"):
        laid_at = titles.index(f"Place belt-loop, {panel}")
        assert laid_at < titles.index(f"Band-{panel} seam")
    told = stages["Place belt-loop, front"].sentences[0]
    (loop,) = [
        line.chain
        for line in stages["Place belt-loop, front"].figure.lines
        if line.stroke == "drawn"
    ]
    front = evaluate(design).piece("front").piece.outline.edge("band-front").chain
    # The outline of a loop begins at a corner on the waist, half its width from its middle.
    apart = sorted(front.distance_of(loop.at(mm)) for mm in (0.0, 12.0))
    lies = float(re.search(r"lie ([\d.]+) cm from the side", told)[1])
    assert lies == pytest.approx(sum(apart) / 20.0, abs=0.03)


def test_loops_that_are_not_as_many_as_their_places_are_told():
    pieces = tuple(
        replace(one, count=8) if one.name == "belt-loop" else one for one in PATTERN.design.pieces
    )
    sheet = work_sheet_of(evaluate(replace(PATTERN.design, pieces=pieces)))
    told = next(one for one in sheet.stages if one.title == "Place belt-loop")
    assert "8 are cut, and 5 places are marked: see to the rest." in told.sentences


def test_the_crotch_seam_is_drawn_as_one_line_on_one_leg_that_nothing_crosses():
    shown = stage("Crotch seam").figure
    seam = [line.chain for line in shown.lines if line.stroke == "cut"][:3]
    assert sum(chain.length for chain in seam) == pytest.approx(476.49, abs=0.01)
    for one, two in itertools.pairwise(seam):
        assert one.end.distance_to(two.start) < 1e-6
    # Pieces stand upright, and none lies on another.
    outlines = [line.chain for line in shown.lines if line.stroke == "before"]
    counts = [len(shut_lines(PIECES[n].piece)) for n in ("front-leg", "back-leg", "yoke")]
    assert len(outlines) == sum(counts)
    areas = []
    for first, count in zip((0, counts[0], counts[0] + counts[1]), counts, strict=True):
        ring = [p for chain in outlines[first : first + count] for p in chain.polyline(0.05)[:-1]]
        areas.append(shapely.Polygon(ring))
    for one, two in itertools.combinations(areas, 2):
        assert one.intersection(two).area < 150.0
    assert points(shown).keys() >= {"A", "front-leg", "back-leg", "yoke"}


def test_notches_of_a_seam_are_strokes_across_it():
    shown = stage("Inseam").figure
    (met,) = notches_met(Walk(measured("inseam"), PIECES))
    ticks = [line.chain for line in shown.lines if line.stroke == "cut"][-1:]
    seam = polylines(strokes("Inseam", "cut")[:-1])
    middle = ticks[0].at(ticks[0].length / 2.0)
    assert seam.distance(shapely.Point(middle.x, middle.y)) < 1e-3
    assert points(shown)["A"].distance_to(middle) < met + 1e-6
    assert f"Notches meet at {met:.1f} mm from A." in stage("Inseam").sentences


def measured(name):
    return next(one for one in PATTERN.measured if one.join.name == name)


def test_rows_in_the_ditch_are_in_the_thread():
    """By hand: the band is closed along both halves of the waist; 301 takes 2.5, waste 15 %."""
    both = measured("waist").a.length + measured("waist, other leg").a.length
    told = stage("Thread").sentences
    thread = math.ceil(both * 2.5 * 1.15 / 100.0) / 10.0
    assert f"In the ditch: {both / 1000.0:.1f} m of seam, stitch 301 of ISO 4915, {thread} m" in (
        " ".join(told)
    )


def test_rows_through_both_layers_are_stitched_once_the_patch_is_laid_on():
    titles = [one.title for one in SHEET.stages]
    through = "Rows through knee-panel and front-leg"
    assert titles.index(through) == titles.index("Knee panel") + 1
    told = " ".join(stage(through).sentences)
    assert "22.0 mm, 28.0 mm, 34.0 mm from the top" in told
    assert "Stitch through both layers, knee-panel and front-leg" in told
    assert "alone" not in told
    assert "Rows on knee-panel" not in titles


def test_rows_moved_in_the_order_of_sewing_move_on_the_sheet():
    steps = [step for step in PATTERN.order.steps if step != "rows through knee-panel"]
    steps.insert(steps.index("back pocket") + 1, "rows through knee-panel")
    sheet = work_sheet_of(evaluate(replace(PATTERN.design, sewing=tuple(steps))))
    titles = [one.title for one in sheet.stages]
    through = titles.index("Rows through knee-panel and front-leg")
    assert titles.index("Knee panel") < titles.index("Back pocket") < through
    assert titles.index("Side seam") > through
    wished = ("side seam", "rows through knee-panel")
    (told,) = [
        one
        for one in work_sheet_of(evaluate(replace(PATTERN.design, sewing=wished))).before
        if one.startswith("Not sewn as wished")
    ]
    assert "rows through knee-panel comes before side seam" in told


def test_the_same_rows_on_the_part_alone_come_before_it_is_laid_on():
    alone = tuple(replace(one, through=False) for one in PATTERN.design.topstitching)
    sheet = work_sheet_of(evaluate(replace(PATTERN.design, topstitching=alone)))
    titles = [one.title for one in sheet.stages]
    assert titles.index("Rows on knee-panel") < titles.index("Knee panel")
    assert not any(title.startswith("Rows through") for title in titles)
    both = tuple(replace(one, through=True) for one in alone)
    sheet = work_sheet_of(evaluate(replace(PATTERN.design, topstitching=both)))
    told = next(one for one in sheet.stages if one.title.startswith("Rows through back-pocket"))
    assert any("divide it" in sentence for sentence in told.sentences)


def test_what_is_cut_wider_for_another_seam_is_trimmed_for_this_one():
    told = " ".join(stage("Fly edge").sentences)
    assert "Front-leg is cut 24.0 mm wide along the rise" in told
    assert "trim it to 12.0 mm here" in told
    assert "trim it" not in " ".join(stage("Crotch seam").sentences + stage("Inseam").sentences)


def test_what_is_caught_in_the_waist_is_told_on_its_own_leg():
    left, right = (" ".join(stage(name).sentences) for name in ("Waist", "Waist, other leg"))
    assert "pocket-bag (waist)" in left
    assert "pocket-bag (waist)" in right
    assert "fly-facing (waist)" in left
    assert "fly-facing" not in right
    assert "fly-shield (first end)" in right
    assert "fly-shield" not in left


def test_a_seam_of_a_band_is_pressed_into_it_and_hems_are_one_round():
    for name in ("Waist", "Waist, other leg"):
        told = " ".join(stage(name).sentences)
        assert "up into the band" in told
        assert "press the seam open" not in told
    hem = stage("Finish front-leg (hem) and back-leg (hem)")
    assert "all round, once a leg" in hem.sentences[0]
    assert len([line for line in hem.figure.lines if line.stroke == "cut"]) == 2
    assert "0.0 mm" not in " ".join(stage("Finish fly-facing (fly line)").sentences)


def test_the_sheet_tells_the_standing_of_what_it_says():
    assert any("common practice, no source" in told for told in stage("Words").sentences)
    assert any("A is where a seam is measured from" in told for told in SHEET.before)


def test_the_sheet_speaks_plainly():
    """No name that only the file knows: neither piece:edge nor panel.edge, nor an edge as kept."""
    kept = re.compile(r"[a-z]:[a-z]|\b(front|back)\.[a-z]|\bhalf-\d|\((one|two|start|end)\)")
    for one in SHEET.stages:
        assert [told for told in (one.title, *one.sentences) if kept.search(told)] == []
    wished = replace(PATTERN.design, sewing=("front-leg:front.hem, hem", "inseam"))
    before = " ".join(work_sheet_of(evaluate(wished)).before)
    assert "inseam comes before the hem of front-leg (hem, turned once)." in before


def test_a_cloth_noted_by_its_own_name_is_not_named_twice():
    cut = work_sheet_of(PATTERN).stages[0].sentences
    noted = {cloth.name: cloth.note for cloth in PATTERN.design.cloths}
    assert noted["pocketing"] == "pocketing"
    assert any(told.startswith("From pocketing: ") for told in cut)
    assert any(told.startswith(f"From main ({noted['main']}): ") for told in cut)


def sheet_with(*parts):
    return {one.title: one for one in work_sheet_of(evaluate(with_parts(PLAIN, *parts))).stages}


PLAIN = plain_design(ORCHARD_BODY)


def test_a_band_cut_off_the_top_has_figures_and_is_pressed_as_its_facing_asks():
    stages = sheet_with(Fly(), BeltLoops(), ShapedWaistband())
    for title in ("Button of band-front", "Upper ends of belt-loop", "Place belt-loop"):
        assert stages[title].figure is not None
    assert "its facing covers them" in " ".join(stages["Band seam"].sentences)
    assert "lies inside the band" in " ".join(stages["Band side"].sentences)
    assert "press the seam open" in " ".join(stages["Side seam"].sentences)
    # The band is 45 wide all along, a loop 50 long.
    (room,) = (s for s in stages["Upper ends of belt-loop"].sentences if "longer than" in s)
    assert room.startswith("Each is 5.0 mm longer than the band is wide")
    # A facing that is narrower for the turn of cloth is stretched, not eased in.
    assert "shorter: stretch it to fit" in " ".join(stages["Band top"].sentences)


def test_a_crotch_seam_sewn_before_the_legs_are_closed_is_not_told_of_tubes():
    tubes = " ".join(stage("Crotch seam").sentences)
    assert "slip it into the other" in tubes
    stages = sheet_with(Fly(), BeltLoops(), ShapedWaistband(overlap=0.0))
    flat = stages["Crotch seam"]
    assert "Lay left and right on each other" in " ".join(flat.sentences)
    # The facing is folded up at the end of the seam: the line runs on and never back.
    seam = [line.chain for line in flat.figure.lines if line.stroke == "cut"][:4]
    for one, two in itertools.pairwise(seam):
        assert one.end.distance_to(two.start) < 1e-6
        assert one.end_tangent.dot(two.start_tangent) > 0.8
    for name in ("back", "front"):
        caught = " ".join(stages[f"Band-{name} seam"].sentences)
        assert "the lower ends of belt-loop at their notches" in caught
    assert "fly-shield (first end), on its own leg only" in caught


def test_a_reason_is_told_once():
    for one in sheet_with(Fly(), BeltLoops(), ShapedWaistband(overlap=0.0)).values():
        whys = [told for told in one.sentences if told.startswith("Why now")]
        assert len(whys) == len(set(whys))


def test_a_short_seam_is_shown_near_and_a_patch_on_its_whole_piece():
    leg = PIECES["front-leg"].piece.outline.box
    for name in ("Fly edge", "Waist", "Pocket mouth"):
        view = stage(name).figure.view
        assert max(view.width, view.height) < 0.8 * leg.height
        for line in strokes(name, "cut"):
            assert view.left < line.box.left < line.box.right < view.right
            assert view.bottom < line.box.bottom < line.box.top < view.top
    assert stage("Knee panel").figure.view.height > leg.height
    assert stage("Side seam").figure.view.height > leg.height


@pytest.mark.parametrize(
    "lost",
    [
        Topstitch("back-pocket", "nothing", (5.0,)),
        Topstitch("knee-panel", "nothing", (5.0,), through=True),
        Topstitch("knee-panel", "knee-panel.top", (5.0,), start=900.0, through=True),
    ],
    ids=["no edge", "no edge through", "no length"],
)
def test_a_row_that_cannot_be_stitched_does_not_withhold_the_sheet(lost):
    rows = (*PATTERN.design.topstitching, lost)
    pattern = evaluate(replace(PATTERN.design, topstitching=rows))
    assert [f.where for f in pattern.findings if f.rule == "topstitch"] == [lost.piece]
    assert work_sheet_of(pattern).stages == SHEET.stages


def test_a_button_without_its_cross_is_told_in_a_whole_sentence():
    design = with_parts(plain_design(ORCHARD_BODY), ShapedWaistband(facing=""))
    left = tuple(one for one in design.pieces if one.name != "band-front-under")
    sheet = work_sheet_of(evaluate(replace(design, pieces=left)))
    (told,) = next(one for one in sheet.stages if one.title == "Button of band-front").sentences
    assert told.endswith("sew the button beneath it, where no cross is marked.")


def test_a_mouth_is_basted_when_its_bag_is_closed_not_when_a_facing_is_laid_on():
    pair = with_parts(plain_design(ORCHARD_BODY), HandPocket(facing=30.0))
    stages = {one.title: " ".join(one.sentences) for one in work_sheet_of(evaluate(pair)).stages}
    assert "lay the finished mouth" in stages["Hand-pocket bag"]
    assert "finished mouth" not in stages["Hand-pocket-facing on hand-pocket-bag"]


def test_how_a_seam_is_bound_is_told_without_a_length_of_another_unit():
    stages = {one.title: " ".join(one.sentences) for one in work_sheet_of(PATTERN, "inch").stages}
    assert "trim them until the binding covers them" in stages["Pocket bag"]


def test_rows_along_a_part_of_an_edge_are_told_from_where_to_where():
    """They were stitched along all of it by who had only the sheet."""
    plain = plain_design(ORCHARD_BODY)
    rows = (
        Topstitch("back", "back.side", (8.0,), start=20.0, end=300.0),
        Topstitch("back", "back.rise", (6.0,)),
    )
    stages = work_sheet_of(evaluate(replace(plain, topstitching=rows)), "mm").stages
    told = " ".join(next(one for one in stages if one.title == "Rows on back").sentences)
    way = "along it from 20.0 mm to 300.0 mm, measured from its end at the waist."
    assert f"topstitch at 8.0 mm from the side seam, {way}" in told
    assert "topstitch at 6.0 mm from the rise." in told
