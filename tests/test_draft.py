"""What is put off while the hand moves is shown as it was, and made whole when it lets go."""

import sys

import msgspec
import pytest

from studio import pattern as road
from studio.check import Finding
from studio.demo import demo_design
from studio.design import OnEdge, holds
from studio.pattern import evaluate

DRAWN = ("panels", "lines", "pieces", "ledger", "girths", "measured", "order", "pockets")
"""What is as in the whole pattern already under the hand."""

BEFORE = Finding("cut-line", "grave", "front-leg", "found before the drag")


def moved(design, name, edge, corner, mm):
    line = design.line(name)
    path = msgspec.structs.replace(line.path, end=OnEdge(edge, corner, mm=mm))
    return design.with_line(msgspec.structs.replace(line, path=path))


@pytest.mark.parametrize(
    ("name", "edge", "corner", "places"),
    [
        ("hand-pocket", "front.side", "front.waist", (150.0, 171.0, 188.0)),
        ("knee-panel", "front.side", "front.hem", (231.0, 240.5, 252.0)),
        ("yoke", "back.side", "back.waist", (29.0, 33.5, 41.0)),
    ],
)
def test_a_line_let_go_of_gives_what_a_fresh_start_gives(name, edge, corner, places):
    road.forget()  # What other tests have asked for is no longer known, and is put off.
    shown = evaluate(demo_design())
    design = demo_design()
    for mm in places:
        design = moved(demo_design(), name, edge, corner, mm)
        shown = evaluate(design, shown)
        assert shown.draft
    released = evaluate(design)
    road.forget()
    fresh = evaluate(design)
    assert not released.draft
    assert released == fresh
    # All that is drawn and measured was so already under the hand.
    for field in DRAWN:
        assert getattr(shown, field) == getattr(fresh, field), field


def test_a_draft_keeps_what_was_found_of_a_piece_that_changed_and_the_whole_finds_anew():
    road.forget()
    before = evaluate(demo_design())
    before = msgspec.structs.replace(before, judged=before.judged | {"front-leg": (BEFORE,)})
    design = moved(demo_design(), "hand-pocket", "front.side", "front.waist", 173.0)
    draft = evaluate(design, before)
    assert draft.draft
    assert BEFORE in draft.findings
    assert BEFORE not in evaluate(design).findings


def test_nothing_is_put_off_where_nothing_changed():
    before = evaluate(demo_design())
    again = evaluate(demo_design(), before)
    assert not again.draft
    assert again == before


def changes():
    """Changes of all kinds, one after the other, some of which cannot be made."""
    demo = demo_design()
    design = moved(demo, "yoke", "back.side", "back.waist", 33.0)
    yield design
    design = moved(design, "hand-pocket", "front.side", "front.waist", 182.0)
    yield design
    # Through the hem: neither leg nor bag can be cut.
    broken = moved(design, "hand-pocket", "front.hem", "front.side", 20.0)
    yield broken
    yield moved(broken, "knee-panel", "front.side", "front.hem", 240.0)
    yield design
    yield msgspec.structs.replace(design, joins=design.joins[1:])
    yield msgspec.structs.replace(design, pieces=design.pieces[:-2])
    yield msgspec.structs.replace(design, topstitching=design.topstitching[:1])
    yield msgspec.structs.replace(design, standard_allowance=10.0)
    yield msgspec.structs.replace(design, lines=design.lines[::-1])
    yield msgspec.structs.replace(design, lines=design.lines[:-1])
    yield msgspec.structs.replace(design, alterations=design.alterations[:-1])
    wider = msgspec.structs.replace(design.body, hip_girth=1010.0)
    yield msgspec.structs.replace(design, body=wider)
    yield demo


def test_whatever_changes_under_the_hand_is_drawn_as_from_a_fresh_start():
    road.forget()
    shown = evaluate(demo_design())
    drawn = []
    for design in changes():
        shown = evaluate(design, shown)
        drawn.append((design, shown))
    for design, one in drawn:
        road.forget()
        fresh = evaluate(design)
        for field in DRAWN:
            assert getattr(one, field) == getattr(fresh, field), field
        # What could not be made is told at once; only the rules of whole pieces wait.
        missing = {
            finding for finding in fresh.findings if finding.rule in ("line", "piece", "join")
        }
        assert missing <= set(one.findings)
    assert any(len(one.pieces) < len(design.pieces) for design, one in drawn)


def test_that_holds_clash_is_found_once_and_stays_told_while_something_else_is_dragged(monkeypatch):
    road.forget()
    asked = (holds.Length("yoke", 200.0),)  # Shorter than the straight line between its ends.
    demo = msgspec.structs.replace(demo_design(), holds=asked)
    shown = evaluate(demo)
    [found] = [one for one in shown.findings if one.rule == "hold"]
    assert found.gravity == "grave"
    with monkeypatch.context() as patch:
        patch.setattr(sys.modules["studio.cut.held"], "solution_of", None)
        for mm in (171.0, 172.0, 173.0):
            design = moved(demo, "hand-pocket", "front.side", "front.waist", mm)
            shown = evaluate(design, shown)
            assert [one for one in shown.findings if one.rule == "hold"] == [found]
    assert evaluate(design).lines == shown.lines
    # Mended, it is found no more; undone, it is found again.
    mended = msgspec.structs.replace(demo, holds=(holds.Length("yoke", 255.0),))
    assert [one for one in evaluate(mended, shown).findings if one.rule == "hold"] == []
    road.forget()
    assert [one for one in evaluate(demo).findings if one.rule == "hold"] == [found]


def test_a_piece_to_which_a_changed_seam_brings_what_it_did_before_is_not_made_ready_again():
    """The side seam changes its length where a mouth ends; the yoke, which it passes, is notched
    as before.
    """
    before = evaluate(demo_design())
    design = moved(demo_design(), "hand-pocket", "front.side", "front.waist", 173.4)
    shown = evaluate(design, before)
    seams = [one.work.joins["side seam"].seam for one in (before, shown)]
    assert seams[0] != seams[1]
    assert seams[0].brought["yoke"] is seams[1].brought["yoke"]
    assert seams[0].brought["front-leg"] is not seams[1].brought["front-leg"]
    assert before.work.ready["yoke"] is shown.work.ready["yoke"]
    assert before.work.ready["front-leg"] is not shown.work.ready["front-leg"]
