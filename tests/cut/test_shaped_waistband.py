"""The shaped waistband: over pockets, a fly and a yoke; its overlap, button and buttonhole."""

import math

import pytest
import shapely
from msgspec.structs import replace
from shapely.affinity import rotate, translate

from studio.cloth.pieced import Piecing, pieced
from studio.cut.parts import BeltLoops, Fly, HandPocket, PatchPocket, ShapedWaistband, Waistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design import EdgeRef, Finish
from studio.design.file import decoded, encoded
from studio.errors import GeometryRefused
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from tests.cut.pairs import OTHER, PLAIN


def bandless(yoke_down=30.0):
    """The demonstration without its band; yoke and back pocket lower, to leave room for one."""
    design = demo_design()
    (waist,) = (join for join in design.joins if join.name == "waist")

    def lowered(line):
        path = line.path
        if line.name == "yoke":
            start, end = (replace(at, mm=at.mm + yoke_down) for at in (path.start, path.end))
            return replace(line, path=replace(path, start=start, end=end))
        if line.name == "back-pocket":
            at = replace(path.at, mm=path.at.mm + yoke_down)
            return replace(line, path=replace(path, at=at))
        return line

    caught = (one for one in design.finishes if one.edge.piece != "waistband")
    return replace(
        design,
        lines=tuple(lowered(line) for line in design.lines),
        pieces=tuple(piece for piece in design.pieces if piece.name != "waistband"),
        joins=tuple(join for join in design.joins if not join.name.startswith("waist")),
        finishes=(
            *(replace(one, into="") if one.into.startswith("waist") else one for one in caught),
            *(Finish(ref, "faced") for ref in waist.a.edges),
        ),
    )


PAIRS = {
    "plain": lambda: PLAIN,
    "hand pocket": lambda: with_parts(PLAIN, HandPocket()),
    "pocket with a facing": lambda: with_parts(PLAIN, HandPocket(facing=40.0)),
    "fly": lambda: with_parts(PLAIN, Fly()),
    "back pocket": lambda: with_parts(PLAIN, HandPocket(panel="back")),
    "all parts": lambda: with_parts(PLAIN, HandPocket(), Fly(), BeltLoops(), PatchPocket()),
    "demonstration": lambda: bandless(45.0),
}


def grave(pattern):
    """Findings but those of fit, and notes."""
    fit = ("waist-large", "girth-small")
    return [f.message for f in pattern.findings if f.rule not in fit and f.gravity != "note"]


@pytest.mark.parametrize("overlap", [0.0, 45.0], ids=["closed", "with an overlap"])
@pytest.mark.parametrize("pair", PAIRS)
def test_a_shaped_band_goes_on_every_pair_clean_saved_and_on_another_body(pair, overlap):
    bare = PAIRS[pair]()
    assert grave(evaluate(bare)) == []
    design = with_parts(bare, ShapedWaistband(overlap=overlap))
    assert decoded(encoded(design)) == design
    for body in (ORCHARD_BODY, OTHER):
        pattern = evaluate(replace(design, body=body))
        assert grave(pattern) == []
        assert {row.verdict for row in pattern.ledger} == {"match"}
        assert len(pattern.pieces) == len(design.pieces)


@pytest.mark.parametrize(("pair", "half"), [("plain", 395.0), ("demonstration", 429.23)])
def test_the_band_measures_what_a_tape_laid_on_it_shows(pair, half):
    bare = PAIRS[pair]()
    pattern = evaluate(with_parts(bare, ShapedWaistband()))
    outlines = {n: pattern.piece(f"band-{n}").piece.outline for n in ("front", "back")}
    tops = {n: outline.edge(f"{n}.waist").chain for n, outline in outlines.items()}
    lows = {n: outline.edge(f"band-{n}").chain for n, outline in outlines.items()}
    # The top is the waist with its darts sewn shut, what fairing it costs aside. Of the plain
    # pair: half of 780 and of the waist's ease.
    panels = {panel.name: panel for panel in pattern.panels}
    sewn = sum(panels[n].sewn_length(f"{n}.waist") for n in tops)
    top = sum(chain.length for chain in tops.values())
    assert sewn == pytest.approx(half, abs=0.01)
    assert top == pytest.approx(sewn, abs=0.5)
    # The lower edge is longer: hips are wider than the waist. It is as long as what it is sewn to.
    low = sum(chain.length for chain in lows.values())
    assert low > top + 30.0
    for name in ("band seam", "band seam, other leg"):
        (row,) = (row for row in pattern.ledger if row.name == name)
        assert row.length_b == pytest.approx(low, abs=1e-6)
        assert row.length_a == pytest.approx(low, abs=0.5)
    # As wide as asked for: within a millimetre on the front, two where darts were closed.
    for name, slack in (("front", 1.0), ("back", 2.0)):
        for k in range(1, 10):
            at = tops[name].at(tops[name].length * k / 10.0)
            assert lows[name].nearest(at)[1] == pytest.approx(45.0, abs=slack)


@pytest.mark.parametrize("pair", ["plain", "hand pocket", "demonstration"])
def test_the_overlap_lies_on_the_side_of_the_button_only(pair):
    pattern = evaluate(with_parts(PAIRS[pair](), ShapedWaistband(overlap=50.0)))
    over, under = (pattern.piece(f"band-front{n}").piece for n in ("", "-under"))
    assert [edge.name for edge in over.outline if "under" in edge.name] == []
    parts = {part: under.outline.edge(f"band-front-under.{part}") for part in ("top", "overlap")}
    assert [edge.length for edge in parts.values()] == pytest.approx([50.0, 50.0], abs=1e-6)
    # The rest of it is the piece on top, mirrored; so are the two backs.
    for edge in ("front.waist", "front.side", "band-front"):
        assert under.outline.edge(edge).length == pytest.approx(over.outline.edge(edge).length)
    backs = [pattern.piece(f"band-back{n}").piece for n in ("", "-under")]
    assert {piece.cut for piece in (over, under, *backs)} == {"single"}
    one, two = (shapely.Polygon(piece.outline.polyline()) for piece in backs)
    turned = shapely.Polygon([(-x, y) for x, y in two.exterior.coords])
    turned = translate(turned, one.bounds[0] - turned.bounds[0], one.bounds[1] - turned.bounds[1])
    assert one.symmetric_difference(turned).area < 1.0


def closed(over, under):
    """The move that lays the end on top on the one under it, centre front on centre front."""
    here, (there,) = (
        over.outline.edge("front.rise").chain,
        [mark.chain for mark in under.marks if mark.name.endswith(".centre-front")],
    )
    angles = [math.atan2(one.end.y - one.start.y, one.end.x - one.start.x) for one in (here, there)]

    def move(shape):
        turned = rotate(
            shape, angles[1] - angles[0], origin=(here.start.x, here.start.y), use_radians=True
        )
        return translate(turned, there.start.x - here.start.x, there.start.y - here.start.y)

    return move


@pytest.mark.parametrize("pair", ["plain", "demonstration"])
def test_closed_the_button_sits_in_the_hole_and_the_overlap_lies_under_the_end(pair):
    part = ShapedWaistband(width=44.0, overlap=50.0, button=20.0)
    design = with_parts(PAIRS[pair](), part)
    for body in (ORCHARD_BODY, OTHER):
        pattern = evaluate(replace(design, body=body))
        over, under = (pattern.piece(f"band-front{n}").piece for n in ("", "-under"))
        move = closed(over, under)
        (hole,) = (mark.chain for mark in over.marks if mark.name.endswith(".buttonhole"))
        cross = [mark.chain for mark in under.marks if mark.name.endswith(".button")]
        assert hole.length == pytest.approx(23.0)  # the button and 3: common practice, no source
        assert {round(one.length, 9) for one in cross} == {20.0}
        button = cross[0].start.toward(cross[0].end, 0.5)
        outer = move(shapely.Point(hole.start.x, hole.start.y))
        assert outer.distance(shapely.Point(button.x, button.y)) < 0.5
        # All of the overlap is covered, and nothing else of the band under it.
        top = move(shapely.Polygon(over.outline.polyline()))
        low = shapely.Polygon(under.outline.polyline())
        overlap = low.area - top.area
        assert overlap > 0.9 * 44.0 * 50.0
        assert low.intersection(top).area == pytest.approx(overlap, rel=0.005)
        # The button keeps clear of every edge of the overlap.
        assert low.exterior.distance(shapely.Point(button.x, button.y)) > 10.0 + 4.0


def test_a_button_without_room_is_not_marked():
    pattern = evaluate(with_parts(PLAIN, ShapedWaistband(overlap=20.0)))
    marks = [
        mark.name for sewn in pattern.pieces for mark in sewn.piece.marks if "button" in mark.name
    ]
    assert marks == []
    assert all("Button" not in stage.title for stage in work_sheet_of(pattern).stages)


def test_the_work_sheet_tells_of_button_and_order():
    pattern = evaluate(with_parts(bandless(45.0), ShapedWaistband()))
    sheet = work_sheet_of(pattern)
    (words,) = (stage.sentences[0] for stage in sheet.stages if stage.title.startswith("Button"))
    assert "20.0 mm long" in words
    assert "on the cross of band-front-under" in words
    place = {name: k for k, name in enumerate(pattern.order.steps)}
    for first in ("side seam", "crotch seam", "fly edge", "band side", "band centre back"):
        assert place[first] < place["band seam"]


def test_what_was_caught_in_the_waist_is_caught_in_the_seam_of_the_band():
    design = with_parts(bandless(45.0), ShapedWaistband())
    into = {one.edge.text: one.into for one in design.finishes if one.how == "caught"}
    for edge in ("pocket-bag:band-front", "fly-facing:band-front"):
        assert into[edge] == "band seam"
    # The shield is sewn to the other front.
    assert into["fly-shield:fly-shield.start"] == "band seam, other leg"
    assert "pocket-bag:front.waist" not in into


@pytest.mark.parametrize("overlap", [0.0, 45.0], ids=["closed", "with an overlap"])
@pytest.mark.parametrize("width", [30.0, 45.0])
def test_shield_facing_and_zip_agree_with_the_band_that_is_there(overlap, width):
    plain = with_parts(PLAIN, Fly(zip_length=150.0))
    assert evaluate(plain).piece("fly-shield").piece.outline.box.width == pytest.approx(170.0)
    fixed = replace(plain, pieces=tuple(map(fixed_in_length, plain.pieces)))
    assert evaluate(fixed).piece("fly-shield").piece.outline.box.width == 180.0
    for bare, more in ((plain, 0.0), (fixed, 10.0)):
        design = with_parts(bare, ShapedWaistband(width=width, overlap=overlap))
        for body in (ORCHARD_BODY, OTHER):
            pattern = evaluate(replace(design, body=body))
            (edge,) = (row for row in pattern.ledger if row.name == "fly edge")
            assert edge.length_a == pytest.approx(170.0 - width, abs=1e-6)
            assert edge.length_b == pytest.approx(170.0 - width, abs=1e-6)
            shield = pattern.piece("fly-shield").piece.outline.box
            assert shield.width == pytest.approx(170.0 - width + more, abs=1e-6)
        ready = work_sheet_of(evaluate(design))
        said = " ".join(sentence for stage in ready.stages for sentence in stage.sentences)
        assert f"A zip for fly edge, {150.0 - width:.1f} mm long." in said
    # A straight band stands above the waist and takes nothing off.
    straight = evaluate(with_parts(plain, Waistband()))
    assert straight.piece("fly-shield").piece.outline.box.width == pytest.approx(170.0)


def fixed_in_length(recipe):
    """A shield as it was in older designs, cut to a length of its own."""
    return replace(recipe, length=180.0, fits="") if recipe.name == "fly-shield" else recipe


def test_a_shield_follows_a_dragged_end_of_its_fly_and_one_without_its_seam_is_told():
    design = with_parts(PLAIN, Fly())
    shown = evaluate(design)
    line = design.line("fly")
    for mm in (160.0, 171.0, 144.0):
        end = replace(line.path.end, mm=mm)
        moved = design.with_line(replace(line, path=replace(line.path, end=end)))
        shown = evaluate(moved, shown)
        assert shown.piece("fly-shield").piece.outline.box.width == pytest.approx(mm, abs=1e-6)
        assert shown.piece("fly-shield").piece == evaluate(moved).piece("fly-shield").piece
    lost = replace(design, joins=tuple(join for join in design.joins if join.name != "fly edge"))
    told = [one.message for one in evaluate(lost).findings if one.where == "fly-shield"]
    assert any("no join fly edge" in one for one in told)
    short = tuple(
        replace(one, length=-300.0) if one.name == "fly-shield" else one for one in design.pieces
    )
    pattern = evaluate(replace(design, pieces=short))
    told = [one.message for one in pattern.findings if one.where == "fly-shield"]
    assert "A strip needs a length and a width." in told


def test_a_band_without_overlap_is_run_through_by_side_and_crotch_seam():
    design = with_parts(PAIRS["hand pocket"](), ShapedWaistband(overlap=0.0, facing=""))
    joins = {join.name: [ref.text for ref in join.a.edges] for join in design.joins}
    assert joins["side seam"] == [
        "front:front.side",
        "hand-pocket-bearer:front.side after hand-pocket",
        "band-front:front.side",
    ]
    assert joins["crotch seam"][0] == "band-front:front.rise"
    assert joins["crotch seam"][-1] == "band-back:back.rise"
    # Above a fly the front edges meet, and no seam takes them.
    flown = with_parts(PLAIN, Fly(), ShapedWaistband(overlap=0.0, facing=""))
    edge = EdgeRef("band-front", "front.rise")
    assert edge in [one.edge for one in flown.finishes]
    assert all(edge not in join.refs for join in flown.joins)


def test_what_a_shaped_band_cannot_be_cut_from_is_refused():
    with pytest.raises(GeometryRefused, match="sewn already, by waist"):
        with_parts(PLAIN, Waistband(), ShapedWaistband())
    with pytest.raises(GeometryRefused, match="would cross yoke"):
        with_parts(bandless(0.0), ShapedWaistband())
    with pytest.raises(GeometryRefused, match="needs a width"):
        with_parts(PLAIN, ShapedWaistband(width=0.0))
    with pytest.raises(GeometryRefused, match="past the end"):
        with_parts(PLAIN, ShapedWaistband(width=1500.0))
    long = evaluate(with_parts(PLAIN, ShapedWaistband(overlap=400.0)))
    assert any("shorter than its piece" in f.message for f in long.findings)


def test_a_part_of_a_band_with_a_button_is_not_joined_of_scraps():
    design = with_parts(PLAIN, ShapedWaistband(facing=""))
    pattern = evaluate(design)
    pieces = [sewn.piece for sewn in pattern.pieces]
    with pytest.raises(GeometryRefused, match="one piece"):
        pieced(design, Piecing("band-front", "along", 0.0), pattern.panels, pattern.lines, pieces)


def test_the_shield_of_a_fly_is_as_much_shorter_as_the_band_takes():
    for width in (40.0, 55.0):
        pattern = evaluate(with_parts(PLAIN, Fly(), ShapedWaistband(width=width)))
        rows = {row.name: row for row in pattern.ledger}
        assert rows["fly shield"].verdict == "match"
        assert rows["fly shield"].length_b == pytest.approx(160.0 - width, abs=1e-6)
