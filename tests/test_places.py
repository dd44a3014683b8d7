"""Notches and eased stretches of a seam stay where they are on the garment when a band, or its
facing, comes or goes: measured from the hem, and from the waist, by shapely.
"""

import pytest
import shapely
from msgspec.structs import replace

from studio.cut.parts import Fly, HandPocket, PatchPocket, ShapedWaistband
from studio.cut.parts.band_facing import band_with, with_band_facing, without_band_facing
from studio.cut.taken_away import without_line, without_piece
from studio.demo import ORCHARD_BODY
from studio.design import Finish
from studio.design.joins import EdgeRef
from studio.design.plain import plain_design
from studio.pattern import evaluate, with_parts, with_places_kept

PLAIN = plain_design(ORCHARD_BODY)
WIDTH = 44.45


def marked(design, **seams):
    """The design with notches of its own in seams, told by their names with _ for a space."""
    told = {name.replace("_", " "): notches for name, notches in seams.items()}
    joins = tuple(replace(one, notches=told.get(one.name, one.notches)) for one in design.joins)
    return replace(design, joins=joins)


def own_of(design, name):
    return next(one.notches for one in design.joins if one.name == name)


def notched(pattern, piece, edge, seam):
    """How far the notches of a seam on an edge of a piece lie from either end of it, mm: by
    shapely, on chords within 0.001 of the edge.
    """
    sewn = pattern.piece(piece)
    line = shapely.LineString(sewn.piece.outline.edge(edge).chain.polyline(0.001))
    places = [shapely.Point(n.at.x, n.at.y) for n in sewn.notches if n.join == seam]
    along = sorted(line.project(at) for at in places if line.distance(at) < 0.01)
    return along, [line.length - one for one in along]


def of_the_hem(pattern, seam="side seam", edge="front.side"):
    """How far notches of the side seam lie from the hem: the end of the edge further down."""
    chain = pattern.piece("front").piece.outline.edge(edge).chain
    from_start, from_end = notched(pattern, "front", edge, seam)
    return from_start if chain.start.y < chain.end.y else from_end


BANDS = {
    "closed": {"overlap": 0.0, "facing": ""},
    "closed and faced": {"overlap": 0.0},
    "closed by a button": {"overlap": 45.0},
}


@pytest.mark.parametrize("asked", BANDS.values(), ids=BANDS)
def test_notches_stay_on_the_garment_when_a_band_comes_and_goes(asked):
    # On the side from the hem, and from the waist; on the crotch seam from the waist of the front.
    bare = marked(PLAIN, side_seam=(300.0, -150.0), crotch_seam=(120.0, -130.0))
    before = evaluate(bare)
    hem, rise = of_the_hem(before), notched(before, "front", "front.rise", "crotch seam")
    back = notched(before, "back", "back.rise", "crotch seam")
    banded = with_parts(bare, ShapedWaistband(width=WIDTH, **asked))
    after = evaluate(banded)
    assert of_the_hem(after) == pytest.approx(hem, abs=0.02)
    # The rise runs straight from the waist here, and its upper part is the band's.
    for piece, was in (("front", rise), ("back", back)):
        now = notched(after, piece, f"{piece}.rise", "crotch seam")
        chain = after.piece(piece).piece.outline.edge(f"{piece}.rise").chain
        from_waist = 0 if chain.start.y > chain.end.y else 1
        assert len(now[0]) == len(was[0]) > 0
        expected = [one - WIDTH for one in was[from_waist]]
        assert now[from_waist] == pytest.approx(expected, abs=0.05)
    freed = with_places_kept(banded, without_line(banded, "band-front"))
    assert own_of(freed, "side seam") == pytest.approx((300.0, -150.0), abs=0.02)
    assert own_of(freed, "crotch seam") == pytest.approx((120.0, -130.0), abs=0.02)
    for name in ("side seam", "crotch seam"):
        assert all(
            (one < 0.0) == (was < 0.0)
            for one, was in zip(own_of(banded, name), own_of(bare, name), strict=True)
        )


def test_a_notch_within_a_band_that_opens_is_one_of_its_own_seams_and_comes_back():
    bare = marked(PLAIN, side_seam=(-20.0, 410.0), crotch_seam=(25.0, -15.0))
    banded = with_parts(bare, ShapedWaistband(width=WIDTH))
    # Side a of the side seam is the front from the hem up; the band's sides run alike.
    assert own_of(banded, "side seam") == (410.0,)
    assert own_of(banded, "crotch seam") == ()
    pattern = evaluate(banded)
    for name in ("band side", "band side, other leg"):
        (at,) = own_of(banded, name)
        (row,) = (one for one in pattern.ledger if one.name == name)
        from_the_waist = min(at, row.length_a - at)
        assert from_the_waist == pytest.approx(20.0, abs=0.05)
    (at,) = own_of(banded, "band centre back")
    assert min(at, WIDTH - at) == pytest.approx(15.0, abs=0.05)
    # Notched on both pieces of the seam, on both legs.
    for piece, edge, name in (
        ("band-front", "front.side", "band side"),
        ("band-back", "back.side", "band side"),
        ("band-front-under", "front.side", "band side, other leg"),
    ):
        from_start, from_end = notched(pattern, piece, edge, name)
        assert min(from_start[0], from_end[0]) == pytest.approx(20.0, abs=0.05)
    freed = with_places_kept(banded, without_piece(banded, "band-back"))
    assert sorted(own_of(freed, "side seam")) == pytest.approx(
        [410.0, length_of(freed, "side seam") - 20.0], abs=0.05
    )
    assert sorted(own_of(freed, "crotch seam")) == pytest.approx(
        [25.0, length_of(freed, "crotch seam") - 15.0], abs=0.05
    )


def length_of(design, seam):
    return next(row.length_a for row in evaluate(design).ledger if row.name == seam)


def test_notches_stay_when_a_closed_band_is_faced_and_when_its_facing_goes():
    bare = marked(PLAIN, crotch_seam=(120.0,), side_seam=(-150.0,))
    banded = with_parts(bare, ShapedWaistband(width=WIDTH, overlap=0.0, facing=""))
    band = band_with(banded, "band-front")
    faced = with_places_kept(banded, with_band_facing(banded, band, "main", 0.0))
    # The facing is folded up above: the seam begins so much earlier.
    assert own_of(faced, "crotch seam") == pytest.approx((120.0 + WIDTH,), abs=0.05)
    assert own_of(faced, "side seam") == pytest.approx((-150.0 - WIDTH,), abs=0.05)
    again = with_places_kept(faced, without_band_facing(faced, band))
    assert own_of(again, "crotch seam") == pytest.approx((120.0,), abs=0.05)
    assert own_of(again, "side seam") == pytest.approx((-150.0,), abs=0.05)
    # One within the facing goes with it.
    within = marked(faced, crotch_seam=(20.0, 150.0))
    less = with_places_kept(within, without_band_facing(within, band))
    assert own_of(less, "crotch seam") == pytest.approx((150.0 - WIDTH,), abs=0.05)


def test_an_eased_stretch_and_what_is_caught_stay_too():
    seam = next(one for one in PLAIN.joins if one.name == "crotch seam")
    joins = tuple(
        replace(one, eased=(100.0, 180.0), ease=3.0) if one is seam else one for one in PLAIN.joins
    )
    tab = Finish(EdgeRef("tab", "tab.start"), "caught", into="crotch seam", at=110.0)
    bare = replace(PLAIN, joins=joins, finishes=(*PLAIN.finishes, tab))
    banded = with_parts(bare, ShapedWaistband(width=WIDTH))
    made = next(one for one in banded.joins if one.name == "crotch seam")
    assert made.eased == pytest.approx((100.0 - WIDTH, 180.0 - WIDTH), abs=0.05)
    caught = next(one for one in banded.finishes if one.edge.piece == "tab")
    assert caught.at == pytest.approx(110.0 - WIDTH, abs=0.05)
    # As much of it as the seam still has: what lay in the band is the band's.
    high = replace(
        bare,
        joins=tuple(
            replace(one, eased=(10.0, 80.0)) if one.name == "crotch seam" else one for one in joins
        ),
    )
    made = next(
        one
        for one in with_parts(high, ShapedWaistband(width=WIDTH)).joins
        if one.name == "crotch seam"
    )
    assert made.eased == pytest.approx((0.0, 80.0 - WIDTH), abs=0.05)


def test_a_part_that_moves_no_seam_leaves_every_number_as_it_was_typed():
    bare = marked(with_parts(PLAIN, HandPocket(), Fly()), side_seam=(300.125, -150.5))
    more = with_parts(bare, PatchPocket())
    assert own_of(more, "side seam") == (300.125, -150.5)
    assert with_places_kept(bare, bare) is bare
    unmarked = with_parts(PLAIN, HandPocket())
    changed = replace(unmarked, notes="another")
    assert with_places_kept(unmarked, changed) is changed
