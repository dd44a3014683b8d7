"""Numbers a maker types: spin boxes that speak the chosen unit and keep millimetres."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from studio import numbers
from studio.canvas.read_field import ReadField
from studio.canvas.type_size import size_with_letters
from studio.errors import BadInput
from studio.numbers import DECIMALS, MILLIMETRES, LengthUnit
from studio.typed_length import SIGNS, in_mm, read_length

_NOT_TAKEN = "not taken"


class LengthField(ReadField):
    """A length in mm shown in a unit. `changed_to` is called with mm when the maker ends typing
    a value that differs; an empty field (`may_be_empty`) stands for None.

    Whatever `read_length` reads may be typed, and is kept to its last digit however few are shown.
    What cannot be read, or is out of bounds, is told beside the field and in `problem`, and the
    length stays.
    """

    # Asked for while the field is still being made.
    _unit: LengthUnit = "mm"
    _shown: float | None = None

    def __init__(
        self,
        label: str,
        changed_to: Callable[[float | None], None],
        *,
        least: float = 0.0,
        most: float = 3000.0,
        may_be_empty: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(label, SIGNS, parent)
        self._least, self._most = least, most
        self._changed_to = changed_to
        self._may_be_empty = may_be_empty
        self._read: float | None = None
        size_with_letters(self, minimumWidth=96)
        if may_be_empty:
            self.setSpecialValueText(_NOT_TAKEN)
        self.set_unit("mm")
        self.valueChanged.connect(self._typed)

    def set_unit(self, unit: LengthUnit) -> None:
        """Speak another unit; the length stays."""
        self._unit = unit
        self.blockSignals(True)
        self.setDecimals(DECIMALS[unit])
        self.setSuffix(f" {numbers.decimal(unit)}")
        scale = MILLIMETRES[unit]
        self.setRange(self._floor / scale, self._most / scale)
        self.setSingleStep(1.0 / numbers.PARTS.get(unit, scale))
        self.blockSignals(False)
        self._show()

    def show_mm(self, mm: float | None) -> None:
        """Show a length without telling anyone."""
        if mm != self._shown:
            self._shown = mm
            self._show()

    def valueFromText(self, text: str) -> float:
        """The value of the spin box, in its unit; the exact length is kept beside it."""
        try:
            self._read = self.read_text(text)
        except BadInput:
            return self.value()
        return self.minimum() if self._read is None else self._read / MILLIMETRES[self._unit]

    def textFromValue(self, value: float) -> str:
        """The digits of a value, or its fraction: that of the exact length where it is shown."""
        if self._unit not in numbers.PARTS:
            return super().textFromValue(value)
        mm = in_mm(value, self._unit)
        is_shown = self._shown is not None and self._is_near(self._shown, mm)
        return self._told(self._shown if is_shown and self._shown is not None else mm)

    def _told(self, mm: float) -> str:
        return numbers.bare(mm, self._unit, DECIMALS[self._unit])

    def give_back(self) -> None:
        """Show the length again; what was read meanwhile is nobody's."""
        super().give_back()
        self._read = None

    @property
    def _floor(self) -> float:
        return min(self._least, 0.0) if self._may_be_empty else self._least

    def is_empty(self, text: str) -> bool:
        """Whether a text stands for no length, where that may be."""
        return self._may_be_empty and text.removesuffix(self.suffix()).strip() in ("", _NOT_TAKEN)

    def read_text(self, text: str) -> float | None:
        """The length in mm, within the bounds of the field; raises BadInput."""
        if self.is_empty(text):
            return None
        typed = text.removesuffix(self.suffix()).strip()
        if self._shown is not None and typed == self._told(self._shown):
            # Left as it was shown, it is what it was.
            return self._shown
        if self.locale().decimalPoint() == ",":
            typed = typed.replace(",", ".")
        return self._within(read_length(typed, self._unit))

    def _within(self, mm: float) -> float:
        """The length, if need be moved to the bound that is shown as it was typed."""
        slack = 0.5 * numbers.least(self._unit) + 1e-9
        if not self._floor - slack <= mm <= self._most + slack:
            decimals = DECIMALS[self._unit]
            least = numbers.bare(self._floor, self._unit, decimals)
            most = numbers.length(self._most, self._unit, decimals)
            raise BadInput(f"It has to lie between {least} and {most}.")
        return min(max(mm, self._floor), self._most)

    def _show(self) -> None:
        mm = self._shown
        self.problem = ""
        self.blockSignals(True)
        self.setValue(self.minimum() if mm is None else mm / MILLIMETRES[self._unit])
        self.blockSignals(False)

    def _typed(self, value: float) -> None:
        mm: float | None = self._exact(value)
        if self._may_be_empty and value <= self.minimum():
            mm = None
        near = mm is not None and self._shown is not None and self._is_near(mm, self._shown)
        if mm != self._shown and not near:
            self._shown = mm
            self._changed_to(mm)

    def _exact(self, value: float) -> float:
        """The length that was read, where this value shows it; else what the value says, as when
        the arrows of the field were clicked.
        """
        said = in_mm(value, self._unit)
        return self._read if self._read is not None and self._is_near(self._read, said) else said

    def _is_near(self, one: float, other: float) -> bool:
        """Whether two lengths are shown alike, within half of the last digit."""
        last = MILLIMETRES[self._unit] * 10.0 ** -DECIMALS[self._unit]
        return abs(one - other) < 0.5 * last * (1.0 + 1e-9)
