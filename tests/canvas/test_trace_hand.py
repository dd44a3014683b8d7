"""The hand that traces: each gesture one step, every way out leaves things whole."""

import pytest

from studio.canvas.trace_hand import TraceHand, TraceState
from studio.cloth.tracing import Handle, Tracing
from studio.errors import BadInput

SHAPE = ((0.0, 0.0), (300.0, 0.0), (260.0, 500.0), (40.0, 480.0))


class Ear:
    def __init__(self):
        self.told = []
        self.changes = 0

    def changed(self):
        self.changes += 1


@pytest.fixture
def ear():
    return Ear()


def hand_of(ear, tracing=None, marks=()):
    return TraceHand(TraceState(marks, tracing or Tracing()), ear.changed, ear.told.append)


def click(hand, at, reach=3.0):
    hand.press(at, reach)
    hand.click(at)


def test_an_outline_closes_at_its_first_point_and_the_grain_follows(ear):
    hand = hand_of(ear)
    hand.take("outline")
    for at in (*SHAPE, (1.0, 1.0)):
        click(hand, at)
    assert hand.tracing.outline == SHAPE
    assert hand.tool == "grain"
    click(hand, (150.0, 20.0))
    click(hand, (150.0, 400.0))
    assert hand.tracing.grain == ((150.0, 20.0), (150.0, 400.0))
    assert hand.tool == "move"
    whole = hand.tracing
    for _ in range(7):
        hand.undo()
    assert hand.tracing == Tracing()
    assert not hand.can_undo
    for _ in range(7):
        hand.redo()
    assert hand.tracing == whole
    assert not hand.can_redo


def test_a_drag_is_one_step_and_escape_puts_it_back(ear):
    hand = hand_of(ear, Tracing(SHAPE))
    assert hand.press((299.0, 1.0), 3.0)
    hand.drag((310.0, 10.0))
    hand.drag((320.0, 20.0))
    assert hand.cancel()
    assert hand.tracing.outline == SHAPE
    assert not hand.can_undo
    hand.press((299.0, 1.0), 3.0)
    hand.drag((310.0, 10.0))
    hand.drag((320.0, 20.0))
    hand.drop()
    assert hand.tracing.outline[1] == (320.0, 20.0)
    hand.undo()
    assert hand.tracing.outline == SHAPE
    assert not hand.can_undo


def test_points_are_inserted_nudged_and_deleted(ear):
    hand = hand_of(ear, Tracing(SHAPE))
    hand.double((150.0, 1.0), 3.0)
    assert hand.tracing.outline[1] == (150.0, 1.0)
    assert hand.picked == Handle("outline", 1)
    assert hand.nudge(0.1, 10.0)
    assert hand.tracing.outline[1] == pytest.approx((150.1, 11.0))
    hand.delete()
    assert hand.tracing.outline == SHAPE
    assert not hand.nudge(1.0, 0.0)
    hand.double((150.0, 200.0), 3.0)
    assert hand.tracing.outline == SHAPE


def test_what_cannot_be_finished_is_told_and_stays_under_way(ear):
    hand = hand_of(ear)
    hand.take("hole")
    click(hand, SHAPE[0])
    click(hand, SHAPE[1])
    hand.finish()
    assert "three points" in ear.told[-1]
    assert hand.tracing.line == SHAPE[:2]
    assert hand.cancel()
    assert hand.tracing.line == ()
    assert not hand.cancel()
    hand.finish()
    hand = hand_of(ear, Tracing(SHAPE[:3]))
    hand.press(SHAPE[0], 3.0)
    hand.delete()
    assert "three points" in ear.told[-1]
    hand.take("outline")
    click(hand, (500.0, 500.0))
    assert "is drawn" in ear.told[-1]


def test_another_tool_drops_the_line_under_way(ear):
    hand = hand_of(ear)
    hand.take("stain")
    click(hand, SHAPE[0])
    hand.take("worn")
    assert hand.tracing.line == ()
    click(hand, SHAPE[0])
    assert hand.tracing.what == "worn"


def test_marks_are_set_moved_and_taken_away(ear):
    hand = hand_of(ear)
    hand.stage, hand.wanted = "scale", 2
    click(hand, (10.0, 20.0))
    click(hand, (500.0, 20.0))
    click(hand, (900.0, 900.0))
    assert "All marks" in ear.told[-1]
    assert hand.state.marks == ((10.0, 20.0), (500.0, 20.0))
    assert hand.picked == 1
    hand.nudge(0.1, 1.0)
    assert hand.state.marks[1] == pytest.approx((500.1, 19.0))
    hand.press((12.0, 22.0), 3.0)
    hand.drag((15.0, 25.0))
    hand.drop()
    assert hand.state.marks[0] == (15.0, 25.0)
    hand.delete()
    assert len(hand.state.marks) == 1
    hand.double((15.0, 25.0), 3.0)
    assert len(hand.state.marks) == 1


def test_undoing_a_mark_leads_back_to_the_photograph(ear):
    hand = hand_of(ear)
    hand.set_stage("scale")
    hand.wanted = 2
    click(hand, (10.0, 20.0))
    hand.set_stage("draw")
    hand.undo()
    assert hand.stage == "scale"


def test_a_new_scale_carries_what_was_ever_drawn_or_nothing(ear):
    hand = hand_of(ear, Tracing(SHAPE))
    hand.set_tracing(Tracing(SHAPE[:3]))
    hand.carry(lambda place: (place[0] * 2.0, place[1]))
    hand.undo()
    assert hand.tracing.outline == tuple((x * 2.0, y) for x, y in SHAPE)

    def refuses(place):
        raise BadInput("too far")

    kept = hand.state
    with pytest.raises(BadInput):
        hand.carry(refuses)
    assert hand.state == kept


KEYS = {
    "undo": lambda hand: hand.undo(),
    "redo": lambda hand: hand.redo(),
    "delete": lambda hand: hand.delete(),
    "nudge": lambda hand: hand.nudge(1.0, 0.0),
    "stage": lambda hand: hand.set_stage("scale"),
    "finish": lambda hand: hand.finish(),
    "carry": lambda hand: hand.carry(lambda place: (place[0] + 5.0, place[1])),
}


@pytest.mark.parametrize("released", ["drop", "click"])
@pytest.mark.parametrize("key", KEYS)
def test_a_key_in_the_midst_of_a_drag_ends_it_and_no_step_is_lost(ear, key, released):
    def began():
        hand = hand_of(ear, Tracing(SHAPE))
        hand.picked = Handle("outline", 1)
        hand.nudge(2.0, 0.0)
        hand.picked = Handle("outline", 1)
        return hand

    quiet, hand = began(), began()
    assert hand.press((301.0, 1.0), 3.0)
    if released == "drop":
        hand.drag((340.0, 90.0))
    for one in (quiet, hand):
        KEYS[key](one)
    if released == "drop":
        hand.drag((350.0, 99.0))
        hand.drop()
    else:
        hand.click((301.0, 1.0))
    assert hand.state == quiet.state
    for step in ("undo", "redo", "redo"):
        for one in (quiet, hand):
            KEYS[step](one)
        assert hand.state == quiet.state
