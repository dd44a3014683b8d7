"""A new design asked for: what is missing, and where each measure is taken."""

import msgspec
import pytest
from PySide6.QtWidgets import QComboBox, QLabel, QMessageBox

from studio.design import Body
from studio.design.body import Fit
from studio.numbers import ABOUT, MILLIMETRES
from studio.window.body_dialog import BodyDialog, unit_of_bodies
from studio.window.body_measures import (
    BODY_LABELS,
    FIT_TOLD,
    WHERE_TAKEN,
    still_needed,
)
from studio.window.road_pane import FIT_LABELS


def test_every_measure_and_every_number_of_the_fit_has_its_words():
    measures = {field.name for field in msgspec.structs.fields(Body)} - {"name"}
    assert set(BODY_LABELS) == set(WHERE_TAKEN) == measures
    assert set(FIT_LABELS) == set(FIT_TOLD) <= {f.name for f in msgspec.structs.fields(Fit)}


@pytest.mark.parametrize(
    ("taken", "needed"),
    [
        ((), "waist girth, hip girth, inside leg, body rise or waist height"),
        (("waist_girth", "hip_girth", "waist_height"), "inside leg"),
        (("waist_girth", "hip_girth", "inside_leg"), "body rise or waist height"),
        (("waist_girth", "hip_girth", "inside_leg", "body_rise"), ""),
    ],
)
def test_what_is_still_needed_is_told_together(taken, needed):
    assert still_needed(taken) == needed


def test_a_dialog_without_its_measures_is_not_taken(qtbot, monkeypatch):
    told = []
    monkeypatch.setattr(
        QMessageBox, "exec", lambda box: told.append((box.text(), box.informativeText()))
    )
    dialog = BodyDialog()
    qtbot.addWidget(dialog)
    dialog.show()
    dialog._fields["hip_girth"].setValue(94.0)
    dialog.accept()
    assert dialog.isVisible()
    assert told == [
        (
            "Some measures are still needed.",
            "Waist girth, inside leg, body rise or waist height.",
        )
    ]
    for name, value in (("waist_girth", 74.5), ("inside_leg", 83.0), ("body_rise", 26.5)):
        dialog._fields[name].setValue(value)
    dialog.accept()
    assert not dialog.isVisible()
    assert dialog.body().hip_girth == pytest.approx(940.0)


def test_where_a_measure_is_taken_is_told_while_it_is_typed(qtbot):
    dialog = BodyDialog()
    qtbot.addWidget(dialog)
    dialog.show()
    dialog.activateWindow()
    dialog._fields["heel_girth"].setFocus()
    qtbot.waitUntil(lambda: dialog._fields["heel_girth"].hasFocus(), timeout=1000)
    assert WHERE_TAKEN["heel_girth"] in [label.text() for label in dialog.findChildren(QLabel)]


def test_a_body_is_shown_and_typed_in_fractions_of_an_inch_by_those_who_chose_them(qtbot):
    """The inch is 25.4 mm by definition (ISO 80000-3): 29 15/16 inch are 760.4125 mm."""
    dialog = BodyDialog(unit=unit_of_bodies("inch 1/16"))
    qtbot.addWidget(dialog)
    dialog.show()
    field = dialog._fields["waist_girth"]
    field.selectAll()
    qtbot.keyClicks(field, "29 15/16")
    field.interpretText()
    assert field.text() == "29 15/16 inch"
    assert dialog.body().waist_girth == pytest.approx(760.4125, abs=1e-9)
    # Told in another unit it stays what it is; that a fraction is not exact is said.
    units = dialog.findChild(QComboBox)
    units.setCurrentIndex(units.findText("cm"))
    assert field.text() == "76.04 cm"
    units.setCurrentIndex(units.findText("inch, fractions to 1/32"))
    assert field.text() == "29 15/16 inch"
    field.show_mm(760.0)
    assert field.text() == f"{ABOUT}29 29/32 inch"
    assert dialog.body().waist_girth == pytest.approx(760.4125, abs=1e-9)


def test_each_unit_of_the_window_can_be_chosen_for_a_body(qtbot):
    dialog = BodyDialog()
    qtbot.addWidget(dialog)
    units = dialog.findChild(QComboBox)
    assert [units.itemData(at) for at in range(units.count())] == list(MILLIMETRES)
    assert units.currentText() == "cm"
    for at, unit in enumerate(MILLIMETRES):
        units.setCurrentIndex(at)
        assert dialog.unit == unit
