"""Lines drawn, named, held and cut along in the window; yokes cut from numbers."""

from pathlib import Path

import msgspec
import pytest
import shapely
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QComboBox, QDialog, QMenu

from studio.canvas.paths import to_scene
from studio.canvas.selection import Selection
from studio.curves import Point, Vector
from studio.demo import ORCHARD_BODY
from studio.design import holds
from studio.design.file import decoded, encoded
from studio.design.holds import LinePoint
from studio.design.plain import plain_design
from studio.window import dialogs, yoke_dialog
from tests.window.menu_words import words_of
from tests.window.test_main_window import drag_to, grip_place, on_view, press_on


def panel(window, name):
    return next(p for p in window.document.pattern.panels if p.name == name)


def click(window, qtbot, panel_name, place):
    shift = window.sheet.shift_of_panel(panel_name)
    at = window.view.mapFromScene(to_scene(place, shift))
    qtbot.mouseClick(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at)


def test_a_line_is_drawn_from_edge_to_edge_with_three_clicks(window, qtbot):
    window.draw_line()
    assert window.view.tool is window.pencil
    front = panel(window, "front")
    side = front.outline.edge("front.side").chain
    inseam = front.outline.edge("front.inseam").chain
    start, end = side.at(side.length * 0.5), inseam.at(inseam.length * 0.4)
    click(window, qtbot, "front", start)
    click(window, qtbot, "front", start.toward(end, 0.5) + (Point(0.0, 20.0) - Point(0.0, 0.0)))
    click(window, qtbot, "front", end)
    assert window.view.tool is window.tool
    line = window.document.design.lines[-1]
    assert (line.name, line.panel, len(line.path.nodes)) == ("line-1", "front", 1)
    assert window.document.selection == Selection("line", "line-1")
    drawn = next(d for d in window.document.pattern.lines if d.name == "line-1")
    assert drawn.chain.start.distance_to(start) < 6.0
    window.document.undo()
    assert all(known.name != "line-1" for known in window.document.design.lines)


def test_escape_drops_a_line_begun_and_then_the_pencil(window, qtbot):
    window.draw_line()
    side = panel(window, "front").outline.edge("front.side").chain
    click(window, qtbot, "front", side.at(300.0))
    before = encoded(window.document.design)
    qtbot.keyClick(window.view, Qt.Key.Key_Escape)
    assert window.view.tool is window.pencil
    qtbot.keyClick(window.view, Qt.Key.Key_Escape)
    assert window.view.tool is window.tool
    assert encoded(window.document.design) == before


def test_a_hold_is_added_from_the_menu_typed_and_let_go(window, qtbot):
    window.document.select(Selection("line", "yoke"))
    form = window.details.form
    menu = QMenu()
    form.holds.fill(menu)
    action = next(a for a in menu.actions() if words_of(a).startswith("Length"))
    action.trigger()
    assert isinstance(window.document.design.holds[0], holds.Length)
    form.holds._set(0, "mm", 262.0)
    drawn = next(d for d in window.document.pattern.lines if d.name == "yoke")
    assert drawn.chain.length == pytest.approx(262.0, abs=1e-6)
    qtbot.waitUntil(lambda: "left" in form.holds._told.text(), timeout=9000)
    form.holds._set(0, "active", False)
    drawn = next(d for d in window.document.pattern.lines if d.name == "yoke")
    assert drawn.chain.length < 260.0
    form.holds._remove(0)
    assert window.document.design.holds == ()
    for _ in range(4):
        window.document.undo()
    assert window.document.history.undo_label == ""


def test_dragging_a_held_line_keeps_its_length(window, qtbot):
    design = window.document.design
    held = holds.Length("yoke", 260.0)
    window.document.change("hold", msgspec.structs.replace(design, holds=(held,)))
    at = press_on(window, qtbot, "yoke", "node", 1)
    for k in range(1, 8):
        drag_to(window, qtbot, at + QPoint(2 * k, k))
    qtbot.mouseRelease(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    drawn = next(d for d in window.document.pattern.lines if d.name == "yoke")
    assert drawn.chain.length == pytest.approx(260.0, abs=1e-6)
    assert window.document.history.undo_label == "Move a node of yoke"
    panel_name, place = grip_place(window, "yoke", "node", 1)
    assert (on_view(window, panel_name, place) - at).manhattanLength() > 1


def test_an_end_of_a_held_line_can_be_dragged_along_its_edge(window, qtbot):
    design = window.document.design
    held = holds.Square("yoke", "end")
    window.document.change("hold", msgspec.structs.replace(design, holds=(held,)))
    index = len(design.line("yoke").path.nodes) + 1
    at = press_on(window, qtbot, "yoke", "end", index)
    for k in range(1, 8):
        drag_to(window, qtbot, at + QPoint(0, 2 * k))
    qtbot.mouseRelease(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert window.document.design.line("yoke").path.end.mm > 35.0


def test_a_line_is_named_everywhere(window):
    design = window.document.design
    tied = holds.Level(LinePoint("yoke", 0), LinePoint("yoke", 1))
    window.document.change("hold", msgspec.structs.replace(design, holds=(tied,)))
    window.document.select(Selection("line", "yoke"))
    form = window.details.form
    form._called.setText("saddle")
    form._rename()
    made = window.document.design
    assert made.line("saddle").panel == "back"
    assert made.holds[0].a.line == "saddle"
    assert [f.message for f in window.document.pattern.findings if f.gravity == "grave"] == []
    form = window.details.form
    form._called.setText("hand-pocket")
    form._rename()
    assert window.document.design == made


def test_a_yoke_is_cut_from_numbers_and_a_bad_one_asks_again(window, monkeypatch):
    window.document.replace(plain_design(ORCHARD_BODY), None)
    answers = iter(
        [yoke_dialog.Yoke(at_rise=5000.0), yoke_dialog.Yoke(at_rise=85.0, rest_at="rise")]
    )
    told = []
    monkeypatch.setattr(yoke_dialog.YokeDialog, "exec", lambda _: QDialog.DialogCode.Accepted)
    monkeypatch.setattr(yoke_dialog.YokeDialog, "yoke", lambda _: next(answers))
    monkeypatch.setattr(dialogs, "tell", lambda *words: told.append(words))
    window.adding.cut_yoke()
    assert len(told) == 1
    assert "past the end" in told[0][2]
    assert window.document.history.undo_label == "Cut yoke"
    assert window.document.pattern.piece("yoke").piece.darts == ()


def test_a_seam_line_offers_to_cut_its_piece(window):
    window.document.replace(plain_design(ORCHARD_BODY), None)
    front = panel(window, "front")
    from studio.design import AnchoredPath, OnEdge, StyleLine

    line = StyleLine(
        "shin",
        "front",
        "mark",
        AnchoredPath(
            OnEdge("front.side", "front.hem", mm=300.0),
            OnEdge("front.inseam", "front.hem", mm=300.0),
        ),
    )
    design = window.document.design
    window.document.change("line", msgspec.structs.replace(design, lines=(line,)))
    window.document.select(Selection("line", "shin"))
    form = window.details.form
    assert form._cut.isHidden()
    form._kind.setCurrentIndex(form._kind.findData("seam"))
    form._set_kind(0)
    assert not form._cut.isHidden()
    form._cut_here()
    assert {s.piece.name for s in window.document.pattern.pieces} >= {"front", "front-shin"}
    assert front.name == "front"


def test_a_part_is_added_from_its_dialog_and_undone(window):
    from studio.cut.parts import PARTS, PatchPocket
    from studio.window.part_dialog import PartDialog

    for kind in PARTS:
        dialog = PartDialog(kind, ["front", "back"], ["main"], "cm", window)
        assert dialog.part() == kind(cloth="main")
    before = encoded(window.document.design)
    dialog = PartDialog(PatchPocket, ["front", "back"], ["main"], "cm", window)
    dialog._name.setText("rule-pocket")
    dialog._set("width", 60.0)
    dialog._panel.setCurrentText("front")
    dialog._set("from_side", True)
    assert dialog.part().from_side
    dialog._set("from_side", False)
    assert window.adding.take_part(dialog.part())
    assert window.document.pattern.piece("rule-pocket").piece.panel == "front"
    assert window.document.history.undo_label == "Add rule-pocket"
    window.document.undo()
    assert encoded(window.document.design) == before


def test_the_open_corners_of_a_pocket_are_riveted_with_one_tick(window):
    before = encoded(window.document.design)
    for name, is_pocket in (("hand-pocket", True), ("back-pocket", True), ("yoke", False)):
        window.document.select(Selection("line", name))
        form = window.details.form
        assert form.rivets.isVisibleTo(form) == is_pocket
    window.document.select(Selection("line", "back-pocket"))
    form = window.details.form
    form.rivets.click()
    assert window.document.design.line("back-pocket").riveted
    assert form.rivets.isChecked()
    window.document.undo()
    assert encoded(window.document.design) == before
    assert not form.rivets.isChecked()


def test_the_facing_of_a_band_is_chosen_in_its_dialog_and_added_as_one_step(window):
    from studio.cut.parts import ShapedWaistband
    from studio.design.plain import plain_design
    from studio.window.part_dialog import PartDialog
    from studio.window.wearer_pane import _view_of

    design = window.document.history.design
    window.document.change("Start again", plain_design(design.body))
    before = encoded(window.document.design)
    dialog = PartDialog(ShapedWaistband, ["front", "back"], ["main", "lining"], "mm", window)
    (box,) = (one for one in dialog.findChildren(QComboBox) if one.accessibleName() == "Faced with")
    assert [box.itemText(k) for k in range(box.count())] == ["no facing", "main", "lining"]
    assert dialog.part().facing == box.currentData() == "main"
    for row, cloth in ((0, ""), (2, "lining")):
        box.setCurrentIndex(row)
        box.activated.emit(row)
        assert dialog.part().facing == cloth
    assert window.adding.take_part(dialog.part())
    pieces = {sewn.piece.name: sewn.piece for sewn in window.document.pattern.pieces}
    assert pieces["band-back"].cloth == "main"
    assert pieces["band-back-facing"].cloth == "lining"
    # Band and facing lie apart on the sheet, one under the other, and each can be picked.
    for name, piece in pieces.items():
        shift = window.sheet._piece_shifts[name]
        assert window.sheet.piece_at(piece.outline.box.centre + shift) == name
    band, facing = (window.sheet._pieces[n] for n in ("band-front", "band-front-facing"))
    assert facing.x() != band.x() or facing.y() != band.y()
    assert facing.name_room[0] > 0.0
    # On the wearer the facing is not seen, and the end for the other leg is the band mirrored.
    front = _view_of(window.document.pattern, "front")
    assert front is not None
    assert [shape.cloth for shape in front.shapes] == ["main"] * 2
    window.document.undo()
    assert encoded(window.document.design) == before
    # A cloth that is not there any more is not chosen.
    other = PartDialog(ShapedWaistband, ["front", "back"], ["denim"], "mm", window)
    assert other.part().facing == "denim"


def test_a_line_that_cuts_no_piece_says_why_and_one_that_does_cuts_it(window):
    """The demonstration's legs are bounded by pocket mouth and yoke, a plain front by nothing."""
    from studio.design import AnchoredPath, OnEdge, StyleLine

    def why(design, kind, panel="front", start="hem", mm=300.0):
        path = AnchoredPath(
            OnEdge(f"{panel}.side", f"{panel}.{start}", mm=mm),
            OnEdge(f"{panel}.inseam", f"{panel}.hem", mm=300.0),
        )
        lines = (*design.lines, StyleLine("shin", panel, kind, path))
        window.document.change("Draw", msgspec.structs.replace(design, lines=lines))
        window.document.select(Selection("line", "shin"))
        form = window.details.form
        return form.why.text(), form._cut.isVisible()

    demo = window.document.history.design
    # From above the yoke's end the line runs through the yoke and the leg.
    assert "cuts no piece: it runs across yoke" in why(demo, "seam", "back", "waist", 5.0)[0]
    window.document.undo()
    assert why(demo, "seam", "back") == ("", True)
    window.details.form._cut.click()
    pattern = window.document.pattern
    assert pattern.piece("back-leg-shin").piece.outline.has("shin")
    assert pattern.findings == ()
    assert {row.verdict for row in pattern.ledger} == {"match"}
    window.document.undo()
    plain = plain_design(ORCHARD_BODY)
    window.document.replace(plain, None)
    assert why(plain, "mark") == ("To cut a piece along it, make it a seam.", False)
    assert why(plain, "seam") == ("", True)
    window.document.history.mark_saved()


def test_width_height_and_lean_of_a_patch_are_typed_while_its_shape_tells_them(window, qtbot):
    document = window.document
    document.select(Selection("line", "back-pocket"))
    form = window.details.form
    patch = form.patch
    assert patch.width_field.isVisible()
    shown = (patch.width_field.value(), patch.height_field.value(), patch.lean_box.value())
    assert shown == (150.0, 138.0, -4.0)
    for field, typed in (
        (patch.width_field, "162.5"),
        (patch.height_field, "145"),
        (patch.lean_box, "-7.5"),
    ):
        field.setFocus()
        field.selectAll()
        qtbot.keyClicks(field, typed)
        qtbot.keyClick(field, Qt.Key.Key_Return)
    # Along the top and from the top to a lower corner, measured on the piece that came of it.
    outline = document.pattern.piece("back-pocket").piece.outline
    assert outline.edge("back-pocket.top").length == pytest.approx(162.5, abs=1e-6)
    low = outline.edge("back-pocket.outer").chain
    assert low.length == pytest.approx((6.0**2 + 145.0**2) ** 0.5, abs=1e-6)
    assert document.design.line("back-pocket").path.turn == -7.5
    assert document.history.undo_label == "Set the lean of back-pocket"
    # With one corner moved no such numbers tell its shape any more.
    path = document.design.line("back-pocket").path
    moved = msgspec.structs.replace(path.nodes[2], at=path.nodes[2].at + Vector(9.0, 0.0))
    nodes = (*path.nodes[:2], moved, *path.nodes[3:])
    line = msgspec.structs.replace(
        document.design.line("back-pocket"), path=msgspec.structs.replace(path, nodes=nodes)
    )
    document.change("Move", document.design.with_line(line))
    assert not patch.width_field.isVisible()
    document.select(Selection("line", "yoke"))
    assert not window.details.form.patch.lean_box.isVisible()


def test_a_line_drawn_out_of_its_panel_is_told_what_is_wrong_with_it(window):
    from studio.design import AnchoredPath, Node, OnEdge, StyleLine

    plain = plain_design(ORCHARD_BODY)
    window.document.replace(plain, None)
    path = AnchoredPath(
        OnEdge("front.side", "front.hem", mm=300.0),
        OnEdge("front.inseam", "front.hem", mm=300.0),
        (Node(Vector(1.4, 0.0)),),
    )
    lines = (StyleLine("shin", "front", "seam", path),)
    window.document.change("Draw", msgspec.structs.replace(plain, lines=lines))
    window.document.select(Selection("line", "shin"))
    form = window.details.form
    assert "leaves the front" in form.why.text()
    assert form.why.isVisible()
    assert "other line" not in form.why.text()
    inside = msgspec.structs.replace(path, nodes=())
    line = msgspec.structs.replace(lines[0], path=inside)
    window.document.change("Drag", window.document.design.with_line(line))
    assert form._cut.isVisible()
    assert form.why.text() == ""


def test_the_pieces_along_a_free_seam_line_that_cuts_none_are_sought_once_a_frame(
    window, monkeypatch
):
    from studio.design import AnchoredPath, Node, OnEdge, StyleLine
    from studio.window import line_form

    def path(out):
        start = OnEdge("front.side", "front.hem", mm=300.0)
        end = OnEdge("front.inseam", "front.hem", mm=300.0)
        return AnchoredPath(start, end, (Node(Vector(out, 0.0)),))

    plain = plain_design(ORCHARD_BODY)
    window.document.replace(plain, None)
    line = StyleLine("shin", "front", "seam", path(1.4))
    window.document.change("Draw", msgspec.structs.replace(plain, lines=(line,)))
    window.document.select(Selection("line", "shin"))
    window.document.begin()
    sought, seek = [], line_form.pieces_along

    def counted(design, pieces, drawn):
        sought.append(drawn.chain)
        return seek(design, pieces, drawn)

    monkeypatch.setattr(line_form, "pieces_along", counted)
    for out in (1.5, 1.6, 0.5):
        moved = msgspec.structs.replace(line, path=path(out))
        window.document.preview(window.document.design.with_line(moved))
    # Never a second time for a line that has not moved.
    assert len(sought) == len({id(chain) for chain in sought})
    assert len(sought) >= 3
    assert window.details.form._cut.isVisible()
    window.document.rollback()


def test_a_yoke_without_a_name_is_refused_and_asked_for_again(window, monkeypatch):
    window.document.replace(plain_design(ORCHARD_BODY), None)
    before, told, shown = encoded(window.document.design), [], []

    def answered(dialog):
        shown.append(dialog)
        dialog._name.setText("  ")
        return QDialog.DialogCode.Accepted if len(shown) == 1 else QDialog.DialogCode.Rejected

    monkeypatch.setattr(yoke_dialog.YokeDialog, "exec", answered)
    monkeypatch.setattr(dialogs, "tell", lambda *words: told.append(words[1:]))
    window.adding.cut_yoke()
    assert told == [("The yoke could not be cut.", "The yoke needs a name.")]
    assert shown[0] is shown[1]
    assert encoded(window.document.design) == before


def test_what_a_picked_piece_measures_is_said_to_be_of_the_sewing_line(window):
    """Area and length by shapely."""
    from studio import numbers

    sewn = window.document.pattern.piece("back-leg")
    seam = shapely.Polygon(sewn.piece.outline.polyline())
    window.document.select(Selection("piece", "back-leg"))
    shown = {what: label for label, what in window.details._values}
    round_it, within = shown["Sewing line"], shown["Area within it"]
    assert round_it.text() == numbers.length(sewn.piece.outline.perimeter, "mm", 1)
    assert sewn.piece.outline.perimeter == pytest.approx(seam.length, rel=1e-4)
    assert within.text() == numbers.area(sewn.piece.outline.area_mm2)
    assert sewn.piece.outline.area_mm2 == pytest.approx(seam.area, rel=1e-4)
    assert "allowances" in round_it.toolTip()
    assert "allowances" in within.toolTip()


def test_what_is_refused_is_told_in_a_sentence_that_begins_with_no_inner_name(window, monkeypatch):
    document = window.document
    document.select(Selection("line", "yoke"))
    form = window.details.form
    form._called.setText("saddle.yoke")
    form._rename()
    assert window._hint.text() == (
        "Not done: A line needs a name of its own, without a full stop (saddle.yoke)."
    )
    from studio.cut.parts import PatchPocket

    told = []
    monkeypatch.setattr(dialogs, "tell", lambda *words: told.append(words[2]))
    assert not window.adding.take_part(PatchPocket(name=""))
    assert not window.adding.take_part(PatchPocket(name="tiny", width=2.0))
    assert told == ["The part needs a name.", "A pocket needs a width and a height (tiny)."]


def test_the_line_of_an_older_band_is_told_to_keep_its_distance_and_shows_that_it_does(window):
    old = decoded(Path("tests/design/data/band-of-nodes.yoke").read_bytes())
    window.document.change("Open an older design", old)
    before = encoded(window.document.design)
    window.document.select(Selection("line", "band-back"))
    form = window.details.form
    assert not form.keeps.isVisibleTo(form)
    assert form.keep.isVisibleTo(form)
    assert "from back.waist all along" in form.keep.toolTip()
    form.keep.click()
    path = window.document.design.line("band-back").path
    assert (path.beside, path.nodes, path.start.mm) == ("back.waist", (), 44.45)
    assert not form.keep.isVisibleTo(form)
    assert "Keeps its distance from back.waist all along" in form.keeps.text()
    assert all(one.gravity == "note" for one in window.document.pattern.findings)
    outline = window.document.pattern.piece("band-back").piece.outline
    top, low = (
        shapely.LineString(outline.edge(name).chain.polyline(0.001))
        for name in ("back.waist", "band-back")
    )
    assert low.hausdorff_distance(top) == pytest.approx(44.45, abs=0.05)
    window.document.undo()
    assert encoded(window.document.design) == before
    assert form.keep.isVisibleTo(form)
    # No other line is offered it, though both of its ends are told from the waist.
    window.document.select(Selection("line", "fly"))
    assert not window.details.form.keep.isVisibleTo(window.details.form)
