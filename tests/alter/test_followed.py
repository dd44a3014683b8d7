"""An edge redrawn under a dart takes the dart along: none is silently left out."""

import pytest
from msgspec.structs import replace

from studio.alter import altered, altered_beside, kind_of
from studio.alter.followed import darts_followed
from studio.curves import Affine, Edge, Outline
from studio.design import LowerWaist, OpenDart, TakeIn, TrueSeam
from studio.errors import GeometryRefused
from tests.shapes import back_panel, front_panel


def with_knee_dart(panel):
    step = kind_of(OpenDart("", "", None, None, 0.0, 0.0)).fresh(panel)
    return altered(panel, (step,)), step.dart


def the_dart(panel, name):
    return next(dart for dart in panel.darts if dart.name == name)


@pytest.mark.parametrize("panel", [front_panel(), back_panel()], ids=["front", "back"])
@pytest.mark.parametrize("amount", [14.0, -9.0])
def test_a_seam_taken_in_moves_its_dart_which_keeps_width_and_length(panel, amount):
    before, name = with_knee_dart(panel)
    side = f"{panel.name}.side"
    after = altered(before, (TakeIn(panel.name, side, amount, at="knee", upper="crotch"),))
    old, new = the_dart(before, name), the_dart(after, name)
    chain = after.outline.edge(side).chain
    for end in (new.first, new.last):
        assert chain.nearest(end)[1] < 1e-6
    assert new.intake == pytest.approx(old.intake, abs=1e-9)
    middles = [dart.first.toward(dart.last, 0.5) for dart in (old, new)]
    lengths = [dart.point.distance_to(at) for dart, at in zip((old, new), middles, strict=True)]
    assert lengths[1] == pytest.approx(lengths[0], abs=1e-9)
    # It stands nearly at the knee: nearly the whole amount inward, across the grain.
    inward = -1.0 if middles[0].x > 0.0 else 1.0
    moved = (middles[1].x - middles[0].x) * inward
    assert 0.6 * amount < moved < amount if amount > 0 else amount < moved < 0.6 * amount
    # No sliver beside it, which an allowance could not follow.
    assert min(cubic.length for cubic in chain.cubics) > 5.0
    # Straight across the mouth, and no longer for it.
    low, high = chain.distance_of(new.first), chain.distance_of(new.last)
    assert high - low == pytest.approx(new.intake, abs=1e-6)


def test_a_panel_whose_darts_lie_on_their_edges_is_given_back():
    panel = back_panel()
    assert darts_followed(panel) is panel


def test_an_edge_gone_from_a_dart_is_told_by_name():
    panel, name = with_knee_dart(front_panel())
    away = Affine.shift(panel.outline.corners()[0].outgoing * 400.0)
    edges = [Edge.whole(edge.name, edge.chain.transformed(away)) for edge in panel.outline]
    alone = replace(panel, outline=Outline.of(edges), darts=(the_dart(panel, name),))
    with pytest.raises(GeometryRefused, match=name):
        darts_followed(alone)


def test_a_seam_is_trued_to_what_is_sewn_of_the_other():
    front, name = with_knee_dart(front_panel())
    longer = altered(front, (LowerWaist("front", 0.0, 6.0),))
    made = altered_beside(back_panel(), TrueSeam("back", "back.side", "front.side"), (longer,))
    opened = the_dart(longer, name).intake
    wanted = longer.outline.edge("front.side").length - opened
    assert made.outline.edge("back.side").length == pytest.approx(wanted, abs=1e-6)
