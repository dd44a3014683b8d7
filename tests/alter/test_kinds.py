"""What every kind of step owes: it is done, told, drawn, taken hold of, and leaves names alone."""

import string

import msgspec
import pytest

from studio.alter import KINDS, altered, altered_beside
from studio.curves import Point
from studio.design import (
    FairEdge,
    LowerWaist,
    MirrorEdge,
    Straighten,
    TakeIn,
    TakeOffDart,
    TrueSeam,
)
from studio.errors import GeometryRefused
from tests.shapes import back_panel, front_panel

PANELS = [front_panel(), back_panel()]
CASES = [(kind, panel) for kind in KINDS.values() for panel in PANELS]
NAMES = [f"{type(kind).__name__}-{panel.name}" for kind, panel in CASES]


@pytest.mark.parametrize(("kind", "panel"), CASES, ids=NAMES)
def test_a_fresh_step_keeps_every_edge_and_its_order(kind, panel):
    made = altered_beside(panel, kind.fresh(panel), tuple(PANELS))
    assert [edge.name for edge in made.outline] == [edge.name for edge in panel.outline]
    for dart in made.darts:
        chain = made.outline.edge(dart.edge).chain
        for end in (dart.first, dart.last):
            assert chain.nearest(end)[1] < 1e-6


ALSO = (
    TakeIn("front", "front.inseam", -5.0, "crotch", upper="hip", lower="knee"),
    TakeIn("front", "front.inseam", 4.0, "crotch", lower="knee"),
    TakeIn("front", "front.side", 6.0, "waist", lower="hip"),
    TakeIn("front", "front.side", -6.0, "hem", upper="knee"),
)
"""Corners moved level, and along their neighbour with darts on it and without."""


@pytest.mark.parametrize(
    ("panel", "step"),
    [*((panel, kind.fresh(panel)) for kind, panel in CASES), *((PANELS[0], step) for step in ALSO)],
    ids=[*NAMES, *(f"TakeIn-{step.edge}-{step.at}-{step.amount}" for step in ALSO)],
)
def test_places_on_an_altered_edge_are_mm_of_what_it_is_now(panel, step):
    made = altered_beside(panel, step, tuple(PANELS))
    for edge in made.outline:
        assert edge.start == pytest.approx(0.0, abs=1e-6)
        assert edge.end == pytest.approx(edge.length, abs=1e-6)


@pytest.mark.parametrize(("kind", "panel"), CASES, ids=NAMES)
def test_a_step_is_told_and_drawn_with_points_that_exist(kind, panel):
    step = kind.fresh(panel)
    assert kind.sentence(step).endswith(".")
    drafting = kind.drafting(panel, step)
    letters = string.ascii_uppercase[: len(drafting.points)]
    said = " ".join(sentence.format(*letters) for sentence in drafting.sentences)
    assert all(letter in said for letter in letters)


NOTHING_TO_PULL = {TakeOffDart, FairEdge, Straighten, MirrorEdge, TrueSeam}
"""Steps of which no length shows where it would lie on the panel."""


@pytest.mark.parametrize(("kind", "panel"), CASES, ids=NAMES)
def test_a_handle_dragged_to_where_it_is_changes_nothing_and_elsewhere_something(kind, panel):
    step = kind.fresh(panel)
    handles = kind.handles(panel, step)
    places = {field.name for field in kind.fields if field.asks == "place"}
    assert places <= {handle.field for handle in handles}
    assert bool(handles) is (type(step) not in NOTHING_TO_PULL)
    for handle in handles:
        same = kind.dragged(panel, step, handle.field, handle.at)
        far = kind.dragged(panel, step, handle.field, handle.at + (Point(9.0, -7.0) - Point(0, 0)))
        again = {h.field: h.at for h in kind.handles(panel, same)}
        assert again[handle.field].distance_to(handle.at) < 1e-6
        assert far != step


@pytest.mark.parametrize(("kind", "panel"), CASES, ids=NAMES)
def test_a_step_switched_off_leaves_the_panel_as_it_is(kind, panel):
    step = msgspec.structs.replace(kind.fresh(panel), active=False)
    assert altered(panel, (step,)) is panel


@pytest.mark.parametrize(("kind", "panel"), CASES, ids=NAMES)
def test_each_field_shown_is_one_of_the_step(kind, panel):
    names = {field.name for field in msgspec.structs.fields(kind.fresh(panel))}
    assert {field.name for field in kind.fields} <= names


def test_a_panel_without_darts_refuses_steps_on_darts_by_name():
    bare = msgspec.structs.replace(front_panel(), darts=())
    for kind in KINDS.values():
        step = kind.fresh(front_panel())
        if any(field.asks == "dart" for field in kind.fields):
            with pytest.raises(GeometryRefused, match="dart"):
                kind.do(bare, step)
            with pytest.raises(GeometryRefused, match="no dart"):
                kind.fresh(bare)


def test_a_seam_is_trued_to_the_other_panels_to_a_millionth():
    front, back = front_panel(), back_panel()
    longer = altered(front, (LowerWaist("front", 0.0, 7.0),))
    for step, other in (
        (TrueSeam("back", "back.side", "front.side"), longer),
        (TrueSeam("back", "back.rise", "front.side", ease=-640.0), front),
    ):
        wanted = other.outline.edge(step.other).length + step.ease
        if abs(wanted - back.outline.edge(step.edge).length) > 60.0:
            with pytest.raises(GeometryRefused, match="more than trueing"):
                altered_beside(back, step, (other,))
            continue
        made = altered_beside(back, step, (other,))
        assert made.outline.edge(step.edge).length == pytest.approx(wanted, abs=1e-6)


def test_a_seam_without_its_other_panel_is_told():
    with pytest.raises(GeometryRefused, match="no panel front"):
        altered_beside(back_panel(), TrueSeam("back", "back.side", "front.side"), ())
