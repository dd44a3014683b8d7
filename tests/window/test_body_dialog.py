"""A new design asked for: what is missing, and where each measure is taken."""

import msgspec
import pytest
from PySide6.QtWidgets import QLabel, QMessageBox

from studio.design import Body
from studio.design.body import Fit
from studio.window.body_measures import (
    BODY_LABELS,
    FIT_TOLD,
    WHERE_TAKEN,
    still_needed,
)
from studio.window.dialogs import BodyDialog
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
