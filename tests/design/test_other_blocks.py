"""The same design on a block that was drawn elsewhere, with the same names of edges."""

import pytest
from msgspec.structs import replace

from studio.block import draft
from studio.demo import demo_design
from studio.design import DraftedBlock, ImportedBlock
from studio.design.block import DrawnDart, DrawnEdge, DrawnPanel
from studio.pattern import evaluate

DESIGN = demo_design()
OTHER = replace(DESIGN.body, name="another", hip_girth=1040.0, waist_girth=800.0)


def as_drawn(panel):
    """A drafted panel as an import gives it."""
    return DrawnPanel(
        panel.name,
        tuple(
            DrawnEdge(edge.name, tuple((c.p0, c.p1, c.p2, c.p3) for c in edge.chain.cubics))
            for edge in panel.outline
        ),
        tuple(DrawnDart(d.name, d.edge, d.first, d.last, d.point) for d in panel.darts),
        panel.levels,
    )


def imported(fit):
    return ImportedBlock(tuple(as_drawn(panel) for panel in draft(OTHER, fit).panels))


def test_a_design_runs_on_an_imported_block_as_on_a_drafted_one():
    assert isinstance(DESIGN.block, DraftedBlock)
    drafted = evaluate(replace(DESIGN, body=OTHER))
    brought = evaluate(replace(DESIGN, body=OTHER, block=imported(DESIGN.block.fit)))
    assert [made.after is None for made in brought.steps] == [False] * len(DESIGN.alterations)
    assert len(brought.pieces) == len(drafted.pieces) == len(DESIGN.pieces)
    for one, two in zip(drafted.ledger, brought.ledger, strict=True):
        assert one.verdict == two.verdict == "match"
        assert one.length_a == pytest.approx(two.length_a, abs=1e-6)


def test_what_makes_no_sense_on_it_is_told_by_name_and_the_rest_stands():
    block = imported(DESIGN.block.fit)
    front, back = block.panels
    renamed = tuple(
        replace(edge, name="back.outer") if edge.name == "back.side" else edge
        for edge in back.edges
    )
    strange = ImportedBlock((front, replace(back, edges=renamed)))
    pattern = evaluate(replace(DESIGN, body=OTHER, block=strange))
    failed = [made.step for made in pattern.steps if made.after is None]
    assert failed
    assert {step.panel for step in failed} == {"back"}
    told = [finding for finding in pattern.findings if finding.rule == "alteration"]
    assert len(told) == len(failed)
    assert all("back.side" in finding.message or "side" in finding.message for finding in told)
    made = {sewn.piece.name for sewn in pattern.pieces}
    assert {"front-leg", "knee-panel", "bearer", "pocket-bag"} <= made
    rows = {row.name: row.verdict for row in pattern.ledger}
    assert rows["pocket mouth"] == rows["pocket bag"] == rows["knee panel"] == "match"
