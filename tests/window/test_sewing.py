"""How pieces are finished, cornered, stitched and joined, in the window."""

import pytest
from msgspec.structs import replace
from PySide6.QtWidgets import QDialogButtonBox, QLabel, QSpinBox

from studio.canvas.selection import Selection
from studio.cut.parts import PARTS, ShapedWaistband
from studio.cut.parts.band_facing import facings_beside
from studio.demo import ORCHARD_BODY
from studio.design.cloth import Cloth, Shortage
from studio.design.file import encoded
from studio.design.joins import EdgeRef
from studio.design.pieces import StripPiece
from studio.design.plain import plain_design
from studio.pattern import with_parts
from studio.window.join_dialog import JoinDialog


def form_of(window, piece):
    window.document.select(Selection("piece", piece))
    return window.details.form


def widths(window, piece):
    sewn = window.document.pattern.piece(piece)
    names = [edge.name for edge in sewn.piece.outline]
    return dict(zip(names, sewn.allowances, strict=True))


def test_a_free_edge_is_finished_with_one_choice_and_its_allowance_typed(window):
    before = encoded(window.document.design)
    form = form_of(window, "back-leg")
    assert "back.hem" in form.finishes
    assert "back.side" not in form.finishes
    form.set_finish("back.hem", "double-hem")
    assert widths(window, "back-leg")["back.hem"] == 30.0
    form.set_allowance("back.hem", 44.0)
    assert widths(window, "back-leg")["back.hem"] == 44.0
    form.set_finish("back.hem", "")
    assert any(f.rule == "edge-free" for f in window.document.pattern.findings)
    for _ in range(3):
        window.document.undo()
    assert encoded(window.document.design) == before


def test_a_turn_up_stands_as_high_as_is_typed_and_takes_both_its_layers(window):
    form = form_of(window, "back-leg")
    form.set_finish("back.hem", "turn-up")
    form = form_of(window, "back-leg")
    assert form.turn_ups["back.hem"].value() == 40.0
    assert widths(window, "back-leg")["back.hem"] == 110.0
    form.set_turn_up("back.hem", 50.0)
    assert widths(window, "back-leg")["back.hem"] == 130.0
    # What was typed of the whole allowance stays turned in: 15 of 115 beside 2 x 50.
    form.set_allowance("back.hem", 115.0)
    form.set_turn_up("back.hem", 30.0)
    assert widths(window, "back-leg")["back.hem"] == 75.0
    assert len(window.document.pattern.piece("back-leg").folds) == 2
    form.set_finish("back.hem", "hem")
    assert form_of(window, "back-leg").turn_ups == {}


def test_a_piece_is_cut_from_another_cloth_known_or_new(window):
    before = encoded(window.document.design)
    cut = form_of(window, "back-pocket").cut
    cut.set_cloth("knee")
    assert window.document.pattern.piece("back-pocket").piece.cloth == "knee"
    cut = form_of(window, "back-pocket").cut
    assert cut.cloth.currentText() == "knee"
    cut.cloth.setEditText(" old coat ")
    cut.cloth.lineEdit().editingFinished.emit()
    assert window.document.pattern.piece("back-pocket").piece.cloth == "old coat"
    assert window.document.design.cloths[-1].name == "old coat"
    form_of(window, "back-pocket").cut.set_cloth("  ")
    for _ in range(2):
        window.document.undo()
    assert encoded(window.document.design) == before


def test_a_waistband_and_a_strip_are_given_their_numbers(window):
    band = form_of(window, "waistband").cut
    assert band.lengths["width"].value() == 40.0
    band.lengths["width"].setValue(52.0)
    band = form_of(window, "waistband").cut
    band.lengths["overlap"].setValue(60.0)
    box = window.document.pattern.piece("waistband").piece.outline.box
    assert box.height == 104.0
    half = window.document.pattern.piece("waistband").piece.outline.edge("waistband.half-1").length
    assert box.width == pytest.approx(2.0 * half + 60.0)
    loop = form_of(window, "belt-loop").cut
    loop.set_value("count", 7)
    assert window.document.pattern.piece("belt-loop").piece.quantity == 7
    assert "width" not in form_of(window, "front-leg").cut.lengths


def test_overlap_and_button_of_a_shaped_band_are_given_to_both_of_its_fronts(window):
    design = with_parts(plain_design(ORCHARD_BODY), ShapedWaistband())
    window.document.change("A plain pair", design)
    form = form_of(window, "band-front").cut
    assert form.lengths["overlap"].value() == 45.0
    form.lengths["overlap"].setValue(60.0)
    form_of(window, "band-front-under").cut.lengths["button"].setValue(22.0)
    over, under = (
        window.document.pattern.piece(f"band-front{name}").piece for name in ("", "-under")
    )
    assert under.outline.edge("band-front-under.overlap").length == pytest.approx(60.0)
    (hole,) = (mark.chain for mark in over.marks if mark.name == "band-front.buttonhole")
    assert hole.length == pytest.approx(25.0)
    assert form_of(window, "band-back").cut.lengths == {}
    for _ in range(2):
        window.document.undo()
    assert window.document.design == design


def test_a_band_is_faced_its_facing_narrowed_and_taken_away_each_in_one_step(window):
    bare = with_parts(plain_design(ORCHARD_BODY), ShapedWaistband(facing=""))
    window.document.change(
        "A plain pair", replace(bare, cloths=(*bare.cloths, Cloth("lining", "#998877")))
    )
    before = encoded(window.document.design)
    box = form_of(window, "band-back").cut.faced_with
    assert [box.itemText(k) for k in range(box.count())] == ["no facing", "main", "lining"]
    assert box.currentIndex() == 0
    box.setCurrentIndex(2)
    box.activated.emit(2)
    faced = {one.of: one.cloth for one in window.document.design.pieces if hasattr(one, "less")}
    assert set(faced.values()) == {"lining"}
    assert len(faced) == 4
    assert window.document.history.undo_label == "Face band with lining"
    assert form_of(window, "band-back").cut.faced_with.currentText() == "lining"
    facing = form_of(window, "band-front-facing").cut
    assert facing.lengths["less"].value() == 1.5
    facing.lengths["less"].setValue(2.0)
    assert {one.less for one in window.document.design.pieces if hasattr(one, "less")} == {2.0}
    box = form_of(window, "band-front-facing").cut.faced_with
    box.setCurrentIndex(0)
    box.activated.emit(0)
    assert all("facing" not in one.name for one in window.document.design.pieces)
    for _ in range(3):
        window.document.undo()
    assert encoded(window.document.design) == before
    # A facing that cannot be is told, and nothing is changed.
    told = []
    window.document.refused.connect(told.append)
    strip = StripPiece("band-back-facing", 100.0, 20.0)
    bare = window.document.design
    window.document.change("A strip", replace(bare, pieces=(*bare.pieces, strip)))
    form_of(window, "band-front").cut.face_with("main")
    assert len(facings_beside(window.document.design, "band-front")) == 0
    assert len(told) == 1
    assert "band-back-facing" in told[0]


def test_the_cloth_of_a_layer_of_a_band_is_chosen_once_or_piece_by_piece(window):
    window.document.change(
        "A plain pair", with_parts(plain_design(ORCHARD_BODY), ShapedWaistband())
    )
    cut = form_of(window, "band-back-facing").cut
    assert cut.whole_layer.text() == "The other 3 pieces of the facing too"
    cut.set_cloth("lining")
    cloths = {one.name: one.cloth for one in window.document.design.pieces}
    assert {name for name, cloth in cloths.items() if cloth == "lining"} == {
        f"band-{name}-facing" for name in ("back", "front", "back-under", "front-under")
    }
    assert window.document.history.undo_label == "Cut band-back-facing and its like from lining"
    cut = form_of(window, "band-back").cut
    cut.whole_layer.setChecked(False)
    cut.set_cloth("lining")
    cloths = {one.name: one.cloth for one in window.document.design.pieces}
    assert (cloths["band-back"], cloths["band-front"]) == ("lining", "main")
    assert form_of(window, "front").cut.whole_layer is None


def test_a_corner_is_cut_as_the_maker_says(window):
    form = form_of(window, "yoke")
    usual = window.document.pattern.piece("yoke").cut_line
    form.set_corner("back.side", "yoke", "mitred")
    assert window.document.pattern.piece("yoke").cut_line != usual
    assert form_of(window, "yoke").corners["back.side", "yoke"].currentData() == "mitred"
    form.set_corner("back.side", "yoke", "")
    assert window.document.design.corners == ()


def test_a_row_is_not_stitched_twice_over_itself(window):
    form = form_of(window, "back-leg")
    before = window.document.design.topstitching
    form.rows.stitch("back.side", "6, 6, 12")
    assert window.document.design.topstitching[-1].rows == (6.0, 12.0)
    told = []
    window.document.refused.connect(told.append)
    form_of(window, "back-leg").rows.stitch("back.side", "6, 12")
    assert told == ["back.side has these rows already."]
    assert len(window.document.design.topstitching) == len(before) + 1


def test_rows_are_stitched_along_a_mark_and_taken_away(window):
    form = form_of(window, "front-leg")
    rows = len(window.document.pattern.piece("front-leg").rows)
    form.rows.stitch("knee-panel.top", "0, 6, 12")
    assert len(window.document.pattern.piece("front-leg").rows) == rows + 3
    before = window.document.design.topstitching
    form.rows.stitch("knee-panel.top", "many")
    assert window.document.design.topstitching == before
    form.rows.unstitch(before[-1])
    assert len(window.document.pattern.piece("front-leg").rows) == rows


def test_edges_are_joined_from_two_lists_and_taken_apart(window):
    design = window.document.history.design
    without = tuple(join for join in design.joins if join.name != "side seam")
    window.document.change("Take apart", replace(design, joins=without))
    pattern = window.document.pattern
    dialog = JoinDialog(pattern.pieces, without, window, "cm")
    ok = dialog._buttons.button(QDialogButtonBox.StandardButton.Ok)
    assert not ok.isEnabled()
    assert dialog.told.text() == "Tick at least one edge of each side."
    dialog.tick(0, EdgeRef("front-leg", "front.side"))
    for piece in ("back-leg", "yoke"):
        dialog.tick(1, EdgeRef(piece, "back.side"))
    assert dialog.told.text().endswith("Give the seam a name.")
    dialog.called.setText("inseam")
    assert not ok.isEnabled()
    assert dialog.told.text().endswith("Another seam is called inseam.")
    dialog.called.setText("outer seam")
    assert ok.isEnabled()
    # The same lengths as the ledger has below.
    assert "second side 102.76 cm" in dialog.told.text()
    join = dialog.join()
    assert join.b.edges == (EdgeRef("back-leg", "back.side"), EdgeRef("yoke", "back.side"))
    window.adding.take_join(join)
    row = next(r for r in window.document.pattern.ledger if r.name == "outer seam")
    assert row.length_b == pytest.approx(1027.6, abs=0.1)
    assert window.document.selection == Selection("join", "outer seam")
    window.details.form.take_apart()
    assert all(join.name != "outer seam" for join in window.document.design.joins)


def test_edges_are_offered_with_their_length_and_the_seam_they_are_in(window):
    pattern = window.document.pattern
    dialog = JoinDialog(pattern.pieces, pattern.design.joins, window, "cm")
    said = [dialog.sides[0].item(row).text() for row in range(dialog.sides[0].count())]
    length = pattern.piece("front-leg").piece.outline.edge("front.hem").length
    assert f"front-leg: front.hem   ·   {length / 10.0:.2f} cm" in said
    assert any(
        text.startswith("front-leg: front.inseam") and text.endswith("in inseam") for text in said
    )
    assert not any(".fold" in text or ".button" in text for text in said)


def test_a_piece_with_a_colon_in_its_name_is_joined(window):
    pattern = window.document.pattern
    sewn = pattern.piece("yoke")
    named = replace(sewn, piece=replace(sewn.piece, name="Sattel: hinten"))
    dialog = JoinDialog((named,), (), window)
    ref = EdgeRef("Sattel: hinten", "back.side")
    dialog.tick(0, ref)
    assert dialog.join().a.edges == (ref,)


def test_a_finding_on_one_copy_of_a_piece_leads_to_the_piece(window):
    short = Shortage("back-leg", 1, "back.rise", 205.0, 240.0, 5.3)
    window.document.change("short", replace(window.document.design, shortages=(short,)))
    rules = [finding.rule for finding in window.document.pattern.findings]
    window.ledger.findings.go_to(rules.index("allowance-short"))
    picked = window.document.selection
    assert (picked.kind, picked.name) == ("piece", "back-leg")


def test_a_band_and_its_facing_are_not_offered_to_be_joined_of_scraps(window):
    design = with_parts(plain_design(ORCHARD_BODY), ShapedWaistband())
    window.document.change("A plain pair", design)
    faced = {
        piece.name: not form_of(window, piece.name).cutting.may_join.isEnabled()
        for piece in design.pieces
    }
    assert {name for name, is_whole in faced.items() if is_whole} == {
        name for name in faced if name.startswith("band-")
    }
    assert len([name for name in faced if name.startswith("band-")]) >= 4


def test_a_step_of_the_order_stays_picked_when_it_is_clicked_again(window):
    pane = window.road._order
    name = window.document.pattern.order.steps[0]
    for _ in range(2):
        pane._rows[name].click()
        assert [step for step, button in pane._rows.items() if button.isChecked()] == [name]


def test_rows_of_a_patch_are_asked_for_alone_or_through_what_lies_beneath(window):
    before = encoded(window.document.design)
    rows = form_of(window, "back-pocket").rows
    assert rows.through.isVisibleTo(rows)
    rows.stitch("back-pocket.top", "70")
    assert not window.document.design.topstitching[-1].through
    rows.stitch("back-pocket.top", "80", through=True)
    assert window.document.design.topstitching[-1].through
    shown = [(one.text(), rows.throughs[at].isChecked()) for at, one in enumerate(rows.fields)]
    assert shown[-2:] == [("70", False), ("80", True)]
    # A leg lies on nothing.
    leg = form_of(window, "back-leg").rows
    assert not leg.through.isVisibleTo(leg)
    for _ in range(2):
        window.document.undo()
    assert encoded(window.document.design) == before


def test_more_loops_are_spread_and_notched_anew(window):
    form_of(window, "belt-loop").cut.set_value("count", 7)
    spread = {one.spread for one in window.document.design.finishes if one.spread}
    assert spread == {7}
    window.document.undo()
    assert {one.spread for one in window.document.design.finishes if one.spread} == {5}


def test_loops_of_an_older_project_are_spread_by_one_tick_and_left_to_the_eye_again(window):
    new = window.document.design
    old = replace(new, finishes=tuple(replace(one, spread=0) for one in new.finishes))
    window.document.change("as it was", old)
    found = window.document.pattern.findings
    row = next(at for at, one in enumerate(found) if one.rule == "loops")
    window.ledger.findings.go_to(row)
    assert window.document.selection == Selection("piece", "belt-loop")
    tick = form_of(window, "belt-loop").cut.spread
    assert not tick.isChecked()
    tick.click()
    assert window.document.design == new
    assert form_of(window, "belt-loop").cut.spread.isChecked()
    assert all(one.rule != "loops" for one in window.document.pattern.findings)
    form_of(window, "belt-loop").cut.spread.click()
    assert window.document.design == old
    assert form_of(window, "twine-loop").cut.spread is None


def test_the_order_of_sewing_is_told_in_plain_words(window):
    pane = window.road._order
    texts = [button.text() for button in pane._rows.values()]
    assert any("the hem of front-leg" in text for text in texts)
    assert not any("front.hem" in text for text in texts)
    pane.pick("fly shield")
    assert "The zip ends where crotch seam begins" in pane._told.text()
    steps = window.document.pattern.order.steps
    pane.pick("front-leg:front.hem, hem")
    for _ in range(len(steps)):
        pane.shift(-1)
    assert "stays before the hem of front-leg" in pane._told.text()


def test_rows_are_moved_in_the_order_of_sewing_and_told_where_they_cannot_be(window):
    pane = window.road._order
    name = "rows through knee-panel"
    assert "through both layers" in pane._rows[name].text()
    pane.pick(name)
    assert window.document.selection == Selection("piece", "knee-panel")
    before = window.document.pattern.order.steps
    pane.shift(2)
    after = window.document.pattern.order
    assert after.steps.index(name) == before.index(name) + 2
    assert after.against == ()
    for _ in range(len(before)):
        pane.shift(1)
    assert "stays before" in pane._told.text()
    assert "flat until" in pane._told.text()
    assert "rows on back-pocket" in pane._rows
    assert "topstitched" in pane._rows["rows on back-pocket"].text()


@pytest.mark.parametrize("kind", PARTS, ids=lambda kind: kind.__name__)
def test_no_number_of_a_part_can_be_typed_that_makes_no_sense(window, kind):
    from studio.canvas.read_field import ReadField
    from studio.window.part_dialog import PartDialog

    dialog = PartDialog(kind, ["front", "back"], ["main"], "cm", window)
    usual = dialog.part()
    boxes = dialog.findChildren(QSpinBox)
    fields = dialog.findChildren(ReadField)
    assert len(boxes) + len(fields) == len(kind.numbers)
    for field in (*boxes, *fields):
        field.setValue(-9999)
    least = dialog.part()
    for number in kind.numbers:
        value = getattr(least, number.field)
        assert value == number.least
        assert value >= 0 or number.field in ("bow", "lean")
        # What is usual stays well within what can be typed.
        assert number.least <= getattr(usual, number.field) <= number.most


def test_the_sides_of_a_picked_seam_are_told_in_the_makers_words(window):
    def told():
        words = [label.text() for label in window.details.findChildren(QLabel)]
        return [one.split("\n")[:-1] for one in words if one.endswith((" mm", "together"))]

    window.document.select(Selection("join", "side seam"))
    assert told() == [
        ["front-leg, side seam", "bearer, side seam from hand-pocket"],
        ["back-leg, side seam", "yoke, side seam"],
    ]
    window.document.select(Selection("join", "yoke seam"))
    assert told() == [["yoke, yoke line"], ["back-leg, yoke line"]]
    window.document.select(Selection("join", "knee panel"))
    first, second = told()
    assert first[0] == "knee-panel, top"
    assert second[0] == "front-leg, knee-panel.top"
    window.document.select(Selection("join", "waist"))
    assert told()[1] == ["waistband, first half"]
