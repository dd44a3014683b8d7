"""A number that is no length, typed in a form."""

import pytest
from PySide6.QtCore import Qt

from studio.canvas.read_field import PlainField


def typed_in(qtbot, text, suffix=" %"):
    """A shrinkage of 1 per cent after something else is typed."""
    field = PlainField("Warp shrinks by")
    qtbot.addWidget(field)
    field.setDecimals(1)
    field.setRange(0.0, 30.0)
    field.setSuffix(suffix)
    field.setValue(1.0)
    field.show()
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    return field


@pytest.mark.parametrize("suffix", [" %", "\N{DEGREE SIGN}"])
@pytest.mark.parametrize("text", ["3.5", "3,5", "3.5 %", "+3.5", " 3,50"])
def test_a_point_or_a_comma_stands_before_its_decimals(qtbot, text, suffix):
    field = typed_in(qtbot, text, suffix)
    assert field.value() == 3.5
    assert field.text() == f"3.5{suffix}"
    assert field.problem == ""


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("35", "Warp shrinks by: It has to lie between 0.0 and 30.0 %."),
        ("-3", "It has to lie between"),
        ("3.5.1", "'3.5.1' is not a number"),
        ("1,000.5", "'1,000.5' is not a number"),
        ("", "'' is not a number"),
    ],
)
def test_what_cannot_be_taken_is_told_and_the_number_stays(qtbot, text, reason):
    field = typed_in(qtbot, text or " ")
    assert field.value() == 1.0
    assert reason in field.problem


def test_what_is_less_than_nothing_has_a_true_minus_and_takes_either(qtbot):
    field = typed_in(qtbot, "2")
    field.setRange(-30.0, 30.0)
    for typed in ("-4", "\N{MINUS SIGN}4"):
        field.setValue(0.0)
        field.lineEdit().setText(f"{typed} %")
        qtbot.keyClick(field, Qt.Key.Key_Return)
        assert field.value() == -4.0
        assert field.text() == "\N{MINUS SIGN}4.0 %"
