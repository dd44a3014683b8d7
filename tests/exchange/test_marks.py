"""What is written on a piece, and how its notches are drawn."""

import pytest
from msgspec.structs import replace

from studio.curves import Point
from studio.exchange.marks import label_lines, slits
from studio.sew import Notch
from tests.exchange.pieces import flap


@pytest.mark.parametrize(("wearer", "told"), [("Orchard hand", ["for: Orchard hand"]), ("", [])])
def test_the_label_tells_name_cut_cloth_and_whose_it_is(wearer, told):
    lines = label_lines(replace(flap("cuff"), made_for=wearer))
    assert lines[0] == "cuff"
    assert lines[1].startswith("cut ")
    assert lines[2] == "cloth: main"
    assert [line for line in lines if line.startswith("for: ")] == told


@pytest.mark.parametrize(
    ("shape", "across", "twice"),
    [("slit", 0.0, 3.0)] + [(shape, 4.0, 15.0) for shape in ("T", "castle", "check", "U")],
)
def test_a_notch_is_as_wide_as_its_shape_and_twin_notches_stand_clear_of_each_other(
    shape, across, twice
):
    """Slits 3 apart, other shapes 4 wide and 7 apart, 5 deep: common practice, no source."""
    for kind, wide in (("single", across), ("double", twice)):
        notch = Notch(Point(50, 0), Point(50, -12), Point(50, -7), kind, "seam", shape)
        ends = [end for stroke in slits(notch) for end in stroke]
        assert max(end.x for end in ends) - min(end.x for end in ends) == pytest.approx(wide)
        assert {round(end.y, 6) for end in (min(ends, key=_high), max(ends, key=_high))} == {
            -12,
            -7,
        }


def _high(point):
    return point.y
