"""Lowering a waist and swinging in a rise, by what a maker would measure afterwards."""

import math

import msgspec
import pytest

from studio.alter import KINDS, altered, altered_beside
from studio.curves import Chain, Cubic, Edge, Outline, turn_between
from studio.design import LowerWaist, MirrorEdge, SwingRise
from studio.errors import GeometryRefused
from tests.shapes import back_panel, front_panel


def corner(panel, one, two):
    names = {f"{panel.name}.{one}", f"{panel.name}.{two}"}
    return next(c for c in panel.outline.corners() if {c.before, c.after} == names)


@pytest.mark.parametrize("panel", [front_panel(), back_panel()], ids=["front", "back"])
def test_a_waist_lowered_by_50_down_the_grain_stands_50_lower_at_both_ends(panel):
    # 50 along the grain: common practice, no source.
    lowered = altered(panel, (LowerWaist(panel.name, 50.0, 50.0),))
    for edge in ("side", "rise"):
        before, after = corner(panel, "waist", edge), corner(lowered, "waist", edge)
        assert before.point.y - after.point.y == pytest.approx(50.0, abs=1e-6)
        assert after.inner == pytest.approx(90.0, abs=1e-6)


def test_a_lowered_waist_leaves_everything_else_alone():
    panel = back_panel()
    lowered = altered(panel, (LowerWaist("back", 50.0, 20.0),))
    for name in ("back.hem", "back.inseam"):
        assert lowered.outline.edge(name) == panel.outline.edge(name)
    assert lowered.levels == panel.levels
    assert [edge.name for edge in lowered.outline.edges] == [
        edge.name for edge in panel.outline.edges
    ]


def test_darts_keep_point_and_equal_legs_and_narrow_in_proportion():
    panel = back_panel()
    lowered = altered(panel, (LowerWaist("back", 50.0, 50.0),))
    assert [dart.name for dart in lowered.darts] == ["back-dart-1", "back-dart-2"]
    for before, after in zip(panel.darts, lowered.darts, strict=True):
        assert after.point == before.point
        legs = after.point.distance_to(after.first), after.point.distance_to(after.last)
        assert legs[0] == pytest.approx(legs[1], abs=1e-9)
        whole = before.point.distance_to(before.first)
        assert after.intake == pytest.approx(before.intake * legs[0] / whole, abs=1e-6)


def test_a_lowered_waist_runs_fair_over_its_closed_darts():
    lowered = altered(back_panel(), (LowerWaist("back", 50.0, 50.0),))
    cubics = lowered.outline.edge("back.waist").chain.cubics
    for dart in lowered.darts:
        before = next(c for c in cubics if c.p3.distance_to(dart.first) < 1e-6)
        after = next(c for c in cubics if c.p0.distance_to(dart.last) < 1e-6)
        closing = turn_between(dart.last - dart.point, dart.first - dart.point)
        kink = turn_between(before.tangent(1.0), after.tangent(0.0).turned(closing))
        assert kink == pytest.approx(0.0, abs=1e-6)


def test_a_dart_that_ends_above_the_new_waist_is_gone():
    lowered = altered(front_panel(), (LowerWaist("front", 120.0, 120.0),))
    assert lowered.darts == ()
    assert lowered.outline.edge("front.waist").chain.length > 200.0


def test_a_rise_swung_in_by_30_shortens_the_waist_by_30_and_stands_square():
    # Centre front brought in 30 at the waist and run to the hip line: common practice, no source.
    panel = front_panel()
    swung = altered(panel, (SwingRise("front", 30.0),))
    moved = corner(panel, "waist", "rise").point.distance_to(corner(swung, "waist", "rise").point)
    assert moved == pytest.approx(30.0, abs=1e-6)
    assert corner(swung, "waist", "rise").inner == pytest.approx(90.0, abs=1e-6)
    old, new = (p.outline.edge("front.rise").chain for p in (panel, swung))
    assert new.end == old.end
    below = [p for p in (old.at(old.length * k / 20) for k in range(21)) if p.y < 859.0]
    assert below
    assert all(new.nearest(point)[1] < 1e-6 for point in below)


def test_a_swing_that_releases_the_darts_gives_up_their_intake():
    panel = front_panel()
    swung = altered(panel, (SwingRise("front", 30.0, releases_darts=True),))
    assert swung.darts == ()
    # By hand: the dart held 20 and the swing takes 30, so about 10 less than the sewn 190; the new
    # waist is a gentle curve over the same chord and a hair longer.
    chord = corner(swung, "waist", "side").point.distance_to(corner(swung, "waist", "rise").point)
    assert chord == pytest.approx(180.0, abs=1e-6)
    assert 180.0 <= swung.sewn_length("front.waist") < 182.0


def test_the_new_rise_leaves_its_top_straight_and_joins_smooth_at_the_hip():
    swung = altered(front_panel(), (SwingRise("front", 30.0),))
    upper, lower = swung.outline.edge("front.rise").chain.cubics[:2]
    assert turn_between(upper.tangent(1.0), lower.tangent(0.0)) == pytest.approx(0.0, abs=1e-6)
    chord = math.degrees(math.atan2(upper.p3.y - upper.p0.y, upper.p3.x - upper.p0.x))
    assert upper.tangent(0.0).angle == pytest.approx(chord, abs=1e-6)


def test_a_step_switched_off_or_for_another_panel_changes_nothing():
    panel = front_panel()
    steps = (SwingRise("front", 30.0, active=False), LowerWaist("back", 50.0, 50.0))
    assert altered(panel, steps) is panel


@pytest.mark.parametrize(
    ("step", "reason"),
    [
        (LowerWaist("front", -1.0, 0.0), "only be lowered"),
        (LowerWaist("front", 0.0, 2000.0), "only .* high"),
        (SwingRise("front", 900.0), "cannot swing in by 900.0 mm: .* more than 10.0 mm have to be"),
        (SwingRise("front", -1.0), "cannot swing in"),
    ],
)
def test_an_impossible_amount_is_refused_with_its_reason(step, reason):
    with pytest.raises(GeometryRefused, match=reason):
        altered(front_panel(), (step,))


@pytest.mark.parametrize("step", [LowerWaist("front", 5.0, 5.0), SwingRise("front", 5.0)])
def test_a_drawn_panel_without_these_edges_is_refused_by_name(step):
    panel = front_panel()
    unnamed = msgspec.structs.replace(
        panel,
        outline=Outline.of(
            msgspec.structs.replace(edge, name=edge.name.replace("waist", "edge-3"))
            for edge in panel.outline
        ),
        darts=(),
    )
    with pytest.raises(GeometryRefused, match=r"has no edge front\.waist"):
        altered(unnamed, (step,))
    nameless_side = msgspec.structs.replace(
        panel,
        outline=Outline.of(
            msgspec.structs.replace(edge, name=edge.name.replace("side", "edge-2"))
            for edge in panel.outline
        ),
    )
    with pytest.raises(GeometryRefused, match=r"between front\.side and front\.rise"):
        altered(nameless_side, (step,))


@pytest.mark.parametrize("panel", [front_panel(), back_panel()], ids=["front", "back"])
def test_an_edge_takes_no_shape_from_itself(panel):
    # Mirrored onto its own neighbour it would draw the hem together to one point.
    side = f"{panel.name}.side"
    with pytest.raises(GeometryRefused, match="has its own shape already"):
        altered_beside(panel, MirrorEdge(panel.name, side, side), (panel,))


def test_a_step_that_leaves_nothing_of_an_edge_is_refused(monkeypatch):
    panel = front_panel()
    kind = KINDS[LowerWaist]

    def to_nothing(_kind, panel, _step, _others):
        """The hem drawn together to its first end, the edge after it brought there."""
        edges = list(panel.outline)
        at = next(at for at, edge in enumerate(edges) if edge.name == "front.hem")
        foot = edges[at].chain.start
        following = (at + 1) % len(edges)
        edges[at] = Edge.whole("front.hem", Chain((Cubic(foot, foot, foot, foot),)))
        next_chain = edges[following].chain
        edges[following] = Edge.whole(
            edges[following].name, next_chain.with_ends(foot, next_chain.end)
        )
        return msgspec.structs.replace(panel, outline=Outline.of(edges))

    monkeypatch.setattr(type(kind), "do_beside", to_nothing)
    with pytest.raises(GeometryRefused, match=r"leaves nothing of front\.hem"):
        altered_beside(panel, LowerWaist("front", 10.0, 10.0), (panel,))
