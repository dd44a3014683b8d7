"""While a line is dragged: the lay holds, or it is told how much is short."""

import pytest

from studio.cloth.referee import faults
from studio.cloth.verdict import area_short, verdict
from studio.design.cloth import Placement
from tests.cloth.rectangles import item_of, panel, rectangle

BED = panel(500.0, 400.0)


def judged(wide, high, placements, beds=(BED,), others=(), was=(200.0, 300.0), **more):
    """The verdict when a rectangle grows from what it was, beside others that stay."""
    sewn, old = rectangle(wide, high), rectangle(*was)
    items = (item_of(sewn, *beds), *(item_of(one, *beds) for one in others))
    before = (item_of(old, *beds), *items[1:])
    # However busy the machine is: only one test is about time.
    more = {"seconds": 600.0} | more
    return verdict((sewn, *others), items, beds, placements, 2.0, before=before, **more), items


HERE = Placement("r", 0, "cloth", (112.0, 162.0))
OTHER = rectangle(100.0, 100.0, name="q")
THERE = Placement("q", 0, "cloth", (300.0, 62.0))


def test_a_lay_that_still_holds_is_told_and_follows_the_piece():
    # 20 higher: it grows at its top, and its lower edge stays where it lay.
    found, items = judged(200.0, 320.0, (HERE,))
    assert found.kind == "holds"
    assert found.placements[0].at == pytest.approx((112.0, 172.0))
    assert faults(items, (BED,), found.placements, 2.0) == ()


def test_a_piece_that_grows_into_another_is_laid_elsewhere():
    wider, items = judged(240.0, 300.0, (HERE, THERE), others=(OTHER,))
    assert wider.kind in ("moved", "short")
    tall = panel(500.0, 800.0)
    found, items = judged(240.0, 300.0, (HERE, THERE), (tall,), others=(OTHER,))
    assert found.kind == "moved"
    assert "laid elsewhere" in found.sentence
    assert [one.by for one in faults(items, (tall,), found.placements, 2.0) if one.by > 0.06] == []
    assert THERE in found.placements


def test_a_piece_that_finds_no_place_is_short_by_what_is_missing():
    # 200 and 24 of allowances in a cloth 219 wide: five are short.
    narrow = panel(219.0, 500.0)
    found, _ = judged(200.0, 300.0, (HERE,), (narrow,), was=(180.0, 300.0))
    assert found.kind == "short"
    assert found.sentence.startswith("r is short at r.")
    assert sum(one.depth for one in found.lacking[0].missing if not one.is_corner) == (
        pytest.approx(5.0, abs=0.1)
    )


def test_a_sewing_line_off_the_cloth_is_told_by_its_area():
    narrow = panel(190.0, 500.0)
    found, _ = judged(200.0, 300.0, (HERE,), (narrow,))
    assert found.kind == "short"
    assert "inside its sewing line" in found.sentence
    assert "dm²" in found.sentence


def test_by_area_alone():
    # 224 by 324 and 124 by 124 of cut line on 219 by 380.
    small = panel(219.0, 380.0)
    found, items = judged(200.0, 300.0, (HERE, THERE), (small,), others=(OTHER,))
    assert found.kind == "area"
    assert found.over == pytest.approx(224 * 324 + 124 * 124 - 219 * 380, abs=1.0)
    assert "0.5 dm²" in found.sentence
    assert area_short(items, (BED,)) == 0.0


def test_pieces_that_may_only_be_cut_from_some_stock_are_held_against_that():
    one, two = panel(219.0, 300.0, "one"), panel(2000.0, 2000.0, "two")
    sewn = rectangle(200.0, 300.0)
    items = (item_of(sewn, one), item_of(OTHER, one, two))
    assert area_short(items, (one, two)) == pytest.approx(224 * 324 - 219 * 300, abs=1.0)


def test_it_stops_when_asked_and_when_time_runs_out():
    narrow = panel(219.0, 500.0)
    assert judged(200.0, 300.0, (HERE,), (narrow,), stop=lambda: True)[0] is None
    found, _ = judged(200.0, 300.0, (HERE,), (narrow,), seconds=-1.0)
    assert found.kind == "unsure"
    assert "must lie elsewhere" in found.sentence


def test_a_locked_piece_stays_and_a_piece_that_is_gone_is_left_out():
    locked = Placement("q", 0, "cloth", (300.0, 62.0), locked=True)
    gone = Placement("z", 0, "cloth", (10.0, 10.0))
    tall = panel(500.0, 800.0)
    found, _ = judged(240.0, 300.0, (HERE, locked, gone), (tall,), others=(OTHER,))
    assert found.kind == "moved"
    assert locked in found.placements
    assert gone not in found.placements


def test_names_are_the_makers():
    narrow = panel(219.0, 500.0)
    found, _ = judged(200.0, 300.0, (HERE,), (narrow,), name=lambda key: f"{key[0]}, left")
    assert found.sentence.startswith("r, left is short at")
