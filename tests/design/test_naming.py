"""An edge of a drawn block can be named, and everything that spoke of it follows."""

import pytest

from studio.block.imported import drawn_panel
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
from studio.design.naming import renamed_edge
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
    with pytest.raises(BadInput, match="Another edge"):
        renamed_edge(DRAWN, "front.side", "front.waist")


def test_a_drafted_block_keeps_its_names():
    with pytest.raises(BadInput, match="drawn block"):
        renamed_edge(Design(name="drafted"), "front.side", "outside")
