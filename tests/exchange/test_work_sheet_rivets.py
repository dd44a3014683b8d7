"""Rivets: as many as pockets have open corners, and set last."""

from __future__ import annotations

from msgspec.structs import replace

from studio.cut.parts import HandPocket, PatchPocket
from studio.demo import ORCHARD_BODY
from studio.design.plain import plain_design
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from tests.shapes import COIN_POCKET

PAIR = with_parts(
    plain_design(ORCHARD_BODY),
    HandPocket(at_side=90.0, bow=40.0),
    COIN_POCKET,
    PatchPocket(name="back-pocket"),
)


def riveted(*names):
    design = PAIR
    for name in names:
        design = design.with_line(replace(design.line(name), riveted=True))
    return work_sheet_of(evaluate(design)).stages


def test_every_open_corner_of_every_copy_takes_one():
    # Two mouths and two back pockets with two corners each, one coin pocket: 4 + 4 + 2.
    stages = riveted("hand-pocket", "coin", "back-pocket")
    ready = next(one for one in stages if one.title == "Have ready")
    assert any(words.startswith("10 rivets") for words in ready.sentences)
    told = " ".join(next(one for one in stages if one.title == "Rivets").sentences)
    assert "hand-pocket: one rivet at each end of the mouth" in told
    assert told.count("4 in all") == 2
    assert "coin: one rivet in each upper corner" in told
    assert "2 in all" in told
    assert "no needle may meet one" in told


def test_they_are_set_after_all_that_is_sewn_and_only_where_asked_for():
    titles = [one.title for one in riveted("coin")]
    assert titles.index("Rivets") > titles.index("Crotch seam")
    assert titles[-3:-1] == ["Rivets", "Thread"]
    assert "Rivets" not in [one.title for one in riveted()]
    assert not any("rivet" in words for one in riveted() for words in one.sentences)


def test_a_line_that_bounds_no_pocket_takes_none():
    assert "Rivets" not in [one.title for one in riveted("hand-pocket-bag")]
