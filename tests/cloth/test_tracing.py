"""A panel being traced: points set, moved, inserted, removed; turned over when it lay face down."""

import pytest
from msgspec.structs import replace
from shapely import Polygon

from studio.cloth import tracing as trace
from studio.cloth.stash_edit import rectangle
from studio.cloth.tracing import Handle, Tracing
from studio.design.cloth import Flaw, Roll, Trace
from studio.errors import BadInput

SHAPE = ((0.0, 0.0), (300.0, 0.0), (260.0, 500.0), (40.0, 480.0))
HOLE = Flaw("hole", ((100.0, 100.0), (150.0, 100.0), (120.0, 140.0)))
SEAM = Flaw("seam", ((20.0, 300.0), (250.0, 310.0)), wide=16.0)
WHOLE = Tracing(SHAPE, (HOLE, SEAM), ((150.0, 50.0), (152.0, 400.0)))


def drawn(what, points, tracing=None):
    tracing = Tracing() if tracing is None else tracing
    for point in points:
        tracing = trace.point_added(tracing, what, point)
    return tracing


def test_a_panel_is_drawn_point_by_point():
    tracing = trace.line_finished(drawn("outline", SHAPE))
    tracing = trace.line_finished(drawn("hole", HOLE.points, tracing))
    tracing = trace.line_finished(drawn("seam", SEAM.points, tracing), 16.0)
    tracing = drawn("grain", WHOLE.grain, tracing)
    assert tracing == replace(WHOLE, what="grain") or tracing == replace(WHOLE, what="seam")
    panel = trace.panel_of(tracing, "leg", "drill")
    assert panel.outline == SHAPE
    assert panel.flaws == (HOLE, SEAM)
    assert panel.grain == WHOLE.grain


def test_an_outline_drawn_clockwise_is_turned_round():
    panel = trace.panel_of(replace(WHOLE, outline=SHAPE[::-1]), "leg", "drill")
    assert Polygon(panel.outline).exterior.is_ccw


def test_a_panel_photographed_face_down_is_the_mirror_image_and_opens_as_it_lay():
    photograph = Trace("leg.jpg", (), (), face_down=True)
    panel = trace.panel_of(WHOLE, "leg", "drill", photograph)
    assert Polygon(panel.outline).exterior.is_ccw
    assert {(-x, y) for x, y in panel.outline} == set(SHAPE)
    assert panel.flaws[0].points == tuple((-x, y) for x, y in HOLE.points)
    assert panel.grain == ((-150.0, 50.0), (-152.0, 400.0))
    again = trace.tracing_of(panel)
    assert set(again.outline) == set(SHAPE)
    assert again.flaws == WHOLE.flaws
    assert again.grain == WHOLE.grain
    assert trace.panel_of(again, "leg", "drill", photograph) == panel


@pytest.mark.parametrize(
    ("tracing", "told"),
    [
        (Tracing(), "outline first"),
        (Tracing(SHAPE), "Draw the grain"),
        (replace(WHOLE, line=((0.0, 0.0),), what="hole"), "hole is not finished"),
        (replace(WHOLE, flaws=(Flaw("stain", SHAPE),)), "nothing to cut from"),
        (replace(WHOLE, grain=((1.0, 1.0), (1.0, 1.0))), "are one"),
        (replace(WHOLE, outline=(SHAPE[0], SHAPE[2], SHAPE[1], SHAPE[3])), "crosses itself"),
    ],
)
def test_what_is_missing_is_told(tracing, told):
    with pytest.raises(BadInput, match=told):
        trace.panel_of(tracing, "leg", "drill")


@pytest.mark.parametrize(
    ("what", "points", "told"),
    [
        ("outline", SHAPE[:2], "three points"),
        ("outline", (SHAPE[0], SHAPE[2], SHAPE[1], SHAPE[3]), "outline crosses itself"),
        ("stain", ((0.0, 0.0), (10.0, 0.0), (20.0, 0.0)), "stain"),
        ("seam", SHAPE[:1], "two points"),
        ("grain", SHAPE[:1], "second place"),
    ],
)
def test_a_line_that_cannot_be_finished_stays_and_says_why(what, points, told):
    with pytest.raises(BadInput, match=told):
        trace.line_finished(drawn(what, points))


def test_points_are_found_moved_inserted_and_removed():
    corner = trace.handle_at(WHOLE, (297.0, 3.0), 5.0)
    assert corner == Handle("outline", 1)
    assert trace.handle_at(WHOLE, (200.0, 200.0), 5.0) is None
    moved = trace.handle_moved(WHOLE, corner, (310.0, 5.0))
    assert moved.outline[1] == (310.0, 5.0)
    before = trace.edge_at(WHOLE, (150.0, 2.0), 5.0)
    assert before == Handle("outline", 1)
    assert trace.handle_inserted(WHOLE, before, (150.0, 2.0)).outline == (
        SHAPE[0],
        (150.0, 2.0),
        *SHAPE[1:],
    )
    last = trace.edge_at(WHOLE, (20.0, 240.0), 1.0)
    assert last == Handle("outline", 4)
    assert trace.handle_removed(WHOLE, corner).outline == (SHAPE[0], *SHAPE[2:])
    triangle = replace(WHOLE, outline=SHAPE[:3])
    with pytest.raises(BadInput, match="three points"):
        trace.handle_removed(triangle, Handle("outline", 0))


def test_points_of_flaws_and_grain():
    end = trace.handle_at(WHOLE, (251.0, 311.0), 5.0)
    assert end == Handle("flaw", 1, 1)
    assert trace.edge_at(WHOLE, (130.0, 305.0), 3.0) == Handle("flaw", 1, 1)
    assert trace.handle_removed(WHOLE, end).flaws == (HOLE,)
    assert trace.handle_removed(WHOLE, Handle("flaw", 2, 0)).flaws == (SEAM,)
    assert trace.handle_removed(WHOLE, Handle("grain", 1)).grain == ()
    assert trace.handle_moved(WHOLE, Handle("grain", 1), (1.0, 2.0)).grain[1] == (1.0, 2.0)


def test_a_roll_keeps_its_outline():
    tracing = trace.tracing_of(Roll("rest", "drill", 1500.0, 600.0, flaws=(HOLE,)))
    assert tracing.fixed
    assert trace.handle_at(tracing, (0.0, 0.0), 5.0) is None
    assert trace.edge_at(tracing, (700.0, 0.0), 5.0) is None
    assert trace.outline_removed(tracing) == tracing
    assert trace.outline_removed(WHOLE).outline == ()


def test_a_rectangle_and_a_blank_are_opened():
    assert trace.tracing_of(rectangle("leg", "drill", 10.0, 20.0)).outline[2] == (10.0, 20.0)
    empty = trace.blank("leg", "drill", "leg.jpg")
    assert trace.tracing_of(empty) == Tracing()
    assert empty.trace.photograph == "leg.jpg"
