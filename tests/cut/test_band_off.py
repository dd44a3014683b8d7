"""A shaped waistband taken away again: the pieces it was cut off are cut as before it."""

import itertools

import pytest
from msgspec.structs import replace

from studio.cloth.pieced import Piecing, pieced
from studio.curves import Point
from studio.cut.parts import (
    BeltLoops,
    Fly,
    HandPocket,
    KneePanel,
    PatchPocket,
    ShapedWaistband,
    ToolLoop,
)
from studio.cut.taken_away import gone_between, may_go_alone, without_line, without_piece
from studio.cut.yoke_cut import Yoke, with_yoke
from studio.demo import ORCHARD_BODY
from studio.design.accepted import Accepted
from studio.design.cloth import CuttingRule, Lay, Placement, Shortage
from studio.design.file import decoded, encoded
from studio.design.holds import Fixed, LinePoint
from studio.design.joins import Corner, EdgeRef, Finish
from studio.design.naming import renamed_line
from studio.design.pieces import StripPiece
from studio.design.topstitch import Topstitch
from studio.errors import BadInput
from studio.pattern import evaluate, with_parts
from tests.cut.pairs import OTHER, PLAIN


def yoked(design):
    panel = next(one for one in evaluate(design).panels if one.name == "back")
    return with_yoke(design, panel, Yoke(at_rise=110.0, at_side=80.0))


BEFORE = {
    "a plain pair": PLAIN,
    "pocket, fly and loops": with_parts(PLAIN, HandPocket(), Fly(), BeltLoops()),
    "a pocket on the back": with_parts(PLAIN, HandPocket(panel="back")),
    "every other part": with_parts(
        yoked(PLAIN),
        HandPocket(facing=40.0),
        Fly(),
        KneePanel(),
        PatchPocket(),
        BeltLoops(),
        ToolLoop(),
    ),
}
BANDS = {
    "open, faced": {},
    "open": {"facing": ""},
    "closed, faced": {"overlap": 0.0},
    "closed": {"overlap": 0.0, "facing": ""},
}


def farthest(one, two):
    """How far cut lines, notches and rows of two patterns lie from each other at most, mm."""
    pieces = [{sewn.piece.name: sewn for sewn in pattern.pieces} for pattern in (one, two)]
    assert pieces[0].keys() == pieces[1].keys()
    off = [0.0]
    for name, sewn in pieces[0].items():
        places = [list(places_of(sewn)), list(places_of(pieces[1][name]))]
        assert [words for words, _ in places[0]] == [words for words, _ in places[1]]
        off += [a.distance_to(b) for (_, a), (_, b) in zip(*places, strict=True)]
    return max(off)


def places_of(sewn):
    for edge in sewn.cut_line:
        for k in range(9):
            yield f"cut along {edge.name}", edge.chain.at(edge.chain.length * k / 8.0)
    for notch in sewn.notches:
        yield f"notch of {notch.join}, {notch.kind}", notch.tip
    for row in sewn.rows:
        yield from (("row", row.start), ("row", row.end))


def told(pattern):
    return sorted(finding.message for finding in pattern.findings)


@pytest.mark.parametrize("asked", BANDS)
@pytest.mark.parametrize("name", BEFORE)
def test_what_it_was_cut_off_is_cut_as_before_and_sewn_as_before(name, asked):
    before = BEFORE[name]
    banded = with_parts(before, ShapedWaistband(**BANDS[asked]))
    gone = without_piece(banded, "band-front")
    assert gone == without_piece(banded, "band-back") == without_line(banded, "band-back")
    assert decoded(encoded(gone)) == gone
    assert gone.lines == before.lines
    assert gone.pieces == before.pieces
    assert gone.joins == before.joins
    assert set(gone.finishes) == set(before.finishes)
    for body in (ORCHARD_BODY, OTHER):
        one, two = (evaluate(replace(design, body=body)) for design in (before, gone))
        assert farthest(one, two) < 1e-6
        assert told(one) == told(two)


def test_it_is_added_again_as_it_was():
    before = BEFORE["pocket, fly and loops"]
    banded = with_parts(before, ShapedWaistband())
    again = with_parts(without_piece(banded, "band-front"), ShapedWaistband())
    assert farthest(evaluate(banded), evaluate(again)) < 1e-6
    assert again.joins == banded.joins


def test_a_waist_that_was_bound_is_bound_again_where_the_band_shows_how():
    finishes = tuple(
        replace(one, how="bound") if one.edge.edge == "back.waist" else one
        for one in PLAIN.finishes
    )
    bound = replace(PLAIN, finishes=finishes)
    gone = without_piece(with_parts(bound, ShapedWaistband(facing="")), "band-back")
    assert set(gone.finishes) == set(finishes)
    # Beneath a facing nothing tells how the waist was finished: it is faced, as the band was.
    faced = without_piece(with_parts(bound, ShapedWaistband()), "band-back")
    assert Finish(EdgeRef("back", "back.waist"), "faced") in faced.finishes


def test_parts_that_came_before_it_may_go_before_it():
    full = with_parts(BEFORE["pocket, fly and loops"], ShapedWaistband())
    for line in ("hand-pocket", "fly", "band-back"):
        full = without_line(full, line)
        assert [f.message for f in evaluate(full).findings if f.gravity == "grave"] == []
    assert farthest(evaluate(full), evaluate(with_parts(PLAIN, BeltLoops()))) < 1e-6


def test_loops_on_it_are_kept_and_caught_in_the_next_one():
    looped = with_parts(with_parts(PLAIN, ShapedWaistband()), BeltLoops())
    gone = without_piece(looped, "band-front")
    caught = [one for one in gone.finishes if one.edge.piece == "belt-loop" and one.how == "caught"]
    assert [one.into for one in caught] == ["", ""]
    again = with_parts(gone, ShapedWaistband())
    assert [one.into for one in again.finishes if one.spread] == ["band seam"]
    assert evaluate(gone).piece("belt-loop").piece.quantity == 5


def test_it_goes_by_other_names_of_its_lines_too():
    before = BEFORE["pocket, fly and loops"]
    banded = with_parts(before, ShapedWaistband())
    named = renamed_line(renamed_line(banded, "band-front", "low"), "band-back", "deep")
    gone = without_line(named, "low")
    assert gone.pieces == before.pieces
    assert gone.joins == before.joins
    assert gone.lines == before.lines


def test_all_that_spoke_of_it_goes_and_what_spoke_of_the_edge_below_it_speaks_of_the_waist():
    banded = with_parts(PLAIN, ShapedWaistband())
    own = "band-front"
    raw = Finish(EdgeRef("back", "band-back"), "caught", into="band seam")
    spoken = replace(
        banded,
        finishes=(*banded.finishes, raw),
        corners=(
            Corner("front", "front.side", "band-front", "mitred"),
            Corner(own, "band-front", "front.side", "mitred"),
        ),
        topstitching=(
            Topstitch("front", "band-front", (6.0,), start=20.0),
            Topstitch(own, "front.waist", (2.0,)),
        ),
        holds=(Fixed(point=LinePoint("band-front", 2), at=Point(0.0, 1000.0)),),
        sewing=("band seam", "rows on band-back", "rows on front", raw.step),
        cutting=(CuttingRule(own, one_way=True), CuttingRule("front", one_way=True)),
        shortages=(
            Shortage(own, 0, "front.waist", 0.0, 9.0, 4.0),
            Shortage("front", 0, "band-front", 0.0, 9.0, 4.0),
        ),
        lay=Lay((Placement(own, 0, "roll", (0.0, 0.0)), Placement("back", 0, "roll", (0.0, 0.0)))),
        accepted=(
            Accepted("seam-length", "band seam", "as worn", 1.0),
            Accepted("grain", own, "short"),
            Accepted("girth-small", "hip", "as worn", 1.0),
        ),
    )
    gone = without_piece(spoken, own)
    assert "band" not in encoded(replace(gone, name="", notes="")).decode()
    assert gone.corners == (Corner("front", "front.side", "front.waist", "mitred"),)
    assert gone.topstitching == (Topstitch("front", "front.waist", (6.0,), start=20.0),)
    assert gone.sewing == ("rows on front", "back:back.waist, caught")
    assert [one.piece for one in gone.cutting] == ["front"]
    assert [one.piece for one in gone.lay.placements] == ["back"]
    assert [one.where for one in gone.accepted] == ["hip"]
    assert gone.holds == gone.shortages == ()
    # What the maker said of the edge himself is not said over again.
    assert [one.how for one in gone.finishes if one.edge.edge == "back.waist"] == ["caught"]


def test_a_shield_that_became_shorter_with_the_band_is_as_long_as_before():
    """As a project of an earlier version has it: of a length of its own."""
    flown = with_parts(PLAIN, Fly())
    shield = StripPiece("fly-shield", length=190.0, width=84.0, folded=2)
    own = replace(
        flown,
        pieces=tuple(shield if one.name == "fly-shield" else one for one in flown.pieces),
    )
    banded = with_parts(own, ShapedWaistband())
    lengths = [
        evaluate(design).piece("fly-shield").piece.outline.edge("fly-shield.one").length
        for design in (own, banded, without_piece(banded, "band-front"))
    ]
    assert lengths[1] < lengths[0] - 40.0
    assert lengths[2] == pytest.approx(lengths[0], abs=1e-6)


def joined(design, *asked):
    pattern = evaluate(design)
    pieces = [sewn.piece for sewn in pattern.pieces]
    return pieced(design, Piecing(*asked), pattern.panels, pattern.lines, pieces)


def test_a_band_joined_of_scraps_goes_with_its_joins():
    banded = with_parts(PLAIN, ShapedWaistband(overlap=0.0, facing=""))
    parts = joined(banded, "band-back", "along", 40.0)
    (new,) = {one.name for one in parts.pieces} - {one.name for one in banded.pieces}
    for picked in ("band-back", "band-front", new):
        gone = without_piece(parts, picked)
        assert gone.pieces == PLAIN.pieces
        assert gone.lines == PLAIN.lines
        assert gone.joins == PLAIN.joins
        assert gone.holds == ()
    # The join alone: the band is whole again, its darts still shut.
    whole = without_line(parts, new)
    assert whole.pieces == banded.pieces
    assert farthest(evaluate(whole), evaluate(banded)) < 1e-6


def test_a_leg_divided_below_it_stays_divided():
    cut = joined(with_parts(PLAIN, ShapedWaistband()), "back", "across", 300.0)
    gone = without_piece(cut, "band-front")
    assert farthest(evaluate(gone), evaluate(joined(PLAIN, "back", "across", 300.0))) < 1e-6


def test_of_two_bands_the_one_on_top_goes_first():
    asked = {"overlap": 0.0, "facing": ""}
    one = with_parts(PLAIN, ShapedWaistband(width=60.0, **asked))
    two = with_parts(one, ShapedWaistband(name="top", width=30.0, **asked))
    for refused in (
        lambda: without_piece(two, "band-front"),
        lambda: without_line(two, "band-back"),
    ):
        with pytest.raises(BadInput, match="cut off it: take that away first"):
            refused()
    gone = without_piece(two, "top-back")
    assert gone.pieces == one.pieces
    assert farthest(evaluate(gone), evaluate(one)) < 1e-6


def test_with_one_piece_of_its_facing_goes_all_of_it():
    for name, asked in itertools.product(BEFORE, BANDS):
        if "faced" not in asked:
            continue
        faced = with_parts(BEFORE[name], ShapedWaistband(**BANDS[asked]))
        bare = without_piece(faced, "band-back-facing")
        wanted = with_parts(BEFORE[name], ShapedWaistband(**{**BANDS[asked], "facing": ""}))
        assert bare.pieces == wanted.pieces
        assert bare.joins == wanted.joins
        assert set(bare.finishes) == set(wanted.finishes)


def test_what_of_it_may_be_asked_for_alone_and_what_goes_is_told():
    banded = with_parts(PLAIN, ShapedWaistband())
    alone = {one.name for one in banded.pieces if may_go_alone(banded, one)}
    assert alone == {one.name for one in banded.pieces} - {"front", "back"}
    went = gone_between(banded, without_piece(banded, "band-back"))
    assert len(went) == 8 + 10
    assert {"band-front-under-facing", "band seam, other leg", "band top"} <= set(went)
    with pytest.raises(BadInput, match="cut from a panel: take band-back away"):
        without_piece(banded, "back")
