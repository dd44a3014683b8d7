"""The window, as a maker uses it."""

import math
import subprocess
import sys

import pytest
from msgspec.structs import replace
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QInputDialog, QLabel

from studio.canvas.paths import to_scene
from studio.canvas.selection import Selection
from studio.canvas.theme import DARK, LIGHT
from studio.curves import Point
from studio.cut import edit
from studio.cut.parts import PatchPocket
from studio.demo import ORCHARD_BODY
from studio.design.file import encoded, load, save
from studio.design.naming import renamed_line
from studio.errors import BadInput
from studio.window import dialogs
from studio.window.body_dialog import BodyDialog
from studio.window.findings_list import heading, sentence
from studio.window.main_window import MainWindow
from studio.window.name_dialog import NameDialog
from studio.window.recovery import Recovery

SLOW_TO_LOAD = (
    "PySide6.QtPrintSupport",
    "ezdxf",
    "scipy.linalg",
    "scipy.optimize",
    "scipy.sparse",
    "spyrrow",
    "svgelements",
)

SHOWN = """
import sys
from studio.demo import demo_design
from studio.pattern import evaluate
from studio.window.main_window import MainWindow
evaluate(demo_design())
print([name for name in sys.argv[1:] if name in sys.modules])
"""


@pytest.fixture
def told(monkeypatch):
    """The sentences that are told in a dialog."""
    sentences = []
    monkeypatch.setattr(dialogs, "tell", lambda _over, _title, words: sentences.append(words))
    return sentences


def test_what_is_slow_to_load_is_loaded_when_it_is_asked_for():
    run = subprocess.run(
        [sys.executable, "-c", SHOWN, *SLOW_TO_LOAD], capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == "[]"


def on_view(window, panel, place):
    """A place on a panel in pixels of the view."""
    shift = window.sheet.shift_of_panel(panel)
    return window.view.mapFromScene(to_scene(place, shift))


def grip_place(window, line, kind, index=0):
    pattern = window.document.pattern
    drawn = next(d for d in pattern.lines if d.name == line)
    grip = edit.Grip(line, kind, index)
    return drawn.panel, edit.place_of_grip(pattern.design.line(line), drawn, grip)


def end_index(window, line):
    drawn = next(d for d in window.document.pattern.lines if d.name == line)
    return len(drawn.nodes) - 1


def press_on(window, qtbot, line, kind, index):
    window.document.select(Selection("line", line))
    panel, place = grip_place(window, line, kind, index)
    at = on_view(window, panel, place)
    qtbot.mousePress(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    return at


def drag_to(window, qtbot, at):
    qtbot.mouseMove(window.view.viewport(), at)
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QMouseEvent
    from PySide6.QtWidgets import QApplication

    event = QMouseEvent(
        QEvent.Type.MouseMove,
        QPointF(at),
        QPointF(window.view.viewport().mapToGlobal(at)),
        Qt.MouseButton.NoButton,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    QApplication.sendEvent(window.view.viewport(), event)
    qtbot.wait(5)


def test_dragging_an_end_moves_that_line_alone_and_the_ledger_follows(window, qtbot):
    before = encoded(window.document.design)
    mouth_row = next(r for r in window.document.pattern.ledger if r.name == "pocket mouth")
    at = press_on(window, qtbot, "hand-pocket", "end", end_index(window, "hand-pocket"))
    drag_to(window, qtbot, at + QPoint(0, 25))
    dragged = next(r for r in window.document.pattern.ledger if r.name == "pocket mouth")
    assert dragged.length_a > mouth_row.length_a + 5.0
    assert window.document.history.undo_label == ""
    qtbot.mouseRelease(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at + QPoint(0, 25))
    assert window.document.history.undo_label == "Move the end of hand-pocket"
    lines = {line.name: line for line in window.document.design.lines}
    for line in window.document.history._steps[0].design.lines:
        assert (lines[line.name] == line) == (line.name != "hand-pocket")
    window.document.undo()
    assert encoded(window.document.design) == before


def test_escape_during_a_drag_puts_everything_back(window, qtbot):
    before = encoded(window.document.design)
    at = press_on(window, qtbot, "yoke", "node", 1)
    drag_to(window, qtbot, at + QPoint(10, 20))
    assert encoded(window.document.design) != before
    qtbot.keyClick(window.view, Qt.Key.Key_Escape)
    assert encoded(window.document.design) == before
    qtbot.mouseRelease(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert window.document.history.undo_label == ""


def test_a_drag_whose_release_is_lost_is_given_up(window, qtbot):
    before = encoded(window.document.design)
    at = press_on(window, qtbot, "yoke", "node", 1)
    drag_to(window, qtbot, at + QPoint(0, 20))
    window.view.clearFocus()
    assert encoded(window.document.design) == before


@pytest.mark.parametrize(
    ("modifier", "step"),
    [
        (Qt.KeyboardModifier.NoModifier, 1.0),
        (Qt.KeyboardModifier.ShiftModifier, 10.0),
        (Qt.KeyboardModifier.AltModifier, 0.1),
    ],
)
def test_arrow_keys_nudge_a_node_by_1_10_and_a_tenth(window, qtbot, modifier, step):
    grip = edit.Grip("knee-panel", "node", 1)
    window.document.select(Selection("line", "knee-panel", grip))
    _, before = grip_place(window, "knee-panel", "node", 1)
    qtbot.keyClick(window.view, Qt.Key.Key_Right, modifier)
    _, after = grip_place(window, "knee-panel", "node", 1)
    assert after.x - before.x == pytest.approx(step, abs=1e-6)
    assert after.y == pytest.approx(before.y, abs=1e-6)


def test_an_anchored_end_is_nudged_along_its_edge(window, qtbot):
    index = end_index(window, "hand-pocket")
    window.document.select(Selection("line", "hand-pocket", edit.Grip("hand-pocket", "end", index)))
    qtbot.keyClick(window.view, Qt.Key.Key_Down)
    qtbot.keyClick(window.view, Qt.Key.Key_Down)
    assert window.document.design.line("hand-pocket").path.end.mm == pytest.approx(164.0, abs=1e-6)
    window.document.undo()
    assert window.document.design.line("hand-pocket").path.end.mm == 162.0


def test_a_double_click_adds_a_node_and_delete_takes_it_away(window, qtbot):
    count = len(window.document.design.line("yoke").path.nodes)
    drawn = next(d for d in window.document.pattern.lines if d.name == "yoke")
    place = drawn.chain.at(drawn.chain.length * 0.25)
    at = on_view(window, "back", place)
    qtbot.mouseDClick(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert len(window.document.design.line("yoke").path.nodes) == count + 1
    window.document.select(Selection("line", "yoke", edit.Grip("yoke", "node", 1)))
    qtbot.keyClick(window.view, Qt.Key.Key_Delete)
    assert len(window.document.design.line("yoke").path.nodes) == count


def test_tab_goes_from_grip_to_grip(window, qtbot):
    window.document.select(Selection("line", "yoke"))
    qtbot.keyClick(window.view, Qt.Key.Key_Tab)
    first = window.document.selection.grip
    qtbot.keyClick(window.view, Qt.Key.Key_Tab)
    assert first is not None
    assert window.document.selection.grip not in (None, first)


def test_zooming_keeps_the_place_under_the_pointer(window):
    about = QPointF(400.0, 250.0)
    before = window.view.mapToScene(about.toPoint())
    for factor in (1.2, 1.2, 1.2, 0.7, 1.5):
        window.view.zoom(factor, about)
    after = window.view.mapToScene(about.toPoint())
    pixel = 1.0 / window.view.scale_now
    assert abs(after.x() - before.x()) < 6 * pixel
    assert abs(after.y() - before.y()) < 6 * pixel


def test_saving_and_opening_again_gives_the_same_design(window, tmp_path):
    path = tmp_path / "mine.yoke"
    window.document.path = path
    assert window.files.save()
    assert load(path) == window.document.design
    assert not window.document.history.is_dirty


def test_closing_with_unsaved_changes_asks_and_may_stay(window, monkeypatch):
    window.document.change("Set", window.document.design.with_line(changed(window)))
    asked = []
    monkeypatch.setattr(dialogs, "ask_unsaved", lambda *_: asked.append(1) or dialogs.Answer.STAY)
    assert not window.close()
    assert asked
    assert window.isVisible()


def changed(window):
    import msgspec

    line = window.document.design.line("yoke")
    return msgspec.structs.replace(line, path=msgspec.structs.replace(line.path, nodes=()))


def test_a_bad_file_is_told_and_the_open_design_stays(window, tmp_path, told):
    before = window.document.design
    bad = tmp_path / "bad.yoke"
    bad.write_bytes(b'{"format": "yokewright design", "version": 1}')
    assert not window.files.open_file(bad)
    assert window.document.design is before
    assert str(bad) in told[0]


def test_a_long_name_or_hint_makes_no_pane_narrower(window, qtbot):
    qtbot.wait(10)
    wide = [pane.width() for pane in (window.road, window.details, window.ledger)]
    least = window.minimumSizeHint().width()
    design = window.document.design
    name = "Trousers & <b>overalls</b> for the orchard, " * 9
    window.document.change("Name", replace(design, name=name))
    window.document.refused.emit(name)
    qtbot.wait(10)
    assert [pane.width() for pane in (window.road, window.details, window.ledger)] == wide
    assert window.minimumSizeHint().width() == least
    shown = window._title.shown_words()
    # What the maker wrote is shown as it was written, as far as there is room.
    assert name.startswith(shown[:-1])
    assert shown.startswith("Trousers & <b>")
    assert window._title.fontMetrics().horizontalAdvance(shown) <= window._title.width()
    window.document.change("Name", replace(design, name="Short"))
    assert window._title.shown_words() == "Short"


def test_a_name_that_looks_like_markup_is_shown_as_it_was_written(window):
    name = "pocket <old> & <b>new</b>"
    design = renamed_line(window.document.design, "back-pocket", name)
    assert window.document.change("Name", design)
    window.document.select(Selection("line", name))
    for picked in (Selection("line", name), Selection("join", "back pocket")):
        window.document.select(picked)
        shown = [one for one in window.details.findChildren(QLabel) if name in one.text()]
        assert shown
        assert all(one.textFormat() is Qt.TextFormat.PlainText for one in shown)


def test_a_number_that_gives_no_block_is_refused_and_the_field_goes_back(window):
    import msgspec

    design = window.document.design
    body = msgspec.structs.replace(design.body, hip_girth=1.0)
    assert not window.document.change("Set hip", msgspec.structs.replace(design, body=body))
    assert window.document.design is design


def test_every_edit_of_a_number_is_one_step(window):
    field = next(f for f, _ in window.road._fields if f.accessibleName() == "Single allowance")
    field.setValue(15.0)
    assert window.document.design.standard_allowance == 15.0
    assert window.document.history.undo_label == "Set the standard allowance"
    window.document.undo()
    assert window.document.design.standard_allowance == 12.0
    assert field.value() == 12.0


def test_work_of_a_killed_window_is_offered_and_taken_up(qtbot, tmp_path, monkeypatch, window):
    window.document.change("Set", window.document.design.with_line(changed(window)))
    window.files.put_aside()
    aside = next((tmp_path / "aside").iterdir())
    aside.rename(aside.with_name("999999999-1.aside"))
    monkeypatch.setattr(dialogs, "ask_recover", lambda *_: True)
    other = MainWindow(
        window.document.history._steps[0].design, None, recovery=Recovery(tmp_path / "aside")
    )
    qtbot.addWidget(other)
    other.files.offer_recovery()
    assert other.document.design == window.document.design
    assert other.document.history.is_dirty
    other.document.history.mark_saved()


@pytest.mark.parametrize("fails", ["kept", "shown"])
def test_what_was_left_behind_stays_until_it_is_safe_elsewhere(
    tmp_path, monkeypatch, window, fails
):
    """A disk that is full keeps nothing aside; a design that is refused is not shown."""
    window.document.change("Set", window.document.design.with_line(changed(window)))
    window.files.put_aside()
    aside = next((tmp_path / "aside").iterdir())
    left = aside.rename(aside.with_name("999999999-1.aside"))
    window.document.undo()

    def fail(*_, **__):
        raise BadInput("there is no room", where="disk")

    monkeypatch.setattr(dialogs, "ask_recover", lambda *_: True)
    told = []
    monkeypatch.setattr(dialogs, "tell", lambda *words: told.append(words))
    if fails == "kept":
        monkeypatch.setattr(window.files.recovery, "keep", fail)
    else:
        monkeypatch.setattr(window.document, "replace", fail)
    window.files.offer_recovery()
    assert left.exists()
    assert len(told) == (fails == "shown")


def test_a_design_is_offered_to_be_saved_under_a_name_that_can_be_one(window, names_offered):
    window.document.path = None
    window.document.change("Name", replace(window.document.design, name="work/barn: 1.2"))
    assert not window.files.save_as()
    assert names_offered == ["work-barn- 1.2.yoke"]


def test_picking_a_seam_in_the_ledger_lights_up_both_sides(window, qtbot):
    table = window.ledger._tables[0]
    index = table.model().index(0, 0)
    qtbot.mouseClick(
        table.viewport(), Qt.MouseButton.LeftButton, pos=table.visualRect(index).center()
    )
    assert window.document.selection == Selection("join", "side seam")
    assert len(window.sheet._highlight._sides) == 4


def test_other_units_show_the_same_length(window):
    window.set_unit("cm")
    cells = window.ledger.seams._cells[0]
    row = window.document.pattern.ledger[0]
    assert cells[1] == f"{row.length_a / 10.0:.2f}"


def luminance(colour):
    parts = [int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, two):
    high, low = sorted((luminance(one), luminance(two)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_text_stands_out_from_its_ground(theme):
    # Source: W3C WCAG 2.2, success criterion 1.4.3: contrast of at least 4.5 to 1 for text.
    for text in (theme.ink, theme.faint, theme.grave, theme.warning, theme.seam, theme.work):
        for ground in (theme.paper, theme.chrome, theme.field):
            assert contrast(text, ground) >= 4.5, (text, ground)


def test_saved_files_are_whole(window, tmp_path):
    path = tmp_path / "whole.yoke"
    save(window.document.design, path)
    assert load(path) == window.document.design
    assert [p.name for p in tmp_path.iterdir() if p.suffix == ".yoke"] == ["whole.yoke"]


def test_points_of_the_sheet_and_the_pattern_agree():
    assert to_scene(Point(3.0, 4.0)) == QPointF(3.0, -4.0)


def drawn_block(tmp_path, unit):
    import ezdxf

    document = ezdxf.new(units=unit)
    document.modelspace().add_lwpolyline([(0, 0), (200, 0), (200, 300), (0, 300)], close=True)
    document.modelspace().add_text("front")
    path = tmp_path / "block.dxf"
    document.saveas(path)
    return path


def test_a_drawing_becomes_a_block_whose_edges_can_be_picked_and_named(
    window, qtbot, tmp_path, monkeypatch
):
    told = []
    monkeypatch.setattr(dialogs, "tell", lambda _parent, title, words: told.append((title, words)))
    assert window.files.take_drawing(drawn_block(tmp_path, 4))
    assert "TEXT" in told[0][1]
    at = on_view(window, "panel-1", Point(200.0, 210.0))
    qtbot.mouseClick(window.view.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert window.document.selection == Selection("edge", "panel-1.edge-2")
    window.details._rename_edge("panel-1.edge-2", "front.side")
    assert window.document.pattern.panels[0].outline.has("front.side")
    assert window.document.selection == Selection("edge", "front.side")
    window.details._rename_edge("front.side", "panel-1.edge-1")
    assert window.document.pattern.panels[0].outline.has("front.side")
    assert window.document.history.undo_label == "Name front.side"


def test_a_drawing_without_a_unit_is_asked_for_it(window, tmp_path, monkeypatch):
    monkeypatch.setattr(dialogs, "tell", lambda *_: None)
    monkeypatch.setattr(dialogs, "ask_unit", lambda _: "cm")
    assert window.files.take_drawing(drawn_block(tmp_path, 0))
    assert window.document.pattern.panels[0].outline.perimeter == pytest.approx(10000.0)


def test_a_drawing_the_size_of_a_hand_is_asked_for_its_unit_and_what_was_done_is_told(
    window, tmp_path, monkeypatch, told
):
    asked = []
    monkeypatch.setattr(dialogs, "ask_unit", lambda _over, words: asked.append(words) or "cm")
    path = tmp_path / "hand.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="200mm" '
        'viewBox="0 0 200 200"><path id="leg" d="M 10 10 H 50 V 120 H 10 Z"/></svg>'
    )
    assert window.files.take_drawing(path)
    assert "40.0 mm by 110.0 mm" in asked[0]
    assert window.document.pattern.panels[0].outline.perimeter == pytest.approx(3000.0)
    assert told == []


def test_gaps_that_were_closed_are_told_in_the_window(window, tmp_path, told):
    path = tmp_path / "leg.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="700mm" '
        'viewBox="0 0 700 700"><path id="leg" d="M 10 10 H 250 V 620 H 10 V 10.4"/></svg>'
    )
    assert window.files.take_drawing(path)
    assert "Path leg: a gap of 0.40 mm was closed" in told[0]


def test_a_drawing_that_cannot_be_used_leaves_the_open_design(window, tmp_path, told):
    before = window.document.design
    bad = tmp_path / "bad.dxf"
    bad.write_text("nothing")
    assert not window.files.take_drawing(bad)
    assert window.document.design is before
    assert str(bad) in told[0]


def test_a_finding_is_let_stand_with_a_reason_and_looked_at_again(window, monkeypatch):
    design = window.document.history.design
    joins = tuple(replace(j, ease=6.0) if j.name == "inseam" else j for j in design.joins)
    window.document.change("Ease", replace(design, joins=joins))
    findings = window.ledger.findings
    assert heading(findings.model.rows[0]) == "■ grave   ·   inseam"
    assert not findings.stand.isEnabled()
    findings.view.setCurrentIndex(findings.model.index(0))
    monkeypatch.setattr(QInputDialog, "getText", lambda *_: ("stretched with the iron", True))
    findings.stand.click()
    assert heading(findings.model.rows[0]) == "✓ stands   ·   inseam"
    assert "stretched with the iron" in findings.model.data(findings.model.index(0))
    assert "1 let stand" in findings.title.text()
    findings.view.setCurrentIndex(findings.model.index(0))
    findings.stand.click()
    assert window.document.design.accepted == ()
    assert heading(findings.model.rows[0]) == "■ grave   ·   inseam"


def test_a_seam_that_does_not_match_stands_out_by_its_name_and_verdict_not_by_wider_digits(window):
    design = window.document.history.design
    joins = tuple(replace(j, ease=6.0) if j.name == "inseam" else j for j in design.joins)
    window.document.change("Ease", replace(design, joins=joins))
    seams = window.ledger.seams
    row = [one.name for one in window.ledger.rows].index("inseam")
    fonts = [seams.data(seams.index(row, at), Qt.ItemDataRole.FontRole) for at in range(6)]
    assert [font is not None and font.bold() for font in fonts] == [True, *[False] * 4, True]


def test_a_finding_is_read_whole_at_any_width_and_gone_to(window, qtbot):
    design = window.document.history.design
    joins = tuple(replace(j, ease=6.0) if j.name == "inseam" else j for j in design.joins)
    window.document.change("Ease", replace(design, joins=joins))
    findings = window.ledger.findings
    view, index = findings.view, findings.model.index(0)
    metrics = QFontMetrics(view.font())
    for wide in (900, 260):
        view.resize(wide, 200)
        qtbot.wait(20)
        room = view.visualRect(index)
        words = sentence(findings.model.rows[0])
        lines = metrics.horizontalAdvance(words) / (room.width() - 24)
        assert room.height() >= (math.ceil(lines) + 1) * metrics.height()
    qtbot.keyClick(view, Qt.Key.Key_Down)
    qtbot.keyClick(view, Qt.Key.Key_Return)
    assert window.document.selection == Selection("join", "inseam")


def test_a_name_with_a_full_stop_is_saved_as_a_project_and_never_over_another(
    window, tmp_path, monkeypatch
):
    from PySide6.QtWidgets import QFileDialog

    typed = tmp_path / "orchard v1.2"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(typed), ""))
    there = tmp_path / "orchard v1.2.yoke"
    there.write_text("mine")
    monkeypatch.setattr(dialogs, "ask_write_over", lambda *_: False)
    assert not window.files.save_as()
    assert there.read_text() == "mine"
    monkeypatch.setattr(dialogs, "ask_write_over", lambda *_: True)
    assert window.files.save_as()
    assert load(there) == window.document.design
    assert window.document.path == there


def test_a_refusal_does_not_outlive_the_next_step_that_is_done(window):
    window.document.refused.emit("it would turn inside out")
    assert window._hint.text() == "Not done: it would turn inside out"
    window.document.change("Set", window.document.design.with_line(changed(window)))
    assert window._hint.text() == ""


def nameless_trousers(tmp_path):
    """Front and back as a drawing in inches, on layers of no standard."""
    import ezdxf

    from studio.block import draft
    from studio.design import Fit

    document = ezdxf.new(units=1)
    for number, panel in enumerate(draft(ORCHARD_BODY, Fit()).panels):
        points = [(x / 25.4 + 20.0 * number, y / 25.4) for x, y in panel.outline.polyline(0.02)]
        layer = f"Sheet {number} (May)"
        document.modelspace().add_lwpolyline(points, close=True, dxfattribs={"layer": layer})
    path = tmp_path / "measured.dxf"
    document.saveas(path)
    return path


def test_a_drawn_front_and_back_are_named_when_asked_for_and_every_step_is_offered(
    window, tmp_path, monkeypatch
):
    from studio.alter import KINDS

    asked = []
    monkeypatch.setattr(dialogs, "ask", lambda *words: asked.append(words) or True)
    assert window.files.take_drawing(nameless_trousers(tmp_path))
    assert len(asked) == 1
    pattern = window.document.pattern
    assert [panel.name for panel in pattern.panels] == ["front", "back"]
    assert {row.name for row in pattern.ledger} == {"side seam", "inseam", "crotch seam"}
    for panel in pattern.panels:
        for title in ("Hinge open", "Lower the waist", "Take in or let out", "Open a dart"):
            kind = next(kind for kind in KINDS.values() if kind.title == title)
            assert kind.fresh(panel).panel == panel.name


def test_a_drawn_block_left_as_drawn_is_named_later_and_a_yoke_is_refused_in_words(
    window, tmp_path, monkeypatch, told
):
    from studio.window.road_pane import BLOCK
    from studio.window.yoke_dialog import YokeDialog

    monkeypatch.setattr(dialogs, "ask", lambda *_: False)
    assert window.files.take_drawing(nameless_trousers(tmp_path))
    answers = [True, False]
    monkeypatch.setattr(YokeDialog, "exec", lambda _: answers.pop(0))
    window.adding.cut_yoke()
    assert "has no edge" in told[0]
    window.road.open_stage(BLOCK)
    form = window.road._drawn
    first = next(iter(form.names))
    form.names[first].setText("left front")
    form.names[first].editingFinished.emit()
    assert window.document.pattern.panels[0].name == "left front"
    window.road._drawn.naming.click()
    assert [panel.name for panel in window.document.pattern.panels] == ["front", "back"]
    window.document.undo()
    window.document.undo()
    assert window.document.pattern.panels[0].name == first


def test_a_drawn_block_is_given_a_body_and_its_girths_are_held_against_it(
    window, tmp_path, monkeypatch, told
):
    from studio.design import Body

    monkeypatch.setattr(dialogs, "ask", lambda *_: True)
    assert window.files.take_drawing(nameless_trousers(tmp_path))
    assert all(row.body is None for row in window.document.pattern.girths)
    wrong = Body(waist_girth=98.0, hip_girth=108.0, inside_leg=69.0, body_rise=29.0)
    bodies = [wrong, ORCHARD_BODY]
    monkeypatch.setattr(BodyDialog, "exec", lambda _: True)
    monkeypatch.setattr(BodyDialog, "body", lambda _: bodies.pop(0))
    window.road._give_body()
    assert "centimetres" in told[0]
    hip = next(row for row in window.document.pattern.girths if row.name == "hip")
    assert hip.body == ORCHARD_BODY.hip_girth


@pytest.mark.parametrize("unit", ["mm", "inch"])
def test_in_a_small_window_every_seam_keeps_its_name_and_every_number_its_digits(window, unit):
    # 1024 by 700: the least a laptop's screen leaves (practice).
    window.set_unit(unit)
    window.resize(1024, 700)
    assert window.width() == 1024
    for table in window.ledger._tables:
        model, metrics = table.model(), table.fontMetrics()
        assert table.columnWidth(0) >= 80
        for row in range(model.rowCount()):
            for column in range(1, min(5, model.columnCount())):
                words = model.data(model.index(row, column))
                # 6 pixels a side in the style sheet, 3 more that Qt keeps for the focus.
                assert metrics.horizontalAdvance(words) + 18 <= table.columnWidth(column), words


def test_a_part_that_is_added_is_in_view_at_once(window):

    before = {sewn.piece.name for sewn in window.document.pattern.pieces}
    window.view.zoom(6.0)
    asked = PatchPocket(name="nail-pocket", panel="back", width=90.0, height=90.0)
    assert window.adding.take_part(asked)
    seen = window.view.mapToScene(window.view.viewport().rect()).boundingRect()
    new = {sewn.piece.name for sewn in window.document.pattern.pieces} - before
    assert new
    for name in new:
        assert seen.contains(window.sheet.box_of(Selection("piece", name)))


def test_work_left_behind_is_kept_when_the_maker_decides_later(window, tmp_path, monkeypatch):
    window.document.change("Set", window.document.design.with_line(changed(window)))
    window.files.put_aside()
    aside = next((tmp_path / "aside").iterdir())
    left = aside.rename(aside.with_name("999999999-1.aside"))
    monkeypatch.setattr(dialogs, "ask_recover", lambda *_: None)
    window.files.offer_recovery()
    assert left.exists()
    monkeypatch.setattr(dialogs, "ask_recover", lambda *_: False)
    window.files.offer_recovery()
    assert not left.exists()


def test_pieces_are_written_as_chosen_and_nothing_is_written_over_unasked(
    window, tmp_path, monkeypatch
):
    from studio.window.export_dialog import ExportDialog

    folder = tmp_path / "cut" / "now"
    answers = []

    def chosen(dialog):
        dialog.ticks["png"].setChecked(False)
        dialog.ticks["dxf"].setChecked(False)
        assert dialog.paper.isEnabled()
        dialog.paper.setCurrentIndex(dialog.paper.findData("letter"))
        dialog.folder.setText(str(folder))
        return answers.pop(0)

    monkeypatch.setattr(ExportDialog, "exec", chosen)
    told, asked = [], []
    monkeypatch.setattr(dialogs, "tell", lambda _parent, title, words: told.append(title + words))
    monkeypatch.setattr(dialogs, "ask_write_over", lambda _over, names: asked.append(names))
    window.document.path = tmp_path / "orchard v1.2.yoke"
    answers[:] = [True]
    window.export()
    written = folder / "orchard v1.2.pdf"
    assert [path.name for path in folder.iterdir()] == [written.name]
    # ANSI/ASME Y14.1, size A: 8.5 by 11 inches, 612 by 792 points.
    assert b"/MediaBox [0 0 612.0" in written.read_bytes()
    assert "100 mm" in told[0]
    written.write_text("mine")
    answers[:] = [True, False]
    window.export()
    assert asked == [written.name]
    assert written.read_text() == "mine"


@pytest.mark.parametrize(
    ("name", "folder"),
    [("x" * 300, "here"), ("orchard", "~nobody-of-this-name/out"), ("orchard", "y" * 300)],
)
def test_a_folder_or_name_that_cannot_be_is_told(window, tmp_path, monkeypatch, name, folder):
    """A name of a file has at most 255 bytes (limits.h, NAME_MAX)."""
    from studio.window.export_dialog import ExportDialog

    answers = [True, False]

    def chosen(dialog):
        dialog.folder.setText(folder if folder.startswith("~") else str(tmp_path / folder))
        return answers.pop(0)

    monkeypatch.setattr(ExportDialog, "exec", chosen)
    told = []
    monkeypatch.setattr(dialogs, "tell", lambda _parent, title, words: told.append((title, words)))
    window.document.path = tmp_path / f"{name}.yoke"
    window.export()
    ((title, words),) = told
    assert "could not be written" in title
    assert words
    assert answers == []


def test_a_design_is_named_and_noted_on_in_one_step(window, monkeypatch):
    before = window.document.design

    def typed(dialog):
        assert dialog.name.text() == before.name
        dialog.name.setText("  Barn trousers ")
        dialog.notes.setPlainText("for the wet months")
        return True

    monkeypatch.setattr(NameDialog, "exec", typed)
    window.name_design()
    assert (window.document.design.name, window.document.design.notes) == (
        "Barn trousers",
        "for the wet months",
    )
    assert window._title.text() == "Barn trousers"
    window.document.undo()
    assert window.document.design == before


def test_a_file_that_may_not_be_looked_at_does_not_keep_the_window_from_opening(tmp_path):
    """A name of more than 255 bytes is refused by the system as a folder of others is."""
    from studio.window import recent

    there = tmp_path / "there.yoke"
    there.write_text("{}")
    recent.QSettings().setValue("recent", [str(tmp_path / ("y" * 300)), str(there)])
    assert recent.files() == [there]


def test_redo_answers_to_both_keys_that_hands_know(window, qtbot):
    window.document.change("Rename", replace(window.document.history.design, name="another"))
    for key, modifiers in (
        (Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier),
        (Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier),
    ):
        window.document.undo()
        assert window.document.design.name != "another"
        qtbot.keyClick(window, key, modifiers)
        assert window.document.design.name == "another"


def test_at_a_laptops_size_seams_of_one_part_are_told_apart(window):
    # 1280 by 800: a usual laptop's screen (practice).
    window.resize(1280, 800)
    table = window.ledger._tables[0]
    assert table.textElideMode() == Qt.TextElideMode.ElideMiddle
    metrics = table.fontMetrics()
    assert table.columnWidth(0) >= metrics.horizontalAdvance("hand-pocket mouth") + 18
    # Nor does a number in the name of a girth lose its first digits.
    window.set_unit("inch")
    table = window.ledger._tables[1]
    assert table.textElideMode() == Qt.TextElideMode.ElideRight
    name = next(row for row in window.ledger.girths._cells if row[0].startswith("top edge"))[0]
    assert table.columnWidth(0) >= table.fontMetrics().horizontalAdvance(name) + 18, name


def test_the_girths_call_nothing_as_the_ledger_does_that_is_measured_otherwise(window):
    seams = {row.name for row in window.document.pattern.ledger}
    girths = window.ledger.girths
    assert "crotch seam" in seams
    names = [girths.data(girths.index(row, 0)) for row in range(girths.rowCount())]
    assert not seams.intersection(names)
    assert "crotch to waist" in names


def test_arrow_keys_move_a_picked_patch_whole(window, qtbot):
    window.document.select(Selection("line", "back-pocket"))
    drawn = next(one for one in window.document.pattern.lines if one.name == "back-pocket")
    before = [node.at for node in drawn.nodes]
    qtbot.keyClick(window.view, Qt.Key.Key_Right)
    drawn = next(one for one in window.document.pattern.lines if one.name == "back-pocket")
    for was, node in zip(before, drawn.nodes, strict=True):
        assert (node.at.x - was.x, node.at.y - was.y) == pytest.approx((1.0, 0.0), abs=1e-6)


def test_front_and_back_view_stand_on_one_floor(window):
    image = window.wearer.grab().toImage()
    ground = image.pixelColor(2, 2)
    feet = []
    for left, right in ((0, image.width() // 2), (image.width() // 2, image.width())):
        # The names of the views stand below them.
        rows = range(image.height() - 27, 0, -1)
        feet.append(
            next(
                y for y in rows if any(image.pixelColor(x, y) != ground for x in range(left, right))
            )
        )
    assert abs(feet[0] - feet[1]) <= 2


def test_pieces_that_grew_into_one_another_are_laid_out_afresh_and_all_stays_in_view(window):
    def shown():
        seen = window.view.mapToScene(window.view.viewport().rect()).boundingRect()
        return seen.contains(window.sheet.content())

    document = window.document
    design = document.design
    broad = replace(design, body=replace(design.body, waist_girth=1150.0, hip_girth=1300.0))
    before = dict(window.sheet._piece_shifts)
    assert document.change("Another body", broad)
    assert window.sheet._piece_shifts != before
    assert not window.sheet.is_crowded(document.pattern)
    assert shown()
    laid = dict(window.sheet._piece_shifts)
    document.undo()
    assert window.sheet._piece_shifts == laid
    assert shown()

    window.view.zoom(3.0)
    scale = window.view.scale_now
    window.sheet.replace_places()
    window._show_pattern()
    assert document.change("Another body", broad)
    assert not window.sheet.is_crowded(document.pattern)
    assert window.view.scale_now == scale


def test_nothing_is_laid_out_afresh_under_the_hand(window):
    document = window.document
    design = document.design
    broad = replace(design, body=replace(design.body, waist_girth=1150.0, hip_girth=1300.0))
    before = dict(window.sheet._piece_shifts)
    document.preview(broad)
    document._finish()
    assert window.sheet._piece_shifts == before
    document.commit("Another body")
    assert window.sheet._piece_shifts != before


def test_a_refusal_is_told_until_something_else_is_picked_and_no_longer(window):
    window.document.select(Selection("line", "yoke"))
    window.document.refused.emit("its line does not reach the side seam.")
    assert window._hint.text() == "Not done: its line does not reach the side seam."
    window.document.select(Selection("line", "yoke"))
    assert window._hint.text()
    window.document.select(Selection("piece", "yoke"))
    assert window._hint.text() == ""
    # What was done is told on, also when something is picked by the way.
    window.document.told.emit("Undo brings back all that went with yoke.")
    window.document.select(Selection("line", "fly"))
    assert window._hint.text() == "Undo brings back all that went with yoke."
