"""An edge of a drawn block can be named, and everything that spoke of it follows."""

import pytest
from msgspec.structs import replace

from studio.block.imported import drawn_panel
from studio.demo import demo_design
from studio.design import (
    AnchoredPath,
    Design,
    EdgeRef,
    Finish,
    ImportedBlock,
    Join,
    JoinSide,
    OnEdge,
    PanelPiece,
    StyleLine,
)
from studio.design.accepted import Accepted
from studio.design.alterations import FairEdge
from studio.design.carried import Carried
from studio.design.cloth import Shortage
from studio.design.file import encoded
from studio.design.joins import Corner
from studio.design.naming import renamed_edge, renamed_line, renamed_panel
from studio.design.pieces import FacingPiece
from studio.design.topstitch import Topstitch
from studio.errors import BadInput
from studio.pattern import evaluate
from tests.shapes import front_panel

DRAWN = Design(
    name="drawn",
    block=ImportedBlock((drawn_panel(front_panel()),)),
    lines=(
        StyleLine(
            "cut",
            "front",
            "seam",
            AnchoredPath(
                OnEdge("front.side", "front.waist", mm=100.0),
                OnEdge("front.rise", "front.waist", mm=100.0),
            ),
        ),
    ),
    pieces=(PanelPiece("front", "front"),),
    joins=(
        Join(
            "side",
            JoinSide((EdgeRef("front", "front.side"),)),
            JoinSide((EdgeRef("front", "front.side"),), mirrored=True),
        ),
    ),
    finishes=(Finish(EdgeRef("front", "front.waist"), "faced"),),
)


def test_lines_joins_and_finishes_follow_the_new_name():
    named = renamed_edge(renamed_edge(DRAWN, "front.side", "outside"), "front.waist", "top")
    assert named.lines[0].path.start == OnEdge("outside", "top", mm=100.0)
    assert named.joins[0].a.edges[0].edge == "outside"
    assert named.finishes[0].edge.edge == "top"
    before, after = evaluate(DRAWN), evaluate(named)
    assert after.findings == before.findings
    assert after.ledger[0].length_a == before.ledger[0].length_a


def test_two_edges_never_share_a_name():
    with pytest.raises(BadInput, match="another edge"):
        renamed_edge(DRAWN, "front.side", "front.waist")


def test_a_drafted_block_keeps_its_names():
    with pytest.raises(BadInput, match="drawn block"):
        renamed_edge(Design(name="drafted"), "front.side", "outside")


def test_steps_corners_rows_shortages_and_the_order_follow_the_new_name_of_an_edge():
    rich = replace(
        DRAWN,
        alterations=(FairEdge(panel="front", edge="front.inseam", within=1.0),),
        corners=(Corner("front", "front.hem", "front.inseam", "mitred"),),
        topstitching=(Topstitch("front", "front.inseam", (6.0,)),),
        shortages=(Shortage("front", 0, "front.inseam", 10.0, 40.0, 3.0),),
        finishes=(Finish(EdgeRef("front", "front.inseam"), "bound"),),
        sewing=("front:front.inseam, bound", "side"),
        pieces=(*DRAWN.pieces, FacingPiece("facing", "front", less=1.0, along=("front.inseam",))),
    )
    named = renamed_edge(rich, "front.inseam", "within")
    assert named.alterations[0].edge == "within"
    assert (named.corners[0].before, named.corners[0].after) == ("front.hem", "within")
    assert named.topstitching[0].along == named.shortages[0].edge == "within"
    assert named.pieces[1].along == ("within",)
    assert named.sewing == ("front:within, bound", "side")
    made = evaluate(named)
    assert [step.after is None for step in made.steps] == [False]
    assert "inseam" not in encoded(named).decode()


def test_a_panel_takes_its_edges_and_its_piece_along():
    named = renamed_panel(DRAWN, "front", "fore")
    assert [edge.name for edge in named.block.panels[0].edges] == [
        edge.name.replace("front.", "fore.") for edge in DRAWN.block.panels[0].edges
    ]
    assert named.pieces[0].panel == named.pieces[0].name == "fore"
    before, after = evaluate(DRAWN), evaluate(named)
    assert after.ledger[0].length_a == before.ledger[0].length_a
    assert [f.rule for f in after.findings] == [f.rule for f in before.findings]
    assert renamed_panel(named, "fore", "front") == DRAWN
    for name in ("", "a.b"):
        with pytest.raises(BadInput, match="without a full stop"):
            renamed_panel(DRAWN, "front", name)
    with pytest.raises(BadInput, match="no such panel"):
        renamed_panel(DRAWN, "sleeve", "fore")


def test_what_a_pocket_carries_and_its_rows_follow_the_new_name_of_its_mouth():
    design = demo_design()
    mouth = next(line for line in design.lines if line.kind == "mouth").name
    rich = replace(
        design,
        carried=(Carried(mouth, "phone", 160.0, 78.0, 9.0),),
        topstitching=(*design.topstitching, Topstitch("front-leg", mouth, (6.0,))),
    )
    named = renamed_line(rich, mouth, "slant")
    assert named.carried[0].pocket == named.topstitching[-1].along == "slant"
    rules = sorted(finding.rule for finding in evaluate(rich).findings)
    assert sorted(finding.rule for finding in evaluate(named).findings) == rules


def test_what_a_patch_pocket_carries_follows_its_outline_and_a_loop_stays_itself():
    design = demo_design()
    assert "secateurs-pocket" in {one.pocket for one in design.carried}
    named = renamed_line(design, "secateurs-pocket", "shears")
    assert [one.pocket for one in named.carried] == ["shears", "twine-loop"]
    before, after = evaluate(design), evaluate(named)
    assert [f.rule for f in after.findings] == [f.rule for f in before.findings]
    assert encoded(renamed_line(named, "shears", "secateurs-pocket")) == encoded(design)


def test_what_is_let_stand_of_a_piece_stands_when_the_line_of_its_name_is_called_otherwise():
    design = demo_design()
    stands = (
        Accepted("grain", "knee-panel", "short", 23.0),
        Accepted("line", "knee-panel", "as meant", message="as it is"),
    )
    named = renamed_line(replace(design, accepted=stands), "knee-panel", "knee")
    assert [one.where for one in named.accepted] == ["knee-panel", "knee"]
    # No piece and no seam is called as the mouth is.
    stands = (Accepted("grain", "hand-pocket", "short", 23.0),)
    named = renamed_line(replace(design, accepted=stands), "hand-pocket", "slant")
    assert named.accepted[0].where == "slant"


def test_lines_edges_and_panels_never_take_a_name_that_another_needs():
    free = renamed_edge(DRAWN, "front.side", "outside")
    with pytest.raises(BadInput, match="edge bears"):
        renamed_line(free, "cut", "outside")
    with pytest.raises(BadInput, match="of its own"):
        renamed_line(free, "cut", "")
    with pytest.raises(BadInput, match="of its own"):
        renamed_edge(free, "outside", "")
    other = replace(DRAWN.block.panels[0], name="other")
    edges = tuple(
        replace(edge, name=edge.name.replace("front.", "fore." if "side" in edge.name else "o."))
        for edge in other.edges
    )
    two = replace(DRAWN.block, panels=(*DRAWN.block.panels, replace(other, edges=edges, darts=())))
    with pytest.raises(BadInput, match="Another panel has an edge"):
        renamed_panel(replace(DRAWN, block=two), "front", "fore")


def test_steps_that_are_called_after_a_piece_follow_its_new_name():
    heads = ("darts of", "rows on", "rows through")
    wished = (*(f"{head} front" for head in heads), "side", "rows on frontage")
    named = renamed_panel(replace(DRAWN, sewing=wished), "front", "fore")
    assert named.sewing == (*(f"{head} fore" for head in heads), "side", "rows on frontage")
