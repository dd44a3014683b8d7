"""What a project file keeps is found again when it is equal."""

import msgspec

from studio.curves import Point
from studio.design.block import DrawnDart, DrawnPanel
from studio.design.joins import EdgeRef, Join, JoinSide


def panel(levels):
    dart = DrawnDart("dart", "front.waist", Point(0.0, 0.0), Point(10.0, 0.0), Point(5.0, -80.0))
    return DrawnPanel("front", (), (dart,), levels)


def test_levels_in_another_order_are_the_same_panel():
    one, two = panel({"hip": 1.0, "knee": 2.0}), panel({"knee": 2.0, "hip": 1.0})
    assert one == two
    assert {one: "found"}[two] == "found"
    assert panel({"hip": 1.0}) not in {one}


def test_a_changed_value_is_not_found_by_what_was_added_up_for_the_one_before():
    side = JoinSide((EdgeRef("front", "front.side"),))
    join = Join("side seam", side, JoinSide((EdgeRef("back", "back.side"),)))
    known = {join: "found"}
    assert known[msgspec.json.decode(msgspec.json.encode(join), type=Join)] == "found"
    assert msgspec.structs.replace(join, ease=3.0) not in known
