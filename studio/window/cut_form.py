"""A picked piece: from which cloth it is cut, how often, and the numbers of a band or strip."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QSpinBox, QWidget

from studio.canvas.length_field import LengthField
from studio.canvas.theme import CLOTH
from studio.design.cloth import Cloth
from studio.design.pieces import PanelPiece, PieceRecipe, StripPiece, WaistbandPiece
from studio.numbers import LengthUnit
from studio.window.document import Document

_LENGTHS: dict[type[PieceRecipe], tuple[tuple[str, str, float], ...]] = {
    WaistbandPiece: (
        ("width", "Wide when folded", 1.0),
        ("overlap", "Overlap", 0.0),
        ("button", "Button, across", 0.0),
    ),
    StripPiece: (("length", "Long", 1.0), ("width", "Wide", 1.0)),
}
"""Lengths that a piece's own recipe holds: field, what it is called, its least, mm."""

_END_LENGTHS = (("overlap", "Overlap", 1.0), ("button", "Button, across", 0.0))
"""Lengths of the end of a band cut off a panel, which both of its fronts share."""


class CutForm(QWidget):
    """The fields of one piece's recipe; made anew by its owner when the recipe changes."""

    def __init__(self, document: Document, recipe: PieceRecipe, unit: LengthUnit) -> None:
        super().__init__()
        self._document = document
        self._name = recipe.name
        self.lengths: dict[str, LengthField] = {}
        self._form = QFormLayout(self)
        self._form.setContentsMargins(0, 0, 0, 0)
        self._form.setVerticalSpacing(3)
        self.cloth = self._cloth_box(recipe)
        self._add("From the cloth", self.cloth)
        if hasattr(recipe, "count"):
            self._add("How many", self._count_box(recipe.count))
        for name, label, least in _LENGTHS.get(type(recipe), ()):
            self._add_length(name, label, least, getattr(recipe, name), self.set_value, unit)
        if isinstance(recipe, PanelPiece) and recipe.ends is not None:
            for name, label, least in _END_LENGTHS:
                value = getattr(recipe.ends, name)
                self._add_length(name, label, least, value, self.set_end, unit)

    def set_cloth(self, name: str) -> None:
        """Cut the piece from a cloth; one that is not known yet becomes a cloth of the design."""
        name = name.strip()
        design = self._document.history.design
        if not name or name == self._recipe().cloth:
            return
        if all(cloth.name != name for cloth in design.cloths):
            design = replace(design, cloths=(*design.cloths, Cloth(name, CLOTH)))
        pieces = tuple(
            replace(one, cloth=name) if one.name == self._name else one for one in design.pieces
        )
        self._document.change(f"Cut {self._name} from {name}", replace(design, pieces=pieces))

    def set_value(self, field: str, value: float | None) -> None:
        """Give a number of the recipe."""
        design = self._document.history.design
        pieces = tuple(
            replace(one, **{field: value}) if one.name == self._name else one
            for one in design.pieces
        )
        self._document.change(
            f"{field.capitalize()} of {self._name}", replace(design, pieces=pieces)
        )

    def set_end(self, field: str, value: float | None) -> None:
        """Give a number of a band's end, to both of its fronts: they must fit on each other."""
        recipe = self._recipe()
        if not isinstance(recipe, PanelPiece) or value is None:
            return
        design = self._document.history.design
        pieces = tuple(
            replace(one, ends=replace(one.ends, **{field: value}))
            if isinstance(one, PanelPiece)
            and one.ends is not None
            and one.bounds[:1] == recipe.bounds[:1]
            else one
            for one in design.pieces
        )
        self._document.change(
            f"{field.capitalize()} of {self._name}", replace(design, pieces=pieces)
        )

    def _recipe(self) -> PieceRecipe:
        return next(one for one in self._document.history.design.pieces if one.name == self._name)

    def _cloth_box(self, recipe: PieceRecipe) -> QComboBox:
        box = QComboBox()
        box.setEditable(True)
        box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        box.setAccessibleName("Cloth")
        box.addItems([cloth.name for cloth in self._document.design.cloths])
        box.setCurrentText(recipe.cloth)
        box.activated.connect(lambda _at: self.set_cloth(box.currentText()))
        line = box.lineEdit()
        assert line is not None
        line.editingFinished.connect(lambda: self.set_cloth(box.currentText()))
        return box

    def _count_box(self, count: int) -> QSpinBox:
        box = QSpinBox()
        box.setAccessibleName("How many")
        box.setRange(1, 99)
        box.setKeyboardTracking(False)
        box.setAlignment(Qt.AlignmentFlag.AlignRight)
        box.setValue(count)
        box.valueChanged.connect(partial(self.set_value, "count"))
        return box

    def _add_length(
        self,
        name: str,
        label: str,
        least: float,
        value: float,
        give: Callable[[str, float | None], None],
        unit: LengthUnit,
    ) -> None:
        field = LengthField(label, partial(give, name), least=least)
        field.set_unit(unit)
        field.show_mm(value)
        self._add(label, field)
        self.lengths[name] = field

    def _add(self, label: str, widget: QWidget) -> None:
        head = QLabel(label)
        head.setProperty("role", "faint")
        self._form.addRow(head, widget)
