"""What is told and typed beside the sheet is in the unit of the window."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QLabel

from studio import numbers
from studio.canvas.selection import Selection
from studio.design.toile import ToileNote
from studio.exchange.along import sheet_of
from studio.window.ledger_pane import VERDICTS
from studio.window.ledger_table import LedgerTable


def join_called(window, name):
    return next(join for join in window.document.design.joins if join.name == name)


def words_in(widget):
    return " ".join(label.text() for label in widget.findChildren(QLabel))


@pytest.mark.parametrize(
    ("unit", "typed", "mm"),
    [
        ("mm", "2, 8", (2.0, 8.0)),
        ("cm", "0.2; 0.8", (2.0, 8.0)),
        ("inch", "1/16, 5/16", (1.5875, 7.9375)),
        ("inch", "2 mm, 8mm", (2.0, 8.0)),
    ],
)
def test_rows_of_a_seam_and_of_a_piece_are_typed_in_the_unit(window, unit, typed, mm):
    window.set_unit(unit)
    window.document.select(Selection("join", "side seam"))
    form = window.details.form
    form.rows.setText(typed)
    form.rows.end_typing()
    assert join_called(window, "side seam").rows == pytest.approx(mm)
    window.document.select(Selection("piece", "back-pocket"))
    window.details.form.rows.stitch("back-pocket.1", typed)
    assert window.document.design.topstitching[-1].rows == pytest.approx(mm)


def test_rows_left_as_they_are_shown_are_no_change(window):
    window.set_unit("inch")
    window.document.select(Selection("join", "yoke seam"))
    before = window.document.design
    form = window.details.form
    assert form.rows.text() == "0.393701"
    form.rows.end_typing()
    assert window.document.design is before


@pytest.mark.parametrize("typed", ["nan", "2, inf", "two"])
def test_what_is_no_distance_is_told_and_changes_nothing(window, typed):
    window.document.select(Selection("join", "side seam"))
    before = window.document.design
    form = window.details.form
    form.rows.setText(typed)
    form.rows.end_typing()
    assert "is not a length" in window._hint.text()
    assert window.document.design is before


def test_a_step_and_a_note_of_the_toile_are_told_in_the_unit(window):
    window.set_unit("cm")
    window.document.select(Selection("step", "0"))
    assert "mm" not in words_in(window.details)
    design = window.document.history.design
    note = ToileNote("thigh", "tight", 20.0)
    window.document.change("note", replace(design, toile=(note,)))
    window.road.open_stage(6)
    told = words_in(window.road)
    assert "Thigh 2.00 cm too tight" in told
    assert "20.0 mm" not in told


@pytest.mark.parametrize("unit", ["mm", "cm", "inch"])
def test_no_number_of_a_table_is_cut_short(window, unit):
    """Longest numbers that occur: a waist of 1.5 m, a difference or an ease below nothing."""
    window.set_unit(unit)
    window.resize(1280, 720)
    decimals = numbers.DECIMALS[unit]
    longest, short = numbers.bare(1500.0, unit, decimals), numbers.bare(-30.0, unit, decimals)
    bold = window.font()
    bold.setBold(True)
    for table in window.findChildren(LedgerTable):
        model = table.model()
        for column in range(model.columnCount()):
            head = model.headerData(column, Qt.Orientation.Horizontal)
            if column == 0 or not head:
                continue
            # Heads are bold.
            assert QFontMetrics(bold).horizontalAdvance(head) <= table.columnWidth(column) - 18
            wanted = short if head in ("Ease", "Difference") else longest
            # Six pixels of padding at each side by the style sheet, and three of Qt's own.
            room = table.columnWidth(column) - 18
            assert table.fontMetrics().horizontalAdvance(wanted) <= room, (head, wanted)


def test_each_girth_tells_where_it_is_measured_in_the_unit(window):
    window.set_unit("cm")
    model = window.ledger.girths
    tips = {
        model.index(row, 0).data(): model.index(row, 2).data(Qt.ItemDataRole.ToolTipRole)
        for row in range(model.rowCount())
    }
    assert len(set(tips.values())) == len(tips) == 6
    assert "2.50 cm below the crotch line" in tips["thigh"]
    assert "lowered by is counted too" in tips["crotch to waist"]
    assert not any(name == tip for name, tip in tips.items())


def test_a_verdict_in_bold_is_read_whole_where_there_is_room(window):
    window.resize(1440, 900)
    (table,) = [t for t in window.findChildren(LedgerTable) if t.verdict_at is not None]
    font = table.font()
    font.setBold(True)
    widest = max(QFontMetrics(font).horizontalAdvance(words) for words in VERDICTS.values())
    assert table.columnWidth(table.verdict_at) >= widest + 22


def test_a_step_taken_for_a_note_is_called_by_its_words_in_the_unit(window):
    note = ToileNote("back rise", "short", 25.4)
    window.document.change("note", replace(window.document.design, toile=(note,)))
    window.road._toile.take(0)
    at = len(window.document.design.alterations) - 1
    window.set_unit("inch")
    # One inch is exactly 25.4 mm.
    assert window.road._steps._rows[at][1].text().endswith("back rise 1.000 inch too short")
    titles = [stage.title for stage in sheet_of(window.document.pattern, "inch").stages]
    assert "back rise 1.000 inch too short: the back" in titles
    # What a maker calls a step is left as it is written.
    steps = list(window.document.design.alterations)
    steps[at] = replace(steps[at], name="strip 30 mm")
    window.document.change("name", replace(window.document.design, alterations=tuple(steps)))
    assert window.road._steps._rows[at][1].text().endswith("strip 30 mm")
