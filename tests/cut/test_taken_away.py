"""Lines and pieces taken away again: the design is as it was before they were added."""

import pytest
from msgspec.structs import replace

from studio.cut.parts import (
    BeltLoops,
    Fly,
    HandPocket,
    KneePanel,
    PatchPocket,
    ToolLoop,
    Waistband,
)
from studio.cut.taken_away import gone_between, without_line, without_piece
from studio.cut.yoke_cut import Yoke, with_yoke
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.file import decoded, encoded
from studio.design.plain import plain_design
from studio.design.topstitch import Topstitch
from studio.errors import BadInput
from studio.pattern import evaluate, with_parts

PLAIN = plain_design(ORCHARD_BODY)


def with_back_yoke(design):
    panel = next(one for one in evaluate(design).panels if one.name == "back")
    return with_yoke(design, panel, Yoke())


def seen(design):
    """What a maker sees of it: pieces with their outlines, seams, finishes, findings."""
    pattern = evaluate(design)
    return (
        {s.piece.name: (round(s.piece.outline.area_mm2, 6), s.piece.cut) for s in pattern.pieces},
        {row.name: (row.length_a, row.length_b, row.verdict) for row in pattern.ledger},
        {(one.edge.text, one.how) for one in design.finishes},
        sorted(finding.message for finding in pattern.findings),
    )


LINES = [
    (HandPocket(), "hand-pocket"),
    (HandPocket(facing=40.0), "hand-pocket"),
    (KneePanel(), "knee-panel"),
    (PatchPocket(), "patch-pocket"),
    (Fly(), "fly"),
]
PIECES = [(Waistband(), "waistband"), (BeltLoops(), "belt-loop"), (ToolLoop(), "tool-loop")]


@pytest.mark.parametrize(("part", "line"), LINES, ids=lambda one: getattr(one, "name", one))
def test_a_part_goes_with_its_line_and_nothing_of_it_is_left(part, line):
    added = with_parts(PLAIN, part)
    gone = without_line(added, line)
    assert seen(gone) == seen(PLAIN)
    assert gone.lines == PLAIN.lines
    assert gone.pieces == PLAIN.pieces
    assert gone.joins == PLAIN.joins
    assert decoded(encoded(gone)) == gone


@pytest.mark.parametrize(("part", "piece"), PIECES, ids=lambda one: getattr(one, "name", one))
def test_a_band_or_strip_goes_alone_and_what_it_was_sewn_to_is_faced(part, piece):
    gone = without_piece(with_parts(PLAIN, part), piece)
    assert seen(gone) == seen(PLAIN)
    assert gone.joins == PLAIN.joins


def test_two_pieces_that_a_yoke_line_cut_are_one_again_with_their_darts():
    yoked = with_back_yoke(PLAIN)
    assert seen(without_line(yoked, "yoke")) == seen(PLAIN)
    assert without_line(yoked, "yoke").pieces == PLAIN.pieces


def test_parts_go_in_another_order_than_they_came():
    full = with_back_yoke(PLAIN)
    for part in (HandPocket(facing=40.0), Fly(), KneePanel(), Waistband(), PatchPocket()):
        full = with_parts(full, part)
    for line in ("yoke", "hand-pocket", "patch-pocket", "fly", "knee-panel"):
        full = without_line(full, line)
        assert not [f.message for f in evaluate(full).findings if f.gravity == "grave"]
    assert seen(without_piece(full, "waistband")) == seen(PLAIN)


def test_the_top_of_a_pocket_bearer_is_faced_no_further_than_the_band_was_sewn_to_it():
    pocketed = with_parts(PLAIN, HandPocket())
    gone = without_piece(with_parts(pocketed, Waistband()), "waistband")
    assert set(gone.finishes) == set(pocketed.finishes)


def test_a_row_over_the_whole_leg_runs_its_whole_length_again():
    row = Topstitch("back", "back.side", (6.0,))
    part = Topstitch("back", "back.inseam", (6.0,), start=20.0, end=90.0)
    rowed = replace(PLAIN, topstitching=(row, part))
    assert without_line(with_back_yoke(rowed), "yoke").topstitching == (row, part)


def test_what_goes_is_told_by_name():
    added = with_parts(PLAIN, Fly())
    names = gone_between(added, without_line(added, "fly"))
    assert names == ("fly-facing", "fly-shield", "fly edge", "fly shield")


def test_every_line_of_the_orchard_trousers_goes_or_is_refused_with_its_reason():
    design = demo_design()
    refused = {}
    for line in design.lines:
        try:
            gone = without_line(design, line.name)
        except BadInput as problem:
            refused[line.name] = problem.message
            continue
        assert decoded(encoded(gone)) == gone
        pattern = evaluate(gone)
        assert not [f.message for f in pattern.findings if f.gravity == "grave"]
        assert {row.verdict for row in pattern.ledger} == {"match"}
        spoken = encoded(replace(gone, name="", notes="")).decode()
        assert f'"{line.name}"' not in spoken
    assert refused == {
        "pocket-bag": "It belongs to hand-pocket: take that line away.",
        "secateurs-pocket": "pencil-pocket is laid on it: take that away first.",
    }


def test_every_band_and_strip_of_the_orchard_trousers_goes_and_the_rest_stays_sewn():
    design = demo_design()
    for name in ("waistband", "belt-loop", "twine-loop", "fly-shield"):
        gone = without_piece(design, name)
        assert decoded(encoded(gone)) == gone
        pattern = evaluate(gone)
        assert name not in {sewn.piece.name for sewn in pattern.pieces}
        assert not [f.message for f in pattern.findings if f.gravity == "grave"]
        assert {row.verdict for row in pattern.ledger} == {"match"}


@pytest.mark.parametrize(
    ("act", "reason"),
    [
        (lambda: without_line(PLAIN, "yoke"), "There is no such line"),
        (lambda: without_piece(PLAIN, "sleeve"), "There is no such piece"),
        (lambda: without_piece(PLAIN, "front"), "It is cut from a panel."),
        (lambda: without_piece(with_back_yoke(PLAIN), "yoke"), "panel: take yoke away"),
    ],
)
def test_what_cannot_go_is_refused_with_its_reason(act, reason):
    with pytest.raises(BadInput, match=reason):
        act()
