"""The measures of a body, asked for in the unit they were taken in."""

from __future__ import annotations

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QFormLayout,
    QLineEdit,
    QWidget,
)

from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.canvas.type_size import size_with_letters
from studio.design import Body
from studio.numbers import MILLIMETRES, LengthUnit, chosen_as, decimal
from studio.window import dialogs
from studio.window.body_measures import BODY_LABELS, REQUIRED, WHERE_TAKEN, still_needed
from studio.window.choice_box import ChoiceBox
from studio.window.one_line import one_line
from studio.window.widgets import Scrolled, column_of, faint, ok_and_cancel, open_large

_THREE_LINES = 52
"""Pixels for three lines of letters of the usual size."""


def unit_of_bodies(chosen: LengthUnit) -> LengthUnit:
    """What a body is measured in: inches by those who have chosen them, with decimals or fractions
    as they chose; else centimetres, as a tape measure has them (common practice, no source).
    """
    return chosen if decimal(chosen) == "inch" else "cm"


class BodyDialog(QDialog):
    """Measurements for a new design."""

    def __init__(
        self,
        parent: QWidget | None = None,
        unit: LengthUnit = "cm",
        title: str = "New from a body",
        accept: str = "Draft the block",
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.unit: LengthUnit = unit
        self._values: dict[str, float | None] = {}
        self._fields: dict[str, LengthField] = {}
        column = column_of(
            self,
            "Measures with a * are needed; a waist height will do instead of the body rise. "
            "Each further measure makes the block fit better.",
        )
        holder = QWidget()
        form = QFormLayout(holder)
        # On the right there is room for the bar by which it is scrolled.
        form.setContentsMargins(0, 0, 12, 0)
        form.setVerticalSpacing(4)
        form.setHorizontalSpacing(12)
        self._name = QLineEdit()
        self._name.setAccessibleName("Name")
        form.addRow("Name", self._name)
        units = ChoiceBox()
        units.setAccessibleName("Unit")
        for known in MILLIMETRES:
            units.addItem(chosen_as(known), known)
        units.setCurrentIndex(units.findData(unit))
        units.currentIndexChanged.connect(lambda at: self._set_unit(units.itemData(at)))
        form.addRow("Unit", units)
        for name, label in BODY_LABELS.items():

            def change(mm: float | None, name: str = name) -> None:
                self._values[name] = mm

            field = LengthField(label, change, may_be_empty=True)
            field.show_mm(None)
            field.setToolTip(plain_tip(WHERE_TAKEN[name]))
            needed = name in REQUIRED or name == "body_rise"
            form.addRow(f"{label} *" if needed else label, field)
            self._fields[name] = field
        column.addWidget(Scrolled(holder), 1)
        self._where = faint("How each measure is taken is told here when you come to it.")
        # Room for the longest from the start, so that nothing moves while the maker types.
        size_with_letters(self._where, minimumHeight=_THREE_LINES)
        self._where.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(self._where)
        column.addWidget(ok_and_cancel(self, accept))
        self._set_unit(unit)
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._show_where)
        open_large(self)

    def accept(self) -> None:
        """What is still needed is asked for all at once."""
        needed = still_needed([name for name, mm in self._values.items() if mm])
        if needed:
            dialogs.tell(self, "Some measures are still needed.", f"{needed.capitalize()}.")
            return
        super().accept()

    def _show_where(self, _old: QWidget | None, now: QWidget | None) -> None:
        """Where the measure that is typed is taken."""
        for name, field in self._fields.items():
            if field is now:
                self._where.setText(WHERE_TAKEN[name])

    def body(self) -> Body:
        """What was typed; a measure not taken that is required counts as nothing, and the draft
        will say so by its name.
        """
        values = {name: self._values.get(name) for name in BODY_LABELS}
        needed = {name: values.pop(name) or 0.0 for name in REQUIRED}
        return msgspec.convert(
            {"name": one_line(self._name.text()), **needed, **values}, Body, strict=False
        )

    def _set_unit(self, unit: LengthUnit) -> None:
        self.unit = unit
        for field in self._fields.values():
            field.set_unit(self.unit)
