"""A length typed in a form: read as it was typed, kept exactly, told when it is none."""

import pytest
from PySide6.QtCore import QLocale, Qt
from PySide6.QtWidgets import QToolTip, QVBoxLayout, QWidget

from studio.canvas.length_field import LengthField


class Typing:
    """A field, what it told, and a hand that types into it."""

    def __init__(self, qtbot, unit, start, **bounds):
        self.qtbot, self.told = qtbot, []
        self.field = LengthField("Down the rise", self.told.append, **bounds)
        self.field.set_unit(unit)
        self.field.show_mm(start)
        qtbot.addWidget(self.field)
        self.field.show()

    def type(self, text):
        self.field.setFocus()
        self.field.lineEdit().selectAll()
        self.qtbot.keyClick(self.field, Qt.Key.Key_Delete)
        self.qtbot.keyClicks(self.field, text)
        self.qtbot.keyClick(self.field, Qt.Key.Key_Return)


@pytest.mark.parametrize(
    ("unit", "text", "mm", "shown"),
    [
        ("mm", "82.5", 82.5, "82.5 mm"),
        ("cm", "8.25", 82.5, "8.25 cm"),
        # One inch is exactly 25.4 mm (the agreement of 1959).
        ("inch", "3.25", 82.55, "3.250 inch"),
        ("inch", "3 15/16", 100.0125, "3.938 inch"),
        ("inch", "3/8", 9.525, "0.375 inch"),
        ("inch", "8 cm", 80.0, "3.150 inch"),
        ("mm", '1/2"', 12.7, "12.7 mm"),
        ("cm", "5 mm inch", None, "1.00 cm"),
    ],
)
def test_a_length_is_typed_in_the_unit_or_with_its_own(qtbot, unit, text, mm, shown):
    hand = Typing(qtbot, unit, 10.0)
    hand.type(text)
    assert hand.told == ([] if mm is None else [mm])
    assert hand.field.text() == shown


def test_nothing_drifts_when_the_unit_is_switched_to_and_fro(qtbot):
    hand = Typing(qtbot, "inch", 10.0)
    hand.type("3 15/16")
    for unit in ("mm", "cm", "inch") * 20:
        hand.field.set_unit(unit)
        # Left untouched, and left after a look: neither is a change.
        hand.field.setFocus()
        hand.qtbot.keyClick(hand.field, Qt.Key.Key_Return)
    assert hand.told == [100.0125]
    assert hand.field.text() == "3.938 inch"


def test_what_is_shown_typed_again_changes_nothing(qtbot):
    hand = Typing(qtbot, "inch", 80.0)
    hand.type(hand.field.cleanText())
    assert hand.told == []


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("3 1/", "'3 1/' is not a length"),
        ("", "'' is not a length"),
        ("1/0", "'1/0' is not a length"),
        ("3,5", "Write a point before its decimals"),
        ("-4", "between 0.000 and 118.110 inch"),
        ("400", "between 0.000 and 118.110 inch"),
    ],
)
def test_what_cannot_be_taken_is_told_and_the_length_stays(qtbot, text, reason):
    hand = Typing(qtbot, "inch", 80.0)
    hand.field.setLocale(QLocale.c())
    hand.type(text)
    assert hand.told == []
    assert hand.field.text() == "3.150 inch"
    assert hand.field.problem.startswith("Down the rise: ")
    assert reason in hand.field.problem
    # Told once; a good length clears it as well.
    assert hand.field.told_problem()
    assert not hand.field.told_problem()
    hand.type("3 1/")
    hand.type("3 1/2")
    assert hand.told == [88.9]
    assert not hand.field.problem


def test_what_cannot_be_taken_is_told_beside_the_field_also_when_it_is_left(qtbot):
    hand = Typing(qtbot, "inch", 80.0)
    beside = LengthField("Down the side", lambda _: None)
    holder = QWidget()
    column = QVBoxLayout(holder)
    column.addWidget(hand.field)
    column.addWidget(beside)
    qtbot.addWidget(holder)
    with qtbot.waitExposed(holder):
        holder.show()
    holder.activateWindow()
    hand.field.setFocus()
    hand.field.lineEdit().selectAll()
    qtbot.keyClicks(hand.field, "3 1/")
    qtbot.keyClick(hand.field, Qt.Key.Key_Tab)
    qtbot.waitUntil(lambda: "'3 1/' is not a length" in QToolTip.text())
    assert hand.field.text() == "3.150 inch"
    QToolTip.hideText()


def test_keys_that_are_in_no_length_do_nothing(qtbot):
    hand = Typing(qtbot, "cm", 80.0)
    hand.type("x7?z5$")
    assert hand.told == [750.0]


def test_the_bounds_may_be_typed_as_they_are_shown(qtbot):
    hand = Typing(qtbot, "inch", 80.0, least=0.1, most=10000.0)
    for text, mm in (("393.701", 10000.0), ("0.004", 0.1016)):
        hand.type(text)
        assert not hand.field.problem
        assert hand.told[-1] == mm


def test_an_empty_field_stands_for_nothing_only_where_it_may(qtbot):
    hand = Typing(qtbot, "cm", 80.0, may_be_empty=True)
    hand.type("")
    assert hand.told == [None]
    assert hand.field.text() == "not taken"
    hand.type("12")
    assert hand.told == [None, 120.0]


def test_a_comma_is_the_point_where_the_language_has_it_so(qtbot):
    hand = Typing(qtbot, "cm", 80.0)
    hand.field.setLocale(QLocale(QLocale.Language.German))
    hand.type("12,5")
    assert hand.told == [125.0]


def test_arrows_go_on_from_what_was_typed(qtbot):
    hand = Typing(qtbot, "inch", 80.0)
    hand.type("3 15/16")
    hand.field.stepBy(1)
    assert hand.told[-1] == pytest.approx(101.0125, abs=0.0127)
    assert hand.field.text() == "3.977 inch"
