"""Inches shown as a tape has them: told honestly, typed, read back, and exact on what goes out."""

import re

import ezdxf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel

from studio import numbers
from studio.canvas.length_field import LengthField
from studio.canvas.selection import Selection
from studio.exchange.dxf_out import SEWING
from studio.window import export_dialog, recent

_MARGIN = 4

ABOUT = numbers.ABOUT


@pytest.fixture
def told():
    return []


@pytest.fixture
def field(qtbot, told):
    made = LengthField("Width", told.append, least=-500.0)
    qtbot.addWidget(made)
    made.set_unit("inch 1/16")
    made.show()
    return made


def typed(field, text):
    field.setFocus()
    field.lineEdit().selectAll()
    # A key of a test has no sign beyond Latin-1.
    field.lineEdit().insert(text)
    QTest.keyClick(field, Qt.Key.Key_Return)


@pytest.mark.parametrize(
    ("mm", "shown"),
    [
        (100.0, f"{ABOUT}3 15/16 inch"),
        (12.7, "1/2 inch"),
        (-12.6, f"{ABOUT}\u22121/2 inch"),
        (0.1, "0.004 inch"),
    ],
)
def test_a_field_that_is_left_as_it_is_shown_keeps_its_length(field, told, mm, shown):
    field.show_mm(mm)
    assert field.text() == shown
    for _ in range(2):
        field.setFocus()
        QTest.keyClick(field, Qt.Key.Key_Return)
        field.clearFocus()
    # Typed again just as it stands there.
    typed(field, shown.removesuffix(" inch"))
    assert told == []
    assert field.text() == shown
    assert not field.problem


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 3/16", 309.5625),
        (f"{ABOUT}12 3/16", 309.5625),
        ("12.1875", 309.5625),
        ("12.19", 309.626),
        ("1.2 m", 1200.0),
        ("3 15/16", 100.0125),
        ("100.01 mm", 100.01),
    ],
)
def test_what_is_typed_is_taken_to_its_last_digit(field, told, text, mm):
    field.show_mm(100.0)
    typed(field, text)
    if text == "3 15/16":
        # The fraction that stood there, now said to be exact.
        assert told == [100.0125]
    assert told == [mm]
    assert field.text() == numbers.length(mm, "inch 1/16")


def test_the_arrows_of_a_field_go_by_a_mark_of_the_tape(field, told):
    field.show_mm(25.4)
    field.stepBy(1)
    assert told == [pytest.approx(26.9875, abs=1e-9)]
    assert field.text() == "1 1/16 inch"
    field.set_unit("inch 1/32")
    field.stepBy(-1)
    assert told[-1] == pytest.approx(26.19375, abs=1e-9)
    assert field.text() == "1 1/32 inch"


def test_the_window_tells_fractions_and_changes_nothing(window):
    before = window.document.design
    window._menus._choose_unit("inch 1/16")
    assert recent.unit() == "inch 1/16"
    row = window.document.pattern.ledger[0]
    cells = window.ledger.seams.data(window.ledger.seams.index(0, 1))
    assert cells == numbers.bare(row.length_a, "inch 1/16")
    assert re.fullmatch(rf"{ABOUT}?\d+( \d+/(2|4|8|16))?", cells)
    window.document.select(Selection("join", row.name))
    shown = " ".join(label.text() for label in window.details.findChildren(QLabel))
    assert f"{numbers.length(row.length_a, 'inch 1/16')}" in shown
    assert "1/16 from" not in shown
    for field in window.details.findChildren(LengthField):
        assert field.suffix() == " inch"
        field.setFocus()
        field.clearFocus()
    assert window.document.design is before
    window._menus._choose_unit("mm")


@pytest.mark.parametrize("unit", ["inch 1/16", "inch 1/32"])
def test_no_number_of_the_ledger_is_cut_short(window, unit):
    window.resize(1440, 900)
    rooms = [window.ledger._tables[0].columnWidth(column) for column in range(1, 6)]
    window.set_unit(unit)
    for table in window.ledger._tables:
        model, metrics = table.model(), QFontMetrics(table.font())
        for row in range(model.rowCount()):
            for column in range(1, min(5, model.columnCount())):
                wide = metrics.horizontalAdvance(model.data(model.index(row, column)))
                # Qt leaves a few pixels free on both sides of a cell.
                assert wide + 2 * _MARGIN <= table.columnWidth(column)
    window.set_unit("mm")
    assert rooms == [window.ledger._tables[0].columnWidth(column) for column in range(1, 6)]


def test_what_goes_out_has_exact_numbers(window, tmp_path, monkeypatch):
    asked = []
    monkeypatch.setattr(export_dialog, "export", lambda _over, _document, unit: asked.append(unit))
    window.set_unit("inch 1/32")
    window.export()
    assert asked == ["inch"]
    sheet = window.show_work()
    assert sheet._unit == "inch"
    sheet.close()
    window.set_unit("mm")


def test_a_drawing_is_in_millimetres_whatever_is_shown(window, tmp_path):
    from studio.exchange.write import write_pieces

    lengths = []
    for unit in ("mm", "inch 1/16"):
        window.set_unit(unit)
        folder = tmp_path / unit[:2]
        folder.mkdir()
        pattern = window.document.whole()
        write_pieces(pattern, folder, ("dxf",), "a4", "x", numbers.decimal(window.unit))
        blocks = ezdxf.readfile(folder / "x.dxf").blocks
        lengths.append(
            [
                [tuple(v.dxf.location) for v in line.vertices]
                for block in blocks
                for line in block.query("POLYLINE")
                if line.dxf.layer == SEWING
            ]
        )
    assert lengths[0] == lengths[1]
    assert lengths[0]
    window.set_unit("mm")
