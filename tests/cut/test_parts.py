"""The small parts: each added in one action, every seam matching, following another body."""

import math
import re

import pytest
from msgspec.structs import replace

from studio.curves import level_meetings
from studio.cut.parts import (
    PARTS,
    BeltLoops,
    Fly,
    HandPocket,
    KneePanel,
    PatchPocket,
    ShapedWaistband,
    ToolLoop,
    Waistband,
)
from studio.cut.parts.part import body_of
from studio.demo import ORCHARD_BODY
from studio.design import Body, TakeIn
from studio.design.file import decoded, encoded
from studio.design.fitted import with_fit
from studio.design.plain import plain_design
from studio.errors import BadInput, GeometryRefused
from studio.pattern import evaluate, with_parts
from tests.cut.pairs import OTHER, PLAIN


def with_part(part, design=PLAIN):
    return with_parts(design, part)


def told(pattern):
    """Findings but those of fit, and notes."""
    fit = ("waist-large", "girth-small")
    return [f.message for f in pattern.findings if f.rule not in fit and f.gravity != "note"]


def verdicts(pattern):
    return {row.verdict for row in pattern.ledger}


@pytest.mark.parametrize("kind", PARTS, ids=[kind.title for kind in PARTS])
def test_each_part_is_added_clean_saved_and_follows_another_body(kind):
    design = with_part(kind())
    assert decoded(encoded(design)) == design
    for body in (ORCHARD_BODY, OTHER):
        pattern = evaluate(replace(design, body=body))
        assert told(pattern) == []
        assert verdicts(pattern) == {"match"}
        assert len(pattern.pieces) == len(design.pieces) > len(PLAIN.pieces)


def test_what_begins_at_the_waist_is_refused_on_the_panel_that_has_a_band_cut_off_and_on_no_other():
    cut_off = tuple(
        replace(one, below="band") if getattr(one, "panel", "") == "back" else one
        for one in PLAIN.pieces
    )
    design = replace(PLAIN, pieces=cut_off)
    pieces = {one.piece.name: one.piece for one in evaluate(PLAIN).pieces}
    assert body_of(design, pieces, "front", "front.waist", "front.side").panel == "front"
    assert body_of(design, pieces, "back", "back.side").panel == "back"
    with pytest.raises(GeometryRefused, match="A band is cut off the back along band"):
        body_of(design, pieces, "back", "back.waist")


@pytest.mark.parametrize("kind", PARTS, ids=[kind.title for kind in PARTS])
def test_a_name_that_is_taken_and_no_name_are_refused(kind):
    design = with_part(kind())
    with pytest.raises(GeometryRefused):
        with_part(kind(), design)
    with pytest.raises(GeometryRefused, match="needs a name"):
        with_part(kind(name=""))


def test_all_parts_go_on_one_pair():
    design = PLAIN
    for kind in PARTS:
        if kind is not ShapedWaistband:
            design = with_part(kind(), design)
    rule = PatchPocket(
        name="rule", width=60.0, height=200.0, point=0.0, down=350.0, inward=40.0,
        from_side=True, lean=0.0, pair=1,
    )  # fmt: skip
    pattern = evaluate(with_part(rule, design))
    assert told(pattern) == []
    assert verdicts(pattern) == {"match"}


@pytest.mark.parametrize("panel", ["front", "back"])
def test_a_hand_pocket_measures_what_was_asked_for_on_either_panel(panel):
    design = with_part(HandPocket(panel=panel, at_waist=60.0, at_side=170.0, depth=150.0))
    pattern = evaluate(design)
    assert told(pattern) == []
    assert verdicts(pattern) == {"match"}
    leg = pattern.piece(panel).piece
    bearer = pattern.piece("hand-pocket-bearer").piece
    whole = next(p for p in pattern.panels if p.name == panel)
    waist, side = f"{panel}.waist", f"{panel}.side"
    assert leg.outline.edge(side).length == pytest.approx(
        whole.outline.edge(side).length - 170.0, abs=1e-6
    )
    assert bearer.outline.edge(side).length == pytest.approx(320.0, abs=1e-6)
    assert bearer.outline.has(waist)
    mouth = leg.outline.edge("hand-pocket")
    assert mouth.length >= mouth.chain.start.distance_to(mouth.chain.end)
    rows = {row.name: row for row in pattern.ledger}
    assert "hand-pocket-bearer" in " ".join(
        (*rows["side seam"].edges_a, *rows["side seam"].edges_b)
    )


@pytest.mark.parametrize("panel", ["front", "back"])
@pytest.mark.parametrize("from_side", [True, False])
def test_a_patch_pocket_has_its_size_wherever_it_lies(panel, from_side):
    asked = PatchPocket(
        panel=panel, from_side=from_side, width=130.0, height=120.0, point=0.0, inward=35.0,
        down=200.0, lean=0.0,
    )  # fmt: skip
    pattern = evaluate(with_part(asked))
    assert told(pattern) == []
    pocket = pattern.piece("patch-pocket").piece
    assert pocket.quantity == 2
    assert pocket.outline.edge("patch-pocket.top").length == pytest.approx(130.0, abs=1e-6)
    assert pocket.outline.area_mm2 == pytest.approx(130.0 * 120.0, abs=1e-3)
    widths = dict(
        zip(
            [edge.name for edge in pocket.outline],
            pattern.piece("patch-pocket").allowances,
            strict=True,
        )
    )
    assert widths["patch-pocket.top"] == 25.0


@pytest.mark.parametrize("from_side", [True, False])
def test_a_pocket_with_its_corners_cut_off_and_one_laid_on_another(from_side):
    large = PatchPocket(
        name="large", width=180.0, height=220.0, point=0.0, corner=25.0, lean=0.0, pair=1,
        down=200.0, inward=30.0, from_side=from_side,
    )  # fmt: skip
    design = with_part(large)
    small = PatchPocket(
        name="small", on="large", width=70.0, height=150.0, point=0.0, lean=0.0, pair=1,
        down=230.0, inward=50.0, from_side=from_side,
    )  # fmt: skip
    pattern = evaluate(with_part(small, design))
    assert told(pattern) == []
    assert verdicts(pattern) == {"match"}
    piece = pattern.piece("large").piece
    assert piece.outline.area_mm2 == pytest.approx(180.0 * 220.0 - 25.0**2, abs=1e-3)
    assert {mark.name for mark in piece.marks} >= {"small.outer", "small.foot", "small.inner"}
    order = pattern.order.steps
    assert order.index("small on large") < order.index("side seam")
    with pytest.raises(GeometryRefused, match="no piece gone"):
        with_part(PatchPocket(on="gone"))


@pytest.mark.parametrize("panel", ["front", "back"])
def test_a_facing_lies_on_the_bag_along_the_mouth(panel):
    pattern = evaluate(with_part(HandPocket(panel=panel, facing=40.0)))
    assert told(pattern) == []
    assert verdicts(pattern) == {"match"}
    facing = pattern.piece("hand-pocket-facing").piece
    assert facing.outline.edge(f"{panel}.waist").length == pytest.approx(40.0, abs=1e-6)
    assert facing.outline.has("hand-pocket")
    caught = {f.edge.edge: f.into for f in pattern.design.finishes if f.edge.piece == facing.name}
    assert caught["hand-pocket"] == "hand-pocket mouth"


def test_a_knee_panel_keeps_clear_of_the_inseam():
    pattern = evaluate(with_part(KneePanel()))
    panel = pattern.piece("knee-panel").piece
    assert not panel.outline.has("front.inseam")
    assert panel.outline.edge("front.side").length == pytest.approx(340.0, abs=1e-6)
    with pytest.raises(GeometryRefused, match="height"):
        with_part(KneePanel(top=240.0, bottom=235.0))


def test_a_fly_follows_the_front_and_the_crotch_seam_begins_below_it():
    before = {row.name: row for row in evaluate(PLAIN).ledger}
    pattern = evaluate(with_part(Fly(zip_length=150.0, wide=45.0)))
    rows = {row.name: row for row in pattern.ledger}
    assert rows["crotch seam"].length_a == pytest.approx(
        before["crotch seam"].length_a - 170.0, abs=1e-6
    )
    assert rows["fly edge"].length_a == pytest.approx(170.0, abs=1e-6)
    facing = pattern.piece("fly-facing").piece
    assert facing.quantity == 1
    assert facing.outline.edge("front.waist").length == pytest.approx(45.0, abs=1e-6)
    # Its row is stitched beside the fly only, not down the whole rise.
    (row,) = [r for r in pattern.piece("front").rows if r.start.y > 850.0]
    assert row.length < 180.0


def test_a_fly_is_as_long_as_its_facing_on_a_rise_that_a_step_has_bent():
    let_out = tuple(
        TakeIn(panel, f"{panel}.inseam", -8.0, "crotch", upper="hip", lower="knee")
        for panel in ("front", "back")
    )
    pattern = evaluate(replace(with_part(Fly()), alterations=let_out))
    rows = {row.name: row for row in pattern.ledger}
    # The end of its line is so many mm down the rise as it is now, not as it was.
    assert rows["fly edge"].length_a == pytest.approx(rows["fly edge"].length_b, abs=1e-6)
    assert rows["fly edge"].length_a == pytest.approx(Fly().zip_length + 20.0, abs=1e-6)


def test_the_shield_of_a_fly_is_sewn_to_the_front_of_the_other_leg():
    design = with_part(Fly(zip_length=150.0, wide=45.0))
    pattern = evaluate(design)
    rows = {row.name: row for row in pattern.ledger}
    assert rows["fly shield"].verdict == "match"
    assert rows["fly shield"].length_b == pytest.approx(170.0, abs=1e-6)
    joins = {join.name: join for join in design.joins}
    assert joins["fly shield"].a.edges == joins["fly edge"].a.edges
    assert joins["fly shield"].a.mirrored
    assert not joins["fly edge"].a.mirrored
    # Only its second long edge, folded on the first, is caught; nothing is in the edge of the fly.
    caught = {one.edge.edge: one.into for one in design.finishes if one.how == "caught"}
    assert caught["fly-shield.two"] == "fly shield"
    assert "fly edge" not in caught.values()


@pytest.mark.parametrize("order", [(Waistband(), Fly()), (Fly(), Waistband())])
def test_the_upper_end_of_a_shield_is_caught_in_the_waist_of_its_own_leg(order):
    design = with_parts(PLAIN, *order)
    caught = {one.edge.text: one.into for one in design.finishes if one.how == "caught"}
    assert caught["fly-shield:fly-shield.start"] == "waist, other leg"
    assert caught["fly-facing:front.waist"] == "waist"


def test_loops_are_strips_of_the_right_size_and_number():
    pattern = evaluate(with_part(ToolLoop(strap=32.0, drop=95.0)))
    loop = pattern.piece("tool-loop").piece
    assert (loop.outline.box.width, loop.outline.box.height) == (190.0, 64.0)
    assert loop.warp == 0.0
    pattern = evaluate(with_part(BeltLoops(wide=14.0, long=55.0, count=7)))
    belt = pattern.piece("belt-loop").piece
    assert (belt.outline.box.width, belt.outline.box.height, belt.quantity) == (55.0, 42.0, 7)
    with pytest.raises(GeometryRefused):
        with_part(ToolLoop(strap=0.0))
    with pytest.raises(BadInput):
        with_part(BeltLoops(count=0))


@pytest.mark.parametrize(
    "order",
    [
        (Waistband(), HandPocket(), Fly(), BeltLoops()),
        (HandPocket(), Fly(), BeltLoops(), Waistband()),
        (HandPocket(panel="back"), Waistband()),
    ],
    ids=["first", "last", "back pocket"],
)
def test_a_waistband_is_as_long_as_the_whole_top_edge_whenever_it_is_added(order):
    design = PLAIN
    for part in order:
        design = with_part(part, design)
    pattern = evaluate(design)
    assert told(pattern) == []
    assert verdicts(pattern) == {"match"}
    # All round, darts closed, once per leg; and the overlap.
    panels = {panel.name: panel for panel in pattern.panels}
    half = sum(panels[name].sewn_length(f"{name}.waist") for name in ("front", "back"))
    band = pattern.piece("waistband").piece
    assert band.outline.box.width == pytest.approx(2.0 * half + 45.0, abs=1e-6)
    assert band.outline.box.height == pytest.approx(80.0, abs=1e-9)
    # What waited for the seam is caught in it; nothing of the waist is left with its old finish.
    told_of = [one for one in design.finishes if one.edge.edge.endswith(".waist")]
    assert all((one.how, one.into) == ("caught", "waist") for one in told_of)


def test_button_and_buttonhole_lie_on_each_other_when_the_band_is_closed():
    band = evaluate(with_part(Waistband(width=44.0, overlap=50.0, button=20.0))).piece("waistband")
    hole, *cross = [mark.chain for mark in band.piece.marks if "button" in mark.name]
    long = band.piece.outline.box.width
    middle = cross[0].start.toward(cross[0].end, 0.5)
    assert hole.length == pytest.approx(23.0)  # the button and 3: common practice, no source
    # Closed, the end with the hole lies over the overlap, whose end is the band's far end.
    assert hole.start.x == pytest.approx(long - middle.x)
    assert hole.start.y == middle.y == pytest.approx(22.0)
    assert {round(one.length, 9) for one in cross} == {20.0}
    without = evaluate(with_part(Waistband(overlap=20.0))).piece("waistband")
    assert [mark.name for mark in without.piece.marks] == ["waistband.fold"]


def test_a_waistband_needs_a_waist_that_is_free():
    with pytest.raises(GeometryRefused, match="join waist already"):
        with_part(Waistband(name="other"), with_part(Waistband()))
    bare = replace(PLAIN, finishes=())
    with pytest.raises(GeometryRefused, match="No waist of the back is free"):
        with_part(Waistband(), bare)


def test_a_shaped_waistband_is_as_wide_as_asked_and_has_no_darts():
    pattern = evaluate(with_part(ShapedWaistband(width=50.0)))
    for panel in ("front", "back"):
        band = pattern.piece(f"band-{panel}").piece
        assert band.darts == ()
        # Told square to its edges: side and rise bend a little.
        for edge in ("side", "rise"):
            assert band.outline.edge(f"{panel}.{edge}").length == pytest.approx(50.0, abs=0.01)
    plain = {join.name for join in pattern.design.joins if join.construction == "plain"}
    assert {join.name for join in pattern.design.joins} - plain == {"band top", "band facing edge"}


def test_a_part_on_a_panel_that_is_not_there_is_refused():
    with pytest.raises(GeometryRefused, match="no panel sleeve"):
        with_part(HandPocket(panel="sleeve"))


@pytest.mark.parametrize(
    ("part", "words"),
    [
        (BeltLoops(name="loops", count=0), "It is 0, and has to lie between 1 and 20."),
        (
            BeltLoops(name="loops", wide=-3.0),
            "It is \u22123 mm, and has to lie between 0 mm",
        ),
        (BeltLoops(name="loops", wide=math.nan), "It is not a number."),
        (BeltLoops(name="loops", count=5.5), "It is 5.5, and has to be a whole number."),
        (
            PatchPocket(name="p", panel="back", lean=120.0),
            "It is 120°, and has to lie",
        ),
    ],
)
def test_a_number_that_makes_no_sense_is_refused_with_its_part_and_name(part, words):
    with pytest.raises(BadInput, match=re.escape(words)) as refused:
        with_parts(PLAIN, part)
    assert refused.value.where.startswith(f"{part.name}: ")


@pytest.mark.parametrize(
    "body",
    [
        Body(name="slim", waist_girth=745.0, hip_girth=940.0, inside_leg=830.0, body_rise=265.0),
        Body(name="stout", waist_girth=1130.0, hip_girth=1207.0, inside_leg=737.0, body_rise=305.0),
        Body(name="short", waist_girth=600.0, hip_girth=720.0, inside_leg=480.0, body_rise=215.0),
    ],
    ids=lambda body: body.name,
)
def test_the_knee_panel_that_is_offered_has_room_on_any_leg(body):
    slim = replace(plain_design(body).block.fit, hem_girth=370.0)
    plain = with_fit(plain_design(body), slim)
    panels = {panel.name: panel for panel in evaluate(plain).panels}
    offered = KneePanel().fitting(panels)
    pattern = evaluate(with_parts(plain, offered))
    assert told(pattern) == []
    # It lies over the knee line.
    seam = panels["front"].outline.edge("front.side").chain
    up = seam.length - level_meetings(seam, panels["front"].levels["knee"])[0].first
    up = up if seam.start.y > seam.end.y else seam.length - up
    assert offered.bottom < up < offered.top


def test_on_a_usual_leg_the_usual_knee_panel_is_offered():
    panels = {panel.name: panel for panel in evaluate(PLAIN).panels}
    assert KneePanel().fitting(panels) == KneePanel()
    assert KneePanel(panel="sleeve").fitting(panels) == KneePanel(panel="sleeve")
