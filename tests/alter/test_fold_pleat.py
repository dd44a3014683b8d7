"""A dart folded as a pleat: what it takes in, how it is pressed, drawn, marked and told."""

from __future__ import annotations

import pytest
import shapely
from msgspec.structs import replace
from shapely import affinity

from studio.alter import altered
from studio.block.panel import Pleat
from studio.cut.parts import ShapedWaistband
from studio.cut.yoke_cut import Yoke, with_yoke
from studio.design import (
    Body,
    FoldPleat,
    LowerWaist,
    MirrorEdge,
    MoveDart,
    OnEdge,
    SplitDart,
)
from studio.design.plain import plain_design
from studio.errors import GeometryRefused
from studio.exchange.along import sheet_of
from studio.exchange.marks import dart_lines
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from studio.sew.cut_line import cut_outline_points
from studio.sew.pressing import pressed_toward
from studio.sew.thread import thread_rows
from tests.shapes import back_panel, deep_dart, front_panel

# Invented measures of a tall and slim body.
BODY = Body(name="Tall", waist_girth=740.0, hip_girth=920.0, inside_leg=940.0, body_rise=270.0)
DEEP = deep_dart(70.0, 400.0)


def pleated(*steps):
    return replace(plain_design(BODY), alterations=steps)


def fold(towards="rise", down=0.0, dart="front-dart"):
    return FoldPleat("front", dart, towards, down)


def test_a_pleat_takes_in_at_the_waist_what_the_dart_took_and_leaves_every_seam_alone():
    plain, folded = evaluate(pleated()), evaluate(pleated(fold()))
    assert folded.ledger == plain.ledger
    assert folded.girths == plain.girths
    wide = evaluate(pleated(DEEP, FoldPleat("front", "deep")))
    rows = {row.name: row for row in wide.girths}
    # A wedge of 40 at each front's waist, to nothing at the hem, 1210 below: taken in again at the
    # waist; at the hip line, 180 below it, 40 x 1030 / 1210 wider on either side.
    assert rows["top edge"].finished == pytest.approx(750.0, abs=0.01)
    assert rows["hip"].finished == pytest.approx(960.0 + 2.0 * 40.0 * 1030.0 / 1210.0, abs=1.5)


def test_what_is_inside_goes_where_its_maker_presses_it():
    for panel, towards in ((front_panel(), "rise"), (front_panel(), "side")):
        (dart,) = altered(panel, (fold(towards),)).darts
        end = dart.first if pressed_toward(dart, panel.outline) == "first" else dart.last
        other = dart.last if end is dart.first else dart.first
        aim = panel.outline.edge(f"front.{towards}").chain
        assert aim.nearest(end)[1] < aim.nearest(other)[1]


@pytest.mark.parametrize("towards", ["rise", "side"])
def test_folded_its_edge_lies_on_the_cut_line_on_either_side(towards):
    # shapely folds the paper: what lies beyond the leg it is pressed to, mirrored in that leg,
    # covers the cloth there as far as its cut edge, and no further.
    sewn = evaluate(pleated(fold(towards))).piece("front")
    (dart,) = sewn.piece.darts
    toward = pressed_toward(dart, sewn.piece.outline)
    near, far = (dart.first, dart.last) if toward == "first" else (dart.last, dart.first)
    shape = shapely.Polygon(cut_outline_points(sewn.cut_line, 0.01))
    up = 30.0
    tips = [end.toward(dart.point, -up / end.distance_to(dart.point)) for end in (near, far)]
    middle = tips[0].toward(tips[1], 0.5)
    half = shapely.Polygon([(p.x, p.y) for p in (dart.point, tips[0], middle)])
    folded = _mirrored(shape.intersection(half), (dart.point, tips[0]))
    beneath = _mirrored(half, (dart.point, tips[0])).intersection(shape)
    assert folded.symmetric_difference(beneath).area < 0.5


def _mirrored(shape, line):
    import math

    one, two = line
    turn = math.degrees(math.atan2(two.y - one.y, two.x - one.x))
    flat = affinity.rotate(shape, -turn, origin=(one.x, one.y))
    return affinity.rotate(
        affinity.scale(flat, 1.0, -1.0, origin=(one.x, one.y)), turn, origin=(one.x, one.y)
    )


def test_its_point_is_not_drilled_but_where_its_stitching_ends_is():
    steps = fold(), fold(down=25.0)
    drills = [len(evaluate(pleated(step)).piece("front").drills) for step in steps]
    assert drills == [0, 2]
    piece = evaluate(pleated(fold(down=25.0))).piece("front")
    (dart,) = piece.piece.darts
    for drill, end in zip(piece.drills, (dart.first, dart.last), strict=True):
        assert drill.distance_to(end) == pytest.approx(25.0, abs=1e-9)
    assert len(evaluate(pleated()).piece("front").drills) == 1
    assert len([n for n in piece.notches if n.join == "front-dart"]) == 2


def test_it_is_drawn_as_two_lines_as_far_down_as_it_is_sewn_or_a_short_way():
    for down, long in ((0.0, 60.0), (25.0, 25.0)):
        darts = altered(front_panel(), (fold(down=down),)).darts
        lines = dart_lines(darts)
        assert [line.length for line in lines] == pytest.approx([long, long])
    assert len(dart_lines(front_panel().darts)) == 1


def test_it_takes_thread_only_as_far_as_it_is_sewn():
    def plain_rows(design):
        pattern = evaluate(design)
        pieces = {one.piece.name: one for one in pattern.pieces}
        return thread_rows(pattern.measured, pieces)[0].seam

    leg = evaluate(pleated()).piece("front").piece.darts[0]
    whole = plain_rows(pleated())
    assert whole - plain_rows(pleated(fold())) == pytest.approx(
        2.0 * leg.first.distance_to(leg.point), abs=1e-6
    )
    assert plain_rows(pleated(fold(down=25.0))) - plain_rows(pleated(fold())) == pytest.approx(50.0)


def test_sheets_tell_how_it_is_folded():
    pattern = evaluate(pleated(fold("side", 25.0)))
    stage = next(s for s in work_sheet_of(pattern).stages if s.title == "Pleats of front")
    words = " ".join(stage.sentences)
    assert "Fold front-dart, 20.0 mm wide at the waist, as a pleat" in words
    assert "Sew it 25.0 mm down from the edge" in words
    assert "inside towards the side, so that outside its edge lies towards the rise" in words
    assert "drilled point, running out" not in words
    both = evaluate(pleated(DEEP, FoldPleat("front", "deep")))
    titles = [s.title for s in work_sheet_of(both).stages]
    assert "Darts and pleats of front" in titles
    along = " ".join(words for s in sheet_of(pattern).stages for words in s.sentences)
    assert "which becomes a pleat" in along


def test_a_pleat_stays_one_through_later_steps():
    steps = (
        fold("side", 10.0),
        LowerWaist("front", 20.0, 20.0),
        SplitDart("front", "front-dart", 30.0),
        MirrorEdge("front", "front.side", "front.inseam"),
    )
    darts = altered(front_panel(), steps).darts
    assert [dart.pleat for dart in darts] == [Pleat("side", 10.0)] * 2
    moved = altered(
        back_panel(),
        (
            FoldPleat("back", "back-dart-1", "side"),
            MoveDart("back", "back-dart-1", OnEdge("back.side", "back.waist", mm=120.0)),
        ),
    )
    assert {d.name: d.pleat for d in moved.darts}["back-dart-1"] == Pleat("side")


def test_sewn_to_its_point_it_would_be_a_dart_and_without_darts_there_is_none_to_fold():
    with pytest.raises(GeometryRefused, match="sewn down so far it is a dart"):
        altered(front_panel(), (fold(down=500.0),))
    with pytest.raises(GeometryRefused):
        altered(front_panel(), (fold(dart="nothing"),))


def test_below_a_shaped_waistband_it_is_folded_again_and_all_seams_match():
    design = with_parts(
        pleated(DEEP, FoldPleat("front", "deep", "rise", 100.0), fold("side")),
        ShapedWaistband(width=40.0),
    )
    pattern = evaluate(design)
    assert {row.verdict for row in pattern.ledger} == {"match"}
    darts = {dart.name: dart for dart in pattern.piece("front").piece.darts}
    assert set(darts) == {"deep", "front-dart"}
    # Of a wedge of 40, 400 long, so much is left below the band; and the rest of 100 to be sewn.
    panel = next(one for one in pattern.panels if one.name == "front")
    whole = next(dart for dart in panel.darts if dart.name == "deep")
    gone = whole.first.distance_to(darts["deep"].first)
    assert gone == pytest.approx(40.0, abs=6.0)
    assert darts["deep"].intake == pytest.approx(40.0 * (1.0 - gone / 400.0), abs=0.1)
    assert darts["deep"].pleat.down == pytest.approx(100.0 - gone, abs=1e-6)
    assert not [one for one in pattern.findings if one.gravity == "grave"]
    # Sewn darts leave nothing to be folded.
    plain = evaluate(with_parts(pleated(), ShapedWaistband(width=40.0)))
    assert plain.piece("front").piece.darts == ()


def test_a_yoke_closes_it_and_below_it_goes_on():
    design = pleated(FoldPleat("back", "back-dart-1", "side"))
    panel = next(one for one in evaluate(design).panels if one.name == "back")
    pattern = evaluate(with_yoke(design, panel, Yoke(at_rise=40.0, at_side=30.0)))
    names = [dart.name for dart in pattern.piece("back").piece.darts]
    assert names == ["back-dart-1"]
    row = next(row for row in pattern.ledger if row.name == "yoke seam")
    assert row.verdict == "match"
