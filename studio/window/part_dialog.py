"""The numbers of a part, asked for at once, from what its kind needs."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QLineEdit,
    QSpinBox,
    QWidget,
)

from studio.canvas.length_field import LengthField
from studio.cut.parts import OtherCloth, Part, PatchPocket
from studio.cut.parts.part import Number
from studio.numbers import LengthUnit
from studio.window.choice_box import ChoiceBox
from studio.window.number_box import NumberBox
from studio.window.one_line import one_line
from studio.window.widgets import column_of, form_in, ok_and_cancel


class PartDialog(QDialog):
    """Starts from the kind's usual numbers, or those of `usual`; `patches` are pieces a pocket may
    be laid on.
    """

    def __init__(
        self,
        kind: type[Part],
        panels: Sequence[str],
        cloths: Sequence[str],
        unit: LengthUnit,
        parent: QWidget | None,
        patches: Sequence[str] = (),
        usual: Part | None = None,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(kind.title)
        self._part = usual or kind()  # type: ignore[call-arg]
        column = column_of(self, kind.words)
        form = form_in(column)
        self._name = QLineEdit(self._part.name)
        self._name.setAccessibleName("Name")
        form.addRow("Name", self._name)
        self._panel: QComboBox | None = None
        if kind.on_panel:
            self._panel = self._choice("Panel", panels, self._part.panel)
            form.addRow("On the", self._panel)
        self._cloth = self._choice("Cloth", cloths or ("main",), self._part.cloth)
        form.addRow("From", self._cloth)
        for other in kind.cloths:
            form.addRow(other.label, self._other_cloth(other, cloths or ("main",)))
        for number in kind.numbers:
            value = getattr(self._part, number.field)
            if number.is_count:
                count = QSpinBox()
                count.setRange(round(number.least), round(number.most))
                count.setValue(value)
                count.setAccessibleName(number.label)
                count.setAlignment(Qt.AlignmentFlag.AlignRight)
                count.valueChanged.connect(partial(self._set, number.field))
                form.addRow(number.label, count)
                continue
            form.addRow(number.label, self._number(number, value, unit))
        if isinstance(self._part, PatchPocket):
            self._ask_where(form, patches)
        column.addWidget(ok_and_cancel(self, "Add it"))

    def _number(self, number: Number, value: float, unit: LengthUnit) -> QWidget:
        """A field for a length, or for an angle in degrees."""
        change = partial(self._set, number.field)
        if number.is_angle:
            box = NumberBox(number.label, change, unit="°", least=number.least, most=number.most)
            box.show_value(value)
            return box
        field = LengthField(number.label, change, least=number.least, most=number.most)
        field.set_unit(unit)
        field.show_mm(value)
        return field

    def _ask_where(self, form: QFormLayout, patches: Sequence[str]) -> None:
        """A patch lies on the leg or on another patch, and is measured from rise or side."""
        on = ChoiceBox()
        on.setAccessibleName("Laid on")
        on.addItem("the leg", "")
        for name in patches:
            on.addItem(name, name)
        on.activated.connect(lambda _at: self._set("on", on.currentData()))
        form.addRow("Laid on", on)
        side = QCheckBox("Measured in from the side seam, not from the rise")
        side.toggled.connect(partial(self._set, "from_side"))
        form.addRow(side)

    def part(self) -> Part:
        """What was asked for."""
        panel = self._part.panel if self._panel is None else self._panel.currentText()
        return replace(
            self._part,
            name=one_line(self._name.text()),
            panel=panel,
            cloth=self._cloth.currentText(),
        )

    def _set(self, field: str, value: float | str | bool | None) -> None:
        if value is not None:
            self._part = replace(self._part, **{field: value})

    def _other_cloth(self, other: OtherCloth, names: Sequence[str]) -> QComboBox:
        """Another cloth, the usual one or the first, or to do without what is cut from it."""
        box = ChoiceBox()
        box.setAccessibleName(other.label)
        box.addItem(other.without, "")
        for name in names:
            box.addItem(name, name)
        box.setCurrentIndex(max(1, box.findData(getattr(self._part, other.field))))
        self._set(other.field, box.currentData())
        box.activated.connect(lambda _at: self._set(other.field, box.currentData()))
        return box

    def _choice(self, words: str, names: Sequence[str], chosen: str) -> QComboBox:
        box = ChoiceBox()
        box.setAccessibleName(words)
        box.addItems(list(names))
        if chosen in names:
            box.setCurrentText(chosen)
        return box
