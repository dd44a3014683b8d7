"""How a photograph is brought to scale: two marks and their distance, or a sheet's corners."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.length_field import LengthField
from studio.cloth.perspective import (
    Perspective,
    in_order,
    looks_upright,
    marks_apart,
    perspective_of,
    sheet_corners,
)
from studio.design.cloth import Place
from studio.errors import BadInput
from studio.exchange.paper_sizes import PAPERS
from studio.numbers import LengthUnit
from studio.window.choice_box import ChoiceBox
from studio.window.widgets import faint, wrapped

OWN = "own size"
SHEETS: dict[str, tuple[float, float]] = {
    "A4": (PAPERS["a4"].width, PAPERS["a4"].height),
    # ISO 216:2007, trimmed size.
    "A3": (297.0, 420.0),
    PAPERS["letter"].name: (PAPERS["letter"].width, PAPERS["letter"].height),
}
"""Short side and long side, mm."""

_METHODS = {"Four corners of a sheet": 4, "Two marks, distance known": 2}

CAUTIONS = (
    "Take metal parts out of the garment first: zips, rivets, buttons, hooks.",
    "Lay the cloth flat on the floor, without stretching it.",
)
_FOR_SHEET = "The sheet lies flat on the cloth, as near the middle as can be."
_FOR_MARKS = "Photograph it square from above: a tilted picture measures wrong between two marks."


class ScaleForm(QWidget):
    """Asks for method and size. `asked` tells that method, sheet or distance is another; `done`
    that the picture is to be straightened.
    """

    asked = Signal()
    done = Signal()

    def __init__(self, unit: LengthUnit) -> None:
        super().__init__()
        self._unit: LengthUnit = unit
        self.distance = 0.0
        self.sheet = list(SHEETS["A4"])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for sentence in CAUTIONS:
            column.addWidget(faint(f"•  {sentence}"))
        self._way = faint("")
        column.addWidget(self._way)
        self._form = QFormLayout()
        self._form.setVerticalSpacing(6)
        self._form.setContentsMargins(0, 6, 0, 0)
        column.addLayout(self._form)
        self.method = _box("Brought to scale by", list(_METHODS), self._choose_method)
        self._form.addRow("By", self.method)
        self.apart = self._length_field("Distance of the marks", self._set_distance)
        self._form.addRow("They are apart", self.apart)
        self.sheets = _box("Sheet", [*SHEETS, OWN], self._choose_sheet)
        self._form.addRow("Sheet", self.sheets)
        self.sides = [
            self._length_field(label, partial(self._set_side, at))
            for at, label in enumerate(("Short side", "Long side"))
        ]
        for label, field in zip(("Short side", "Long side"), self.sides, strict=True):
            self._form.addRow(label, field)
        self.lies = _box(
            "In the picture the sheet", ["as it looks", "upright", "across"], self._tell
        )
        self._form.addRow("It lies", self.lies)
        self.straighten = QPushButton("Straighten the picture")
        self.straighten.setAutoDefault(False)
        self.straighten.clicked.connect(self.done)
        column.addWidget(self.straighten)
        self._told = wrapped()
        column.addWidget(self._told)
        column.addStretch(1)
        self._choose_sheet()
        self._choose_method()

    @property
    def wanted(self) -> int:
        """How many marks the method needs."""
        return _METHODS[self.method.currentText()]

    @property
    def chosen(self) -> object:
        """All that is asked here, to be held against what was chosen before."""
        return self.wanted, self.distance, tuple(self.sheet), self.lies.currentText()

    def take_marks(self, marks: tuple[Place, ...]) -> None:
        """Show the distance or the sheet that known marks (mm) stand for."""
        if len(marks) == 2:
            self.method.setCurrentIndex(1)
            self.distance = math.dist(*marks)
            self.apart.show_mm(self.distance)
        elif len(marks) == 4:
            across, along = math.dist(marks[0], marks[1]), math.dist(marks[1], marks[2])
            self.lies.setCurrentText("upright" if along > across else "across")
            self.sheet = sorted((across, along))
            known = [
                name
                for name, sides in SHEETS.items()
                if max(abs(a - b) for a, b in zip(sides, self.sheet, strict=True)) < 1e-6
            ]
            self.sheets.setCurrentText(known[0] if known else OWN)
        self._show()

    def places(self, pixels: tuple[Place, ...]) -> tuple[tuple[Place, ...], tuple[Place, ...]]:
        """The marks in order, and where they lie on the cloth.

        Raises:
            BadInput: marks are missing, or tell nothing.
        """
        if len(pixels) != self.wanted:
            raise BadInput(f"{len(pixels)} of {self.wanted} marks are set.")
        if self.wanted == 2:
            if self.distance <= 0.0:
                raise BadInput("Type the distance of the two marks.")
            return pixels, marks_apart(pixels, self.distance)
        ordered = in_order(pixels)
        chosen = self.lies.currentText()
        upright = looks_upright(ordered) if chosen == "as it looks" else chosen == "upright"
        short, long = sorted(self.sheet)
        width, height = (short, long) if upright else (long, short)
        return ordered, sheet_corners(width, height)

    def show_marks(self, pixels: tuple[Place, ...]) -> Perspective | None:
        """Tell how fine the picture is with these marks; the perspective if they give one."""
        self.straighten.setEnabled(False)
        try:
            ordered, marks = self.places(pixels)
            seen = perspective_of(ordered, marks)
            middle = (
                sum(x for x, _ in ordered) / len(ordered),
                sum(y for _, y in ordered) / len(ordered),
            )
            decimals = numbers.DECIMALS[self._unit] + 2
            fine = numbers.length(seen.mm_per_pixel(middle), self._unit, decimals)
        except BadInput as problem:
            self._told.setText(problem.message)
            return None
        self.straighten.setEnabled(True)
        self._told.setText(f"A pixel is {fine} at the marks. What a lens bends stays bent.")
        return seen

    def _choose_method(self, _text: str = "") -> None:
        self._show()
        self.asked.emit()

    def _choose_sheet(self, _text: str = "") -> None:
        name = self.sheets.currentText()
        if name in SHEETS:
            self.sheet = list(SHEETS[name])
        self._show()
        self.asked.emit()

    def _tell(self, _text: str = "") -> None:
        self.asked.emit()

    def _set_distance(self, mm: float | None) -> None:
        self.distance = mm or 0.0
        self.asked.emit()

    def _set_side(self, at: int, mm: float | None) -> None:
        self.sheet[at] = mm or 0.0
        self.asked.emit()

    def _show(self) -> None:
        by_sheet = self.wanted == 4
        own = by_sheet and self.sheets.currentText() == OWN
        self._way.setText(f"•  {_FOR_SHEET if by_sheet else _FOR_MARKS}")
        self._form.setRowVisible(self.apart, not by_sheet)
        self._form.setRowVisible(self.sheets, by_sheet)
        self._form.setRowVisible(self.lies, by_sheet)
        for field, mm in zip(self.sides, self.sheet, strict=True):
            self._form.setRowVisible(field, own)
            field.show_mm(mm)

    def _length_field(self, label: str, change: Callable[[float | None], None]) -> LengthField:
        field = LengthField(label, change, most=10000.0)
        field.set_unit(self._unit)
        field.show_mm(0.0)
        return field


def _box(label: str, words: list[str], chosen: Callable[[str], object]) -> QComboBox:
    box = ChoiceBox()
    box.setAccessibleName(label)
    box.addItems(words)
    box.currentTextChanged.connect(chosen)
    return box
