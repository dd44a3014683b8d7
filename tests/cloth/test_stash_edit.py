"""Edits of the stash: names follow wherever they are spoken of; what is in use stays."""

import math

import pytest
from msgspec.structs import replace

from studio.cloth import stash_edit as edit
from studio.cloth.bed import bed_of
from studio.cloth.points import inserted, moved, removed
from studio.demo import demo_design
from studio.design.cloth import Cloth, CuttingRule, Flaw, Lay, Placement, Roll
from studio.errors import BadInput

DEMO = replace(demo_design(), stash=())
COAT = Cloth("old coat", "#556644")
SPOT = Flaw("stain", ((10.0, 10.0), (60.0, 10.0), (60.0, 60.0)))
LEG = DEMO.pieces[0].name


def stocked():
    design = edit.with_cloth(DEMO, COAT)
    design = edit.with_stock(design, edit.rectangle("sleeve", "old coat", 400.0, 600.0))
    design = edit.with_stock(design, Roll("rest", "old coat", 1500.0, 640.0))
    rule = CuttingRule(LEG, stock=("sleeve", "rest"), cloths=("old coat",), tolerance=3.0)
    design = edit.with_cutting(design, rule)
    placements = (
        Placement(LEG, 0, "sleeve", (1.0, 2.0)),
        Placement(LEG, 1, "rest", (1.0, 2.0), locked=True),
    )
    return replace(design, lay=Lay(placements))


def test_a_rectangle_is_a_panel_with_its_warp_along_its_length():
    bed = bed_of(edit.rectangle("sleeve", "old coat", 400.0, 600.0))
    assert bed.warp == pytest.approx(90.0)
    assert bed.usable.area == pytest.approx(240000.0)


def test_a_renamed_cloth_is_followed_by_pieces_stock_and_rules():
    design = edit.renamed_cloth(stocked(), "old coat", "drill")
    assert {stock.cloth for stock in design.stash} == {"drill"}
    assert design.cutting[0].cloths == ("drill",)
    main = edit.renamed_cloth(DEMO, DEMO.pieces[0].cloth, "twill")
    assert main.pieces[0].cloth == "twill"
    assert edit.renamed_cloth(design, "drill", "old coat") == stocked()


def test_renamed_stock_is_followed_by_rules_and_placements():
    design = edit.renamed_stock(stocked(), "sleeve", "left sleeve")
    assert design.cutting[0].stock == ("left sleeve", "rest")
    assert design.lay.placements[0].stock == "left sleeve"
    assert design.lay.placements[1].stock == "rest"


def test_a_cloth_in_use_is_kept_and_the_reason_told():
    design = stocked()
    with pytest.raises(BadInput, match="cut from it"):
        edit.without_cloth(design, DEMO.pieces[0].cloth)
    with pytest.raises(BadInput, match="sleeve and rest are of it"):
        edit.without_cloth(design, "old coat")
    bare = replace(design, stash=(), lay=Lay())
    with pytest.raises(BadInput, match=f"{LEG} is allowed"):
        edit.without_cloth(bare, "old coat")
    assert edit.without_cloth(replace(bare, cutting=()), "old coat").cloths == DEMO.cloths


def test_stock_is_removed_with_what_lay_loose_on_it():
    design = edit.without_stock(stocked(), "sleeve")
    assert [stock.name for stock in design.stash] == ["rest"]
    assert [one.stock for one in design.lay.placements] == ["rest"]
    assert design.cutting[0].stock == ("rest",)
    with pytest.raises(BadInput, match="locked on it"):
        edit.without_stock(design, "rest")
    free = replace(design, lay=Lay())
    with pytest.raises(BadInput, match="from it alone"):
        edit.without_stock(free, "rest")


def sleeve(**changes):
    return replace(edit.stock_of(stocked(), "sleeve"), **changes)


def test_a_panel_is_changed_and_what_it_cannot_be_is_told():
    flawed = edit.changed_stock(stocked(), sleeve(flaws=(SPOT,)))
    assert edit.stock_of(flawed, "sleeve").flaws == (SPOT,)
    with pytest.raises(BadInput, match="three points"):
        edit.changed_stock(flawed, sleeve(flaws=(replace(SPOT, points=SPOT.points[:2]),)))
    with pytest.raises(BadInput, match=r"crosses itself|encloses nothing"):
        edit.changed_stock(flawed, sleeve(flaws=(replace(SPOT, points=((0.0, 0.0),) * 3),)))
    turned = edit.changed_stock(flawed, sleeve(grain=((0.0, 0.0), (100.0, 100.0))))
    assert bed_of(edit.stock_of(turned, "sleeve")).warp == pytest.approx(45.0)
    with pytest.raises(BadInput, match="are one"):
        edit.changed_stock(flawed, sleeve(grain=((5.0, 5.0), (5.0, 5.0))))


def test_a_point_is_moved_put_in_and_taken_out_by_its_number():
    spot = moved(SPOT.points, 2, (70.0, 70.0))
    more = inserted(spot, 3, (10.0, 60.0))
    assert more == ((10.0, 10.0), (60.0, 10.0), (70.0, 70.0), (10.0, 60.0))
    assert removed(more, 3) == spot
    with pytest.raises(BadInput, match="no point 9"):
        removed(more, 8)
    with pytest.raises(BadInput, match="no place 7"):
        inserted(SPOT.points, 6, (0.0, 0.0))


def test_a_rule_that_says_nothing_is_not_kept():
    design = edit.with_cutting(stocked(), CuttingRule(LEG))
    assert design.cutting == ()
    assert edit.cutting_of(design, LEG) == CuttingRule(LEG)


WHOLE = ((0.0, 0.0), (400.0, 0.0), (400.0, 600.0), (0.0, 600.0))


@pytest.mark.parametrize(
    "change",
    [
        lambda d: edit.with_cloth(d, COAT),
        lambda d: edit.with_cloth(d, Cloth("", "#000000")),
        lambda d: edit.with_cloth(d, Cloth(" felt", "#000000")),
        lambda d: edit.with_cloth(d, Cloth("felt", "black")),
        lambda d: edit.changed_cloth(d, Cloth("felt", "#000000")),
        lambda d: edit.changed_cloth(d, replace(COAT, stretch=-1.0)),
        lambda d: edit.changed_cloth(d, replace(COAT, stretch=math.nan)),
        lambda d: edit.changed_cloth(d, replace(COAT, warp_shrinkage=31.0)),
        lambda d: edit.changed_cloth(d, replace(COAT, weft_shrinkage=-0.1)),
        lambda d: edit.renamed_cloth(d, "old coat", "main"),
        lambda d: edit.renamed_cloth(d, "old coat", "  "),
        lambda d: edit.renamed_cloth(d, "felt", "other"),
        lambda d: edit.without_cloth(d, "felt"),
        lambda d: edit.with_stock(d, Roll("rest", "old coat", 900.0, 10.0)),
        lambda d: edit.with_stock(d, Roll("more", "felt", 900.0, 10.0)),
        lambda d: edit.with_stock(d, Roll("more", "old coat", 20.0, 10.0)),
        lambda d: edit.changed_stock(d, Roll("more", "old coat", 900.0, 10.0)),
        lambda d: edit.changed_stock(d, sleeve(flaws=(Flaw("hole", WHOLE),))),
        lambda d: edit.changed_stock(d, sleeve(flaws=(Flaw("seam", ((0.0, 0.0),), wide=5.0),))),
        lambda d: edit.renamed_stock(d, "sleeve", "rest"),
        lambda d: edit.renamed_stock(d, "sleeve", ""),
        lambda d: edit.without_stock(d, "felt"),
        lambda d: edit.with_cutting(d, CuttingRule("nothing")),
        lambda d: edit.with_cutting(d, CuttingRule(LEG, cloths=("felt",))),
        lambda d: edit.with_cutting(d, CuttingRule(LEG, stock=("felt",))),
        lambda d: edit.with_cutting(d, CuttingRule(LEG, tolerance=-1.0)),
        lambda d: edit.rectangle("new", "old coat", 0.0, 100.0),
    ],
)
def test_what_cannot_be_is_refused(change):
    with pytest.raises(BadInput):
        change(stocked())


def test_a_name_that_is_free():
    assert edit.free_name("panel", ()) == "panel"
    assert edit.free_name("panel", ("panel", "panel 2")) == "panel 3"
