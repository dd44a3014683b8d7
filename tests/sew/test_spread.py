"""Loops spread round the waist: evenly, clear of seams, alike on both halves; notched there."""

import ezdxf
import pytest
from msgspec.structs import replace

from studio.cut.count import with_count
from studio.cut.parts import BeltLoops, ShapedWaistband, Waistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.exchange.dxf_out import write_dxf
from studio.pattern import evaluate, with_parts
from studio.sew.notches import CLEAR_OF_ENDS
from studio.sew.spread import from_centre_back, spread_in, spread_places
from studio.sew.walk import Walk

PATTERN = evaluate(demo_design())
PLAIN = evaluate(with_parts(plain_design(ORCHARD_BODY), BeltLoops(), Waistband()))


def join(name, pattern=PATTERN):
    return next(one for one in pattern.measured if one.join.name == name)


def moved_least(wanted, places):
    return all(abs(a - b) <= 2.0 * CLEAR_OF_ENDS for a, b in zip(wanted, places, strict=True))


@pytest.mark.parametrize("count", [1, 2, 3, 5, 6, 7, 8])
def test_they_stand_evenly_all_round_but_clear_of_seams(count):
    """Closed form: n places evenly on a circle of twice the half's length, mirrored at the centre
    back, an odd one on it.
    """
    waist = join("waist")
    half = waist.a.length
    places = from_centre_back(waist, count)
    circle = [k * 2.0 * half / count for k in range(count)]
    if count % 2 == 0:
        circle = [mm + half / count for mm in circle]
    # Those on the other half are met going round the other way.
    assert len(places) == len([mm for mm in circle if mm < half])
    assert moved_least([mm for mm in circle if mm < half], places)
    taken = [*waist.a.joints(), half]
    for place in places:
        if place > 0.0:
            assert all(abs(place - at) >= CLEAR_OF_ENDS - 1e-6 for at in taken)
    around = len([mm for mm in places if mm > 0.0])
    assert 2 * around + (len(places) - around) == count


def test_the_demonstration_has_its_five_where_the_waist_is_free():
    """By hand: two fifths and four fifths of the half; the second would lie 6.2 from the end of the
    pocket bag, and so goes 12 to this side of it.
    """
    half = join("waist").a.length
    places = from_centre_back(join("waist"), 5)
    assert places == pytest.approx((0.0, 0.4 * half, 349.6 - 12.0), abs=0.1)


def test_both_halves_and_the_band_are_notched_at_the_same_places():
    pieces = {sewn.piece.name: sewn for sewn in PATTERN.pieces}
    half = join("waist").a.length
    wanted = [mm for mm in from_centre_back(join("waist"), 5) if mm > 0.0]
    for name, from_start in (("waist", wanted), ("waist, other leg", [half - w for w in wanted])):
        met = {round(one.along_a, 3): one.gap for one in Walk(join(name), pieces).met}
        for place in from_start:
            assert met[round(place, 3)] == pytest.approx(0.0, abs=1e-6)
    # The band's lower edge is straight: the centre back lies in its middle.
    at = {round(notch.at.x, 3) for notch in pieces["waistband"].notches}
    for place in wanted:
        assert {round(half - place, 3), round(half + place, 3)} <= at


def test_loops_added_before_the_band_are_spread_as_well():
    assert spread_in(join("waist", PLAIN).join, PLAIN.design.joins, PLAIN.design.finishes) == 5
    assert len(spread_places(join("waist", PLAIN), 5)) == 2
    assert len(spread_places(join("waist, other leg", PLAIN), 5)) == 2


def test_a_band_sewn_to_front_and_back_apart_has_no_places():
    design = with_parts(plain_design(ORCHARD_BODY), BeltLoops(), ShapedWaistband(overlap=0.0))
    pattern = evaluate(design)
    for name in ("band-back seam", "band-front seam"):
        assert from_centre_back(join(name, pattern), 5) == ()


def test_another_count_spreads_them_anew():
    design = with_count(demo_design(), "belt-loop", 7)
    assert next(one for one in design.pieces if one.name == "belt-loop").count == 7
    pattern = evaluate(design)
    waist = join("waist", pattern)
    assert spread_in(waist.join, design.joins, design.finishes) == 7
    before, now = (
        len([n for n in p.piece("waistband").notches if n.join == "waist"])
        for p in (PATTERN, pattern)
    )
    assert now == before + 1
    assert with_count(design, "waistband", 3).finishes == design.finishes


def test_they_follow_the_body():
    design = demo_design()
    wider = replace(design, body=replace(design.body, waist_girth=860.0))
    pattern = evaluate(wider)
    assert join("waist", pattern).a.length > join("waist").a.length + 10.0
    one, two = (from_centre_back(join("waist", p), 5)[1] for p in (PATTERN, pattern))
    assert two > one + 3.0


def test_their_notches_are_in_the_drawing_for_the_plotter(tmp_path):
    """Read back by ezdxf: the lower edge of the band has a slit of layer 4 at every place."""
    write_dxf(PATTERN.pieces, tmp_path / "loops.dxf", style="orchard")
    block = ezdxf.readfile(tmp_path / "loops.dxf").blocks.get("WAISTBAND")
    slits = sorted(line.dxf.start.x for line in block.query("LINE[layer=='4']"))
    half = join("waist").a.length
    at = [half + side * mm for mm in from_centre_back(join("waist"), 5) for side in (-1.0, 1.0)]
    left = min(slits) - min(notch.at.x for notch in PATTERN.piece("waistband").notches)
    for place in at:
        assert min(abs(x - left - place) for x in slits) < 1e-3
