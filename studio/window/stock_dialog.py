"""Asks for a new roll, or a rectangle of cloth, by its numbers."""

from __future__ import annotations

from functools import partial
from typing import Literal

from PySide6.QtWidgets import QDialog, QLineEdit, QWidget

from studio.canvas.length_field import LengthField
from studio.numbers import LengthUnit
from studio.window.choice_box import ChoiceBox
from studio.window.one_line import one_line
from studio.window.widgets import column_of, form_in, ok_and_cancel

_START = {"roll": (1500.0, 2000.0), "panel": (400.0, 600.0)}
_WORDS = {
    "roll": "Cloth from the roll, its warp along its length. Selvedges are set afterwards.",
    "panel": "A rectangle of cloth, its warp along its length. Take metal parts out first.",
}
MOST_MM = 100_000.0
"""A bale of cloth is 50 to 100 m (common practice, no source)."""


class StockDialog(QDialog):
    """Name, cloth, width and length."""

    def __init__(
        self,
        kind: Literal["roll", "panel"],
        name: str,
        cloths: list[str],
        cloth: str,
        unit: LengthUnit,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.kind = kind
        self._sizes = list(_START[kind])
        self.setWindowTitle(f"New {kind}")
        column = column_of(self, _WORDS[kind])
        form = form_in(column)
        self.called = QLineEdit(name)
        self.called.setAccessibleName("Name")
        form.addRow("Name", self.called)
        self.of = ChoiceBox()
        self.of.setAccessibleName("Cloth")
        self.of.addItems(cloths)
        self.of.setCurrentText(cloth)
        form.addRow("Cloth", self.of)
        self.fields = []
        for at, label in enumerate(("Width", "Length")):
            field = LengthField(label, partial(self._set, at), most=MOST_MM)
            field.set_unit(unit)
            field.show_mm(self._sizes[at])
            form.addRow(label, field)
            self.fields.append(field)
        column.addWidget(ok_and_cancel(self, "Add it"))
        self.called.selectAll()

    @property
    def name(self) -> str:
        """What it is called."""
        return one_line(self.called.text())

    @property
    def cloth(self) -> str:
        """The cloth it is of."""
        return self.of.currentText()

    @property
    def width_mm(self) -> float:
        """Across the warp, mm."""
        return self._sizes[0]

    @property
    def length_mm(self) -> float:
        """Along the warp, mm."""
        return self._sizes[1]

    def _set(self, at: int, mm: float | None) -> None:
        self._sizes[at] = mm or 0.0
