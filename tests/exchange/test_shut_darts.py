"""Darts that are sewn, in the figures of the work sheet: areas by shapely and in closed form."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
import shapely
from msgspec.structs import replace
from shapely import LineString, Polygon

from studio.curves import Point
from studio.cut.parts import Waistband
from studio.demo import ORCHARD_BODY
from studio.design.plain import plain_design
from studio.exchange.shut_darts import corners_of, moves_of, parted_lines, sections_of, shut_lines
from studio.exchange.work_sheet import work_sheet_of
from studio.exchange.work_sheet_figures import edge_figure
from studio.pattern import evaluate, with_parts
from studio.sew.walk import Walk

PATTERN = evaluate(with_parts(plain_design(ORCHARD_BODY), Waistband()))
PIECES = {sewn.piece.name: sewn for sewn in PATTERN.pieces}
SHEET = {stage.title: stage for stage in work_sheet_of(PATTERN).stages}
FINE = 1e-5


def taken(piece) -> float:
    """The area of the darts of a piece: triangles, in closed form."""
    return sum(
        abs((dart.last - dart.first).cross(dart.point - dart.first)) / 2.0 for dart in piece.darts
    )


def walked(name):
    """A piece parted as the waist seam passes it: its sections and their moves."""
    piece = PIECES[name].piece
    walk = Walk(PATTERN.measured_by_name()["waist"], PIECES)
    lies = [
        (chain, laid.move)
        for still in (True, False)
        for chain, laid in walk.runs(still=still)
        if laid.piece == name
    ]
    sections = sections_of(piece, f"{name}.waist")
    return piece, sections, moves_of(sections, lies), lies


def placed(part, move) -> Polygon:
    points = (move(Point(x, y)) for x, y in corners_of(part, FINE))
    return Polygon([(point.x, point.y) for point in points])


@pytest.mark.parametrize(("name", "darts"), [("front", 1), ("back", 2)])
def test_a_piece_with_shut_darts_is_as_large_as_before_less_what_they_take_in(name, darts):
    piece, sections, moves, _ = walked(name)
    assert len(piece.darts) == darts
    assert len(sections) == darts + 1
    wanted = piece.outline.area_mm2 - taken(piece)
    shapes = [placed(part, move) for part, move in zip(sections, moves, strict=True)]
    assert all(shape.is_valid for shape in shapes)
    assert sum(shape.area for shape in shapes) == pytest.approx(wanted, rel=1e-6)
    # Nothing lies on anything else, but for what a mouth is off true.
    for one, two in combinations(shapes, 2):
        assert one.intersection(two).area < 1e-3 * wanted


@pytest.mark.parametrize("name", ["front", "back"])
def test_the_legs_of_a_shut_dart_lie_on_each_other(name):
    _, sections, moves, _ = walked(name)
    for (one, here), (two, there) in pairwise(zip(sections, moves, strict=True)):
        dart = one.last
        assert dart is two.first
        assert here(dart.first).distance_to(there(dart.last)) < 1e-5
        assert here(dart.point).distance_to(there(dart.point)) < 2.0


@pytest.mark.parametrize("name", ["front", "back"])
def test_an_open_piece_shows_its_darts_as_gaps(name):
    piece = PIECES[name].piece
    lines = shut_lines(piece)
    for one, two in pairwise([*lines, lines[0]]):
        assert one.end.distance_to(two.start) < 1e-5
    ring = Polygon([place for chain in lines for place in chain.polyline(FINE)])
    assert ring.is_valid
    assert ring.area == pytest.approx(piece.outline.area_mm2 - taken(piece), rel=1e-6)


def near(figure, dart_ends) -> list[float]:
    """How far the lines of a figure that are not sewn in it stay from places."""
    lines = shapely.union_all(
        [LineString(one.chain.polyline(0.01)) for one in figure.lines if one.stroke == "before"]
    )
    return [lines.distance(shapely.Point(at.x, at.y)) for at in dart_ends]


def test_the_waist_seam_runs_along_its_pieces_on_both_sides_of_every_dart():
    back, front = (PIECES[name].piece for name in ("back", "front"))
    edges = shapely.union_all(
        [
            LineString(chain.polyline(0.01))
            for name, piece in (("back", back), ("front", front))
            for chain in parted_lines(piece, walked(name)[3])
        ]
    )
    walk = Walk(PATTERN.measured_by_name()["waist"], PIECES)
    runs = [chain for chain, laid in walk.runs(still=True) if laid.piece in ("back", "front")]
    assert len(runs) == 5
    for run in runs:
        assert edges.hausdorff_distance(edges.union(LineString(run.polyline(0.01)))) < 0.05


def test_darts_are_open_before_their_step_and_gaps_after_it():
    sentences = " ".join(work_sheet_of(PATTERN).before)
    assert "Darts are gaps in them once they are sewn." in sentences
    mouths = [dart.first.toward(dart.last, 0.5) for dart in PIECES["back"].piece.darts]
    # Step and hem: the mouth is not drawn, though the edge beside it is.
    assert all(away > 5.0 for away in near(SHEET["Darts of back"].figure, mouths))
    back = PIECES["back"].piece
    still_open = edge_figure([(back, "back.hem")])
    assert all(away < 0.05 for away in near(still_open, mouths))
    sewn = edge_figure([(back, "back.hem")], {"back"})
    assert all(away > 5.0 for away in near(sewn, mouths))


def test_a_piece_is_not_parted_where_it_cannot_be():
    piece = PIECES["back"].piece
    one, two = piece.darts
    assert sections_of(piece, "back.hem") == ()
    # Two darts that lean towards each other: the cuts from their points would cross.
    middle = one.point.toward(two.point, 0.5)
    leaning = tuple(replace(dart, point=dart.point.toward(middle, 0.8)) for dart in (one, two))
    assert sections_of(replace(piece, darts=leaning), "back.waist") == ()


def test_a_pair_without_darts_is_told_nothing_of_them():
    bare = plain_design(ORCHARD_BODY)
    pattern = evaluate(bare)
    pieces = tuple(replace(sewn, piece=replace(sewn.piece, darts=())) for sewn in pattern.pieces)
    before = work_sheet_of(replace(pattern, pieces=pieces)).before
    assert not any("Darts are gaps" in said for said in before)
