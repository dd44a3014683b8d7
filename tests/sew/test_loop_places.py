"""Loops spread round the waist: evenly, clear of seams, alike on both halves; notched there."""

import math

import ezdxf
import pytest
from msgspec.structs import replace

from studio.cut.count import with_count, with_loops_spread
from studio.cut.parts import BeltLoops, ShapedWaistband, Waistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.plain import plain_design
from studio.exchange.dxf_out import write_dxf
from studio.pattern import evaluate, with_parts
from studio.sew.loop_places import placed, places_in, places_in_all, spread_round
from studio.sew.loops import LoopKind, may_be_spread, waists_of
from studio.sew.notches import CLEAR_OF_ENDS
from studio.sew.walk import Walk

PATTERN = evaluate(demo_design())
PLAIN = evaluate(with_parts(plain_design(ORCHARD_BODY), BeltLoops(), Waistband()))


def join(name, pattern=PATTERN):
    return next(one for one in pattern.measured if one.join.name == name)


def from_centre_back(waist, count):
    return spread_round([waist], [LoopKind("loop", count, 12.0)])["loop"]


def waists(design):
    return waists_of(design.pieces, design.joins, design.finishes)


def all_placed(pattern):
    return placed(waists(pattern.design), {one.join.name: one for one in pattern.measured})


def told(pattern):
    return [one for one in pattern.findings if one.rule == "loops"]


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
    found = waists(PLAIN.design)
    assert set(found) == {"waist", "waist, other leg"}
    for name, waist in found.items():
        assert [(one.piece, one.count) for one in waist.kinds] == [("belt-loop", 5)]
        half = join(name, PLAIN)
        assert len(places_in(half, [half], from_centre_back(half, 5))) == 2
    assert told(PLAIN) == []


@pytest.mark.parametrize("first", [True, False], ids=["loops first", "band first"])
def test_on_a_band_sewn_to_front_and_back_apart_they_go_on_past_the_side(first):
    """Closed form: five evenly round twice the two halves; one on the back and one on the front,
    each notched on trousers and band, whether loops or band were added first.
    """
    parts = (BeltLoops(), ShapedWaistband(overlap=0.0))
    pattern = evaluate(with_parts(plain_design(ORCHARD_BODY), *(parts if first else parts[::-1])))
    back, front = (join(f"band-{name} seam", pattern) for name in ("back", "front"))
    half = back.a.length + front.a.length
    here = all_placed(pattern)["band-back seam"]
    assert here.places["belt-loop"] == pytest.approx((0.0, 0.4 * half, 0.8 * half), abs=1e-6)
    assert places_in_all(here.places["belt-loop"]) == 5
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    met = {}
    for one in (back, front):
        met[one.join.name] = [at.along_a for at in Walk(one, pieces).met if abs(at.gap) < 0.1]
    # Side a is the band, walked the other way round: from the side to the back, to the side in
    # front.
    assert min(abs(mm - (back.a.length - 0.4 * half)) for mm in met["band-back seam"]) < 1e-6
    end = half - 0.8 * half
    assert min(abs(mm - end) for mm in met["band-front seam"]) < 1e-6
    # On the trousers the notch stands so far from the centre back, measured along the open edge.
    edge = pieces["back"].piece.outline.edge("band-back").chain
    stands = [edge.passes(notch.at) for notch in pieces["back"].notches]
    place = 0.4 * half * back.b.length / back.a.length
    assert min(abs(at - place) for at in stands if at is not None) < 0.5
    assert told(pattern) == []


def test_two_kinds_share_a_waist_each_evenly_and_clear_of_the_other():
    plain = plain_design(ORCHARD_BODY)
    wide = BeltLoops(name="wide-loop", wide=30.0, count=2)
    pattern = evaluate(with_parts(plain, BeltLoops(), wide, Waistband()))
    waist = join("waist", pattern)
    places = all_placed(pattern)["waist"].places
    assert places["belt-loop"] == from_centre_back(waist, 5)
    (only,) = places["wide-loop"]
    # Its quarter lies on the side seam and by the dart of the front: it stays 12 off both.
    taken = [*waist.a.joints(), *(_mouths_of(waist))]
    assert all(abs(only - at) >= CLEAR_OF_ENDS - 1e-6 for at in taken)
    assert abs(only - 0.5 * waist.a.length) <= 4.0 * CLEAR_OF_ENDS
    for other in places["belt-loop"]:
        assert abs(only - other) >= (12.0 + 30.0) / 2.0 + CLEAR_OF_ENDS - 1e-6
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    for name in ("waist", "waist, other leg"):
        one = join(name, pattern)
        met = [at.along_a for at in Walk(one, pieces).met if abs(at.gap) < 1e-6]
        for mm in (*places["belt-loop"][1:], only):
            wanted = mm if name == "waist" else one.a.length - mm
            assert min(abs(at - wanted) for at in met) < 1e-6
    assert told(pattern) == []


def _mouths_of(waist):
    return [passed + one.sewn(low) for passed, one in waist.a.walked() for low, _ in one.mouths]


@pytest.mark.parametrize("even", [2, 4, 6])
@pytest.mark.parametrize("odd", [1, 3, 5])
def test_the_odd_one_of_a_later_kind_stands_at_the_centre_back_that_no_other_holds(even, odd):
    """By parity: what is mirrored at one place has an odd count only with one on that place."""
    first = BeltLoops(count=even)
    second = BeltLoops(name="wide-loop", wide=30.0, count=odd)
    pattern = evaluate(with_parts(plain_design(ORCHARD_BODY), first, second, Waistband()))
    places = all_placed(pattern)["waist"].places
    assert 0.0 not in places["belt-loop"]
    assert places["wide-loop"][0] == 0.0
    assert [places_in_all(places[name]) for name in ("belt-loop", "wide-loop")] == [even, odd]
    assert told(pattern) == []


def test_a_loop_without_a_place_is_told_with_what_holds_it():
    odd = BeltLoops(name="wide-loop", wide=30.0, count=3)
    pattern = evaluate(with_parts(plain_design(ORCHARD_BODY), BeltLoops(), odd, Waistband()))
    (one,) = told(pattern)
    assert (one.where, one.gravity, one.measured, one.limit) == ("wide-loop", "warning", 2.0, 3.0)
    assert "2 of the 3 of wide-loop have a place" in one.message
    assert "the centre back belongs to belt-loop" in one.message
    # Twenty of 60 with 12 between them want more than the half of the waist holds.
    broad = BeltLoops(name="wide-loop", wide=60.0, count=20)
    pattern = evaluate(with_parts(plain_design(ORCHARD_BODY), BeltLoops(), broad, Waistband()))
    (one,) = told(pattern)
    assert one.measured < 20.0
    assert "no room" in one.message
    places = all_placed(pattern)["waist"].places["wide-loop"]
    assert places_in_all(places) == one.measured


def test_places_asked_for_on_a_seam_that_ends_at_the_side_are_told():
    design = demo_design()
    finishes = tuple(
        replace(one, into="side seam") if one.spread else one for one in design.finishes
    )
    (one,) = told(evaluate(replace(design, finishes=finishes)))
    assert "0 of the 5" in one.message
    assert "side seam does not run from the centre back to the centre front" in one.message


def test_loops_of_an_older_project_are_told_and_spread_in_one_step():
    """As it was written before places were known: caught, and no more said. Nothing is changed
    unasked, and what is changed is what the part would have said.
    """
    new = demo_design()
    old = replace(new, finishes=tuple(replace(one, spread=0) for one in new.finishes))
    before = evaluate(old)
    assert before.design is old
    (one,) = told(before)
    assert (one.where, one.gravity) == ("belt-loop", "note")
    assert "have it spread round the waist" in one.message
    asked = (old.pieces, old.joins, old.finishes)
    assert may_be_spread("belt-loop", *asked) is False
    assert may_be_spread("twine-loop", *asked) is None
    assert may_be_spread("fly-shield", *asked) is None
    spread = with_loops_spread(old, "belt-loop", True)
    assert spread == new
    assert told(evaluate(spread)) == []
    assert may_be_spread("belt-loop", spread.pieces, spread.joins, spread.finishes) is True
    assert with_loops_spread(spread, "belt-loop", False) == old


def test_in_a_draft_they_follow_the_part_of_the_waist_that_changed():
    """The front alone becomes longer: the places on the back move as well."""
    design = with_parts(plain_design(ORCHARD_BODY), BeltLoops(), ShapedWaistband(overlap=0.0))
    shown = evaluate(design)

    def moved(line):
        end = replace(line.path.start, mm=line.path.start.mm + 8.0)
        return replace(line, path=replace(line.path, start=end))

    lines = tuple(moved(one) if one.name == "band-front" else one for one in design.lines)
    dragged = replace(design, lines=lines)
    draft, whole = evaluate(dragged, since=shown), evaluate(dragged)
    was, now, fresh = (
        all_placed(one)["band-back seam"].places["belt-loop"][1] for one in (shown, draft, whole)
    )
    assert not math.isclose(was, now, abs_tol=0.01)
    assert now == pytest.approx(fresh, abs=1e-9)
    for name in ("back", "band-back"):
        assert draft.piece(name).notches == whole.piece(name).notches != shown.piece(name).notches


def test_another_count_spreads_them_anew():
    design = with_count(demo_design(), "belt-loop", 7)
    assert next(one for one in design.pieces if one.name == "belt-loop").count == 7
    pattern = evaluate(design)
    assert [one.count for one in waists(design)["waist"].kinds] == [7]
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
