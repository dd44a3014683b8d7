"""A patch whose width, height and lean are typed: read off its nodes, and given others."""

import pytest
import shapely
from msgspec.structs import replace

from studio.curves import Vector
from studio.cut.parts import PatchPocket
from studio.cut.patch_shape import PatchShape, shape_of, with_shape
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.errors import GeometryRefused
from studio.pattern import with_parts

PLAIN = plain_design(ORCHARD_BODY)
KINDS = {
    "rectangle": {"point": 0.0},
    "point": {"point": 28.0},
    "corners": {"corner": 22.0, "point": 0.0},
}


def pocket(kind, **more):
    asked = {"width": 150.0, "height": 140.0, "lean": -4.0} | KINDS[kind] | more
    return with_parts(PLAIN, PatchPocket(name="p", **asked)).line("p")


def places(line):
    return [(node.at.x, node.at.y) for node in line.path.nodes]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("panel", ["front", "back"])
@pytest.mark.parametrize("from_side", [False, True])
def test_a_changed_patch_is_the_one_the_part_would_have_made(kind, panel, from_side):
    """The part itself is the other road to the same shape."""
    where = {"panel": panel, "from_side": from_side, "inward": 40.0, "down": 100.0}
    line = pocket(kind, **where)
    assert shape_of(line) == PatchShape(150.0, 140.0, -4.0)
    made = with_shape(line, PatchShape(117.3, 163.1, 6.5))
    other = pocket(kind, width=117.3, height=163.1, lean=6.5, **where)
    for one, two in zip(places(made), places(other), strict=True):
        assert one == pytest.approx(two, abs=1e-9)
    assert made.path.turn == other.path.turn
    assert shape_of(made).width == pytest.approx(117.3, abs=1e-9)
    assert shape_of(made).height == pytest.approx(163.1, abs=1e-9)


def test_a_pocket_that_tapers_keeps_its_taper_and_its_point():
    """Areas by shapely: a wider one gains a strip that is as high as the middle of the pocket."""
    line = demo_design().line("back-pocket")
    assert shape_of(line) == PatchShape(150.0, 138.0, -4.0)
    wider = with_shape(line, PatchShape(160.0, 138.0, -4.0))
    assert places(wider)[:3] == [(0.0, 0.0), (-160.0, 0.0), (-154.0, -138.0)]
    assert places(wider)[4] == (-6.0, -138.0)
    tip, before = places(wider)[3], places(line)[3]
    assert tip == (before[0] - 5.0, before[1])
    polygon = shapely.Polygon(places(wider))
    assert polygon.is_valid
    gained = polygon.area - shapely.Polygon(places(line)).area
    assert gained == pytest.approx(10.0 * (138.0 + 28.0 / 2.0), abs=1e-6)


def test_a_shape_that_no_three_numbers_tell_has_none():
    line = pocket("point")
    nodes = line.path.nodes

    def changed(index, **what):
        other = replace(nodes[index], **what)
        path = replace(line.path, nodes=(*nodes[:index], other, *nodes[index + 1 :]))
        return replace(line, path=path)

    for index, node in enumerate(nodes):
        assert shape_of(changed(index, at=node.at + Vector(3.0, 2.0))) is None
        assert shape_of(changed(index, smooth=True)) is None
        assert shape_of(changed(index, handle_out=Vector(4.0, 4.0))) is None
    assert shape_of(replace(line, path=replace(line.path, nodes=nodes[:3]))) is None
    assert shape_of(replace(line, kind="mark")) is None
    yoke = demo_design().line("yoke")
    assert shape_of(yoke) is None
    with pytest.raises(GeometryRefused, match="no patch"):
        with_shape(yoke, PatchShape(100.0, 100.0, 0.0))


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        (PatchShape(40.0, 140.0, 0.0), "would meet"),
        (PatchShape(150.0, 21.0, 0.0), "too little"),
        (PatchShape(-10.0, 140.0, 0.0), "would meet"),
    ],
)
def test_what_would_lie_over_itself_is_refused(wanted, words):
    with pytest.raises(GeometryRefused, match=words):
        with_shape(pocket("corners"), wanted)
