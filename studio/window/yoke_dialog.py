"""The numbers of a yoke, asked for at once."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import (
    QDialog,
    QLineEdit,
    QWidget,
)

from studio.canvas.length_field import LengthField
from studio.cut.yoke_cut import Yoke
from studio.numbers import LengthUnit
from studio.window.choice_box import ChoiceBox
from studio.window.one_line import one_line
from studio.window.widgets import column_of, form_in, ok_and_cancel

_RESTS = {"side": "at the side seam", "rise": "at the rise", "none": "nowhere: it stays open"}


class YokeDialog(QDialog):
    """Panel, both distances, and where what is left of the darts goes."""

    def __init__(self, panels: Sequence[str], unit: LengthUnit, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Cut a yoke")
        self._at_rise, self._at_side = 80.0, 30.0
        column = column_of(
            self,
            "The yoke's line runs from the rise to the side seam. Darts in the yoke are closed, "
            "its long edges redrawn fair, and its seam is felled.",
        )
        form = form_in(column)
        self._name = QLineEdit("yoke")
        self._name.setAccessibleName("Name")
        form.addRow("Name", self._name)
        self._panel = ChoiceBox()
        self._panel.setAccessibleName("Panel")
        self._panel.addItems(list(panels))
        self._panel.setCurrentText("back")
        form.addRow("On the", self._panel)
        for label, name in (("Down the rise", "_at_rise"), ("Down the side", "_at_side")):

            def change(mm: float | None, name: str = name) -> None:
                setattr(self, name, mm or 0.0)

            field = LengthField(label, change)
            field.set_unit(unit)
            field.show_mm(getattr(self, name))
            form.addRow(label, field)
        self._rest = ChoiceBox()
        self._rest.setAccessibleName("Rest of the darts")
        for rest, said in _RESTS.items():
            self._rest.addItem(said, rest)
        form.addRow("Rest of the darts", self._rest)
        column.addWidget(ok_and_cancel(self, "Cut it"))

    def yoke(self) -> Yoke:
        """What was asked for."""
        return Yoke(
            one_line(self._name.text()),
            self._panel.currentText(),
            self._at_rise,
            self._at_side,
            rest_at=self._rest.currentData(),
        )
