"""A yoke in one action, on a plain pair of trousers, and other divisions."""

import msgspec
import pytest
from msgspec.structs import replace
from shapely import LineString, Point, Polygon
from shapely.affinity import scale
from shapely.ops import split, unary_union

from studio.block.panel import Panel
from studio.curves import Edge, Outline
from studio.cut.divide import divided, pieces_along
from studio.cut.yoke_cut import Yoke, with_yoke
from studio.demo import ORCHARD_BODY, demo_design
from studio.design import AnchoredPath, OnEdge, StyleLine
from studio.design.cloth import CuttingRule
from studio.design.joins import Corner, EdgeRef
from studio.design.plain import plain_design
from studio.design.topstitch import Topstitch
from studio.errors import GeometryRefused
from studio.pattern import evaluate

PLAIN = plain_design(ORCHARD_BODY)
DEMO = demo_design()


def panel(name):
    return next(panel for panel in evaluate(PLAIN).panels if panel.name == name)


def grave(pattern):
    return [f.message for f in pattern.findings if f.gravity == "grave" and f.rule != "girth-small"]


@pytest.mark.parametrize("rest_at", ["side", "rise"])
def test_a_yoke_is_one_action_and_every_seam_still_matches(rest_at):
    # 80 at the rise and 30 at the side: common practice, no source.
    made = with_yoke(PLAIN, panel("back"), Yoke(rest_at=rest_at))
    pattern = evaluate(made)
    assert [row.name for row in pattern.ledger if row.verdict != "match"] == []
    assert grave(pattern) == []
    yoke = pattern.piece("yoke").piece
    assert yoke.darts == ()
    assert yoke.outline.edge("back.rise").length == pytest.approx(80.0, abs=1e-6)
    assert yoke.outline.edge("back.side").length == pytest.approx(30.0, abs=1e-6)
    assert len(yoke.outline.edge("back.waist").chain.cubics) == 1
    seam = next(join for join in made.joins if join.name == "yoke seam")
    assert seam.construction == "felled"


def test_a_front_yoke_is_cut_the_same_way():
    made = with_yoke(PLAIN, panel("front"), Yoke("front-yoke", "front", 70.0, 40.0))
    pattern = evaluate(made)
    assert grave(pattern) == []
    assert [row.name for row in pattern.ledger if row.verdict != "match"] == []


def test_a_leg_is_divided_at_the_knee_and_both_seams_run_on_over_both_parts():
    line = StyleLine(
        "knee-seam",
        "front",
        "seam",
        AnchoredPath(
            OnEdge("front.side", "front.hem", mm=440.0),
            OnEdge("front.inseam", "front.hem", mm=440.0),
        ),
    )
    design = msgspec.structs.replace(PLAIN, lines=(*PLAIN.lines, line))
    piece = next(p.name for p in design.pieces if getattr(p, "panel", "") == "front")
    made = divided(design, panel("front"), piece, line, "upper-front")
    pattern = evaluate(made)
    assert grave(pattern) == []
    assert [row.name for row in pattern.ledger if row.verdict != "match"] == []
    assert len(pattern.pieces) == len(evaluate(PLAIN).pieces) + 1


def shin(panel_name, mm):
    path = AnchoredPath(
        OnEdge(f"{panel_name}.side", f"{panel_name}.hem", mm=mm),
        OnEdge(f"{panel_name}.inseam", f"{panel_name}.hem", mm=0.95 * mm),
    )
    return StyleLine("shin", panel_name, "seam", path)


@pytest.mark.parametrize(("panel_name", "mm"), [("back", 440.0), ("front", 700.0), ("back", 760.0)])
def test_a_leg_that_lines_bound_already_is_cut_again_and_all_that_lay_on_it_still_does(
    panel_name, mm
):
    """The demonstration's legs: a yoke with its darts' rest taken out, a pocket mouth, patches."""
    line = shin(panel_name, mm)
    design = msgspec.structs.replace(DEMO, lines=(*DEMO.lines, line))
    before = evaluate(design)
    drawn = next(one for one in before.lines if one.name == "shin")
    (piece,) = pieces_along(design, [sewn.piece for sewn in before.pieces], drawn)
    assert piece.name == f"{panel_name}-leg"
    on = next(one for one in before.panels if one.name == panel_name)
    made = divided(design, on, piece.name, line, "part", piece.outline)
    pattern = evaluate(made)
    assert pattern.findings == ()
    assert {row.verdict for row in pattern.ledger} == {"match"}
    # By shapely: the two parts are what its own cut along the line leaves of the leg.
    whole = Polygon(piece.outline.polyline(0.001))
    # A straight line, lengthened a little: its ends lie on the outline.
    parts = split(whole, scale(LineString(drawn.chain.polyline(0.001)), 1.01, 1.01))
    areas = sorted(part.area for part in parts.geoms)
    cut = [pattern.piece(name).piece.outline for name in (piece.name, "part")]
    assert sorted(one.area_mm2 for one in cut) == pytest.approx(areas, rel=2e-5)
    bound = "yoke" if panel_name == "back" else "hand-pocket"
    assert [one.has(bound) for one in cut].count(True) == 1


def knee_cut(design):
    """A leg cut in two at 440 above the hem; both parts and the pattern of it."""
    line = replace(shin("front", 440.0), name="knee-seam")
    made = replace(design, lines=(*design.lines, line))
    before = evaluate(made)
    drawn = next(one for one in before.lines if one.name == "knee-seam")
    (piece,) = pieces_along(made, [sewn.piece for sewn in before.pieces], drawn)
    on = next(one for one in before.panels if one.name == "front")
    cut = divided(made, on, piece.name, line, "lower", piece.outline)
    return before, piece.name, cut, evaluate(cut)


def asked_for(pattern, *pieces):
    """How long the rows are that the maker asked for on pieces, beside those of their seams, mm."""
    bare = evaluate(replace(pattern.design, topstitching=()))
    return sum(
        sum(row.length for row in pattern.piece(one).rows)
        - sum(row.length for row in bare.piece(one).rows)
        for one in pieces
    )


def stitched(*rows):
    return replace(PLAIN, topstitching=tuple(Topstitch("front", *row) for row in rows))


def test_rows_of_a_piece_that_is_divided_run_on_both_parts():
    """All of the side is stitched as before: the two parts together are as long."""
    before, name, cut, after = knee_cut(stitched(("front.side", (6.0,)), ("front.waist", (8.0,))))
    assert after.findings == before.findings
    on = {one.piece: one for one in cut.topstitching if one.along == "front.side"}
    assert set(on) == {name, "lower"}
    own, now = asked_for(before, "front"), asked_for(after, name, "lower")
    assert own > 1000.0
    # Where the side bends over the cut, the rows of the parts run out to it each in its way.
    assert now == pytest.approx(own, abs=0.1)
    # The waist lies on one part alone.
    assert [one.piece for one in cut.topstitching if one.along == "front.waist"] == ["lower"]
    assert after.piece("lower").piece.outline.has("front.waist")


@pytest.mark.parametrize(("start", "end"), [(0.0, 100.0), (300.0, 600.0), (900.0, None)])
def test_rows_over_a_stretch_run_where_they_ran(start, end):
    """By shapely: every row of the parts lies on that of the whole, and all of that is covered."""
    before, name, cut, after = knee_cut(stitched(("front.side", (5.0,), start, end)))
    (old,) = [row for row in before.piece("front").rows if _beside(before, "front", row)]
    new = [
        row
        for piece in (name, "lower")
        for row in after.piece(piece).rows
        if _beside(after, piece, row)
    ]
    together = unary_union([LineString(row.polyline(0.001)) for row in new])
    assert together.hausdorff_distance(LineString(old.polyline(0.001))) < 0.05
    spans = 2 if start < 440.0 < (end or 2000.0) else 1
    assert len(cut.topstitching) == spans


def _beside(pattern, piece, row):
    """Whether all of a row lies 5 inside the side."""
    side = LineString(pattern.piece(piece).piece.outline.edge("front.side").chain.polyline(0.001))
    places = [row.at(row.length * share) for share in (0.2, 0.5, 0.8)]
    return all(abs(side.distance(Point(at.x, at.y)) - 5.0) < 0.02 for at in places)


@pytest.mark.parametrize(
    ("low", "high", "on"),
    [(300.0, 300.0, {"front"}), (700.0, 700.0, {"lower"}), (300.0, 600.0, {"front", "lower"})],
)
def test_rows_along_a_line_drawn_on_the_piece_follow_it(low, high, on):
    """Below the cut, above it, and across it: there its rows lie on either part, none is lost."""
    ends = (
        OnEdge("front.side", "front.hem", mm=low),
        OnEdge("front.inseam", "front.hem", mm=high),
    )
    mark = StyleLine("band", "front", "mark", AnchoredPath(*ends))
    pieces = tuple(
        replace(one, marks=("band",)) if one.name == "front" else one for one in PLAIN.pieces
    )
    design = replace(
        PLAIN,
        lines=(*PLAIN.lines, mark),
        pieces=pieces,
        topstitching=(Topstitch("front", "band", (0.0, 7.0)),),
    )
    before, _, cut, after = knee_cut(design)
    assert {one.piece for one in cut.topstitching} == on
    assert [one for one in after.findings if one.rule == "topstitch"] == []
    assert grave(after) == []
    whole, added = asked_for(before, "front"), asked_for(after, "front", "lower")
    # Beside the cut a row 7 off the line runs out into it elsewhere than the line itself.
    assert added == pytest.approx(whole, abs=8.0 if len(on) == 2 else 1e-6)


def test_rows_along_a_line_that_a_yoke_loses_stay_with_the_leg():
    back = next(one for one in PLAIN.pieces if one.name == "back")
    ends = (OnEdge("back.side", "back.waist", mm=200.0), OnEdge("back.rise", "back.waist", mm=40.0))
    mark = StyleLine("band", "back", "mark", AnchoredPath(*ends))
    rows = (Topstitch("back", "band", (0.0,)), Topstitch("back", "back.side", (4.0,)))
    design = replace(
        PLAIN,
        lines=(*PLAIN.lines, mark),
        pieces=tuple(replace(one, marks=("band",)) if one is back else one for one in PLAIN.pieces),
        topstitching=rows,
    )
    made = with_yoke(design, panel("back"), Yoke())
    told = [(one.piece, one.along) for one in made.topstitching]
    assert sorted(told) == [("back", "back.side"), ("back", "band"), ("yoke", "back.side")]
    assert [one for one in evaluate(made).findings if one.rule == "topstitch"] == []


def test_corners_wishes_and_how_it_may_lie_follow_a_divided_piece():
    hem = next(one for one in PLAIN.finishes if one.edge == EdgeRef("front", "front.hem"))
    waist = next(one for one in PLAIN.finishes if one.edge == EdgeRef("front", "front.waist"))
    design = replace(
        PLAIN,
        corners=(
            Corner("front", "front.side", "front.waist", "mitred"),
            Corner("front", "front.hem", "front.side", "squared-to-after"),
            Corner("back", "back.hem", "back.inseam", "mitred"),
        ),
        sewing=(hem.step, waist.step),
        cutting=(CuttingRule("front", lies="free"),),
    )
    _, _, cut, after = knee_cut(design)
    assert [one.piece for one in cut.corners] == ["lower", "front", "back"]
    for corner in cut.corners:
        names = [edge.name for edge in after.piece(corner.piece).piece.outline]
        pairs = list(zip(names, (*names[1:], names[0]), strict=True))
        assert (corner.before, corner.after) in pairs
    assert cut.sewing == (hem.step, waist.step.replace("front:", "lower:"))
    assert {one.step for one in cut.finishes} >= set(cut.sewing)
    assert [(one.piece, one.lies) for one in cut.cutting] == [("front", "free"), ("lower", "free")]


def test_a_line_through_two_pieces_cuts_none_and_one_where_a_dart_tapers_is_refused():
    inseam = OnEdge("back.inseam", "back.hem", mm=700.0)
    across = AnchoredPath(OnEdge("back.side", "back.waist", mm=5.0), inseam)
    high = AnchoredPath(OnEdge("back.side", "back.waist", mm=60.0), inseam)
    for path in (across, high):
        line = StyleLine("slant", "back", "seam", path)
        design = msgspec.structs.replace(DEMO, lines=(*DEMO.lines, line))
        pattern = evaluate(design)
        drawn = next(one for one in pattern.lines if one.name == line.name)
        along = pieces_along(design, [sewn.piece for sewn in pattern.pieces], drawn)
        if path is across:
            assert along == []
            continue
        on = next(one for one in pattern.panels if one.name == "back")
        leg = pattern.piece("back-leg").piece
        with pytest.raises(GeometryRefused, match=r"rest of the darts of back-leg .* hip"):
            divided(design, on, "back-leg", line, "part", leg.outline)


@pytest.mark.parametrize(
    ("asked", "reason"),
    [
        (Yoke(at_rise=2000.0), "past the end"),
        (Yoke(name="back"), "already"),
    ],
)
def test_a_yoke_that_cannot_be_is_refused_by_name(asked, reason):
    with pytest.raises(GeometryRefused, match=reason):
        with_yoke(PLAIN, panel("back"), asked)


def test_a_second_yoke_is_refused():
    made = with_yoke(PLAIN, panel("back"), Yoke())
    with pytest.raises(GeometryRefused, match="already"):
        with_yoke(made, panel("back"), Yoke())
    with pytest.raises(GeometryRefused, match="No one piece"):
        with_yoke(made, panel("back"), Yoke(name="other"))


def test_the_lower_edge_of_a_yoke_is_its_line_less_what_the_darts_hold_there():
    """By hand: a straight line from 80 to 30 cuts each dart between its legs; closing the dart
    takes out that stretch. The legs are cut by the line with shapely.
    """
    back = panel("back")
    made = evaluate(with_yoke(PLAIN, back, Yoke(bow=0.0)))
    line = next(line for line in made.lines if line.name == "yoke")
    ruled = LineString([(p.x, p.y) for p in (line.chain.start, line.chain.end)])
    held = 0.0
    for dart in back.darts:
        hits = [
            ruled.intersection(LineString([(end.x, end.y), (dart.point.x, dart.point.y)]))
            for end in (dart.first, dart.last)
        ]
        if not any(hit.is_empty for hit in hits):
            held += hits[0].distance(hits[1])
    assert held > 10.0
    assert made.piece("yoke").piece.outline.edge("yoke").length == pytest.approx(
        ruled.length - held, abs=1.0
    )


def test_a_yoke_on_a_drawn_panel_without_names_is_refused_in_words():
    plain = panel("back")
    edges = tuple(
        Edge.whole(f"back.edge-{number}", edge.chain)
        for number, edge in enumerate(plain.outline, start=1)
    )
    with pytest.raises(GeometryRefused, match=r"no edge back\.waist"):
        with_yoke(PLAIN, Panel("back", Outline(edges), (), {}), Yoke())
