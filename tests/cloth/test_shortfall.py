"""What is missing where a piece does not fit: closed forms, shapely, and the demo's legs."""

import math

import pytest
import shapely
from msgspec.structs import replace
from shapely import Point

from studio.block import Dart
from studio.check import shortage_taken
from studio.cloth.bed import bed_of
from studio.cloth.items import items_of
from studio.cloth.missing import hole_words, missing_at, missing_words, sentences, shortages_of
from studio.cloth.nest import SHARES, nest_of
from studio.cloth.shortfall import cleared, least_loss, losses
from studio.cloth.stance import laid, lying, stance_of
from studio.curves import Point as SewnPoint
from studio.demo import demo_design
from studio.design.cloth import Cloth, CuttingRule, Flaw, Placement, SalvagedPanel
from studio.pattern import evaluate
from tests.cloth.rectangles import item_of, panel, rectangle

PIECE = rectangle(200.0, 300.0)
ROOMY = panel(400.0, 500.0)


def placed(x, y, sewn=PIECE, bed=ROOMY, **more):
    item = item_of(sewn, bed)
    placement = Placement("r", 0, bed.name, (x, y), **more)
    return missing_at(sewn, item.ways[0], placement, bed)


def by_edge(found):
    return {one.edge: one for one in found.missing if not one.is_corner}


def test_a_piece_that_lies_whole_on_the_cloth_lacks_nothing():
    found = placed(200.0, 250.0)
    assert (found.fits, found.crosses, found.area, found.missing) == (True, False, 0.0, ())


def test_a_panel_five_too_narrow_leaves_one_edge_exactly_five_short():
    # 200 and twice 12 are 224; the cloth is 219 wide and the left allowance lies on its edge.
    bed = panel(219.0, 500.0)
    found = placed(112.0, 250.0, bed=bed)
    edges = by_edge(found)
    assert list(edges) == ["r.side"]
    side = edges["r.side"]
    assert (side.start, side.end) == (0.0, 300.0)
    assert side.depth == pytest.approx(5.0, abs=1e-9)
    assert side.of == 12.0
    assert found.area == pytest.approx(5.0 * 324.0, abs=1e-6)
    assert found.inside == 0.0
    # Its two corners: 12 by 12, of which the outer 5 are cut off; along the diagonal 5 root 2.
    corners = [one for one in found.missing if one.is_corner]
    assert [one.edge for one in corners] == ["r.hem", "r.side"]
    for corner in corners:
        assert corner.of == pytest.approx(12.0 * math.sqrt(2.0), abs=1e-6)
        assert corner.depth == pytest.approx(5.0 * math.sqrt(2.0), abs=1e-6)


def test_the_search_finds_what_is_missing_by_hand():
    bed = panel(219.0, 500.0)
    found = least_loss(item_of(PIECE, bed), PIECE, (bed,))
    assert not found.crosses
    # However it is shifted, the five are missing: on one side, or shared by two.
    assert found.area == pytest.approx(5.0 * 324.0, rel=0.01)
    depths = [one.depth for one in by_edge(found).values()]
    assert sum(depths) == pytest.approx(5.0, abs=0.05)


def test_what_is_missing_least_is_found_at_the_far_end_of_a_wide_cloth():
    # 324 are needed and 319 are there; left of 650 the cloth has holes that no piece goes between.
    holes = tuple(
        Flaw("hole", ((x, 140.0), (x + 20.0, 140.0), (x + 20.0, 180.0), (x, 180.0)))
        for x in range(100, 650, 100)
    )
    bed = panel(900.0, 319.0, flaws=holes)
    found = least_loss(item_of(PIECE, bed), PIECE, (bed,))
    assert found.placement.at[0] - 112.0 > 600.0
    assert found.area == pytest.approx(5.0 * 224.0, rel=0.01)


def test_of_two_beds_the_one_that_lacks_less_is_taken_and_one_that_fits_before_all():
    beds = (panel(214.0, 500.0, "ten"), panel(219.0, 500.0, "five"), panel(224.5, 500.0, "whole"))
    item = item_of(PIECE, *beds)
    assert least_loss(item, PIECE, beds[:2]).placement.stock == "five"
    assert least_loss(item, PIECE, beds).placement.stock == "whole"
    assert least_loss(item, PIECE, beds).area < 1.0


DART = Dart("dart", "r.waist", SewnPoint(110, 300), SewnPoint(90, 300), SewnPoint(100, 200))
DARTED = rectangle(200.0, 300.0, darts=(DART,))
TWICE = 0.99 / 1.01
"""Cosine of the dart's angle, 2h with tan h a tenth. By hand (tests/sew/test_roof.py): the peak of
the roof lies 112 / cos 2h above the dart's point, the waist's cut line 112.
"""


def cut_short(by):
    """The darted rectangle on cloth that ends so far below the peak of its roof."""
    high = 324.0 + 112.0 / TWICE - 112.0
    bed = panel(224.0, high - by)
    return bed, placed(112.0, high / 2.0, DARTED, bed)


def assert_lies_there(found, bed):
    """Cut without what is missing, it lies on the cloth; shapely tells."""
    taken = shortages_of(found, DARTED.piece.outline)
    there = lying(stance_of(DARTED), found.placement, 90.0)
    less = laid(stance_of(DARTED, None, taken).cut, there)
    assert shapely.difference(less, bed.usable).area < 1e-6


def test_the_roof_over_a_dart_is_missed_where_only_it_is_off_the_cloth():
    assert cut_short(-0.001)[1].fits
    bed, found = cut_short(1.0)
    (roof,) = found.missing
    assert (roof.edge, roof.of, found.crosses) == ("r.waist", 12.0, False)
    assert (roof.start, roof.end) == pytest.approx((90.0, 110.0), abs=1e-6)
    # The fold lies turned by 2h when the dart is folded: square to the waist that is less.
    assert roof.depth == pytest.approx(TWICE, abs=1e-6)
    assert_lies_there(found, bed)


def test_what_is_missing_over_a_dart_is_measured_where_the_dart_comes_to_lie():
    # All along the waist 5 are missing; of the fold, 107 from the point, 12 less 107 cos 2h - 100.
    bed, found = cut_short(112.0 / TWICE - 112.0 + 5.0)
    (waist,) = by_edge(found).values()
    assert (waist.start, waist.end) == (0.0, 200.0)
    assert waist.depth == pytest.approx(112.0 - 107.0 * TWICE, abs=1e-6)
    assert_lies_there(found, bed)


def test_outlines_with_less_allowance_have_roofs_as_the_cut_line_has():
    stance = stance_of(DARTED)
    tops = [max(y for _, y in outline) for outline in nest_of(DARTED, stance).outlines]
    point = stance.move(DART.point).y
    peaks = [(100.0 + 12.0 * share) / TWICE for share in SHARES[:-1]]
    assert tops == pytest.approx([*(point + peak for peak in peaks), point + 100.0], abs=1e-6)
    # Where the cut line runs straight over a dart, so do they.
    near = Dart("dart", "r.waist", SewnPoint(23, 300), SewnPoint(3, 300), SewnPoint(13, 200))
    plain = rectangle(200.0, 300.0, darts=(near,))
    assert len(plain.trouble) == 1
    tops = [max(y for _, y in outline) for outline in nest_of(plain, stance_of(plain)).outlines]
    assert tops == pytest.approx([162.0, 159.0, 156.0, 153.0, 150.0], abs=1e-6)


def test_a_dart_that_would_not_be_caught_in_its_seam_crosses_the_sewing_line():
    # Its fold, cut off 101 from the point, comes to lie 101 cos 2h from it: 99, under the waist.
    _, found = cut_short(112.0 / TWICE - 112.0 + 11.0)
    assert found.inside == 0.0
    assert found.crosses
    assert shortages_of(found, DARTED.piece.outline) == ()


def test_shortages_of_stretches_near_to_each_other_are_one():
    # Two holes at the right edge, 12 apart: a stretch is longer by a station at both ends.
    holes = [
        Flaw("hole", ((306.0, low), (330.0, low), (330.0, low + 20.0), (306.0, low + 20.0)))
        for low in (200.0, 232.0)
    ]
    found = placed(200.0, 250.0, bed=panel(400.0, 500.0, flaws=tuple(holes)))
    assert len(found.missing) == 2
    (short,) = shortages_of(found, PIECE.piece.outline)
    assert (short.start, short.end) == pytest.approx((95.0, 157.0), abs=2.6)


def test_a_sewing_line_off_the_cloth_is_told_and_never_a_shortage():
    bed = panel(190.0, 500.0)
    found = least_loss(item_of(PIECE, bed), PIECE, (bed,))
    assert found.crosses
    assert found.inside == pytest.approx(10.0 * 300.0, rel=0.05)
    assert shortages_of(found, PIECE.piece.outline) == ()
    words = sentences(found.missing, PIECE.piece.outline)
    assert "the sewing line is off the cloth" in words[0]


def test_a_piece_larger_than_any_cloth_and_cloth_it_may_not_be_cut_from():
    tiny = panel(60.0, 80.0)
    assert least_loss(item_of(PIECE, tiny), PIECE, (tiny,)).crosses
    assert least_loss(item_of(PIECE), PIECE, (tiny,)) is None
    assert losses(item_of(PIECE, tiny), PIECE, ()) == ()


def test_a_hole_in_an_allowance_is_told_where_it_is():
    # The piece's right edge lies at x = 300; the hole takes y 200 to 240 from x = 306 on, in the
    # piece 100 to 140 up its side.
    hole = Flaw("hole", ((306.0, 200.0), (330.0, 200.0), (330.0, 240.0), (306.0, 240.0)))
    bed = panel(400.0, 500.0, flaws=(hole,))
    found = placed(200.0, 250.0, bed=bed)
    (side,) = found.missing
    assert side.edge == "r.side"
    assert (side.start, side.end) == pytest.approx((100.0, 140.0), abs=2.6)
    assert side.depth == pytest.approx(6.0, abs=1e-9)
    assert missing_words(side, PIECE.piece.outline).startswith("r.side, ")
    assert missing_words(side, PIECE.piece.outline).endswith("up to 6.0 mm of 12.0 mm missing")


def test_a_hole_under_the_piece_crosses_its_sewing_line():
    hole = Flaw("hole", ((296.0, 200.0), (330.0, 200.0), (330.0, 240.0), (296.0, 240.0)))
    found = placed(200.0, 250.0, bed=panel(400.0, 500.0, flaws=(hole,)))
    assert found.crosses
    assert found.inside == pytest.approx(4.0 * 40.0, abs=1e-6)


def test_shortages_leave_a_little_play_and_speak_of_the_copy():
    bed = panel(219.0, 500.0)
    found = placed(112.0 + 0.031, 250.0, bed=bed)
    taken = shortages_of(found, PIECE.piece.outline)
    side = next(one for one in taken if one.edge == "r.side" and one.end > 0.0)
    # 5.031 are missing; with the play and rounded up to a tenth.
    assert side.missing == pytest.approx(5.4)
    assert (side.piece, side.copy) == ("r", 0)


def test_cloth_that_only_touches_the_piece_in_a_line_or_is_all_taken_is_no_trouble():
    # A second part of the cloth begins where the look round the piece ends.
    hole = Flaw("hole", ((325.0, 0.0), (326.0, 0.0), (326.0, 500.0), (325.0, 500.0)))
    assert placed(213.0, 250.0, bed=panel(600.0, 500.0, flaws=(hole,))).fits
    bed = panel(400.0, 500.0)
    other = Placement("r", 0, "cloth", (200.0, 250.0))
    (left,) = cleared((bed,), (item_of(rectangle(390.0, 490.0), bed),), (other,), 30.0)
    assert left.usable.is_empty
    found = least_loss(item_of(PIECE, left), PIECE, (left,))
    assert found is None or found.crosses


def test_a_mirrored_copy_is_short_at_the_same_edge_on_the_other_side():
    sewn = rectangle(200.0, 300.0, cut="pair")
    bed = panel(219.0, 500.0)
    item = item_of(sewn, bed, copy=1)
    placement = Placement("r", 1, "cloth", (112.0, 250.0))
    assert list(by_edge(missing_at(sewn, item.ways[0], placement, bed))) == ["r.rise"]


def test_on_cloth_that_shrinks_depths_are_those_of_the_piece():
    cloth = Cloth("main", "#000000", weft_shrinkage=4.0)
    stock = SalvagedPanel(
        "cloth",
        "main",
        ((0, 0), (219.0 / 0.96, 0), (219.0 / 0.96, 500), (0, 500)),
        ((5, 5), (5, 9)),
    )
    item = items_of((PIECE,), (cloth,), (), (stock,))[0]
    placement = Placement("r", 0, "cloth", (112.0 / 0.96, 250.0))
    found = missing_at(PIECE, item.ways[0], placement, bed_of(stock))
    assert by_edge(found)["r.side"].depth == pytest.approx(5.0, abs=1e-6)
    assert found.area == pytest.approx(5.0 / 0.96 * 324.0, abs=1e-3)


def test_pieces_laid_already_are_in_the_way_with_their_gap():
    bed = panel(460.0, 324.0)
    item = item_of(PIECE, bed)
    other = Placement("r", 1, "cloth", (112.0, 162.0))
    items = (item, item_of(PIECE, bed, copy=1))
    (left,) = cleared((bed,), items, (other,), 2.0)
    assert left.usable.bounds[0] == pytest.approx(226.0)
    found = least_loss(item, PIECE, (left,))
    assert found.fits
    assert found.placement.at[0] == pytest.approx(226.0 + 117.0, abs=6.0)
    assert cleared((bed,), items, (), 2.0) == (bed,)


def test_a_turn_within_the_tolerance_is_used():
    # A strip of cloth 2 degrees off its grain.
    lean = math.tan(math.radians(2.0)) * 600.0
    stock = SalvagedPanel(
        "cloth", "main", ((0, 0), (225, 0), (225 + lean, 600), (lean, 600)), ((5, 5), (5, 200))
    )
    bed = bed_of(stock)
    stiff = least_loss(item_of(PIECE, bed), PIECE, (bed,))
    loose = least_loss(item_of(PIECE, bed, tolerance=3.0), PIECE, (bed,))
    assert loose.area < stiff.area / 3.0
    assert -3.0 <= loose.placement.turn < -1.0


DEMO = evaluate(demo_design())


def legs(*outlines, rules=()):
    stash = [
        SalvagedPanel(f"panel {k}", "main", outline, ((9, 9), (9, 200)))
        for k, outline in enumerate(outlines)
    ]
    return [bed_of(one) for one in stash], items_of(DEMO.pieces, DEMO.design.cloths, rules, stash)


def test_what_is_told_of_a_leg_is_what_shapely_finds():
    beds, items = legs(((0, 0), (425, 0), (425, 1030), (0, 1030)))
    sewn = DEMO.piece("back-leg")
    item = next(one for one in items if (one.piece, one.copy) == ("back-leg", 1))
    found = least_loss(item, sewn, beds)
    assert not found.crosses
    way = item.ways[0]
    there = laid(way.stance.cut, lying(way.stance, found.placement, beds[0].warp))
    assert found.area == pytest.approx(there.difference(beds[0].usable).area, abs=0.5)
    seam = laid(way.stance.sewing, lying(way.stance, found.placement, beds[0].warp))
    assert found.inside == pytest.approx(seam.difference(beds[0].usable).area, abs=0.5)
    worst = max(one.depth for one in found.missing)
    outside = there.difference(beds[0].usable)
    corners = [p for part in getattr(outside, "geoms", [outside]) for p in part.exterior.coords]
    # No place of the cut line that is off the cloth lies further off than the deepest told.
    assert max(beds[0].usable.distance(Point(p)) for p in corners) <= worst + 0.05


def test_a_leg_on_enough_cloth_fits_and_refining_keeps_the_rules():
    rule = CuttingRule("front-leg", tolerance=2.0)
    beds, items = legs(((0, 0), (420, 0), (420, 1150), (0, 1150)), rules=(rule,))
    item = next(one for one in items if one.piece == "front-leg")
    found = least_loss(item, DEMO.piece("front-leg"), beds)
    assert found.fits
    assert min(abs(found.placement.turn), abs(found.placement.turn - 180.0)) <= 2.0


def test_a_taken_shortfall_is_drawn_and_let_stand():
    beds, items = legs(((0, 0), (430, 0), (430, 1060), (0, 1060)))
    item = next(one for one in items if (one.piece, one.copy) == ("back-leg", 0))
    found = least_loss(item, DEMO.piece("back-leg"), beds)
    assert not found.crosses
    assert found.missing
    design = DEMO.design
    for short in shortages_of(found, DEMO.piece("back-leg").piece.outline):
        design = shortage_taken(design, short, "no more cloth", DEMO.pieces, DEMO.panels)
    after = evaluate(design)
    assert [f for f in after.findings if f.rule == "allowance-short" and not f.accepted] == []
    assert len(after.piece("back-leg").short) == len(design.shortages)
    assert replace(design, shortages=(), accepted=DEMO.design.accepted) == DEMO.design


def test_a_hole_inside_the_sewing_line_is_no_room_and_told_by_its_size():
    # A square of 40 wholly inside: no edge lacks anything. Its largest circle is 40 across.
    flaw = Flaw("hole", ((180.0, 230.0), (220.0, 230.0), (220.0, 270.0), (180.0, 270.0)))
    bed = panel(400.0, 500.0, flaws=(flaw,))
    found = placed(200.0, 250.0, bed=bed)
    assert found.missing == ()
    assert (found.fits, found.crosses) == (False, True)
    assert found.hole == pytest.approx(40.0, abs=0.1)
    assert found.inside == pytest.approx(1600.0, abs=1e-6)
    assert hole_words(found) == ("inside its sewing line a place 40.0 mm across is not free",)
    assert shortages_of(found, PIECE.piece.outline) == ()
    assert hole_words(placed(200.0, 250.0)) == ()


def test_a_small_flaw_between_two_stations_of_an_allowance_is_told():
    # The sewing line's right edge lies at x = 300, stations every 5 from y = 100 on: the flaw of
    # 2 by 2 from x = 305 on lies between two of them, and takes all from 305 to the cut at 312.
    flaw = Flaw("hole", ((305.0, 251.5), (307.0, 251.5), (307.0, 253.5), (305.0, 253.5)))
    found = placed(200.0, 250.0, bed=panel(400.0, 500.0, flaws=(flaw,)))
    assert (found.fits, found.crosses, found.hole) == (False, False, 0.0)
    (lack,) = found.missing
    assert lack.edge in {edge.name for edge in PIECE.piece.outline}
    assert lack.start < lack.end
    assert (lack.depth, lack.of) == (pytest.approx(7.0, abs=1e-6), 12.0)
    assert shortages_of(found, PIECE.piece.outline)
