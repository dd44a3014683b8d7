"""Rows of topstitching typed and typed otherwise where they are shown, on a piece and on a seam."""

import pytest
from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QToolButton

from studio.canvas.selection import Selection
from studio.design.file import decoded, encoded
from studio.design.topstitch import Topstitch

ROWS = (
    Topstitch("back-leg", "back.side", (2.0, 8.0)),
    Topstitch("back-leg", "back.inseam", (6.0,), start=20.0, end=300.0),
    Topstitch("back-leg", "back.side", (20.0,)),
)


@pytest.fixture
def rows(window):
    """The form of the rows of a leg that has some."""
    design = window.document.history.design
    window.document.change("Rows", replace(design, topstitching=(*design.topstitching, *ROWS)))
    window.document.select(Selection("piece", "back-leg"))
    return window.details.form.rows


def of_leg(window):
    return tuple(one for one in window.document.design.topstitching if one.piece == "back-leg")


def typed(qtbot, field, text, key=Qt.Key.Key_Return):
    field.setFocus()
    assert field.hasFocus()
    field.selectAll()
    qtbot.keyClicks(field, text) if text else qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, key)


def told(window):
    sentences = []
    window.document.refused.connect(sentences.append)
    return sentences


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab])
def test_rows_are_typed_otherwise_in_their_place_and_one_undo_brings_them_back(
    window, rows, qtbot, key
):
    before = encoded(window.document.design)
    field = rows.fields[1]
    assert field.text() == "6"
    typed(qtbot, field, "6, 6, 12.5", key)
    assert of_leg(window) == (ROWS[0], replace(ROWS[1], rows=(6.0, 12.5)), ROWS[2])
    assert window.document.history.undo_label == "Rows along back.inseam"
    assert rows.fields[1] is field
    assert field.text() == "6, 12.5"
    assert decoded(encoded(window.document.design)) == window.document.design
    window.document.undo()
    assert encoded(window.document.design) == before
    # Shown anew also while the field has the focus, and left so: what was undone stays undone.
    assert field.text() == "6"
    rows.more.setFocus()
    assert encoded(window.document.design) == before


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("2, many", "'many' is not a length"),
        ("nan", "'nan' is not a length"),
        ("", "Rows are distances from the edge in mm with commas, such as 2, 8."),
        ("20", "back.side has these rows already."),
    ],
)
@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab])
def test_what_is_refused_is_told_beside_the_field_and_the_rows_stay(
    window, rows, qtbot, text, reason, key
):
    before, sentences = window.document.design, told(window)
    field = rows.fields[0]
    typed(qtbot, field, text, key)
    assert field.text() == "2, 8"
    assert field.problem.startswith("Rows along back.side: ")
    assert reason in field.problem
    assert [reason in sentence for sentence in sentences] == [True]
    assert window.document.design is before
    qtbot.keyClicks(field, "1")
    assert field.problem == ""


def test_rows_are_typed_in_the_unit_of_the_window(window, rows, qtbot):
    window.set_unit("inch")
    field = window.details.form.rows.fields[0]
    assert field.text() == "0.0787402, 0.314961"
    typed(qtbot, field, "1/16, 8 mm")
    assert of_leg(window)[0].rows == (1.5875, 8.0)


def test_what_is_being_typed_is_not_wiped_away_by_another_change(window, rows, qtbot):
    field = rows.fields[0]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "3")
    design = window.document.history.design
    window.document.change("Smaller", replace(design, standard_allowance=design.standard_allowance))
    others = tuple(
        replace(one, rows=(7.0,)) if one == ROWS[2] else one for one in design.topstitching
    )
    window.document.change("Another row", replace(design, topstitching=others))
    assert (field.text(), rows.fields[2].text()) == ("3", "7")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert [one.rows for one in of_leg(window)] == [(3.0,), (6.0,), (7.0,)]


def test_rows_along_a_stretch_say_so_and_each_is_taken_away_alone(window, rows):
    named = [one.accessibleName() for one in rows.fields]
    assert named == [f"Rows along back.{edge}" for edge in ("side", "inseam", "side")]
    assert rows.stretches[1].accessibleName() == "Rows along back.inseam between"
    assert [one.text() for one in rows.stretches] == ["", "20, 300", ""]
    assert rows.stretches[0].placeholderText() == "all along"
    window.set_unit("inch")
    # 20 / 25.4 and 300 / 25.4.
    assert window.details.form.rows.stretches[1].text() == "0.787402, 11.811"
    window.set_unit("mm")
    rows = window.details.form.rows
    rows.findChildren(QToolButton)[0].click()
    assert of_leg(window) == ROWS[1:]
    assert [one.text() for one in window.details.form.rows.fields] == ["6", "20"]
    assert [one.text() for one in window.details.form.rows.stretches] == ["20, 300", ""]


@pytest.mark.parametrize(
    ("text", "start", "end"), [("40, 120.5", 40.0, 120.5), ("40", 40.0, None), ("", 0.0, None)]
)
def test_the_stretch_along_which_rows_run_is_typed(window, rows, qtbot, text, start, end):
    before = encoded(window.document.design)
    typed(qtbot, rows.stretches[1], text)
    assert of_leg(window) == (ROWS[0], replace(ROWS[1], start=start, end=end), ROWS[2])
    assert rows.stretches[1].text() == text
    window.document.undo()
    assert encoded(window.document.design) == before
    assert rows.stretches[1].text() == "20, 300"


@pytest.mark.parametrize("text", ["300, 20", "-1, 20", "20, 20", "1, 2, 3"])
def test_a_stretch_that_is_none_is_refused_with_what_to_type(window, rows, qtbot, text):
    before, sentences = window.document.design, told(window)
    field = rows.stretches[1]
    typed(qtbot, field, text)
    assert field.text() == "20, 300"
    assert window.document.design is before
    assert len(sentences) == 1
    # An inseam runs down from the rise to the hem, or up: as the outline of its piece does.
    outline = window.document.pattern.piece("back-leg").piece.outline
    names = [edge.name for edge in outline]
    first = names[names.index("back.inseam") - 1].removeprefix("back.")
    assert f"measured from its end at the {first}." in sentences[0]


def test_rows_that_are_there_are_led_through_what_lies_beneath(window):
    window.document.select(Selection("piece", "back-pocket"))
    rows = window.details.form.rows
    rows.stitch("back-pocket.top", "70")
    rows.stitch("back-pocket.top", "70", through=True)
    sentences = told(window)
    first = len(rows.fields) - 2
    rows.throughs[first].click()
    assert sentences == ["back-pocket.top has these rows already."]
    assert not rows.throughs[first].isChecked()
    window.document.undo()
    rows.throughs[first].click()
    assert window.document.design.topstitching[-1].through
    window.document.undo()
    assert not rows.throughs[first].isChecked()


def test_more_rows_that_are_refused_stay_to_be_mended(window, rows, qtbot):
    rows.along.setCurrentText("back.hem")
    typed(qtbot, rows.more, "30, x")
    assert rows.more.text() == "30, x"
    assert "'x' is not a length" in rows._problem
    typed(qtbot, rows.more, "30")
    assert of_leg(window)[-1] == Topstitch("back-leg", "back.hem", (30.0,))
    # The field is free for the next, in which typing goes on.
    assert rows.more.text() == ""
    assert rows.more.hasFocus()


@pytest.fixture
def seam(window):
    window.document.select(Selection("join", "side seam"))
    return window.details.form


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Tab])
@pytest.mark.parametrize(
    ("name", "text", "reason"),
    [
        ("rows", "two", "Topstitched at: 'two' is not a length"),
        ("eased", "100", "Eased between: From and to in mm with a comma"),
        ("eased", "250, 100", "Eased between: From and to"),
        ("eased", "a, b", "Eased between: 'a' is not a length"),
    ],
)
def test_what_a_field_of_a_seam_refuses_is_told_once_and_the_old_value_stands_in_it_at_once(
    window, seam, qtbot, name, text, reason, key
):
    seam.ease.setValue(4.0)
    before, sentences = window.document.design, told(window)
    field = getattr(seam, name)
    shown = field.text()
    typed(qtbot, field, text, key)
    assert field.text() == shown
    assert reason in field.problem
    seam.ease.setFocus()
    assert len(sentences) == 1
    assert window.document.design is before


def test_rows_of_a_seam_that_were_undone_stay_undone(window, seam, qtbot):
    before = encoded(window.document.design)
    shown = seam.rows.text()
    typed(qtbot, seam.rows, "3, 9")
    assert seam.rows.text() == "3, 9"
    window.document.undo()
    assert seam.rows.text() == shown
    seam.ease.setFocus()
    assert encoded(window.document.design) == before


@pytest.mark.parametrize(
    ("unit", "such"),
    [
        ("mm", "mm with a comma, such as 20, 300"),
        ("cm", "cm with a comma, such as 2, 30"),
        ("inch", "inch with a comma, such as 1, 12"),
        ("inch 1/16", "inch with a comma, such as 1, 12"),
        ("inch 1/32", "inch with a comma, such as 1, 12"),
    ],
)
def test_a_stretch_is_asked_for_with_lengths_that_one_would_type_in_the_unit(window, unit, such):
    window.set_unit(unit)
    window.document.select(Selection("join", "side seam"))
    told = f"From and to in {such}, measured from the beginning of the first side."
    assert window.details.form.eased.toolTip().startswith(told)


def test_a_stretch_of_ease_is_typed_and_left_out_again(window, seam, qtbot):
    seam.ease.setValue(4.0)

    def eased():
        return next(j for j in window.document.design.joins if j.name == "side seam").eased

    typed(qtbot, seam.eased, "100, 250")
    assert eased() == (100.0, 250.0)
    typed(qtbot, seam.eased, "")
    assert eased() is None
