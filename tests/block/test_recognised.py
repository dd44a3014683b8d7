"""A drawing read as front and back: known panels, made nameless, get their names again."""

import pytest
from msgspec.structs import replace

from studio.block import draft
from studio.block.imported import block_of_drawing, drawn_panel, turned_panel
from studio.block.panel import Panel
from studio.block.recognised import as_trousers, recognised
from studio.curves import Affine, Chain, Cubic, Edge, Outline, Point, Vector
from studio.demo import ORCHARD_BODY
from studio.design import Body, EdgeRef, Finish, Fit, ImportedBlock
from studio.design.block import DrawnDart
from studio.design.plain import design_of_drawing, plain_design
from studio.errors import GeometryRefused
from studio.pattern import evaluate

BODIES = {
    "orchard": ORCHARD_BODY,
    "stout": Body(waist_girth=980.0, hip_girth=1080.0, inside_leg=690.0, body_rise=290.0),
    "slender": Body(waist_girth=640.0, hip_girth=860.0, inside_leg=920.0, body_rise=260.0),
}


def nameless(panel, shift, *, mirrored=False, cut_darts=False):
    """A panel as a drawing gives it: somewhere on the sheet, its edges numbered, its darts either
    bridged or cut out of the waist.
    """
    chains = []
    for edge in panel.outline:
        cubics = list(edge.chain.cubics)
        mouths = {(d.first, d.last): d.point for d in panel.darts if d.edge == edge.name}
        run = []
        for cubic in cubics:
            point = mouths.get((cubic.p0, cubic.p3)) if cut_darts else None
            if point is None:
                run.append(cubic)
                continue
            chains.append(Chain(tuple(run)))
            chains += [Chain.straight(cubic.p0, point), Chain.straight(point, cubic.p3)]
            run = []
        chains.append(Chain(tuple(run)))
    move = Affine.shift(shift)
    outline = Outline.of(
        Edge.whole(f"layer-3.edge-{number}", chain.transformed(move))
        for number, chain in enumerate(chains, start=1)
    )
    if mirrored:
        outline = outline.transformed(Affine.mirror(outline.box.centre, outline.box.centre + UP))
    return drawn_panel(replace(panel, name="layer-3", outline=outline, darts=(), levels={}))


UP = Vector(0.0, 100.0)


@pytest.mark.parametrize("body", BODIES.values(), ids=BODIES)
def test_a_drafted_block_made_nameless_gets_its_names_and_levels_again(body):
    drafted = draft(body, Fit()).panels
    drawn = [nameless(panel, Vector(400.0 * k, -30.0)) for k, panel in enumerate(drafted)]
    for before, after in zip(drafted, recognised(drawn[::-1]), strict=True):
        assert after.name == before.name
        assert [edge.name for edge in after.edges] == [edge.name for edge in before.outline]
        made = block_of_drawing(ImportedBlock((after,))).panels[0]
        for edge in before.outline:
            assert made.outline.edge(edge.name).length == pytest.approx(edge.length, abs=1e-6)
        # The draft's own knee and hip follow other rules; crotch and waist are seen in the drawing.
        assert after.levels["crotch"] == pytest.approx(drafted[0].levels["crotch"], abs=6.0)
        assert after.levels["waist"] == pytest.approx(drafted[0].levels["waist"], abs=12.0)


def test_darts_cut_into_a_drawn_waist_become_darts():
    drafted = draft(ORCHARD_BODY, Fit()).panels
    drawn = [
        nameless(panel, Vector(500.0 * k, 0.0), cut_darts=True) for k, panel in enumerate(drafted)
    ]
    for before, after in zip(drafted, recognised(drawn), strict=True):
        assert [dart.name for dart in after.darts] == [dart.name for dart in before.darts]
        made = block_of_drawing(ImportedBlock((after,))).panels[0]
        for one, two in zip(before.darts, made.darts, strict=True):
            assert two.first.distance_to(two.last) == pytest.approx(
                one.first.distance_to(one.last), abs=1e-6
            )
            assert two.point.distance_to(two.first) == pytest.approx(
                one.point.distance_to(one.first), abs=1e-6
            )


@pytest.mark.parametrize("turns", [(180.0, 180.0), (0.0, 180.0), (90.0, 90.0), (-90.0, 90.0)])
@pytest.mark.parametrize("cut_darts", [False, True])
def test_panels_that_lie_or_stand_on_their_heads_are_stood_up(turns, cut_darts):
    drafted = draft(ORCHARD_BODY, Fit()).panels
    drawn = tuple(
        replace(
            turned_panel(nameless(panel, Vector(500.0 * k, 0.0), cut_darts=cut_darts), turns[k]),
            name=f"layer-{k}",
        )
        for k, panel in enumerate(drafted)
    )
    named = as_trousers(design_of_drawing(ImportedBlock(drawn), "drawn"))
    for before, after in zip(drafted, block_of_drawing(named.block).panels, strict=True):
        for edge in before.outline:
            assert after.outline.edge(edge.name).length == pytest.approx(edge.length, abs=1e-6)
        assert len(after.darts) == (len(before.darts) if cut_darts else 0)
    assert len(named.block.notes) == sum(turn != 0.0 for turn in turns)


def test_a_leg_mirrored_top_to_bottom_is_known_by_how_rise_and_inseam_leave_the_fork():
    drafted = draft(ORCHARD_BODY, Fit()).panels
    drawn = []
    for k, panel in enumerate(drafted):
        shape = nameless(panel, Vector(500.0 * k, 0.0), mirrored=True, cut_darts=True)
        drawn.append(replace(turned_panel(shape, 180.0), name=f"layer-{k}"))
    named = as_trousers(design_of_drawing(ImportedBlock(tuple(drawn)), "drawn"))
    assert len(named.block.notes) == 4
    for before, after in zip(drafted, block_of_drawing(named.block).panels, strict=True):
        for edge in before.outline:
            assert after.outline.edge(edge.name).length == pytest.approx(edge.length, abs=1e-6)


@pytest.mark.parametrize(
    ("body", "knee"),
    [
        (Body(waist_girth=500.0, hip_girth=560.0, inside_leg=380.0, body_rise=180.0), True),
        (Body(waist_girth=780.0, hip_girth=1000.0, inside_leg=300.0, body_rise=250.0), False),
    ],
)
def test_the_legs_of_a_child_have_a_knee_and_those_of_shorts_have_none(body, knee):
    drafted = draft(body, Fit()).panels
    front, back = recognised(
        [nameless(panel, Vector(500.0 * k, 0.0)) for k, panel in enumerate(drafted)]
    )
    assert ("knee" in front.levels) is ("knee" in back.levels) is knee


def test_a_hem_off_level_is_told():
    drafted = draft(ORCHARD_BODY, Fit()).panels
    drawn = tuple(
        replace(turned_panel(nameless(panel, Vector(600.0 * k, 0.0)), 7.0), name=f"layer-{k}")
        for k, panel in enumerate(drafted)
    )
    notes = as_trousers(design_of_drawing(ImportedBlock(drawn), "drawn")).block.notes
    assert len(notes) == 2
    assert all("hem is 7.0° off level" in note for note in notes)


def test_darts_of_a_drawn_panel_keep_their_place_when_it_is_named():
    drafted = draft(ORCHARD_BODY, Fit()).panels
    shift = Vector(30.0, -40.0)
    drawn = []
    for k, panel in enumerate(drafted):
        bare = nameless(panel, shift)
        names = [edge.name for edge in bare.edges]
        number = [edge.name for edge in panel.outline].index(f"{panel.name}.waist")
        darts = tuple(
            DrawnDart(f"d{n}", names[number], d.first + shift, d.last + shift, d.point + shift)
            for n, d in enumerate(panel.darts)
        )
        drawn.append(replace(bare, name=f"layer-{k}", darts=darts))
    for before, after in zip(drafted, recognised(drawn), strict=True):
        assert [dart.name for dart in after.darts] == [dart.name for dart in before.darts]
        assert {dart.edge for dart in after.darts} == {f"{before.name}.waist"}


def test_the_design_it_makes_sews_like_a_plain_pair():
    drafted = draft(ORCHARD_BODY, Fit()).panels
    drawn = tuple(nameless(panel, Vector(500.0 * k, 0.0)) for k, panel in enumerate(drafted))
    drawn = tuple(replace(one, name=f"layer-{k}") for k, one in enumerate(drawn))
    named = as_trousers(design_of_drawing(ImportedBlock(drawn), "drawn"))
    rows = {row.name: row for row in evaluate(named).ledger}
    for row in evaluate(plain_design(ORCHARD_BODY)).ledger:
        assert rows[row.name].length_a == pytest.approx(row.length_a, abs=1e-6)
        assert rows[row.name].verdict == "match"


@pytest.mark.parametrize("seen", [(True, False), (False, True), (True, True)])
def test_a_panel_drawn_the_other_way_round_is_mirrored_so_that_seams_meet_as_they_are_sewn(seen):
    drafted = draft(ORCHARD_BODY, Fit()).panels
    drawn = []
    for k, panel in enumerate(drafted):
        shape = nameless(panel, Vector(500.0 * k, 0.0), mirrored=seen[k], cut_darts=True)
        drawn.append(replace(shape, name=f"layer-{k}"))
    named = as_trousers(design_of_drawing(ImportedBlock(tuple(drawn)), "drawn"))
    assert sum("mirrored" in note for note in named.block.notes) == sum(seen)
    for before, after in zip(drafted, block_of_drawing(named.block).panels, strict=True):
        assert [edge.name for edge in after.outline] == [edge.name for edge in before.outline]
        assert [dart.name for dart in after.darts] == [dart.name for dart in before.darts]
        for one, two in zip(before.darts, after.darts, strict=True):
            assert one.first.distance_to(one.point) == pytest.approx(
                two.first.distance_to(two.point), abs=1e-6
            )
    told = {finding.rule for finding in evaluate(named).findings}
    assert told <= {finding.rule for finding in evaluate(plain_design(ORCHARD_BODY)).findings}


def test_what_is_no_pair_of_trousers_is_refused_with_the_reason():
    drafted = draft(ORCHARD_BODY, Fit()).panels
    drawn = [nameless(panel, Vector(500.0 * k, 0.0)) for k, panel in enumerate(drafted)]
    with pytest.raises(GeometryRefused, match="1 of 1 outlines look like"):
        recognised(drawn[:1])
    with pytest.raises(GeometryRefused, match=r"pouch: .*level"):
        recognised([pocket("pouch"), drawn[1]])
    named = as_trousers(
        design_of_drawing(ImportedBlock((drawn[0], replace(drawn[1], name="b"))), "d")
    )
    with pytest.raises(GeometryRefused, match="before steps, lines, seams"):
        as_trousers(named)


def pocket(name):
    """A level-bottomed outline all of whose corners lie level, beside the legs."""
    scallops = (
        Chain.of([Cubic(Point(0, 0), Point(15, -9), Point(35, -9), Point(50, 0))]),
        Chain.of([Cubic(Point(50, 0), Point(65, -9), Point(85, -9), Point(100, 0))]),
        Chain.of([Cubic(Point(100, 0), Point(100, 90), Point(0, 90), Point(0, 0))]),
    )
    outline = Outline.of(Edge.whole(f"{name}.{k}", chain) for k, chain in enumerate(scallops))
    return drawn_panel(Panel(name, outline, (), {}))


def test_other_outlines_of_the_drawing_stay():
    drafted = draft(ORCHARD_BODY, Fit()).panels
    legs = [nameless(panel, Vector(500.0 * k, 0.0)) for k, panel in enumerate(drafted)]
    legs = [replace(one, name=f"layer-{k}") for k, one in enumerate(legs)]
    drawn = design_of_drawing(ImportedBlock((legs[0], pocket("pouch"), legs[1])), "drawn")
    named = as_trousers(drawn)
    assert [panel.name for panel in named.block.panels] == ["front", "back", "pouch"]
    assert named.block.panels[2] == drawn.block.panels[1]
    assert [piece.name for piece in named.pieces] == ["front", "back", "pouch"]
    assert {row.verdict for row in evaluate(named).ledger} == {"match"}
    alike = design_of_drawing(ImportedBlock((legs[0], pocket("front"), legs[1])), "drawn")
    with pytest.raises(GeometryRefused, match=r"Another outline .* is called front"):
        as_trousers(alike)


def test_what_was_finished_before_is_not_finished_otherwise():
    drafted = draft(ORCHARD_BODY, Fit()).panels
    drawn = tuple(nameless(panel, Vector(500.0 * k, 0.0)) for k, panel in enumerate(drafted))
    design = design_of_drawing(ImportedBlock((drawn[0], replace(drawn[1], name="b"))), "drawn")
    finish = Finish(EdgeRef("b", drawn[1].edges[0].name), "hem", 40.0)
    with pytest.raises(GeometryRefused, match="seams and finishes"):
        as_trousers(replace(design, finishes=(finish,)))
