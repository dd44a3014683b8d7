"""A facing added to a band that is there, taken away again, and smaller for the turn of cloth."""

import pytest
import shapely
from msgspec.structs import replace

from studio.cut.narrowed import narrowed
from studio.cut.parts import BeltLoops, Fly, HandPocket, ShapedWaistband
from studio.cut.parts.band_facing import (
    TURN_OF_CLOTH,
    band_with,
    facings_of,
    layer_of,
    with_band_facing,
    with_facing_cut,
    without_band_facing,
)
from studio.cut.piece import Piece
from studio.demo import ORCHARD_BODY
from studio.design import EdgeRef, Join, JoinSide
from studio.design.cloth import CuttingRule, Lay, Placement
from studio.design.file import decoded, encoded
from studio.design.joins import Corner
from studio.design.naming import renamed_line
from studio.design.pieces import StripPiece
from studio.design.topstitch import Topstitch
from studio.errors import BadInput, GeometryRefused
from studio.exchange.along import sheet_of
from studio.pattern import evaluate, with_parts
from tests.cut.pairs import OTHER, PLAIN

OPEN = ("band-back", "band-front", "band-back-under", "band-front-under")

PAIRS = {
    "open": (PLAIN, {}),
    "open, over pocket and fly": (with_parts(PLAIN, HandPocket(), Fly(), BeltLoops()), {}),
    "closed": (PLAIN, {"overlap": 0.0}),
    "closed, over a fly": (with_parts(PLAIN, Fly()), {"overlap": 0.0}),
}


def banded(name, facing=""):
    design, asked = PAIRS[name]
    return with_parts(design, ShapedWaistband(facing=facing, **asked))


@pytest.mark.parametrize("name", PAIRS)
def test_a_facing_added_later_is_that_which_is_made_with_the_band(name):
    bare = banded(name)
    band = band_with(bare, "band-front")
    later = with_band_facing(bare, band, "main", TURN_OF_CLOTH)
    assert later == banded(name, facing="main")
    assert decoded(encoded(later)) == later
    assert {row.verdict for row in evaluate(later).ledger} == {"match"}


@pytest.mark.parametrize("name", PAIRS)
@pytest.mark.parametrize("picked", ["band-back", "band-front-facing"])
def test_a_facing_taken_away_leaves_the_band_as_it_was_without(name, picked):
    faced = banded(name, facing="main")
    bare = without_band_facing(faced, band_with(faced, picked))
    wanted = banded(name)
    assert bare.pieces == wanted.pieces
    assert bare.joins == wanted.joins
    assert set(bare.finishes) == set(wanted.finishes)
    pattern = evaluate(bare)
    assert [one for one in pattern.findings if one.rule == "edge-free"] == []


def test_all_that_spoke_of_a_facing_goes_with_it():
    faced = banded("open", facing="main")
    facing = "band-back-facing"
    spoken = replace(
        faced,
        corners=(Corner(facing, "back.waist", "back.side", "mitred"),),
        topstitching=(Topstitch(facing, "back.waist", (2.0,)),),
        cutting=(CuttingRule(facing, one_way=True), CuttingRule("front", one_way=True)),
        lay=Lay((Placement(facing, 0, "roll", (0.0, 0.0)),)),
    )
    bare = without_band_facing(spoken, band_with(spoken, "band-front"))
    assert bare.corners == bare.topstitching == bare.lay.placements == ()
    assert [one.piece for one in bare.cutting] == ["front"]
    assert "facing" not in str(encoded(bare))


def test_a_facing_that_cannot_be_added_is_refused_and_says_why():
    bare = banded("open")
    band = band_with(bare, "band-front")
    faced = with_band_facing(bare, band, "main", 0.0)
    with pytest.raises(GeometryRefused, match="faced already"):
        with_band_facing(faced, band, "main", 0.0)
    strip = StripPiece("band-back-facing", 100.0, 20.0)
    with pytest.raises(GeometryRefused, match="name band-back-facing"):
        with_band_facing(replace(bare, pieces=(*bare.pieces, strip)), band, "main", 0.0)
    top = Join(
        "own", JoinSide((EdgeRef("band-back", "back.waist"),)), JoinSide((EdgeRef("x", "x.one"),))
    )
    with pytest.raises(GeometryRefused, match=r"back.waist by own"):
        with_band_facing(replace(bare, joins=(*bare.joins, top)), band, "main", 0.0)
    with pytest.raises(GeometryRefused, match="wider than the band"):
        with_facing_cut(faced, band, cloth=None, less=-1.0)


def test_only_pieces_of_a_whole_shaped_band_are_known_as_such():
    assert band_with(PLAIN, "front") is None
    design = banded("open, over pocket and fly", facing="main")
    assert band_with(design, "front") is None
    assert band_with(design, "fly-facing") is None
    assert band_with(design, "band-front").pieces == OPEN
    assert layer_of(design, "band-back") == OPEN
    assert layer_of(design, "band-back-facing") == tuple(
        f"{name}-facing" for name in ("band-back", "band-front", *OPEN[2:])
    )
    assert layer_of(design, "front") == ("front",)
    lost = replace(design, pieces=tuple(one for one in design.pieces if one.name != OPEN[2]))
    assert band_with(lost, "band-front") is None


@pytest.mark.parametrize("name", PAIRS)
@pytest.mark.parametrize("body", [ORCHARD_BODY, OTHER], ids=["one body", "another"])
@pytest.mark.parametrize("less", [0.0, TURN_OF_CLOTH, 3.0])
def test_it_is_narrower_by_the_turn_of_cloth_and_every_seam_still_matches(name, body, less):
    """1 to 2 mm for cloth of middling weight: common practice, no source."""
    design = banded(name, facing="main")
    design = with_facing_cut(design, band_with(design, "band-front"), cloth=None, less=less)
    pattern = evaluate(replace(design, body=body))
    assert {row.verdict for row in pattern.ledger} == {"match"}
    # What stays is within what a needle makes of it, not at the border of what is allowed.
    tops = [row for row in pattern.ledger if row.name.endswith(("top", "facing edge"))]
    assert all(abs(row.difference - row.ease) < 0.2 for row in tops)
    for band in facings_of(design, band_with(design, "band-front")).values():
        outer, inner = (pattern.piece(n).piece.outline for n in (band.of, band.name))
        panel = band.of.split("-")[1]
        for edge in (f"{panel}.waist", f"band-{panel}"):
            assert inner.edge(edge).length == pytest.approx(outer.edge(edge).length, abs=1e-6)
        # By shapely, from the same places of the lower edge up to the top, which it knows as a row
        # of points: as much nearer as was asked for, all along.
        low, was = (one.edge(band.along[0]).chain for one in (inner, outer))
        for k in range(1, 10):
            near = rise(inner.edge(f"{panel}.waist").chain, low, k / 10.0)
            # Mirrored, the same place is counted from the other end.
            far = rise(outer.edge(f"{panel}.waist").chain, was, 1.0 - k / 10.0)
            assert far - near == pytest.approx(less, abs=0.15 * less + 1e-3)


def rise(top, low, share):
    at = low.at(low.length * share)
    return shapely.LineString(top.polyline(0.001)).distance(shapely.Point(at.x, at.y))


def test_nothing_off_is_the_very_outline_and_too_much_is_told():
    design = banded("open", facing="main")
    band = band_with(design, "band-front")
    whole = evaluate(with_facing_cut(design, band, cloth=None, less=0.0))
    one, two = (whole.piece(n).piece.outline for n in ("band-back", "band-back-facing"))
    assert two.area_mm2 == pytest.approx(one.area_mm2, abs=1e-6)
    thin = evaluate(with_facing_cut(design, band, cloth=None, less=42.0))
    told = [one.message for one in thin.findings if one.where == "band-back-facing"]
    assert any("not wide enough to be made 42.0 mm narrower" in one for one in told)
    piece = whole.piece("band-back-facing").piece
    assert isinstance(piece, Piece)
    assert narrowed(piece, ("band-back",), 0.0) is piece
    for edges in (("gone",), ("back.waist", "band-back")):
        with pytest.raises(GeometryRefused, match="cannot be made"):
            narrowed(piece, edges, 1.0)
    with pytest.raises(BadInput, match="Facing, narrower by: It is \u22121 mm"):
        with_parts(PLAIN, ShapedWaistband(turn=-1.0))


def test_a_line_renamed_takes_the_edge_that_is_moved_along():
    design = renamed_line(banded("open", facing="main"), "band-front", "low")
    pattern = evaluate(design)
    assert {row.verdict for row in pattern.ledger} == {"match"}
    assert band_with(design, "band-front").lower("band-front") == ("low",)
    assert len(pattern.pieces) == len(design.pieces)


def test_the_sheet_to_draft_along_says_how_much_narrower():
    sheet = sheet_of(evaluate(banded("open", facing="main")))
    said = " ".join(sentence for stage in sheet.stages for sentence in stage.sentences)
    assert "Draw its edge band-back again, as long as it is, 1.5 mm further in" in said
    bare = PAIRS["open"][0]
    none = sheet_of(evaluate(with_parts(bare, ShapedWaistband(turn=0.0))))
    assert "further in" not in " ".join(s for stage in none.stages for s in stage.sentences)
