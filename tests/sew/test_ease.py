"""Places carried from one side of an eased seam to the other and back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.curves import Chain, Edge, Outline, Point
from studio.cut.piece import Piece
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.design.topstitch import Topstitch
from studio.sew import Lined, cut_line, grainline, measured, notch_places, row_ends
from studio.sew.ease import partner_of, partner_on_a
from studio.sew.notches import cut_notch
from studio.sew.sew_piece import sew_piece
from studio.sew.walk import Walk


def join(**more):
    return Join("seam", JoinSide(()), JoinSide(()), **more)


def test_back_from_side_b_in_closed_form():
    eased = join(ease=12.0, eased=(100.0, 200.0))
    # 100 mm unchanged, 112 on 100, 100 unchanged.
    for on_a, on_b in (
        (40.0, 40.0),
        (100.0, 100.0),
        (150.0, 156.0),
        (200.0, 212.0),
        (250.0, 262.0),
    ):
        assert partner_of(eased, 300.0, 312.0, on_a) == pytest.approx(on_b, abs=1e-12)
        assert partner_on_a(eased, 300.0, 312.0, on_b) == pytest.approx(on_a, abs=1e-9)
    # Evenly: in proportion, as are lengths that differ without being meant to.
    assert partner_on_a(join(ease=12.0), 300.0, 312.0, 78.0) == pytest.approx(75.0, abs=1e-9)
    assert partner_on_a(join(), 300.0, 312.0, 78.0) == pytest.approx(75.0, abs=1e-9)


def test_all_ease_at_one_place():
    gathered = join(ease=10.0, eased=(100.0, 100.0))
    assert partner_on_a(gathered, 300.0, 310.0, 60.0) == pytest.approx(60.0)
    for on_b in (100.0, 105.0, 110.0):
        assert partner_on_a(gathered, 300.0, 310.0, on_b) == pytest.approx(100.0)
    assert partner_on_a(gathered, 300.0, 310.0, 150.0) == pytest.approx(140.0)


def test_places_beyond_the_ends_meet_the_ends():
    eased = join(ease=12.0, eased=(100.0, 200.0))
    assert partner_on_a(eased, 300.0, 312.0, -5.0) == 0.0
    assert partner_on_a(eased, 300.0, 312.0, 400.0) == 300.0
    assert partner_on_a(eased, 0.0, 312.0, 40.0) == 0.0


@given(
    length=st.floats(50.0, 1200.0),
    share=st.floats(-0.05, 0.08),
    over=st.floats(-3.0, 3.0),
    low=st.floats(-0.2, 1.0),
    wide=st.floats(0.3, 1.0),
    at=st.floats(0.0, 1.0),
)
def test_there_and_back_is_where_it_began(length, share, over, low, wide, at):
    # The stretch eased into is so long that side b never runs back.
    ease = share * length
    eased = join(ease=ease, eased=(low * length, (low + wide) * length))
    length_b = length + ease + over
    there = partner_of(eased, length, length_b, at * length)
    assert partner_on_a(eased, length, length_b, there) == pytest.approx(at * length, abs=1e-9)


def strip(name, long):
    corners = (Point(0.0, 0.0), Point(long, 0.0), Point(long, 60.0), Point(0.0, 60.0))
    edges = zip(("low", "right", "top", "left"), corners, (*corners[1:], corners[0]), strict=True)
    return Piece(
        name, Outline.of(Edge.whole(f"{name}.{e}", Chain.straight(p, q)) for e, p, q in edges)
    )


def eased_seam():
    """One strip of 300 against two of 162 and 150, 12 of them eased in between 100 and 200."""
    pieces = {p.name: p for p in (strip("long", 300.0), strip("one", 162.0), strip("two", 150.0))}
    seam = Join(
        "seam",
        JoinSide((EdgeRef("long", "long.low"),)),
        JoinSide((EdgeRef("one", "one.low"), EdgeRef("two", "two.low"))),
        ease=12.0,
        eased=(100.0, 200.0),
    )
    return measured(seam, pieces), pieces


def test_a_joint_of_an_eased_side_is_notched_where_it_meets():
    seam, pieces = eased_seam()
    # 162 mm of side b lie at 100 + 62 / 1.12 of side a; in proportion it would be 155.8.
    wanted = 100.0 + 62.0 / 1.12
    (place,) = notch_places(seam)
    assert (place.piece, place.along) == ("long", pytest.approx(wanted, abs=1e-9))
    sewn = {}
    for name, piece in pieces.items():
        widths = (12.0,) * 4
        here = [place] if name == "long" else []
        line = cut_line(piece.outline, widths)
        sewn[name] = sew_piece(piece, Lined(widths, *line, grainline(piece.outline, 90.0)), here)
    (met,) = Walk(seam, sewn).met
    assert met.gap == pytest.approx(0.0, abs=1e-9)
    assert cut_notch(place, 12.0).at.distance_to(Point(wanted, 0.0)) < 1e-9


def test_a_row_that_runs_out_on_an_eased_side_is_matched_where_it_meets():
    seam, pieces = eased_seam()
    # Side b is walked from the right of its strips: a row 30 inside the right edge of "two" runs
    # out 162 + 30 mm along side b.
    (along,) = row_ends(seam, pieces, (Topstitch("two", "two.right", (30.0,)),))
    assert along == pytest.approx(100.0 + (162.0 + 30.0 - 100.0) / 1.12, abs=1e-6)
