"""What is told in the window is told in the unit chosen."""

import re

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialogButtonBox, QInputDialog, QLabel

from studio.canvas.length_field import LengthField
from studio.design.carried import Carried
from studio.window import dialogs, yoke_dialog
from studio.window.body_dialog import BodyDialog
from studio.window.canvas_context import DocumentContext
from studio.window.export_dialog import ExportDialog
from studio.window.findings_list import heading, sentence
from studio.window.pocket_window import PocketWindow
from studio.window.scale_form import ScaleForm
from studio.window.stock_dialog import StockDialog
from studio.window.yoke_dialog import YokeDialog
from tests.exchange.reading import words_on


def trouble(window):
    design = window.document.history.design
    joins = tuple(replace(j, ease=6.0) if j.name == "inseam" else j for j in design.joins)
    thing = Carried(design.carried[0].pocket, "ruler", 400.0, 300.0, 20.0)
    window.document.change("Ease", replace(design, joins=joins, carried=(*design.carried, thing)))
    return window.ledger.findings


def told(findings):
    return " ".join(f"{heading(row)} {sentence(row)}" for row in findings.model.rows)


def test_findings_follow_the_unit_and_change_at_once(window):
    findings = trouble(window)
    assert "differ by 6.0 mm more" in told(findings)
    window.set_unit("inch")
    assert "differ by 0.236 inch more" in told(findings)
    assert "15.75 by 11.81 by 0.79 inch" in told(findings)
    assert not re.search(r"\bmm\b", told(findings))
    assert "0.236 inch" in findings.model.data(findings.model.index(0))
    window.set_unit("mm")
    assert "differ by 6.0 mm more" in told(findings)


def test_a_finding_let_stand_in_inches_stands_in_mm_and_is_taken_back(window, monkeypatch):
    findings = trouble(window)
    window.set_unit("inch")
    monkeypatch.setattr(QInputDialog, "getText", lambda *_: ("meant so, 5 mm", True))
    findings.view.setCurrentIndex(findings.model.index(0))
    findings.stand.click()
    kept = window.document.history.design.accepted[0]
    assert kept.measured is not None
    for unit in ("mm", "cm", "inch"):
        window.set_unit(unit)
        # The reason is the maker's own and stays as typed.
        assert "Let stand: meant so, 5 mm." in sentence(findings.model.rows[0])
    findings.take_back(0)
    assert window.document.history.design.accepted == ()


def test_what_is_told_under_the_sheet_is_in_the_unit(window):
    window.set_unit("cm")
    window.document.told.emit("About 125.0 mm so far.")
    window.document.refused.emit("The waist is 40.0 mm long.")
    assert window._hint.text() == "Not done: The waist is 4.00 cm long."


def test_pockets_and_a_walked_seam_speak_no_mm_in_inches(window):
    trouble(window)
    window.set_unit("inch")
    pockets = PocketWindow(window.document, "inch", window)
    window.walking.begin("inseam")
    for shown in (pockets, window.walking):
        words = " ".join(label.text() for label in shown.findChildren(QLabel))
        assert " inch" in words
        assert not re.search(r"\bmm\b", words)


def test_a_girth_below_the_waist_is_named_in_the_unit_of_its_table(window):
    def first():
        return window.ledger.girths.data(window.ledger.girths.index(0, 0))

    assert first().startswith("top edge, 44 down")
    window.set_unit("cm")
    assert first().startswith("top edge, 4.4 down")


def typed(qtbot, field, text):
    field.setFocus()
    field.lineEdit().selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClicks(field, text)


def test_the_yoke_dialog_takes_inches_with_fractions_and_cuts_at_exactly_that(window, monkeypatch):
    asked = {}

    def answer(dialog):
        rise, side = dialog.findChildren(LengthField)
        # Usual 80 and 30 mm; one inch is exactly 25.4 mm.
        assert (rise.text(), side.text()) == ("3.150 inch", "1.181 inch")
        rise.lineEdit().setText("3 5/16")
        rise.interpretText()
        asked["yoke"] = dialog.yoke()
        return False

    monkeypatch.setattr(YokeDialog, "exec", answer)
    window.set_unit("inch")
    window.adding.cut_yoke()
    assert asked["yoke"].at_rise == 84.1375
    # What was not touched is what it was, not what its digits say.
    assert asked["yoke"].at_side == 30.0


def test_a_yoke_that_cannot_be_cut_is_told_in_the_unit(window, monkeypatch):
    answers = [True, False]
    yoke = yoke_dialog.Yoke("band", "back", 2000.0, 30.0)
    monkeypatch.setattr(YokeDialog, "exec", lambda _: answers.pop(0))
    monkeypatch.setattr(YokeDialog, "yoke", lambda _: yoke)
    told = []
    monkeypatch.setattr(dialogs, "tell", lambda _over, title, words: told.append(title + words))
    window.set_unit("inch")
    window.adding.cut_yoke()
    assert "could not be cut" in told[0]
    assert not re.search(r"\bmm\b", told[0])


@pytest.mark.parametrize("by", ["click", "enter"])
def test_a_dialog_is_not_taken_with_a_length_not_understood(window, qtbot, by, monkeypatch):
    told = []
    monkeypatch.setattr(dialogs, "tell", lambda _over, title, words: told.append(words))
    dialog = StockDialog("roll", "linen", ["main"], "main", "inch", window)
    qtbot.addWidget(dialog)
    dialog.show()
    done = []
    dialog.accepted.connect(lambda: done.append(True))
    ok = dialog.findChild(QDialogButtonBox).button(QDialogButtonBox.StandardButton.Ok)

    def finish():
        if by == "click":
            ok.setFocus()
            ok.click()
        else:
            qtbot.keyClick(dialog.fields[0], Qt.Key.Key_Return)

    typed(qtbot, dialog.fields[0], "59 1/")
    finish()
    assert not done
    assert told == [
        "Width: '59 1/' is not a length. Write it as 12.5 or as 12 1/2; mm, cm, m or inch may "
        "follow."
    ]
    typed(qtbot, dialog.fields[0], "59 1/4")
    finish()
    assert done
    assert dialog.width_mm == 1504.95
    assert dialog.length_mm == 2000.0


def test_stock_is_asked_for_and_refused_in_the_unit(window, monkeypatch):
    monkeypatch.setattr(StockDialog, "exec", lambda dialog: answers.pop(0)(dialog))
    told = []
    monkeypatch.setattr(dialogs, "tell", lambda _over, _title, words: told.append(words))

    def nothing_wide(dialog):
        assert dialog.fields[0].suffix() == " cm"
        dialog.fields[0].setValue(0.0)
        return True

    def a_good_one(dialog):
        dialog.fields[0].setValue(142.5)
        return True

    answers = [nothing_wide, a_good_one]
    window.set_unit("cm")
    window.stash.new_roll()
    assert len(told) == 1
    (roll,) = window.document.design.stash
    assert (roll.width, roll.length) == (1425.0, 2000.0)
    window.document.undo()


@pytest.mark.parametrize(
    ("unit", "side"), [("mm", "100 mm"), ("cm", "10 cm"), ("inch", "3 15/16 inch (100 mm)")]
)
def test_the_test_square_is_told_in_the_unit_before_and_on_the_sheets(
    window, tmp_path, monkeypatch, unit, side
):
    seen, told = [], []

    def chosen(dialog):
        seen.extend(label.text() for label in dialog.findChildren(QLabel))
        for word in ("png", "dxf"):
            dialog.ticks[word].setChecked(False)
        dialog.folder.setText(str(tmp_path))
        return True

    monkeypatch.setattr(ExportDialog, "exec", chosen)
    monkeypatch.setattr(dialogs, "tell", lambda _over, _title, words: told.append(words))
    window.set_unit(unit)
    window.export()
    assert any(f"it is {side} on each side" in words for words in seen)
    assert f"it is {side} on each side" in told[0]
    (written,) = tmp_path.glob("*.pdf")
    assert f"If it is not {side}, mend" in words_on(written, 0)


def test_a_body_is_asked_for_in_inches_by_those_who_chose_them(window, monkeypatch):
    units = []
    monkeypatch.setattr(BodyDialog, "exec", lambda dialog: units.append(dialog.unit))
    for unit in ("mm", "cm", "inch", "inch 1/16", "inch 1/32"):
        window.set_unit(unit)
        window.files.new_design()
    assert units == ["cm", "cm", "inch", "inch 1/16", "inch 1/32"]


@pytest.mark.parametrize(
    ("unit", "told"), [("mm", "0.500 mm"), ("cm", "0.0500 cm"), ("inch", "0.01969 inch")]
)
def test_how_fine_a_photograph_is_is_told_as_finely_in_every_unit(qtbot, unit, told):
    form = ScaleForm(unit)
    qtbot.addWidget(form)
    # Marks 200 pixels and 100 mm apart: half a millimetre a pixel; one inch is exactly 25.4 mm.
    form.take_marks(((0.0, 0.0), (100.0, 0.0)))
    assert form.show_marks(((0.0, 0.0), (200.0, 0.0))) is not None
    assert f"A pixel is {told} at the marks" in form._told.text()


def test_what_a_gesture_tells_is_measured_and_not_what_is_left_of_it_in_mm(window):
    context = DocumentContext(window.document, window.sheet)
    told = []
    window.document.told.connect(told.append)
    window.set_unit("inch")
    # 171.93 / 25.4 = 6.769; from 171.9 it would be 6.768.
    context.hint("hand-pocket: 171.9 mm long.", (171.93,))
    assert told == ["hand-pocket: 6.769 inch long."]
