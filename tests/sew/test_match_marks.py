"""Stitching that ends at a patch, marked on the patch's edge and on the piece beneath it.

The shapes are rectangles, so that every place follows from the numbers they are drawn with. That a
patch is notched in what it turns in, and the leg drilled under it, is common practice, no source.
"""

import math

import ezdxf
import pytest
import shapely
from msgspec.structs import replace

from studio.curves import Chain, Edge, Outline, Point
from studio.cut.piece import Mark, Piece
from studio.demo import demo_design
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.topstitch import Topstitch
from studio.exchange.dxf_out import NOTCHES, write_dxf
from studio.pattern import evaluate
from studio.sew import (
    Lined,
    allowance_rules,
    asked_rows,
    cut_line,
    grainline,
    measured,
    notch_places,
    seam_of,
    sew_piece,
)
from studio.sew.match_marks import ends_at_patch
from studio.sew.walk import Walk

SIDES = ("bottom", "right", "top", "left")
ALLOWANCE = 12.0


def rectangle(name, left, low, right, high, marks=()):
    corners = [Point(left, low), Point(right, low), Point(right, high), Point(left, high)]
    edges = [
        Edge.whole(f"{name}.{side}", Chain.straight(one, two))
        for side, one, two in zip(SIDES, corners, (*corners[1:], corners[0]), strict=True)
    ]
    return Piece(name, Outline.of(edges), tuple(marks))


PATCH = rectangle("patch", 100.0, 100.0, 300.0, 200.0)
LEG = rectangle(
    "leg", 0.0, 0.0, 400.0, 300.0, [Mark(edge.name, edge.chain) for edge in PATCH.outline]
)


def side(piece, names=SIDES, of="patch", mirrored=False):
    return JoinSide(tuple(EdgeRef(piece, f"{of}.{name}") for name in names), mirrored)


def laid(a=None, b=None, **how):
    asked = Join("laid", a or side("patch"), b or side("leg"), construction="lapped", **how)
    return measured(asked, {"patch": PATCH, "leg": LEG})


def down(row, start=0.0, end=None):
    """A row parallel to the leg's left edge, which runs from its upper corner down."""
    return Topstitch("leg", "leg.left", (row,), start, end)


def places(*asked, seam=None, pieces=None):
    return ends_at_patch(seam or laid(), pieces or {"patch": PATCH, "leg": LEG}, asked)


def ready(asked=(), piece=PATCH, allowance=ALLOWANCE, **how):
    """The patch or the leg with what the join brings to it."""
    pieces = {"patch": PATCH, "leg": LEG}
    seam = laid(**how)
    seam = seam_of(seam, pieces, allowance_rules((seam.join,), (), ALLOWANCE), tuple(asked))
    brought = seam.brought[piece.name]
    widths = (allowance,) * 4
    lined = Lined(widths, *cut_line(piece.outline, widths), grainline(piece.outline, 90.0))
    return sew_piece(piece, lined, brought.places, drills=brought.drills)


def test_a_row_that_ends_at_a_patch_is_met_by_a_notch_in_its_allowance():
    """100 down from the leg's top the patch begins; 150 in, 200 + 100 + 150 along its edge."""
    asked = down(150.0, end=100.0)
    assert places(asked) == pytest.approx([450.0], abs=1e-9)
    (notch,) = ready([asked]).notches
    assert (notch.at, notch.mouth) == (Point(150.0, 200.0), Point(150.0, 212.0))
    # Cut in from the cut line, and never past the sewing line.
    assert (notch.tip, notch.join) == (Point(150.0, 207.0), "laid")


@pytest.mark.parametrize(
    ("start", "end", "at"),
    [(0.0, 99.2, 450.0), (0.0, 100.8, 450.0), (200.0, None, 50.0)],
    ids=["just short of it", "just under it", "from below"],
)
def test_a_row_ends_at_a_patch_within_a_millimetre_of_it(start, end, at):
    assert places(down(150.0, start, end)) == pytest.approx([at], abs=1e-9)


@pytest.mark.parametrize(
    "asked",
    [
        down(150.0),
        down(150.0, end=105.0),
        down(150.0, end=98.0),
        down(150.0, start=100.0, end=150.0),
        down(104.0, end=100.0),
        down(50.0, end=100.0),
        Topstitch("leg", "leg.top", (99.5,), 150.0, 250.0),
        Topstitch("leg", "patch.top", (0.0, -6.0, 6.0)),
        Topstitch("patch", "patch.left", (50.0,)),
    ],
    ids=[
        "passes under the patch",
        "ends under it",
        "ends before it",
        "comes out from under it",
        "ends near its corner",
        "passes beside it",
        "runs beside its edge",
        "along its own line",
        "on the patch itself",
    ],
)
def test_a_row_that_does_not_run_up_to_a_patch_marks_nothing_on_it(asked):
    assert places(asked) == ()
    assert ready([asked]).notches == ()


def test_twin_rows_share_a_notch_and_rows_further_apart_have_one_each():
    apart = ready([down(150.0, end=100.0), down(170.0, end=100.0)]).notches
    assert [notch.at.x for notch in apart] == pytest.approx([170.0, 150.0])
    twin = ready([down(150.0, end=100.0), down(154.0, end=100.0)]).notches
    assert len(twin) == 1


@pytest.mark.parametrize(
    "seam",
    [
        laid(side("patch", SIDES[::-1], mirrored=True), side("leg", SIDES[::-1], mirrored=True)),
        laid(side("patch"), side("leg", mirrored=True)),
    ],
    ids=["both of the other leg", "one of the other leg"],
)
def test_the_other_leg_is_marked_at_the_same_place(seam):
    asked = down(150.0, end=100.0)
    (place,) = notch_places(seam, places(asked, seam=seam))
    assert place.edge.chain.at(place.along) == Point(150.0, 200.0)
    under = down(150.0, start=100.0, end=150.0)
    assert places(under, seam=seam) == ()


def test_a_patch_whose_edge_turns_nothing_in_is_not_marked():
    """Neither a notch nor a hole would be hidden there."""
    asked = [down(150.0, end=100.0)]
    bare = ready(asked, allowance=0.0)
    assert (bare.notches, bare.drills) == ((), ())
    # A patch named on the second side of a lapped join turns nothing in.
    swapped = laid(side("leg"), side("patch"))
    (place,) = notch_places(swapped, places(*asked, seam=swapped))
    assert (place.piece, place.edge.chain.at(place.along)) == ("patch", Point(150.0, 200.0))
    rules = allowance_rules((swapped.join,), (), ALLOWANCE)
    assert rules.widths["patch", "patch.top"] == 0.0


def test_a_line_of_another_name_is_met_at_the_same_length():
    """200 and 100 and half of the top, whatever the lines are called."""
    lines = [replace(mark, name=f"drawn-{mark.name}") for mark in LEG.marks]
    pieces = {"patch": PATCH, "leg": replace(LEG, marks=tuple(lines))}
    join = Join("laid", side("patch"), side("leg", of="drawn-patch"), construction="lapped")
    seam = measured(join, pieces)
    assert places(down(150.0, end=100.0), seam=seam, pieces=pieces) == pytest.approx([450.0])


def test_a_line_cut_off_by_a_bound_keeps_its_place():
    """Leg and patch end level at y = 150, half way down the patch's left edge, which the row meets
    30 lower.
    """
    long = Edge.whole("patch.left", Chain.straight(Point(100.0, 200.0), Point(100.0, 100.0)))
    patch = Piece(
        "patch",
        Outline.of(
            [
                long.between(50.0, 100.0),
                PATCH.outline.edge("patch.bottom"),
                PATCH.outline.edge("patch.right").between(0.0, 50.0),
                Edge.whole("cut", Chain.straight(Point(300.0, 150.0), Point(100.0, 150.0))),
            ]
        ),
    )
    # A row down from the leg's left edge, level at 120.
    leg = rectangle(
        "leg", 0.0, 0.0, 400.0, 150.0, [Mark("patch.left", long.chain.between(50.0, 100.0), 50.0)]
    )
    join = Join("laid", side("patch", ["left"]), side("leg", ["left"]), construction="lapped")
    pieces = {"patch": patch, "leg": leg}
    seam = measured(join, pieces)
    asked = Topstitch("leg", "leg.top", (30.0,), 300.0, 400.0)
    assert places(asked, seam=seam, pieces=pieces) == pytest.approx([30.0], abs=1e-9)


def test_rows_beside_a_line_that_ends_at_a_patch_run_out_into_its_edge():
    """The line falls from (100, 300) to (150, 200), 1 across to 2 down: square to it, rows 20
    to either side of it meet the level edge of the patch 20 * sqrt(5) / 2 from its end.
    """
    slanted = Mark("slanted", Chain.straight(Point(100.0, 300.0), Point(150.0, 200.0)))
    leg = replace(LEG, marks=(*LEG.marks, slanted))
    pieces = {"patch": PATCH, "leg": leg}
    asked = Topstitch("leg", "slanted", (20.0, 0.0, -20.0))
    ends = sorted((row.end.x, row.end.y) for row in asked_rows(leg, (asked,)))
    off = 20.0 * math.sqrt(5.0) / 2.0
    assert [x for x, _ in ends] == pytest.approx([150.0 - off, 150.0, 150.0 + off], abs=1e-6)
    assert [y for _, y in ends] == pytest.approx([200.0] * 3, abs=1e-6)
    # Along the top from its right end, 300 mm of the patch's edge before it.
    wanted = [450.0 - off, 450.0, 450.0 + off]
    assert sorted(places(asked, pieces=pieces)) == pytest.approx(wanted, abs=1e-6)


def test_notches_asked_for_on_a_patch_are_cut_in_it_and_drilled_under_it():
    """350 along is 50 from the right end of the top; the hole lies 3 inside (practice)."""
    (notch,) = ready(notches=(350.0,)).notches
    assert notch.at == Point(250.0, 200.0)
    assert ready(piece=LEG, allowance=0.0, notches=(350.0,)).drills[-1] == Point(250.0, 197.0)
    assert ready(notches=(-250.0,)).notches[0].at == Point(250.0, 200.0)
    assert ready().notches == ()


def test_the_leg_is_drilled_whichever_side_of_the_seam_it_is_named_on():
    """Measured along the leg's lines, which run the other way: 350 along is 150 from the left."""
    sides = {"a": side("leg"), "b": side("patch"), "notches": (350.0,)}
    assert ready(**sides).notches[0].at == Point(150.0, 200.0)
    assert ready(piece=LEG, allowance=0.0, **sides).drills[-1] == Point(150.0, 197.0)


def test_what_is_caught_under_a_patch_is_marked_where_it_is_caught():
    seam = laid()
    loop = Finish(EdgeRef("loop", "loop.start"), "caught", 20.0, into="laid", at=350.0)
    rules = allowance_rules((seam.join,), (loop,), ALLOWANCE)
    found = seam_of(seam, {"patch": PATCH, "leg": LEG}, rules)
    notched = found.brought["patch"].places
    assert [place.edge.chain.at(place.along) for place in notched] == [Point(250.0, 200.0)]
    assert found.brought["leg"].drills == (Point(250.0, 197.0),)
    assert found.brought["leg"].places == ()
    assert found.brought["patch"].drills == ()
    assert found.lonely == ()


KNEE_ROWS = (
    Topstitch("front-leg", "front.side", (60.0,), start=575.0, end=800.0),
    Topstitch("front-leg", "front.side", (60.0,), end=235.0),
)


@pytest.fixture(scope="module")
def knees():
    design = demo_design()
    return evaluate(replace(design, topstitching=(*design.topstitching, *KNEE_ROWS)))


def test_rows_of_the_demonstration_are_met_on_the_knee_panel_and_nowhere_else(knees):
    """Leg and panel lie in the same coordinates: a notch stands where a row ends."""
    plain = evaluate(demo_design())
    front = knees.piece("front-leg")
    line = shapely.MultiLineString(
        [m.chain.polyline(0.001) for m in front.piece.marks if m.name.startswith("knee-panel.")]
    )
    rows = asked_rows(front.piece, KNEE_ROWS)
    ends = [
        end
        for row in rows
        for end in (row.start, row.end)
        if line.distance(shapely.Point(end.x, end.y)) < 1.0
    ]
    assert len(ends) == 2
    panel = knees.piece("knee-panel")
    added = [notch for notch in panel.notches if notch.join == "knee panel"]
    assert len(panel.notches) == len(plain.piece("knee-panel").notches) + 2
    sewing = shapely.Polygon(panel.piece.outline.polyline(0.001))
    for notch, end in zip(added, ends, strict=True):
        assert notch.at.distance_to(end) < 1e-6
        assert sewing.distance(shapely.Point(notch.tip.x, notch.tip.y)) > 5.0
    for sewn in plain.pieces:
        if sewn.piece.name != "knee-panel":
            assert len(knees.piece(sewn.piece.name).notches) == len(sewn.notches)
            assert knees.piece(sewn.piece.name).drills == sewn.drills
    assert not knees.findings


def test_they_are_walked_to_where_the_rows_end(knees):
    pieces = {sewn.piece.name: sewn for sewn in knees.pieces}
    join = next(one for one in knees.measured if one.join.name == "knee panel")
    met = Walk(join, pieces).met
    assert [one.along_a for one in met] == pytest.approx([60.5, 672.8], abs=1.0)
    assert all(abs(one.gap) < 1e-6 for one in met)
    bare = replace(pieces["front-leg"], rows=())
    (lost, _) = Walk(join, {**pieces, "front-leg": bare}).met
    assert lost.gap is None


def test_they_stand_on_the_notches_layer_of_the_drawing(knees, tmp_path):
    """Read back with ezdxf; the layer is that of ASTM D6673-10."""
    path = tmp_path / "knees.dxf"
    write_dxf(knees.pieces, path, style="knees")
    block = ezdxf.readfile(path).blocks.get("KNEE-PANEL")
    mouths = [
        (line.dxf.start.x, line.dxf.start.y)
        for line in block.query("LINE")
        if line.dxf.layer == NOTCHES
    ]
    for notch in knees.piece("knee-panel").notches:
        off = [math.dist(mouth, (notch.mouth.x, notch.mouth.y)) for mouth in mouths]
        assert min(off) < 0.001
    assert len(mouths) == len(knees.piece("knee-panel").notches)
