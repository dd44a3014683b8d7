"""A piece moved keeps what it is; mirrored twice it is as it was."""

import pytest

from studio.curves import Affine, Point, Vector
from studio.demo import demo_design
from studio.pattern import evaluate
from studio.sew.moved import moved

PATTERN = evaluate(demo_design())
FLIP = Affine(xx=-1.0)
AWAY = Affine.turn(33.0, Point(40.0, 50.0)).then(Affine.shift(Vector(700.0, -90.0)))
NAMES = [sewn.piece.name for sewn in PATTERN.pieces]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("move", [FLIP, AWAY, FLIP.then(AWAY)], ids=["flip", "away", "both"])
def test_lines_stay_closed_counter_clockwise_and_as_long(name, move):
    sewn = PATTERN.piece(name)
    there = moved(sewn, move)
    assert there.piece.outline.area_mm2 == pytest.approx(sewn.piece.outline.area_mm2, rel=1e-12)
    length = sum(edge.chain.length for edge in sewn.cut_line)
    assert sum(edge.chain.length for edge in there.cut_line) == pytest.approx(length, rel=1e-12)
    ends = [edge.chain for edge in there.cut_line]
    for one, two in zip(ends, (*ends[1:], ends[0]), strict=True):
        assert one.end.distance_to(two.start) < 1e-6


@pytest.mark.parametrize("name", NAMES)
def test_every_edge_keeps_its_allowance(name):
    sewn = PATTERN.piece(name)
    there = moved(sewn, FLIP)

    def widths(one):
        edges = one.piece.outline.edges
        return sorted((e.name, w) for e, w in zip(edges, one.allowances, strict=True))

    assert widths(there) == widths(sewn)


@pytest.mark.parametrize("name", NAMES)
def test_mirrored_twice_is_as_it_was(name):
    sewn = PATTERN.piece(name)
    back = moved(moved(sewn, FLIP), FLIP)
    assert back.allowances == sewn.allowances
    assert [edge.name for edge in back.cut_line] == [edge.name for edge in sewn.cut_line]
    assert back.notches == sewn.notches
    assert back.grain == sewn.grain
    assert back.piece.warp == pytest.approx(sewn.piece.warp)
    assert back.piece.darts == sewn.piece.darts


def test_the_warp_turns_along():
    sewn = PATTERN.piece("yoke")
    assert moved(sewn, AWAY).piece.warp == pytest.approx(sewn.piece.warp + 33.0)
