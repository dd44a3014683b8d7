"""Joins offered: both parts fit, both legs alike, hidden ones first; and none where none helps."""

import pytest
from msgspec.structs import replace
from shapely import LineString, Polygon

from studio.cloth.bed import bed_of
from studio.cloth.items import items_of
from studio.cloth.pieced import Piecing
from studio.cloth.raster import CELL_MM, grid_of
from studio.cloth.referee import faults
from studio.cloth.scrap_masks import Facing, Line, PartMasks, fits, part_of
from studio.cloth.scrap_places import SewnDesign, hidden_share, where_words
from studio.cloth.scraps import joins_offered, offer_taken
from studio.cloth.shortfall import cleared
from studio.cloth.stance import is_mirrored
from studio.demo import demo_design
from studio.design.cloth import CuttingRule, Placement, SalvagedPanel
from studio.pattern import evaluate
from tests.cloth.rectangles import item_of, panel, rectangle

DEMO = demo_design()
PATTERN = evaluate(DEMO)


def within(design=DEMO):
    pattern = evaluate(design)
    return SewnDesign(design, pattern.panels, pattern.lines, pattern.pieces)


GROUND = within()


def stash(*sizes):
    return [
        SalvagedPanel(
            f"scrap {k + 1}", "main", ((0, 0), (w, 0), (w, h), (0, h)), ((9, 9), (9, h - 9))
        )
        for k, (w, h) in enumerate(sizes)
    ]


def offers(piece, stock, where=GROUND, rules=(), laid=()):
    items = items_of(where.pieces, where.design.cloths, rules, stock)
    beds = cleared([bed_of(one) for one in stock], items, laid, 2.0)
    return joins_offered(where, [one for one in items if one.piece == piece], beds)


LEGS = stash((360, 700), (360, 690), (360, 520), (360, 510))


def test_a_leg_is_made_of_two_scraps_on_both_sides_alike_under_its_knee_panel():
    found = offers("front-leg", LEGS)
    assert found
    best = found[0]
    assert (best.asked.piece, best.asked.lies) == ("front-leg", "across")
    assert best.hidden > 0.6
    assert "under knee-panel, both legs alike" in best.sentence
    parts = sorted((one.piece, one.copy) for one in best.placements)
    assert [copy for _, copy in parts] == [0, 1, 0, 1]
    assert len({piece for piece, _ in parts}) == 2


@pytest.mark.parametrize("piece", ["front-leg", "waistband", "bearer"])
def test_what_is_offered_can_be_taken_and_lies_on_its_cloth(piece):
    stock = LEGS if piece == "front-leg" else stash((360, 700), (200, 520))
    found = offers(piece, stock)
    assert any(offer.placements for offer in found)
    for offer in found:
        design = offer_taken(GROUND, offer)
        pattern = evaluate(design)
        grave = [f.message for f in pattern.findings if not f.accepted]
        assert grave == [f.message for f in PATTERN.findings if not f.accepted]
        items = items_of(pattern.pieces, design.cloths, (), stock)
        beds = [bed_of(one) for one in stock]
        assert offer.placements == design.lay.placements
        wrong = faults(items, beds, offer.placements, 2.0)
        # Laid on cells of 3 mm: true to about one of them.
        assert {one.kind for one in wrong} <= {"outside", "too near"}
        assert max((one.by for one in wrong), default=0.0) <= CELL_MM


def test_a_band_is_joined_at_its_centre_back_where_that_will_do():
    # Usual for waistbands: common practice, no source.
    best = offers("waistband", stash((120, 560), (120, 560)))[0]
    assert best.asked == Piecing("waistband", "across", 0.0)
    assert "at the centre back" in best.sentence


def test_where_both_parts_fit_by_hand():
    """With 40 of hem and 12 for the join, the lower part up to `at` needs at + 52 of cloth; the
    upper part the rest of the cut line and 12.
    """
    top = max(edge.chain.box.top for edge in PATTERN.piece("front-leg").cut_line)
    found = offers("front-leg", stash((360, 700), (360, 700), (360, 560), (360, 560)))
    assert found
    for offer in found:
        if offer.asked.lies == "across":
            lower = offer.asked.at + 40.0 + 12.0
            upper = top - offer.asked.at + 12.0
            tall, short = sorted((lower, upper), reverse=True)
            assert tall <= 700.0 + CELL_MM
            assert short <= 560.0 + CELL_MM


def test_no_join_helps_where_no_scrap_is_wide_or_long_enough():
    assert offers("front-leg", stash((200, 700), (200, 700))) == ()
    assert offers("front-leg", stash((360, 400), (360, 300))) == ()
    assert offers("front-leg", ()) == ()


@pytest.mark.parametrize("piece", ["yoke", "back-pocket"])
def test_a_shut_yoke_and_a_shape_of_its_own_are_not_joined(piece):
    assert offers(piece, stash((120, 90), (120, 90), (120, 90), (120, 90))) == ()


def test_a_cutting_rule_may_forbid_it():
    where = within(replace(DEMO, cutting=(CuttingRule("front-leg", may_join=False),)))
    assert offers("front-leg", LEGS, where) == ()


def test_what_is_laid_already_is_in_the_way():
    stock = stash((360, 700), (360, 690), (360, 520), (360, 510))
    other = Placement("back-pocket", 0, "scrap 1", (165.0, 350.0))
    found = offers("front-leg", stock, laid=(other,))
    assert offers("front-leg", stock)
    for offer in found:
        on_it = [one for one in offer.placements if one.stock == "scrap 1"]
        design = offer_taken(GROUND, offer)
        items = items_of(evaluate(design).pieces, design.cloths, (), stock)
        beds = [bed_of(one) for one in stock]
        wrong = faults(items, beds, (other, *on_it), 2.0)
        assert [one for one in wrong if one.kind == "too near"] == []


def test_a_share_of_a_join_is_hidden_as_far_as_its_patch_reaches():
    sewn = PATTERN.piece("front-leg").piece
    leg = Polygon(sewn.outline.polyline(0.1))
    patch = Polygon(PATTERN.piece("knee-panel").piece.outline.polyline(0.1))
    for at, some in ((420.0, True), (700.0, False)):
        chord = LineString([(-500, at), (500, at)]).intersection(leg)
        share = hidden_share(GROUND, sewn, chord)
        assert share == pytest.approx(chord.intersection(patch).length / chord.length, abs=0.01)
        assert (share > 0.6) == some
    assert hidden_share(GROUND, PATTERN.piece("bearer").piece, chord) == 1.0


@pytest.mark.parametrize(
    ("piece", "lies", "at", "words"),
    [
        ("front-leg", "across", 423.0, "30.0 mm below the knee line"),
        ("front-leg", "across", 453.0, "on the knee line"),
        ("front-leg", "along", 0.0, "on the crease line"),
        ("front-leg", "along", -20.0, "20.0 mm to the left of the crease line"),
        ("waistband", "across", -50.0, "50.0 mm from it towards the buttonhole"),
        ("twine-loop", "across", 60.0, "60.0 mm from its start"),
    ],
)
def test_places_are_told_as_a_maker_measures_them(piece, lies, at, words):
    assert where_words(GROUND, PATTERN.piece(piece).piece, Piecing(piece, lies, at)) == words


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 270.0, 30.0])
@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("lies", ["across", "along"])
@pytest.mark.parametrize("half", ["low", "high"])
def test_a_part_on_cells_is_the_part_shapely_cuts(turn, mirrored, lies, half):
    sewn = PATTERN.piece("back-leg")
    item = item_of(sewn, panel(400.0, 500.0), turns=(turn,))
    way = item.ways[0]
    line = Line(lies, 40.0, 12.0)
    mask = PartMasks(way.stance.cut, CELL_MM).part(line, half, Facing(way, turn, False, mirrored))
    area = part_of(way.stance.cut, line, half).area
    assert mask.cells.sum() * CELL_MM**2 == pytest.approx(area, rel=0.02)


def test_a_part_fits_where_its_width_and_height_say_so():
    sewn = rectangle(200.0, 300.0)
    bed = panel(230.0, 200.0)
    item = item_of(sewn, bed)
    masks = PartMasks(item.ways[0].stance.cut, CELL_MM)
    facing = Facing(item.ways[0], 0.0, False, is_mirrored(item.ways[0].stance, item.copy, False))
    # The stance's middle is the origin: below a line at y lie y + 162 and the allowance of 12.
    assert fits(grid_of(bed), masks.part(Line("across", 20.0, 12.0), "low", facing))
    assert not fits(grid_of(bed), masks.part(Line("across", 32.0, 12.0), "low", facing))
