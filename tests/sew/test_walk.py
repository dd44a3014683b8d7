"""Walking a seam: rolled lines of known length, notches that meet, chains and darts."""

import math

import pytest
import shapely
from msgspec.structs import replace
from scipy.special import ellipe

from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point
from studio.cut.parts import Waistband
from studio.cut.piece import Mark, Piece
from studio.demo import ORCHARD_BODY, demo_design
from studio.design import FoldPleat
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.design.plain import plain_design
from studio.pattern import evaluate, with_parts
from studio.sew import Lined, cut_line, grainline, measured, sew_piece
from studio.sew.walk import Walk
from tests.shapes import deep_dart


def arc(radius, start, stop, squash=1.0, count=16):
    """An arc about nothing from angle to angle (degrees), as cubics within 1e-7 of it."""
    cubics = []
    for k in range(count):
        a, b = (math.radians(start + (stop - start) * t / count) for t in (k, k + 1))
        h = 4.0 / 3.0 * math.tan((b - a) / 4.0)
        points = [
            (math.cos(a), math.sin(a)),
            (math.cos(a) - h * math.sin(a), math.sin(a) + h * math.cos(a)),
            (math.cos(b) + h * math.sin(b), math.sin(b) - h * math.cos(b)),
            (math.cos(b), math.sin(b)),
        ]
        cubics.append(Cubic(*(Point(radius * x, squash * radius * y) for x, y in points)))
    return Chain.of(cubics)


def piece(name, seam):
    """A piece bounded by a seam and the straight line back."""
    back = Chain.straight(seam.end, seam.start)
    edges = [Edge.whole(f"{name}.seam", seam), Edge.whole(f"{name}.back", back)]
    return Piece(name, Outline.of(edges))


def strip(name, length):
    corners = [Point(0.0, 0.0), Point(length, 0.0), Point(length, 50.0), Point(0.0, 50.0)]
    edges = [
        Edge.whole(f"{name}.{part}", Chain.straight(one, two))
        for part, one, two in zip(
            ("seam", "end", "top", "start"), corners, (*corners[1:], corners[0]), strict=True
        )
    ]
    return Piece(name, Outline.of(edges))


def ready(one):
    widths = (10.0,) * len(one.outline.edges)
    return sew_piece(
        one, Lined(widths, *cut_line(one.outline, widths), grainline(one.outline, 90.0))
    )


def walk(one, two, **kw):
    join = Join("seam", *(JoinSide((EdgeRef(p.name, f"{p.name}.seam"),)) for p in (one, two)), **kw)
    bare = {p.name: p for p in (one, two)}
    return Walk(measured(join, bare), {name: ready(p) for name, p in bare.items()})


def test_a_semicircle_rolls_along_a_straight_edge_with_its_middle_at_its_radius():
    radius = 100.0
    wheel = piece("wheel", arc(radius, 0.0, 180.0))
    found = walk(strip("strip", math.pi * radius), wheel)
    assert found.gap == pytest.approx(0.0, abs=1e-4)
    for share in (0.0, 0.25, 0.5, 0.9, 1.0):
        step = found.at(found.length_a * share)
        hub = step.move(Point(0.0, 0.0))
        assert hub.y == pytest.approx(-radius, abs=1e-3)
        assert hub.x == pytest.approx(step.along_a, abs=1e-3)


@pytest.mark.parametrize("squash", [0.4, 0.7, 0.95])
def test_half_an_ellipse_is_left_over_by_what_the_elliptic_integral_says(squash):
    """Half its round: 2 a E(1 - (b/a)^2), scipy.special.ellipe."""
    a = 120.0
    half = 2.0 * a * ellipe(1.0 - squash**2)
    found = walk(strip("strip", 300.0), piece("egg", arc(a, 0.0, 180.0, squash, 64)))
    assert found.length_b == pytest.approx(half, abs=1e-3)
    assert found.gap == pytest.approx(half - 300.0, abs=1e-3)
    assert found.at(250.0).difference == pytest.approx(0.0, abs=1e-9)
    assert found.at(300.0).difference == pytest.approx(min(0.0, half - 300.0), abs=1e-3)


def test_meant_ease_is_spread_evenly_and_is_not_left_over():
    found = walk(strip("strip", 300.0), strip("other", 312.0), ease=12.0)
    assert found.gap == pytest.approx(0.0, abs=1e-9)
    assert found.at(150.0).difference == pytest.approx(6.0, abs=1e-9)
    assert found.at(300.0).difference == pytest.approx(12.0, abs=1e-9)


def test_the_place_reached_lies_on_both_sides_and_the_pieces_on_either_side_of_it():
    pattern = evaluate(demo_design())
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    for join in pattern.measured:
        if join.join.construction == "lapped":
            continue
        found = Walk(join, pieces)
        for share in (0.1, 0.5, 0.85):
            step = found.at(found.length_a * share)
            (a_piece, a_move), (b_piece, b_move) = (
                next((laid.piece, laid.move) for laid in side)
                for side in (found.still, found.rolling)
            )
            assert a_piece in pieces
            assert not a_move.flips
            moved = b_move.then(step.move)
            assert moved.flips == (join.join.a.mirrored != join.join.b.mirrored)
            lengths = [
                laid.move.then(step.move).vector(v).length
                for laid in found.rolling
                for v in (Point(1.0, 0.0) - Point(0.0, 0.0),)
            ]
            assert lengths == pytest.approx([1.0] * len(lengths))
            assert b_piece in pieces


def test_every_notch_of_the_demonstration_meets_its_partner():
    pattern = evaluate(demo_design())
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    met = [met for join in pattern.measured for met in Walk(join, pieces).met]
    assert len(met) > 10
    assert all(one.gap is not None and abs(one.gap) < 0.3 for one in met)


def test_a_notch_without_a_partner_is_told():
    pattern = evaluate(demo_design())
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    join = next(join for join in pattern.measured if join.join.name == "inseam")
    lost = {**pieces, "back-leg": replace(pieces["back-leg"], notches=())}
    assert any(met.gap is None for met in Walk(join, lost).met)


def test_a_side_with_darts_is_walked_with_them_closed():
    pattern = evaluate(plain_design(ORCHARD_BODY))
    design = pattern.design
    top = Join(
        "top",
        JoinSide((EdgeRef("back", "back.waist"),)),
        JoinSide((EdgeRef("back", "back.waist"),), mirrored=True),
    )
    pattern = evaluate(replace(design, joins=(top,)))
    back = next(panel for panel in pattern.panels if panel.name == "back")
    found = Walk(pattern.measured[0], {s.piece.name: s for s in pattern.pieces})
    assert found.length_a == pytest.approx(back.sewn_length("back.waist"), abs=1e-9)
    assert found.length_a < back.outline.edge("back.waist").length - 10.0


@pytest.mark.parametrize("towards", ["rise", "side"])
def test_past_the_mouth_of_a_pleat_the_band_still_rolls_on_the_piece_as_it_is_folded(towards):
    # shapely measures how far the place reached is from what is drawn, moved as it is drawn.
    deep = deep_dart()
    steps = (deep, FoldPleat("front", "deep", towards), FoldPleat("back", "back-dart-1"))
    pleated = replace(plain_design(ORCHARD_BODY), alterations=steps)
    pattern = evaluate(with_parts(pleated, Waistband(width=35.0)))
    pieces = pattern.pieces_by_name()
    for join in pattern.measured:
        found = Walk(join, pieces)
        for k in range(101):
            step = found.at(found.length_a * k / 100.0)
            for side, last in ((step.still, Affine()), (step.rolling, step.move)):
                off = min(_off(pieces[one.piece], one.move.then(last), step.at) for one in side)
                assert off < 0.01, (join.join.name, k)


def _off(sewn, move, place):
    rings = [
        shapely.LineString(edge.chain.transformed(move).polyline(0.001))
        for edge in (*sewn.piece.outline, *sewn.piece.marks)
    ]
    return min(ring.distance(shapely.Point(place.x, place.y)) for ring in rings)


def test_corners_at_both_ends_are_told_where_there_are_corners():
    pattern = evaluate(demo_design())
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    join = next(join for join in pattern.measured if join.join.name == "side seam")
    (start, end) = Walk(join, pieces).corners
    assert sum(start) == pytest.approx(180.0, abs=2.0)
    assert sum(end) == pytest.approx(180.0, abs=2.0)


def test_ease_over_a_stretch_is_taken_up_there_and_notches_meet_on_both_sides_of_it():
    found = walk(strip("strip", 300.0), strip("other", 312.0), ease=12.0, eased=(100.0, 200.0))
    assert found.gap == pytest.approx(0.0, abs=1e-9)
    for along, taken in ((50.0, 0.0), (100.0, 0.0), (150.0, 6.0), (200.0, 12.0), (300.0, 12.0)):
        assert found.at(along).difference == pytest.approx(taken, abs=1e-9)
    design = demo_design()
    joins = tuple(
        replace(j, ease=0.0, eased=(100.0, 300.0), notches=(80.0, 200.0, 500.0))
        if j.name == "inseam"
        else j
        for j in design.joins
    )
    pattern = evaluate(replace(design, joins=joins))
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    join = next(join for join in pattern.measured if join.join.name == "inseam")
    assert all(abs(met.gap) < 0.05 for met in Walk(join, pieces).met)


def laid(leg_lines, patch, mirrored=(False, False), *, patch_first=True):
    """A walk of a patch laid along lines drawn on a leg of 1000 by 1000 about nothing."""
    corners = [Point(x, y) for x, y in ((-500, -500), (500, -500), (500, 500), (-500, 500))]
    edges = [
        Edge.whole(f"leg.{k}", Chain.straight(corners[k], corners[(k + 1) % 4])) for k in range(4)
    ]
    leg = Piece("leg", Outline.of(edges), tuple(leg_lines))
    edges = [edge.name for edge in patch.outline if not edge.name.endswith(".back")]
    # Listed from one end of the seam: a mirrored side is walked the other way round.
    is_back = mirrored[0] if patch_first else not mirrored[1]
    way = -1 if is_back else 1
    refs = [
        [EdgeRef("patch", name) for name in edges][::way],
        [EdgeRef("leg", mark.name) for mark in leg_lines][::way],
    ]
    if not patch_first:
        refs.reverse()
    sides = [JoinSide(tuple(named), other) for named, other in zip(refs, mirrored, strict=True)]
    bare = {"leg": leg, "patch": patch}
    join = Join("laid", *sides, construction="lapped")
    return Walk(measured(join, bare), {name: ready(p) for name, p in bare.items()})


def is_in_place(walk, within=1e-6):
    """Whether what rolls stays where it was drawn all the way, to a metre from it."""
    far = [Point(x, y) for x in (-1000.0, 1000.0) for y in (-1000.0, 1000.0)]
    for k in range(41):
        step = walk.at(walk.length_a * k / 40.0)
        if max(step.move(point).distance_to(point) for point in far) > within:
            return False
    return True


ROUND = piece("patch", arc(120.0, -20.0, 200.0, 0.6))
CORNERS = (Point(0.0, 0.0), Point(150.0, -20.0), Point(150.0, 130.0), Point(70.0, 170.0))
ANGULAR = Piece(
    "patch",
    Outline.of(
        [
            *(
                Edge.whole(f"patch.{name}", Chain.straight(one, two))
                for name, one, two in zip("abc", CORNERS, CORNERS[1:], strict=False)
            ),
            Edge.whole("patch.back", Chain.straight(CORNERS[3], CORNERS[0])),
        ]
    ),
)


@pytest.mark.parametrize("patch", [ROUND, ANGULAR], ids=["round", "with corners"])
@pytest.mark.parametrize("is_drawn_back", [False, True], ids=["as cut", "against it"])
@pytest.mark.parametrize("patch_first", [True, False], ids=["patch first", "leg first"])
@pytest.mark.parametrize(
    "mirrored", [(False, False), (True, True), (False, True), (True, False)], ids=str
)
def test_a_patch_cut_along_a_line_lies_on_it_as_it_was_drawn(
    patch, is_drawn_back, patch_first, mirrored
):
    """Cut from the line itself, it is where it was: moved by nothing, within 1e-6 mm."""
    lines = [Mark(e.name, e.chain) for e in patch.outline if not e.name.endswith(".back")]
    if is_drawn_back:
        # The patch lies to the right of its line, and is cut against its direction.
        lines = [Mark(mark.name, mark.chain.reversed()) for mark in lines]
        outline = Outline.of([Edge(e.name, e.chain, e.length, 0.0) for e in patch.outline])
        patch = Piece("patch", outline)
    found = laid(lines, patch, mirrored, patch_first=patch_first)
    assert [one.piece for one in found.rolling] == ["patch"]
    assert found.lays_on
    assert is_in_place(found)
    assert found.gap == pytest.approx(0.0, abs=1e-9)
    assert all(None in pair for pair in found.corners)


@pytest.mark.parametrize(
    ("mirrored", "across"), [((False, False), 1.0), ((False, True), -1.0)], ids=["own", "other leg"]
)
def test_a_patch_of_another_shape_rolls_on_the_piece_with_its_hub_at_its_radius(mirrored, across):
    """A wheel on a level line drawn to the right: to its left, as it lies to the left of its own
    edge; turned over, to its right.
    """
    radius = 100.0
    wheel = piece("patch", arc(radius, 0.0, 180.0))
    half = math.pi * radius / 2.0
    line = Mark("ground", Chain.straight(Point(-half, 0.0), Point(half, 0.0)))
    found = laid([line], wheel, mirrored)
    for share in (0.0, 0.3, 1.0):
        step = found.at(found.length_a * share)
        hub = step.move(Point(0.0, 0.0))
        assert hub.y == pytest.approx(across * radius, abs=1e-3)
        assert hub.x == pytest.approx(step.along_a - half, abs=1e-3)
        assert step.at.y == pytest.approx(0.0, abs=1e-9)
        assert step.move.flips == (across < 0.0)


def test_lines_of_other_names_run_on_from_one_another_however_they_are_drawn():
    a, b, c = (e.chain for e in ANGULAR.outline.edges[:3])
    for one, two, three in ((a, b, c), (a.reversed(), b, c), (a, b.reversed(), c.reversed())):
        lines = [Mark(name, chain) for name, chain in (("1", one), ("2", two), ("3", three))]
        assert is_in_place(laid(lines, ANGULAR))


def test_every_patch_of_the_demonstration_is_walked_where_it_is_sewn():
    pattern = evaluate(demo_design())
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    lapped = [join for join in pattern.measured if join.join.construction == "lapped"]
    assert len(lapped) == 4
    for join in lapped:
        found = Walk(join, pieces)
        assert {one.piece for one in found.still} <= {"front-leg", "back-leg", "secateurs-pocket"}
        assert is_in_place(found)
        # It hangs over no seam, judged by shapely.
        (still,), (rolling,) = found.still, found.rolling
        beneath, patch = (
            shapely.Polygon(pieces[one.piece].piece.outline.polyline(0.001))
            for one in (still, rolling)
        )
        assert beneath.buffer(0.01).contains(patch)
        # The place reached lies on both.
        for share in (0.0, 0.4, 0.9):
            at = found.at(found.length_a * share).at
            for side in (join.a, join.b):
                assert min(one.edge.chain.nearest(at)[1] for one in side.stretches) < 1e-6
