"""A yoke: darts closed by rigid turns, long edges fair, what is left of the darts taken out."""

import itertools

import pytest

from studio.alter.closing import closing_moves, darts_on
from studio.alter.corner import taken_out
from studio.curves import Vector, turn_between
from studio.cut import cut_from_panel, draw_line
from studio.cut.split import kept_side
from studio.cut.yoke import darts_closed, rest_below
from studio.design import AnchoredPath, Bound, Node, OnEdge, PanelPiece, StyleLine
from studio.errors import GeometryRefused
from tests.shapes import back_panel


def yoke_line(at_rise=90.0, at_side=60.0):
    path = AnchoredPath(
        OnEdge("back.rise", "back.waist", mm=at_rise),
        OnEdge("back.side", "back.waist", mm=at_side),
        (Node(Vector(0.5, 0.02)),),
    )
    return draw_line(StyleLine("yoke", "back", "seam", path), back_panel())


def test_closing_moves_bring_each_darts_legs_together_rigidly():
    darts = darts_on(back_panel(), "back.waist")
    assert [dart.name for dart in darts] == ["back-dart-1", "back-dart-2"]
    moves = closing_moves(darts)
    for dart, before, after in zip(darts, moves, moves[1:], strict=False):
        assert after(dart.last).distance_to(before(dart.first)) < 1e-9
        assert after(dart.point).distance_to(before(dart.point)) < 1e-9
    for move in moves:
        assert move.xx * move.yy - move.xy * move.yx == pytest.approx(1.0, abs=1e-12)


def test_the_yokes_waist_loses_the_darts_and_its_ends_keep_their_length():
    panel, line = back_panel(), yoke_line()
    face = kept_side(panel.outline, line, "right")
    yoke = darts_closed(face, panel, "back.waist")
    # The hand-drawn waist is straight, so closing leaves two bends of nearly 10 degrees; fairing
    # them takes about half a millimetre.
    assert yoke.edge("back.waist").length == pytest.approx(panel.sewn_length("back.waist"), abs=0.6)
    for name in ("back.side", "back.rise"):
        assert yoke.edge(name).length == pytest.approx(face.edge(name).length, abs=1e-6)


def test_the_long_edges_of_a_yoke_are_one_fair_curve_each():
    panel = back_panel()
    yoke = darts_closed(kept_side(panel.outline, yoke_line(), "right"), panel, "back.waist")
    for name in ("back.waist", "yoke"):
        assert len(yoke.edge(name).chain.cubics) == 1


def test_lower_edge_and_leg_differ_by_what_is_left_of_the_darts():
    panel, line = back_panel(), yoke_line()
    yoke = darts_closed(kept_side(panel.outline, line, "right"), panel, "back.waist")
    rest = rest_below(line.chain, panel.darts)
    # Each dart is 20.1 wide over 120: by similar triangles what is left where the line crosses.
    assert 5.0 < rest < 15.0
    assert line.chain.length - yoke.edge("yoke").length == pytest.approx(rest, abs=0.6)


def test_the_rest_is_taken_out_at_the_side_and_runs_back_at_the_level():
    panel, line = back_panel(), yoke_line()
    leg = kept_side(panel.outline, line, "left")
    rest = rest_below(line.chain, panel.darts)
    hip = panel.levels["hip"]
    taken = taken_out(leg, "yoke", "back.side", rest, hip)
    assert leg.edge("yoke").length - taken.edge("yoke").length == pytest.approx(rest, abs=1e-6)
    old, new = leg.edge("back.side").chain, taken.edge("back.side").chain
    assert new.end == old.end
    for height in (hip - 5.0, 445.0, 100.0):
        along = next(d for d in range(2000) if old.at(float(d)).y < height)
        assert new.nearest(old.at(float(along)))[1] < 1e-6
    assert abs(new.length - old.length) < 0.6


def test_the_redrawn_side_stays_smooth_inside():
    panel, line = back_panel(), yoke_line()
    leg = kept_side(panel.outline, line, "left")
    taken = taken_out(leg, "yoke", "back.side", 10.0, panel.levels["hip"])
    cubics = taken.edge("back.side").chain.cubics
    for one, two in itertools.pairwise(cubics):
        assert abs(turn_between(one.tangent(1.0), two.tangent(0.0))) < 1e-6


def test_a_yoke_line_below_the_dart_points_leaves_no_rest():
    line = yoke_line(at_rise=150.0, at_side=135.0)
    panel = back_panel()
    assert rest_below(line.chain, panel.darts) == 0.0
    yoke = darts_closed(kept_side(panel.outline, line, "right"), panel, "back.waist")
    assert yoke.edge("yoke").length == pytest.approx(line.chain.length, abs=1.5)


def test_a_piece_with_the_rest_at_the_rise_keeps_its_side():
    panel = back_panel()
    line = yoke_line()
    recipe = PanelPiece("leg", "back", (Bound("yoke", "left"),), rest_at="rise")
    piece = cut_from_panel(recipe, panel, (line,), ())
    plain = kept_side(panel.outline, line, "left")
    assert piece.outline.edge("back.side").length == pytest.approx(
        plain.edge("back.side").length, abs=1e-9
    )
    assert piece.outline.edge("yoke").length < plain.edge("yoke").length - 5.0


def test_a_yoke_of_more_than_four_edges_is_refused():
    panel = back_panel()
    path = AnchoredPath(
        OnEdge("back.rise", "back.waist", mm=90.0),
        OnEdge("back.side", "back.waist", mm=60.0),
        (Node(Vector(0.5, 0.02), smooth=False),),
    )
    line = draw_line(StyleLine("yoke", "back", "seam", path), panel)
    with pytest.raises(GeometryRefused, match="one lower edge"):
        darts_closed(kept_side(panel.outline, line, "right"), panel, "back.waist")
