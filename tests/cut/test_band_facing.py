"""The facing of a shaped waistband: the band once more, mirrored, sewn on, following it."""

import json

import pytest
import shapely
from msgspec.structs import replace
from shapely.affinity import scale, translate

from studio.cloth.pieced import Piecing, pieced
from studio.curves import Vector
from studio.cut import draw_line
from studio.cut.divide import divided
from studio.cut.edit import Grip, moved, with_node
from studio.cut.offers import _are_sewn
from studio.cut.parts import BeltLoops, Fly, HandPocket, ShapedWaistband
from studio.demo import ORCHARD_BODY
from studio.design import EdgeRef
from studio.design.file import decoded, encoded
from studio.design.lines import AnchoredPath, OnEdge, StyleLine
from studio.design.pieces import FacingPiece, ShapePiece
from studio.errors import GeometryRefused
from studio.exchange.along import sheet_of
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from tests.cut.pairs import OTHER, PLAIN

OPEN = ("band-back", "band-front", "band-back-under", "band-front-under")
CLOSED = OPEN[:2]


BANDS = {
    "open": lambda **asked: with_parts(PLAIN, ShapedWaistband(**asked)),
    "open, over pocket and fly": lambda **asked: with_parts(
        PLAIN, HandPocket(), Fly(), BeltLoops(), ShapedWaistband(**asked)
    ),
    "closed": lambda **asked: with_parts(PLAIN, ShapedWaistband(overlap=0.0, **asked)),
    "closed, over a fly": lambda **asked: with_parts(
        PLAIN, Fly(), ShapedWaistband(overlap=0.0, **asked)
    ),
}


def bands_of(name):
    return OPEN if name.startswith("open") else CLOSED


def polygon(piece):
    return shapely.Polygon(piece.outline.polyline(0.01))


def at_corner(shape):
    return translate(shape, -shape.bounds[0], -shape.bounds[1])


def apart(one, two):
    """What two shapes do not share when their boxes lie on each other, mm2, by shapely."""
    return at_corner(one).symmetric_difference(at_corner(two)).area


def dragged(pattern, line, mm):
    """The design with a node added to a line in its middle and moved off its chord."""
    (drawn,) = (one for one in pattern.lines if one.name == line)
    (panel,) = (one for one in pattern.panels if one.name == drawn.panel)
    at = drawn.chain.at(drawn.chain.length / 2.0)
    design = with_node(pattern.design, drawn, at)
    drawn = draw_line(design.line(line), panel)
    return moved(design, drawn, panel, Grip(line, "node", 1), at + Vector(0.0, -mm))


@pytest.mark.parametrize("name", BANDS)
@pytest.mark.parametrize("body", [ORCHARD_BODY, OTHER], ids=["one body", "another"])
def test_every_piece_of_the_band_has_a_facing_of_its_outline_mirrored(name, body):
    pattern = evaluate(replace(BANDS[name](turn=0.0), body=body))
    for band in bands_of(name):
        outer, facing = (pattern.piece(n).piece for n in (band, f"{band}-facing"))
        assert {edge.name for edge in facing.outline} == {edge.name for edge in outer.outline}
        for edge in outer.outline:
            assert facing.outline.edge(edge.name).length == pytest.approx(edge.length, abs=1e-6)
        # Turned over it lies on the band: shapely is asked, which knows nothing of edges.
        assert apart(polygon(outer), scale(polygon(facing), -1.0, 1.0)) < 0.1
        # As it is it does not: bands slope.
        assert apart(polygon(outer), polygon(facing)) > 100.0
        assert polygon(facing).area == pytest.approx(outer.outline.area_mm2, rel=1e-4)
        assert (facing.cut, facing.count, facing.warp) == (outer.cut, outer.count, 90.0)
        assert facing.marks == () == facing.darts


def test_left_lies_on_left_the_overlap_under_the_overlap():
    pattern = evaluate(BANDS["open"](overlap=50.0, turn=0.0))
    pieces = {n: pattern.piece(n).piece for n in (*OPEN, *(f"{band}-facing" for band in OPEN))}
    # Laid wrong side to wrong side, what covers the left back has the shape of the right back.
    for one, two in (("band-back", "band-back-under"), ("band-back-under", "band-back")):
        assert apart(polygon(pieces[f"{one}-facing"]), polygon(pieces[two])) < 0.1
    # Only the end under is longer, in both layers.
    long, short = pieces["band-front-under-facing"], pieces["band-front-facing"]
    assert long.outline.edge("band-front-under.top").length == pytest.approx(50.0, abs=1e-6)
    assert [edge.name for edge in short.outline if "under" in edge.name] == []
    # It lies to that side of the centre front on which the leg's own end lies, seen from inside:
    # mirrored, as everything inside is.
    outer = pieces["band-front-under"].outline
    middle = outer.edge("front.waist").chain.box.centre.x
    turned = long.outline.edge("front.waist").chain.box.centre.x
    out = outer.edge("band-front-under.end").chain.start.x - middle
    assert (long.outline.edge("band-front-under.end").chain.start.x - turned) * out < 0.0


@pytest.mark.parametrize("name", BANDS)
@pytest.mark.parametrize("facing", ["main", "pocketing", ""])
def test_no_edge_is_left_nothing_is_found_all_seams_match(name, facing):
    bare = BANDS[name](facing="")
    known = {(one.rule, one.where) for one in evaluate(bare).findings}
    design = BANDS[name](facing=facing)
    assert decoded(encoded(design)) == design
    for body in (ORCHARD_BODY, OTHER):
        pattern = evaluate(replace(design, body=body))
        if body is ORCHARD_BODY:
            assert {(one.rule, one.where) for one in pattern.findings} <= known
        assert all(one.rule in ("waist-large", "girth-small") for one in pattern.findings)
        assert {row.verdict for row in pattern.ledger} == {"match"}
        said = {(ref.piece, ref.edge) for join in design.joins for ref in join.refs}
        for piece in design.pieces:
            if isinstance(piece, FacingPiece):
                outline = pattern.piece(piece.name).piece.outline
                assert {(piece.name, edge.name) for edge in outline} <= said


@pytest.mark.parametrize("name", BANDS)
def test_the_seams_of_facing_and_band_are_as_long_as_their_edges(name):
    design = BANDS[name](turn=0.0)
    pattern = evaluate(design)
    rows = {row.name: row for row in pattern.ledger}
    top, low = 0.0, 0.0
    for band in bands_of(name):
        outline = pattern.piece(band).piece.outline
        # Free of the trousers, but for the lower edge and what is sewn to the band beside it.
        low += outline.edge("-".join(band.split("-")[:2])).length
        free = ["waist", "rise"] if band == "band-front" and name != "closed" else ["waist"]
        top += sum(outline.edge(f"{band.split('-')[1]}.{edge}").length for edge in free)
        top += sum(e.length for e in outline if e.name.startswith("band-front-under."))
    for end, wanted in (("top", top), ("facing edge", low)):
        found = [row for join, row in rows.items() if join.endswith(end)]
        assert sum(row.length_a for row in found) == pytest.approx(wanted, abs=1e-6)
        assert sum(row.length_b for row in found) == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize("name", ["open", "closed, over a fly"])
def test_a_dragged_lower_edge_takes_the_facing_along(name):
    design = BANDS[name](turn=0.0)
    before = evaluate(design)
    for line, shown in (("band-front", before), ("band-back", None)):
        after = evaluate(dragged(before, line, 8.0), since=shown)
        for band in bands_of(name):
            outer, facing = (after.piece(n).piece for n in (band, f"{band}-facing"))
            was = before.piece(f"{band}-facing").piece
            if line in band:
                assert abs(facing.outline.area_mm2 - was.outline.area_mm2) > 50.0
            else:
                assert facing is was
            assert apart(polygon(outer), scale(polygon(facing), -1.0, 1.0)) < 0.1
        # The band itself may no longer fit the leg where darts were; the facing always fits it.
        faced = [row for row in after.ledger if row.name.endswith(("top", "facing edge"))]
        assert [row.difference for row in faced] == pytest.approx([0.0] * len(faced), abs=1e-6)


def test_the_end_of_the_band_made_longer_is_longer_inside():
    design = BANDS["open"]()
    pieces = tuple(
        replace(one, ends=replace(one.ends, overlap=60.0)) if getattr(one, "ends", None) else one
        for one in design.pieces
    )
    pattern = evaluate(replace(design, pieces=pieces))
    facing = pattern.piece("band-front-under-facing").piece
    assert facing.outline.edge("band-front-under.top").length == pytest.approx(60.0, abs=1e-6)
    assert {row.verdict for row in pattern.ledger} == {"match"}


def test_the_cutting_list_counts_it_in_its_cloth():
    cut = work_sheet_of(evaluate(BANDS["closed"](facing="pocketing"))).stages[0].sentences
    (main,) = (said for said in cut if said.startswith("From main"))
    (lining,) = (said for said in cut if said.startswith("From pocketing"))
    assert "band-front, cut 2 mirrored" in main
    assert "facing" not in main
    assert "band-back-facing, cut 2 mirrored; band-front-facing, cut 2 mirrored" in lining
    both = work_sheet_of(evaluate(BANDS["open"]())).stages[0].sentences[0]
    assert "band-front-under, cut 1; band-front-under-facing, cut 1" in both


def test_the_work_sheet_says_how_it_is_sewn():
    stages = {stage.title: stage for stage in work_sheet_of(evaluate(BANDS["open"]())).stages}
    top, seam, edge = (
        " ".join(stages[title].sentences) for title in ("Band top", "Band seam", "Band facing edge")
    )
    assert "band-back (waist) and band-front (waist, rise), each to its facing" in top
    assert "Sew it to the outer layer only and keep the facing clear." in seam
    assert "keep the facing clear" not in top + edge
    assert "Sew the facings of band-front-under (band-front line)" in edge
    assert "Allowance 12.0 mm." in edge
    assert "Band facing edge covers band seam, which must be sewn by then" in edge
    # The figure shows one layer: the other lies under it edge on edge.
    pieces = {sewn.piece.name: sewn.piece for sewn in evaluate(BANDS["open"]()).pieces}
    drawing = stages["Band top"].figure
    outlines = [one for one in drawing.lines if one.stroke == "before"]
    assert len(outlines) == sum(len(pieces[name].outline.edges) for name in OPEN)


@pytest.mark.parametrize("name", BANDS)
def test_it_is_sewn_on_before_the_band_and_closed_last(name):
    """Common practice, no source."""
    order = evaluate(BANDS[name]()).order
    place = {step: k for k, step in enumerate(order.steps)}
    assert all(place[one.first] < place[one.then] for one in order.reasons)
    if name.startswith("open"):
        first = ["band side", "band centre back", "band facing side", "band facing centre back"]
        assert all(place[step] < place["band top"] for step in first)
        assert place["band top"] < place["band seam"] < place["band facing edge"]
        assert place["band seam, other leg"] < place["band facing edge"]
        return
    for band in CLOSED:
        # Side and crotch seam run on through the facing, which is folded up for them.
        assert place[f"{band} top"] < place["side seam"] < place[f"{band} facing edge"]
        assert place[f"{band} seam"] < place[f"{band} facing edge"]
    assert place["crotch seam"] < place["band-back facing edge"]


def test_a_closed_band_has_side_and_crotch_seam_run_through_its_facing():
    joins = {join.name: join for join in BANDS["closed"]().joins}
    side = joins["side seam"]
    assert [ref.text for ref in side.a.edges][-2:] == [
        "band-front:front.side",
        "band-front-facing:front.side",
    ]
    assert [ref.piece for ref in joins["crotch seam"].a.edges] == [
        "band-front-facing",
        "band-front",
        "front",
        "back",
        "band-back",
        "band-back-facing",
    ]
    bare = {row.name: row.length_a for row in evaluate(BANDS["closed"](facing="")).ledger}
    rows = {row.name: row.length_a for row in evaluate(BANDS["closed"](turn=0.0)).ledger}
    assert rows["side seam"] == pytest.approx(bare["side seam"] + 45.0, abs=0.01)
    assert rows["crotch seam"] == pytest.approx(bare["crotch seam"] + 90.0, abs=0.01)


def test_its_edge_is_turned_under_or_bound_over_the_seam_of_the_band():
    design = BANDS["open"]()
    widths = {}
    for how in ("laid-over", "bound-over"):
        joins = tuple(
            replace(join, construction=how) if join.name == "band facing edge" else join
            for join in design.joins
        )
        pattern = evaluate(replace(design, joins=joins))
        assert pattern.findings == ()
        for band in OPEN:
            facing = pattern.piece(f"{band}-facing")
            edges = [edge.name for edge in facing.piece.outline]
            widths[how] = facing.allowances[edges.index("-".join(band.split("-")[:2]))]
        outer = pattern.piece("band-back")
        assert outer.allowances == (12.0,) * 4
        # Caught by one row on the band: beside the seam, or in it.
        (row,) = outer.rows
        _, off = outer.piece.outline.edge("band-back").chain.nearest(row.at(row.length / 2.0))
        assert off == pytest.approx({"laid-over": 2.0, "bound-over": 0.0}[how], abs=0.01)
        words = " ".join(
            sentence
            for stage in work_sheet_of(pattern).stages
            if stage.title == "Band facing edge"
            for sentence in stage.sentences
        )
        assert "Allowance 1" in words
        assert ("in the ditch" in words) == (how == "bound-over")
    # Common practice, no source: a single allowance, or 10 that hang below the seam.
    assert widths == {"laid-over": 12.0, "bound-over": 10.0}


def test_a_felled_seam_of_the_band_keeps_its_double_allowance_under_the_facing():
    design = BANDS["open"]()
    joins = tuple(
        replace(join, construction="felled", wraps="b")
        if join.name.startswith("band seam")
        else join
        for join in design.joins
    )
    pattern = evaluate(replace(design, joins=joins))
    assert [one for one in pattern.findings if one.rule == "allowance"] == []
    band = pattern.piece("band-back")
    edges = [edge.name for edge in band.piece.outline]
    assert band.allowances[edges.index("band-back")] == 24.0


def test_a_facing_that_is_declined_leaves_the_band_as_it_was():
    for name in BANDS:
        design = BANDS[name](facing="")
        assert all(not isinstance(piece, FacingPiece) for piece in design.pieces)
        assert all("facing" not in join.name and "top" not in join.name for join in design.joins)
        free = {one.edge.text: one.how for one in design.finishes}
        for band in bands_of(name):
            assert free[f"{band}:{band.split('-')[1]}.waist"] == "faced"


def test_a_file_with_a_band_from_before_opens_as_it_was():
    design = BANDS["open"](facing="")
    tree = json.loads(encoded(design))
    assert "facing" not in json.dumps(tree["design"]["pieces"])
    again = decoded(json.dumps(tree).encode())
    assert again == design
    assert [sewn.piece.name for sewn in evaluate(again).pieces] == [
        sewn.piece.name for sewn in evaluate(design).pieces
    ]


def test_what_a_facing_cannot_face_is_told():
    design = BANDS["open"]()
    lost = FacingPiece("lost", "gone")
    inner = FacingPiece("inner", "band-front-facing")
    pattern = evaluate(replace(design, pieces=(*design.pieces, lost, inner)))
    told = {one.where: one.message for one in pattern.findings if one.rule == "piece"}
    assert told == {
        "lost": "There is no piece gone for it to face.",
        "inner": "There is no piece band-front-facing for it to face.",
    }
    # Where the band itself cannot be cut, that is told once.
    broken = evaluate(BANDS["open"](overlap=400.0))
    assert [one.where for one in broken.findings if one.rule == "piece"] == [
        "band-front",
        "band-front-under",
    ]


def test_a_band_that_is_faced_is_not_divided_nor_is_its_facing():
    design = BANDS["closed"]()
    pattern = evaluate(design)
    pieces = [sewn.piece for sewn in pattern.pieces]
    for piece, said in (
        ("band-front", "is faced with band-front-facing"),
        ("band-front-facing", "has the shape of band-front"),
    ):
        asked = Piecing(piece, "along", 0.0)
        with pytest.raises(GeometryRefused, match=said):
            pieced(design, asked, pattern.panels, pattern.lines, pieces)
    ends = ("front.waist", "front.hem")
    path = AnchoredPath(*(OnEdge(edge, "front.side", mm=80.0) for edge in ends))
    front = next(panel for panel in pattern.panels if panel.name == "front")
    with pytest.raises(GeometryRefused, match="cannot be divided"):
        divided(design, front, "band-front", StyleLine("split", "front", "seam", path), "part")


def test_the_name_of_a_facing_may_be_taken():
    taken = replace(PLAIN, pieces=(*PLAIN.pieces, ShapePiece("band-back-facing", "none")))
    pattern = evaluate(PLAIN)
    panels = {panel.name: panel for panel in pattern.panels}
    pieces = {sewn.piece.name: sewn.piece for sewn in pattern.pieces}
    with pytest.raises(GeometryRefused, match="called band-back-facing already"):
        ShapedWaistband().added(taken, panels, pieces)


@pytest.mark.parametrize("facing", ["main", ""])
def test_what_begins_at_the_waist_comes_before_a_band_and_loops_whenever_you_like(facing):
    design = BANDS["open"](facing=facing)
    for part in (Fly(), HandPocket()):
        with pytest.raises(GeometryRefused, match="added before it"):
            with_parts(design, part)
    looped = with_parts(design, BeltLoops())
    assert {one.into for one in looped.finishes if one.how == "caught"} == {"band seam"}
    assert {row.verdict for row in evaluate(looped).ledger} == {"match"}


def test_edges_of_one_name_on_band_and_facing_do_not_make_others_sewn():
    design = BANDS["open"]()
    assert EdgeRef("band-front", "front.rise") in design.joins[-4].a.edges
    assert not _are_sewn(design, "front.rise", "back.waist")
    assert _are_sewn(design, "front.side", "back.side")


def test_the_sheet_to_draft_along_traces_the_band_and_turns_the_paper_over():
    stages = {stage.title: stage for stage in sheet_of(evaluate(BANDS["open"]())).stages}
    words = stages["Take off the piece band-back-facing"].sentences[0]
    assert words.startswith("Trace the outline of band-back,")
    assert "turn the paper over" in words
