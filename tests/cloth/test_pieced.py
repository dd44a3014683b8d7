"""A piece made of two scraps: nothing is lost, every seam still matches, on other bodies too."""

import pytest
from msgspec.structs import replace
from shapely import LineString, Polygon, box

from studio.cloth.pieced import Piecing, pieced
from studio.demo import ORCHARD_BODY, demo_design
from studio.design import EdgeRef, Finish
from studio.design.cloth import CuttingRule, Lay, Placement, Shortage
from studio.design.file import decoded, encoded
from studio.design.joins import Corner
from studio.design.plain import plain_design
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused
from studio.pattern import evaluate

DEMO = demo_design()
PLAIN = plain_design(ORCHARD_BODY)
OTHER = replace(ORCHARD_BODY, hip_girth=1060.0, waist_girth=840.0, inside_leg=760.0)

JOINS = [
    (PLAIN, "front", "across", 440.0),
    (PLAIN, "back", "along", 20.0),
    (PLAIN, "back", "across", 950.0),
    (DEMO, "front-leg", "across", 430.0),
    (DEMO, "front-leg", "along", 0.0),
    (DEMO, "back-leg", "across", 800.0),
    (DEMO, "back-leg", "along", 20.0),
    (DEMO, "yoke", "along", -60.0),
    (DEMO, "knee-panel", "across", 400.0),
    (DEMO, "bearer", "across", 900.0),
    (DEMO, "pocket-bag", "across", 860.0),
    (DEMO, "waistband", "across", 0.0),
    (DEMO, "waistband", "across", -200.0),
    (DEMO, "fly-shield", "across", 80.0),
    (DEMO, "twine-loop", "across", 60.0),
]


def made(design, *asked, **more):
    pattern = evaluate(design)
    pieces = [sewn.piece for sewn in pattern.pieces]
    return pieced(design, Piecing(*asked, **more), pattern.panels, pattern.lines, pieces)


def told(pattern):
    return {(finding.rule, finding.message) for finding in pattern.findings}


def areas(pattern):
    return sum(sewn.piece.outline.area_mm2 for sewn in pattern.pieces)


@pytest.mark.parametrize(
    ("design", "piece", "lies", "at"), JOINS, ids=[f"{j[1]} {j[2]} {j[3]:.0f}" for j in JOINS]
)
def test_a_joined_piece_brings_no_finding_and_every_seam_matches(design, piece, lies, at):
    joined = made(design, piece, lies, at)
    assert decoded(encoded(joined)) == joined
    for body in (ORCHARD_BODY, OTHER):
        before = evaluate(replace(design, body=body))
        after = evaluate(replace(joined, body=body))
        assert told(after) - told(before) == set()
        assert {row.verdict for row in after.ledger} == {"match"}
        assert len(after.pieces) == len(before.pieces) + 1
        assert after.pockets == before.pockets or [(p.name, p.depth) for p in after.pockets] == [
            (p.name, pytest.approx(p.depth, abs=1e-6)) for p in before.pockets
        ]
        if piece != "yoke":
            assert areas(after) == pytest.approx(areas(before), abs=1e-3)


def test_a_joined_yoke_is_as_large_as_the_whole_but_for_how_its_long_edges_are_faired():
    before, after = evaluate(DEMO), evaluate(made(DEMO, "yoke", "along", -60.0))
    assert areas(after) == pytest.approx(areas(before), rel=1e-3)
    outer = after.piece("yoke-outer").piece
    assert [edge.name for edge in outer.outline].count("yoke-outer") == 1


@pytest.mark.parametrize("body", [ORCHARD_BODY, OTHER], ids=["as drawn", "another body"])
@pytest.mark.parametrize("lies", ["across", "along"])
def test_the_join_stays_square_to_the_grain_or_along_it_whoever_wears_it(body, lies):
    at = 430.0 if lies == "across" else 0.0
    pattern = evaluate(replace(made(DEMO, "front-leg", lies, at), body=body))
    line = next(line for line in pattern.lines if line.name.startswith("front-leg-"))
    step = line.chain.end - line.chain.start
    assert (step.y if lies == "across" else step.x) == pytest.approx(0.0, abs=1e-3)
    assert abs(step.x if lies == "across" else step.y) > 100.0


@pytest.mark.parametrize(
    ("inside_leg", "where", "says"),
    [
        # The join is set from the rise, the panel from the hem: on a shorter leg it comes down to
        # the panel's lower corner, and then below it.
        (480.0, "knee panel", ("no edge knee-panel.inner: ", "knee-panel-upper", "bound it now")),
        (460.0, "knee-panel", ("knee-panel-upper runs beside the piece, not across it",)),
    ],
)
def test_on_a_much_shorter_leg_it_is_told_that_lines_have_come_apart(inside_leg, where, says):
    joined = replace(made(DEMO, "knee-panel", "across", 553.0), stash=())
    short = replace(ORCHARD_BODY, inside_leg=inside_leg, stature=None)
    grave = {
        finding.where: finding.message
        for finding in evaluate(replace(joined, body=short)).findings
        if finding.gravity == "grave"
    }
    # Nobody has moved a line.
    for words in (*says, "Lines keep the distances that they are set at", "another body"):
        assert words in grave[where]
    assert not [one for one in grave.values() if "was moved" in one]
    usual = evaluate(joined).findings
    assert not [one for one in usual if one.rule in ("join", "piece")]


def test_the_parts_are_what_shapely_cuts_the_whole_into():
    whole = Polygon(evaluate(DEMO).piece("front-leg").piece.outline.polyline(0.01))
    pattern = evaluate(made(DEMO, "front-leg", "across", 430.0))
    lower = Polygon(pattern.piece("front-leg-lower").piece.outline.polyline(0.01))
    assert lower.symmetric_difference(whole & box(-999, -999, 999, 430.0)).area < 10.0
    seam = next(row for row in pattern.ledger if row.name == "front-leg-lower seam")
    assert seam.length_a == pytest.approx(seam.length_b, abs=1e-9)
    across = whole.intersection(LineString([(-999, 430.0), (999, 430.0)]))
    assert seam.length_a == pytest.approx(across.length, abs=0.02)


def test_the_parts_are_cut_with_the_standard_allowance_or_felled():
    plain = evaluate(made(DEMO, "front-leg", "across", 430.0))
    felled = evaluate(made(DEMO, "front-leg", "across", 430.0, construction="felled"))

    def width(pattern, piece):
        sewn = pattern.piece(piece)
        names = [edge.name for edge in sewn.piece.outline]
        return sewn.allowances[names.index("front-leg-lower")]

    assert (width(plain, "front-leg"), width(plain, "front-leg-lower")) == (12.0, 12.0)
    assert {width(felled, "front-leg"), width(felled, "front-leg-lower")} == {12.0, 24.0}


def test_a_patch_over_the_join_lies_on_both_parts_and_waits_for_it():
    joined = made(DEMO, "front-leg", "across", 430.0)
    patch = next(join for join in joined.joins if join.name == "knee panel")
    assert [(ref.piece, ref.edge) for ref in patch.b.edges] == [
        ("front-leg", "knee-panel.top"),
        ("front-leg", "knee-panel.inner"),
        ("front-leg-lower", "knee-panel.inner"),
        ("front-leg-lower", "knee-panel.bottom"),
    ]
    pattern = evaluate(joined)
    steps = pattern.order.steps
    assert steps.index("front-leg-lower seam") < steps.index("knee panel")
    marks = [mark.name for mark in pattern.piece("front-leg-lower").piece.marks]
    assert marks == ["knee-panel.inner", "knee-panel.bottom"]


def test_a_piece_may_be_made_of_three():
    twice = made(made(DEMO, "front-leg", "across", 430.0), "front-leg", "across", 650.0)
    pattern = evaluate(twice)
    assert told(pattern) - told(evaluate(DEMO)) == set()
    assert {row.verdict for row in pattern.ledger} == {"match"}
    band = made(made(DEMO, "waistband", "across", 0.0), "waistband", "across", 200.0)
    pattern = evaluate(band)
    assert told(pattern) - told(evaluate(DEMO)) == set()
    assert {row.verdict for row in pattern.ledger} == {"match"}


def test_halves_of_a_band_are_half_the_waist_and_the_overlap_stays_at_its_end():
    before = evaluate(DEMO).piece("waistband").piece.outline
    pattern = evaluate(made(DEMO, "waistband", "across", 0.0))
    first, second = (pattern.piece(name).piece.outline for name in ("waistband-2", "waistband"))
    half = before.edge("waistband.half-1").length
    assert first.edge("waistband-2.top").length == pytest.approx(half, abs=1e-9)
    assert second.edge("waistband.top").length == pytest.approx(half + 45.0, abs=1e-9)
    assert second.has("waistband.overlap")


def test_rows_corners_rules_wishes_follow_and_a_lay_of_the_whole_is_forgotten():
    design = replace(
        DEMO,
        topstitching=(Topstitch("front-leg", "front.side", (6.0,), 300.0, 500.0),),
        corners=(Corner("front-leg", "front.hem", "front.side", "mitred"),),
        cutting=(CuttingRule("front-leg", tolerance=3.0), CuttingRule("yoke")),
        sewing=("front-leg:front.hem, hem",),
        lay=Lay((Placement("front-leg", 0, "s", (0.0, 0.0)), Placement("yoke", 0, "s", (1.0, 0)))),
        shortages=(Shortage("front-leg", 0, "front.rise", 0.0, 10.0, 2.0),),
    )
    joined = made(design, "front-leg", "across", 430.0)
    side = evaluate(joined).piece("front-leg-lower").piece.outline.edge("front.side")
    rows = {one.piece: one for one in joined.topstitching}
    assert rows["front-leg-lower"].start == 300.0
    assert rows["front-leg-lower"].end is None
    assert rows["front-leg"].start == 0.0
    assert rows["front-leg"].end == pytest.approx(500.0 - side.length, abs=1e-6)
    assert joined.corners == (Corner("front-leg-lower", "front.hem", "front.side", "mitred"),)
    assert [rule.piece for rule in joined.cutting] == ["front-leg", "front-leg-lower", "yoke"]
    assert joined.sewing == ("front-leg-lower:front.hem, hem",)
    assert [one.piece for one in joined.lay.placements] == ["yoke"]
    assert joined.shortages == ()
    assert len(evaluate(joined).piece("front-leg").rows) > len(evaluate(DEMO).piece("yoke").rows)


@pytest.mark.parametrize(
    ("piece", "lies", "at", "reason"),
    [
        ("gusset", "across", 0.0, "no piece"),
        ("front-leg", "across", 2000.0, "misses"),
        ("front-leg", "across", 575.0, "corner"),
        ("front-leg", "across", 378.0, "knee-low"),
        ("back-leg", "across", 880.0, "hip"),
        ("yoke", "across", 1030.0, "dart"),
        ("front-leg", "across", 807.0, "corner"),
        ("back-pocket", "across", 900.0, "shape of its own"),
        ("waistband", "along", 20.0, "across its length"),
        ("waistband", "across", 430.0, "button"),
        ("waistband", "across", -425.0, "less than"),
        ("twine-loop", "across", 155.0, "less than"),
    ],
)
def test_a_join_that_cannot_be_is_refused_with_its_reason(piece, lies, at, reason):
    with pytest.raises(GeometryRefused, match=reason):
        made(DEMO, piece, lies, at)


def test_a_join_along_the_edge_of_a_patch_is_refused():
    mark = next(m for m in evaluate(DEMO).piece("back-leg").piece.marks if m.name.endswith("outer"))
    with pytest.raises(GeometryRefused, match="runs along"):
        made(DEMO, "back-leg", "along", mark.chain.at(mark.chain.length / 2.0).x)


def test_a_name_that_is_taken_is_refused_and_a_free_one_is_used():
    with pytest.raises(GeometryRefused, match="already"):
        made(DEMO, "front-leg", "across", 430.0, name="yoke")
    assert "shin" in {
        one.name for one in made(DEMO, "front-leg", "across", 430.0, name="shin").pieces
    }


def test_what_is_caught_at_a_place_of_a_parted_edge_is_refused():
    finish = Finish(EdgeRef("front-leg", "front.side"), "caught", into="waist", at=30.0)
    with pytest.raises(GeometryRefused, match="caught at a place"):
        made(replace(DEMO, finishes=(*DEMO.finishes, finish)), "front-leg", "across", 430.0)
