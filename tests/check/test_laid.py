"""Lines drawn on a piece stay on it: what hangs over is told with its edge and by how much."""

import math

import pytest
from msgspec.structs import replace

from studio import numbers
from studio.check import judge_laid, judge_unlaid, lines_on
from studio.curves import Chain, Cubic, Edge, Outline, Point
from studio.cut import Piece
from studio.cut.piece import Mark
from studio.demo import demo_design
from studio.pattern import evaluate

CORNERS = [Point(0, 0), Point(100, 0), Point(100, 60), Point(0, 60)]
"""A rectangle 100 by 60."""


def ring(corners, names):
    after = (*corners[1:], corners[0])
    chains = [Chain.straight(one, two) for one, two in zip(corners, after, strict=True)]
    return zip(names, chains, strict=True)


def plate(*marks):
    names = ("plate.low", "plate.right", "plate.high", "plate.left")
    outline = Outline.of(Edge.whole(name, chain) for name, chain in ring(CORNERS, names))
    return Piece("plate", outline, tuple(marks))


def square(x, y, side=20.0):
    corners = [Point(x, y), Point(x + side, y), Point(x + side, y + side), Point(x, y + side)]
    names = ("patch.low", "patch.right", "patch.high", "patch.left")
    return [Mark(name, chain) for name, chain in ring(corners, names)]


@pytest.mark.parametrize("place", [(40.0, 20.0), (80.0, 20.0), (80.3, 40.0)])
def test_a_patch_on_its_piece_up_to_the_very_edge_is_right(place):
    assert judge_laid(plate(*square(*place))) == ()


@pytest.mark.parametrize(
    ("place", "edge", "off"),
    [
        ((83.5, 20.0), "plate.right", 3.5),
        ((30.0, 47.25), "plate.high", 7.25),
        ((-2.0, 10.0), "plate.left", 2.0),
        # Over a corner: the corner of the square is 3-4-5 away from that of the plate.
        ((83.0, 44.0), "plate.right", 5.0),
    ],
)
def test_a_patch_that_hangs_over_is_told_once_with_its_edge(place, edge, off):
    (finding,) = judge_laid(plate(*square(*place)))
    assert (finding.rule, finding.gravity, finding.where) == ("laid-over", "warning", "plate")
    assert finding.measured == pytest.approx(off, abs=1e-9)
    assert f"patch leaves plate over {edge} by {numbers.length(off)}" in finding.message


def test_a_bow_between_two_places_on_the_piece_is_seen():
    # A cubic bows three quarters of its handles' height off its chord: 0.75 x 8 = 6.
    bow = Cubic(Point(20, 60), Point(40, 68), Point(60, 68), Point(80, 60))
    (finding,) = judge_laid(plate(Mark("line", Chain((bow,)))))
    assert finding.measured == pytest.approx(6.0, abs=0.02)


def test_a_line_that_ends_on_the_edges_is_right():
    slant = Chain.straight(Point(0, 10), Point(100, 10 + 100 * math.tan(math.radians(20))))
    assert judge_laid(plate(Mark("line", slant))) == ()


def test_no_patch_of_the_demonstration_hangs_over_and_one_pushed_out_is_told():
    design = demo_design()
    assert not [one for one in evaluate(design).findings if one.rule == "laid-over"]
    line = design.line("secateurs-pocket")
    out = replace(line, path=replace(line.path, inward=line.path.inward - 40.0))
    told = evaluate(design.with_line(out)).findings
    # Over the side of the leg; and the smaller pocket laid on it lies beside it now.
    where = [one.where for one in told if one.rule == "laid-over"]
    assert where == ["back-leg", "secateurs-pocket"]


@pytest.mark.parametrize(
    ("place", "edge", "off"),
    [((150.0, 20.0), "plate.right", 70.0), ((40.0, 65.0), "plate.high", 25.0)],
)
def test_a_patch_wholly_off_its_piece_is_grave(place, edge, off):
    (finding,) = judge_laid(plate(*square(*place)))
    assert (finding.rule, finding.gravity, finding.where) == ("laid-over", "grave", "plate")
    assert finding.measured == pytest.approx(off, abs=1e-9)
    assert f"patch lies wholly off plate, over {edge} by {off:.1f} mm" in finding.message


def test_a_patch_whose_lines_all_pass_its_piece_by_is_grave_and_one_that_crosses_it_is_not():
    (finding,) = judge_laid(plate(*square(-10.0, -30.0, 120.0)))
    # Its lines run round the plate, all of them off it.
    assert finding.gravity == "grave"
    (finding,) = judge_laid(plate(Mark("line", Chain.straight(Point(-5, 30), Point(105, 30)))))
    assert finding.gravity == "warning"


def test_a_line_of_which_nothing_lies_on_any_piece_is_told_once():
    with_patch, bare = plate(*square(40.0, 20.0)), plate()
    asked = [("plate", "patch"), ("yoke", "patch"), ("plate", "other"), ("yoke", "other")]
    laid = [lines_on(piece.marks) for piece in (bare, with_patch)]
    assert judge_unlaid(asked[:2], laid) == ()
    (finding,) = judge_unlaid(asked, laid)
    assert (finding.rule, finding.gravity, finding.where) == ("laid-over", "grave", "other")
    assert "Nothing of other lies on plate" in finding.message


def test_a_pocket_drawn_beyond_the_line_that_bounds_its_piece_is_told():
    """Above the yoke line the leg has ended: the pocket was left out without a word."""
    design = demo_design()
    line = design.line("back-pocket")
    nodes = tuple(
        replace(node, at=replace(node.at, y=node.at.y + 330.0)) for node in line.path.nodes
    )
    pattern = evaluate(design.with_line(replace(line, path=replace(line.path, nodes=nodes))))
    leg = pattern.piece("back-leg").piece
    assert not [mark for mark in leg.marks if mark.name.startswith("back-pocket")]
    told = [one for one in pattern.findings if one.where == "back-pocket"]
    assert ("laid-over", "grave") in [(one.rule, one.gravity) for one in told]
