"""What can be held, and what is told of it."""

import re

import msgspec
import pytest

from studio.cut import edit
from studio.cut.edit import Grip
from studio.cut.hold_state import reachable, state_of_holds
from studio.cut.offers import offers
from studio.demo import demo_design
from studio.design import holds
from studio.design.holds import LinePoint, renumbered
from studio.pattern import evaluate

DESIGN = demo_design()
PATTERN = evaluate(DESIGN)
YOKE = next(line for line in PATTERN.lines if line.name == "yoke")


MOVING = holds.Square | holds.Level | holds.Upright | holds.Mirrored | holds.CornersAdd
"""Holds that ask for what a line rarely has by itself."""


def test_each_offer_holds_what_already_is_so_that_nothing_jumps():
    for offer in offers(DESIGN, YOKE, Grip("yoke", "node", 1), PATTERN.lines, PATTERN.panels):
        if isinstance(offer.hold, MOVING):
            continue
        made = evaluate(msgspec.structs.replace(DESIGN, holds=(offer.hold,)))
        line = next(line for line in made.lines if line.name == "yoke")
        for one, two in zip(line.nodes, YOKE.nodes, strict=True):
            assert one.at.distance_to(two.at) < 0.5, offer.words
        assert [f for f in made.findings if f.rule == "hold"] == []


def test_every_kind_of_hold_is_offered_where_it_makes_sense():
    found = set()
    for line in PATTERN.lines:
        for index in range(len(line.nodes)):
            kind = "node" if 0 < index < len(line.nodes) - 1 else "start" if index == 0 else "end"
            grip = Grip(line.name, kind, index)
            found |= {
                type(offer.hold)
                for offer in offers(DESIGN, line, grip, PATTERN.lines, PATTERN.panels)
            }
    corner = msgspec.structs.replace(DESIGN.line("yoke").path.nodes[0], smooth=False)
    path = msgspec.structs.replace(DESIGN.line("yoke").path, nodes=(corner,))
    sharp = DESIGN.with_line(msgspec.structs.replace(DESIGN.line("yoke"), path=path))
    line = next(line for line in evaluate(sharp).lines if line.name == "yoke")
    found |= {
        type(offer.hold)
        for offer in offers(sharp, line, Grip("yoke", "node", 1), (line,), PATTERN.panels)
    }
    beside = msgspec.structs.replace(DESIGN.line("yoke"), name="second")
    both = evaluate(msgspec.structs.replace(DESIGN, lines=(*DESIGN.lines, beside)))
    found |= {
        type(offer.hold)
        for offer in offers(both.design, both.lines[-1], None, both.lines, both.panels)
    }
    assert found == set(holds.Hold.__args__)


def test_what_is_held_is_not_offered_again():
    held = holds.Length("yoke", 250.0)
    design = msgspec.structs.replace(DESIGN, holds=(held,))
    words = [o.words for o in offers(design, YOKE, None, PATTERN.lines, PATTERN.panels)]
    assert not any(word.startswith("Length") for word in words)


def test_a_length_out_of_reach_is_told_with_how_far_it_can_go():
    """Shorter than the straight line between its ends no line can be."""
    design = msgspec.structs.replace(DESIGN, holds=(holds.Length("yoke", 200.0),))
    chord = YOKE.nodes[0].at.distance_to(YOKE.nodes[-1].at)
    [(hold, value, against)] = reachable(design, PATTERN.panels, "yoke")
    assert hold == holds.Length("yoke", 200.0)
    assert value == pytest.approx(chord, abs=0.05)
    assert any("start of yoke" in name for name in against)
    told = state_of_holds(design, PATTERN.panels, "yoke")
    [number] = re.findall(r"can go as far as (\d+\.\d) mm", told)
    assert chord < float(number) < chord + 0.1
    assert "left" not in told
    # What is told can be typed, and a digit less cannot.
    for length, is_met in ((float(number), True), (float(number) - 0.1, False)):
        typed = msgspec.structs.replace(DESIGN, holds=(holds.Length("yoke", length),))
        assert (reachable(typed, PATTERN.panels, "yoke") == ()) is is_met
    assert reachable(DESIGN, PATTERN.panels, "yoke") == ()


def test_a_distance_out_of_reach_is_told_with_a_number_that_can_be_typed():
    """No two points of a line are further apart than it is long."""
    far = holds.Distance(LinePoint("yoke", 0), LinePoint("yoke", 1), 900.0)
    design = msgspec.structs.replace(DESIGN, holds=(far, holds.Length("yoke", 300.0)))
    told = state_of_holds(design, PATTERN.panels, "yoke")
    [number] = re.findall(r"Distance, yoke can go as far as (\d+\.\d) mm", told)
    assert 200.0 < float(number) < 300.0
    nearer = msgspec.structs.replace(far, mm=float(number))
    typed = msgspec.structs.replace(DESIGN, holds=(nearer, holds.Length("yoke", 300.0)))
    assert [one for one in evaluate(typed).findings if one.rule == "hold"] == []


def test_holds_of_which_no_number_alone_is_in_the_way_are_told_by_name():
    """A line that is 240 mm long in two straight stretches of at most 110 and 110 mm, between ends
    that are more than 250 mm apart: no one number mends that.
    """
    points = [LinePoint("yoke", index) for index in range(3)]
    asked = (
        holds.Length("yoke", 200.0),
        holds.Distance(points[0], points[1], 110.0),
        holds.Distance(points[1], points[2], 110.0),
    )
    design = msgspec.structs.replace(DESIGN, holds=asked)
    assert YOKE.nodes[0].at.distance_to(YOKE.nodes[-1].at) > 240.0
    assert reachable(design, PATTERN.panels, "yoke") == ()
    told = state_of_holds(design, PATTERN.panels, "yoke")
    [found] = [one for one in evaluate(design).findings if one.rule == "hold"]
    assert told == found.message
    assert "left" not in told


def test_a_closed_shape_has_no_offers():
    pocket = next(line for line in PATTERN.lines if line.name == "back-pocket")
    assert offers(DESIGN, pocket, None, PATTERN.lines, PATTERN.panels) == []


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ((), ""),
        ((holds.Length("yoke", 251.0),), "ways to move are left"),
        ((holds.Length("yoke", 251.0), holds.Length("yoke", 260.0)), "clashes with Length, yoke"),
        (
            (
                holds.Level(LinePoint("yoke", 0), LinePoint("yoke", 1)),
                holds.Level(LinePoint("yoke", 1), LinePoint("yoke", 0)),
            ),
            "adds nothing",
        ),
    ],
)
def test_the_state_of_the_holds_in_a_sentence(asked, words):
    design = msgspec.structs.replace(DESIGN, holds=asked)
    told = state_of_holds(design, PATTERN.panels, "yoke")
    assert words in told
    assert bool(told) == bool(asked)


def test_holds_count_on_when_nodes_come_and_go():
    asked = (
        holds.Level(LinePoint("yoke", 0), LinePoint("yoke", 2)),
        holds.Smooth("yoke", 1),
        holds.Length("yoke", 250.0),
    )
    more = renumbered(asked, "yoke", 1, 1)
    assert more[0].b.node == 3
    assert more[1].node == 2
    less = renumbered(more, "yoke", 2, -1)
    assert less == (holds.Level(LinePoint("yoke", 0), LinePoint("yoke", 2)), asked[2])


@pytest.mark.parametrize(("name", "node"), [("yoke", 1), ("back-pocket", 2)])
def test_a_node_added_before_one_that_is_held_leaves_the_hold_where_it_was(name, node):
    drawn = next(one for one in PATTERN.lines if one.name == name)
    fixed = holds.Fixed(LinePoint(name, node), drawn.nodes[node].at)
    design = msgspec.structs.replace(DESIGN, holds=(fixed,))
    before = drawn.chain.cubics[node - 1]
    (held,) = edit.with_node(design, drawn, before.at(0.5)).holds
    assert held.point.node == node + 1
    after = drawn.chain.cubics[node]
    (same,) = edit.with_node(design, drawn, after.at(0.5)).holds
    assert same.point.node == node
