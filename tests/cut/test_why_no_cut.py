"""Why a line cuts no piece: each cause is made, told by name, and mended as the words say."""

import pytest
import shapely
from msgspec.structs import replace

from studio.curves import Vector
from studio.cut.divide import pieces_along
from studio.cut.why_no_cut import why_no_cut
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.lines import AnchoredPath, Node, OnEdge, StyleLine
from studio.design.plain import plain_design
from studio.pattern import evaluate

PLAIN, DEMO = plain_design(ORCHARD_BODY), demo_design()


def line(panel, side_mm, inseam_mm, *nodes, to="inseam", corner="hem"):
    path = AnchoredPath(
        OnEdge(f"{panel}.side", f"{panel}.{corner}", mm=side_mm),
        OnEdge(f"{panel}.{to}", f"{panel}.{corner}", mm=inseam_mm),
        nodes,
    )
    return StyleLine("shin", panel, "seam", path)


def told(design, drawn_line):
    """The words on a line; asserts that they are there exactly when no piece can be cut."""
    pattern = evaluate(replace(design, lines=(*design.lines, drawn_line)))
    drawn = next(one for one in pattern.lines if one.name == drawn_line.name)
    panel = next(one for one in pattern.panels if one.name == drawn_line.panel)
    pieces = [sewn.piece for sewn in pattern.pieces]
    along = pieces_along(pattern.design, pieces, drawn)
    words = why_no_cut(pattern.design, panel, pieces, drawn, along)
    assert (words == "") is (len(along) == 1)
    inside = shapely.Polygon(panel.outline.polyline()).buffer(0.5)
    assert ("leaves" in words) is not inside.covers(shapely.LineString(drawn.chain.polyline()))
    return words


@pytest.mark.parametrize("panel", ["front", "back"])
@pytest.mark.parametrize("out", [(1.3, 0.0), (-0.3, 0.0), (0.5, -4.0)])
def test_a_line_that_leaves_its_panel_is_told_so_and_drawn_back_cuts(panel, out):
    words = told(PLAIN, line(panel, 300.0, 300.0, Node(Vector(*out))))
    assert words.startswith(f"It cuts no piece: it leaves the {panel} on its way.")
    assert "inside" in words
    assert "across" not in words
    assert told(PLAIN, line(panel, 300.0, 300.0, Node(Vector(0.5, 0.05)))) == ""


def test_a_line_across_another_names_it_and_ends_moved_to_one_side_cut():
    words = told(DEMO, line("back", 5.0, 120.0, to="rise", corner="waist"))
    assert "runs across yoke, where the back is cut already" in words
    # Also where no piece is cut along the other any more but a patch lies across: no hindrance.
    assert told(DEMO, line("front", 300.0, 300.0)) == ""


def test_above_a_yoke_whose_darts_are_closed_it_is_told_to_cut_first():
    words = told(DEMO, line("back", 10.0, 30.0, to="rise", corner="waist"))
    assert "yoke no longer lies as it does on the back" in words
    assert "yoke after" in words


def test_of_two_pieces_one_over_the_other_both_are_named():
    front = next(piece for piece in PLAIN.pieces if piece.name == "front")
    twice = replace(PLAIN, pieces=(*PLAIN.pieces, replace(front, name="lining")))
    words = told(twice, line("front", 300.0, 300.0))
    assert words.startswith("It cuts no one piece: front and lining lie one over the other")


def test_ends_that_no_piece_has_both_of_are_named():
    back = replace(PLAIN, pieces=tuple(one for one in PLAIN.pieces if one.name != "front"))
    words = told(back, line("front", 300.0, 300.0))
    assert "none reaches along it from front.side to front.inseam" in words
