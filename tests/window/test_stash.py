"""The stash in the window: each change one step, what cannot be refused with a sentence."""

import ezdxf
import pytest
from msgspec.structs import replace
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QColorDialog, QDialog, QFileDialog

from studio.canvas.selection import NOTHING, Selection
from studio.canvas.theme import DARK
from studio.cloth import stash_edit as edit
from studio.cloth.tracing import blank, panel_of, tracing_of
from studio.design.cloth import Cloth, CuttingRule, Placement, Trace
from studio.design.file import encoded, load
from studio.exchange.stash_file import Stash, load_stash, save_stash
from studio.window import dialogs
from studio.window.road_pane import CLOTH
from studio.window.stash_acts import StashActs
from studio.window.stock_dialog import StockDialog
from studio.window.style import theme_of
from studio.window.trace_window import TraceWindow
from tests.window.menu_words import words_of

COAT = Cloth("old coat", "#556644")


@pytest.fixture
def stocked(window):
    design = replace(window.document.history.design, stash=(), cutting=())
    design = edit.with_cloth(design, COAT)
    design = edit.with_stock(design, edit.rectangle("sleeve", "old coat", 400.0, 600.0))
    window.document.change("Lay it there", design)
    window.road.open_stage(CLOTH)
    return window


@pytest.fixture
def told(monkeypatch):
    said = []
    monkeypatch.setattr(dialogs, "tell", lambda _over, title, text: said.append(f"{title} {text}"))
    return said


@pytest.fixture
def refused(window):
    said = []
    window.document.refused.connect(said.append)
    return said


def form_of(window, kind, name):
    window.document.select(Selection(kind, name))
    return window.details.form


def cloth(window, name="old coat"):
    return edit.cloth_of(window.document.design, name)


def stock(window, name="sleeve"):
    return edit.stock_of(window.document.design, name)


def steps_back(window, count, before):
    for _ in range(count):
        window.document.undo()
    assert encoded(window.document.design) == before


def test_the_road_lists_cloths_with_what_lies_there_of_them(stocked):
    rows = stocked.road._stash.rows
    names = list(rows)
    assert ("cloth", "old coat") in names
    assert names.index(("stock", "sleeve")) == names.index(("cloth", "old coat")) + 1
    rows["stock", "sleeve"].click()
    assert stocked.document.selection == Selection("stock", "sleeve")
    assert rows["stock", "sleeve"].isChecked()
    assert "400" in rows["stock", "sleeve"].toolTip()
    stocked.set_unit("inch")
    assert "23.62 inch" in stocked.road._stash.rows["stock", "sleeve"].toolTip()


def test_every_number_of_a_cloth_is_one_step(stocked):
    before = encoded(stocked.document.design)
    form = form_of(stocked, "cloth", "old coat")
    form.boxes["stretch"].setValue(12.5)
    form.boxes["warp_shrinkage"].setValue(4.0)
    form.boxes["weft_shrinkage"].setValue(1.5)
    form.one_way.click()
    form.sides.setCurrentIndex(1)
    form.sides.activated.emit(1)
    form.fibre.setText(" linen ")
    form.fibre.editingFinished.emit()
    form.note.setText("washed")
    form.note.editingFinished.emit()
    made = cloth(stocked)
    assert (made.stretch, made.warp_shrinkage, made.weft_shrinkage) == (12.5, 4.0, 1.5)
    assert (made.one_way, made.sides, made.fibre, made.note) == (True, "both", "linen", "washed")
    steps_back(stocked, 7, before)


def test_bad_numbers_of_a_cloth_are_refused(stocked, refused):
    before = encoded(stocked.document.design)
    form = form_of(stocked, "cloth", "old coat")
    form.boxes["warp_shrinkage"].setValue(99.0)
    assert cloth(stocked).warp_shrinkage == edit.MOST_SHRINKAGE
    stocked.document.undo()
    form.set("colour", "green")
    form.set("stretch", -3.0)
    assert len(refused) == 2
    assert encoded(stocked.document.design) == before


def test_the_colour_is_chosen_with_the_swatch(stocked, monkeypatch):
    form = form_of(stocked, "cloth", "old coat")
    monkeypatch.setattr(QColorDialog, "getColor", lambda *_: QColor("#123456"))
    form.colour.click()
    assert cloth(stocked).colour == "#123456"
    monkeypatch.setattr(QColorDialog, "getColor", lambda *_: QColor())
    form_of(stocked, "cloth", "old coat").colour.click()
    assert cloth(stocked).colour == "#123456"


def test_a_renamed_cloth_and_stock_are_followed_and_stay_picked(stocked, refused):
    before = encoded(stocked.document.design)
    form = form_of(stocked, "cloth", "old coat")
    form.called.setText("drill")
    form.called.editingFinished.emit()
    assert stocked.document.selection == Selection("cloth", "drill")
    assert stock(stocked).cloth == "drill"
    form_of(stocked, "stock", "sleeve").rename("left sleeve")
    assert stocked.document.selection == Selection("stock", "left sleeve")
    form_of(stocked, "stock", "left sleeve").rename("")
    form_of(stocked, "cloth", "drill").rename("main")
    assert len(refused) == 2
    steps_back(stocked, 2, before)


def test_a_roll_is_made_from_its_numbers_and_changed(stocked, monkeypatch, refused):
    before = encoded(stocked.document.design)
    stocked.document.select(Selection("cloth", "old coat"))

    def typed(dialog):
        dialog.called.setText("rest")
        dialog.fields[0].setValue(1400.0)
        dialog.fields[1].setValue(850.0)
        return True

    monkeypatch.setattr(StockDialog, "exec", typed)
    stocked.stash.new_roll()
    made = stock(stocked, "rest")
    assert (made.cloth, made.width, made.length) == ("old coat", 1400.0, 850.0)
    assert stocked.document.selection == Selection("stock", "rest")
    form = form_of(stocked, "stock", "rest")
    form.lengths["selvedge"].setValue(15.0)
    form.lengths["length"].setValue(900.0)
    assert (stock(stocked, "rest").selvedge, stock(stocked, "rest").length) == (15.0, 900.0)
    form.lengths["width"].setValue(20.0)
    assert "width beyond its selvedges" in refused[-1]
    assert form.lengths["width"].value() == 1400.0
    assert "12330 cm" in form._told["Area"].text()
    steps_back(stocked, 3, before)


def test_a_rectangle_that_cannot_be_is_told_and_asked_again(stocked, monkeypatch, told):
    answers = iter((("sleeve", 100.0), ("cuff", 0.0), ("cuff", 120.0)))

    def typed(dialog):
        name, width = next(answers)
        dialog.called.setText(name)
        dialog.fields[0].setValue(width)
        return True

    monkeypatch.setattr(StockDialog, "exec", typed)
    stocked.stash.new_panel()
    assert len(told) == 2
    assert stock(stocked, "cuff").outline[1] == (120.0, 0.0)
    monkeypatch.setattr(StockDialog, "exec", lambda _: False)
    before = encoded(stocked.document.design)
    stocked.stash.new_panel()
    assert encoded(stocked.document.design) == before


def test_a_new_cloth_has_a_name_of_its_own(stocked):
    stocked.stash.new_cloth()
    stocked.stash.new_cloth()
    assert [one.name for one in stocked.document.design.cloths[-2:]] == ["new cloth", "new cloth 2"]
    assert stocked.document.selection == Selection("cloth", "new cloth 2")


def test_what_is_in_use_is_kept_and_the_rest_removed(stocked, refused):
    pane = stocked.road._stash
    stocked.document.select(Selection("cloth", "old coat"))
    pane._remove()
    assert "sleeve is of it" in refused[-1]
    stocked.document.select(Selection("stock", "sleeve"))
    pane._remove()
    assert stocked.document.selection == NOTHING
    stocked.document.select(Selection("cloth", "old coat"))
    pane._remove()
    assert all(one.name != "old coat" for one in stocked.document.design.cloths)
    stocked.document.select(NOTHING)
    pane._remove()
    assert stocked.document.history.undo_label == "Take away old coat"


def test_a_drawing_becomes_a_panel_and_what_was_left_out_is_told(stocked, told, tmp_path):
    before = encoded(stocked.document.design)
    path = tmp_path / "yoke.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" '
        'viewBox="0 0 400 300"><rect width="200" height="100"/><path d="M0 200 L50 200"/></svg>'
    )
    assert stocked.stash.take_drawing(path)
    assert "stays open" in told[0]
    assert stock(stocked, "yoke").outline[2] == (200.0, 100.0)
    assert stocked.stash.take_drawing(path)
    assert stock(stocked, "yoke 2")
    steps_back(stocked, 2, before)
    path.write_text("nothing")
    assert not stocked.stash.take_drawing(path)
    assert "not XML" in told[-1]


def test_the_unit_of_a_drawing_without_one_is_asked(stocked, monkeypatch, told, tmp_path):
    document = ezdxf.new(units=0)
    document.modelspace().add_lwpolyline([(0, 0), (30, 0), (30, 40)], close=True)
    path = tmp_path / "scrap.dxf"
    document.saveas(path)
    monkeypatch.setattr(dialogs, "ask_unit", lambda _over: None)
    assert not stocked.stash.take_drawing(path)
    monkeypatch.setattr(dialogs, "ask_unit", lambda _over: "cm")
    assert stocked.stash.take_drawing(path)
    assert max(x for x, _ in stock(stocked, "scrap").outline) == pytest.approx(300.0)


def test_what_was_traced_is_taken_as_one_step_new_or_known(stocked, monkeypatch):
    before = encoded(stocked.document.design)
    drawn = replace(tracing_of(blank("panel", "old coat")), outline=((0, 0), (90, 0), (90, 80)))

    def traced(window):
        window.result_stock = panel_of(
            replace(drawn, grain=((1.0, 0.0), (1.0, 50.0))), window.stock.name, window.stock.cloth
        )
        return True

    monkeypatch.setattr(TraceWindow, "exec", traced)
    stocked.document.select(Selection("stock", "sleeve"))
    stocked.stash.panel_drawn()
    assert stocked.document.selection == Selection("stock", "panel")
    assert stock(stocked, "panel").cloth == "old coat"
    form_of(stocked, "stock", "sleeve").trace.click()
    assert len(stock(stocked).outline) == 3
    steps_back(stocked, 2, before)
    monkeypatch.setattr(TraceWindow, "exec", lambda _: QDialog.DialogCode.Rejected)
    stocked.stash.trace("sleeve")
    assert encoded(stocked.document.design) == before


def test_a_stash_file_is_written_added_to_and_taken(stocked, monkeypatch, told, tmp_path):
    path = tmp_path / "shelf.stash"
    assert stocked.stash.give_stash(path)
    shelf = load_stash(path)
    assert shelf.stock[-1].name == "sleeve"
    other = Stash((Cloth("felt", "#222222"),), ())
    save_stash(other, path)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_, **__: (str(path), ""))
    stocked.stash.stash_out()
    assert {one.name for one in load_stash(path).cloths} >= {"felt", "old coat"}
    before = encoded(stocked.document.design)
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_, **__: (str(path), ""))
    stocked.stash.stash_in()
    assert stocked.document.design.cloths[-1].name == "felt"
    steps_back(stocked, 1, before)
    path.write_text("{}")
    assert not stocked.stash.take_stash(path)
    assert str(path) in told[-1]
    assert not stocked.stash.give_stash(path)
    assert path.read_text() == "{}"


def test_names_that_clash_are_asked_about(stocked, monkeypatch, tmp_path):
    path = tmp_path / "shelf.stash"
    save_stash(Stash((replace(COAT, colour="#ffffff"),), ()), path)
    before = encoded(stocked.document.design)
    asked = []
    answer = [False]

    def renames(self, names, where):
        asked.append(names)
        return answer[0]

    monkeypatch.setattr(StashActs, "_renames", renames)
    assert not stocked.stash.take_stash(path)
    assert encoded(stocked.document.design) == before
    answer[0] = True
    assert stocked.stash.take_stash(path)
    assert stocked.document.design.cloths[-1].name == "old coat 2"
    assert asked == [("old coat",), ("old coat",)]


def rule(window, piece="front-leg"):
    return edit.cutting_of(window.document.design, piece)


def cutting(window, piece="front-leg"):
    window.document.select(Selection("piece", piece))
    return window.details.form.cutting


def test_how_a_piece_may_lie_is_set_in_its_form(stocked):
    before = encoded(stocked.document.design)
    cutting(stocked).set_cloths(("old coat",))
    cutting(stocked).set_stock(("sleeve",))
    form = cutting(stocked)
    assert form.cloths.text().strip() == "old coat"
    assert [words_of(one) for one in form.stock.menu().actions()] == ["sleeve"]
    form.lies.setCurrentIndex(1)
    form.lies.activated.emit(1)
    form = cutting(stocked)
    form.tolerance.setCurrentIndex(1)
    form.tolerance.activated.emit(1)
    cutting(stocked).points_up.click()
    cutting(stocked).may_join.click()
    expected = CuttingRule("front-leg", ("sleeve",), ("old coat",), "across", 3.0, True, False)
    assert rule(stocked) == expected
    steps_back(stocked, 6, before)


def test_a_tolerance_of_ones_own_and_no_grain_at_any_angle(stocked):
    form = cutting(stocked)
    assert not form.degrees.isVisibleTo(form)
    form.tolerance.setCurrentIndex(2)
    form.tolerance.activated.emit(2)
    assert form.degrees.isVisibleTo(form)
    form.degrees.setValue(7.5)
    assert rule(stocked).tolerance == 7.5
    form = cutting(stocked)
    assert form.tolerance.currentIndex() == 2
    form.set("lies", "free")
    form = cutting(stocked)
    assert not form.tolerance.isVisibleTo(form)


def test_stock_of_a_cloth_taken_off_again_is_forgotten(stocked):
    form = cutting(stocked)
    form.cloths.menu().actions()[-1].trigger()
    cutting(stocked).stock.menu().actions()[-1].trigger()
    assert rule(stocked).stock == ("sleeve",)
    cutting(stocked).set_cloths(())
    assert rule(stocked) == CuttingRule("front-leg")
    assert stocked.document.design.cutting == ()


def test_removed_stock_takes_its_placements_along(stocked):
    design = stocked.document.history.design
    lay = replace(design.lay, placements=(Placement("front-leg", 0, "sleeve", (0.0, 0.0)),))
    stocked.document.change("Lay", replace(design, lay=lay))
    stocked.stash.remove("stock", "sleeve")
    assert stocked.document.design.lay.placements == ()


def test_the_tracing_window_wears_the_windows_theme(stocked):
    stocked.set_theme(DARK)
    assert theme_of(stocked) is DARK
    shown = stocked.stash.tracing(stock(stocked))
    assert shown.view.theme is DARK
    shown.deleteLater()


def test_photographs_are_found_wherever_the_project_is_saved(stocked, tmp_path):
    document = stocked.document
    here, there = tmp_path / "here", tmp_path / "there"
    here.mkdir()
    there.mkdir()
    assert stocked.stash.home is None
    panel = replace(stock(stocked), trace=Trace(str(here / "coat.jpg"), (), ()))
    document.change("Trace", edit.changed_stock(document.design, panel))
    document.save(here / "one.yoke")
    assert stock(stocked).trace.photograph == "coat.jpg"
    assert not document.history.is_dirty
    assert load(here / "one.yoke") == document.design
    document.save(there / "one.yoke")
    assert stock(stocked).trace.photograph == str(here / "coat.jpg")
    assert load(there / "one.yoke") == document.design
    steps = document.history.undo_label
    document.save(there / "two.yoke")
    assert document.history.undo_label == steps


def test_what_is_undone_after_saving_elsewhere_finds_its_photographs(stocked, tmp_path):
    """Naming them was a step: undone, it left them named from the folder before."""
    document = stocked.document
    here, there = tmp_path / "here", tmp_path / "there"
    here.mkdir()
    there.mkdir()
    before = document.design.notes
    panel = replace(stock(stocked), trace=Trace(str(here / "coat.jpg"), (), ()))
    document.change("Trace", edit.changed_stock(document.design, panel))
    document.save(here / "one.yoke")
    document.change("Note", replace(document.design, notes="two"))
    document.change("Note", replace(document.design, notes="three"))
    document.undo()
    document.save(there / "one.yoke")
    assert document.history.undo_label == "Note"
    assert not document.history.is_dirty
    for step, notes in ((document.redo, "three"), (document.undo, "two"), (document.undo, before)):
        step()
        assert document.design.notes == notes
        assert (there / stock(stocked).trace.photograph) == here / "coat.jpg"
        assert document.history.is_dirty is (notes != "two")
