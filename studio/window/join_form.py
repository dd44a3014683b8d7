"""A picked join: how it is sewn, which side wraps, its ease, its rows; and the way to its walk."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace
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
from studio.canvas.plain_tip import plain_tip
from studio.design.joins import Join
from studio.errors import BadInput
from studio.numbers import LengthUnit
from studio.sew.allowance import asked_sides, sides_rows
from studio.sew.constructions import CONSTRUCTIONS
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.lengths_field import LengthsField
from studio.window.rows_words import told_rows, told_stretch
from studio.window.widgets import faint

_WRAPS = {"a": "first side", "b": "second side"}


class JoinForm(QWidget):
    """Made anew for another join; follows the design."""

    walk_asked = Signal()

    def __init__(self, document: Document, name: str, unit: LengthUnit) -> None:
        super().__init__()
        self._document = document
        self._name = name
        self._unit = unit
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self._form = QFormLayout()
        self._form.setVerticalSpacing(5)
        column.addLayout(self._form)
        self.sewn = ChoiceBox()
        self.sewn.setAccessibleName("How it is sewn")
        # As wide as its longest entry it would push the form under the scroll bar.
        self.sewn.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        for word, kind in CONSTRUCTIONS.items():
            self.sewn.addItem(kind.title, word)
        self.sewn.activated.connect(
            lambda _at: self._set("construction", self.sewn.currentData(), "Sew it otherwise")
        )
        self._form.addRow("Sewn", self.sewn)
        self.wraps = ChoiceBox()
        self.wraps.setAccessibleName("Which side wraps")
        for side, said in _WRAPS.items():
            self.wraps.addItem(said, side)
        self.wraps.activated.connect(
            lambda _at: self._set("wraps", self.wraps.currentData(), "Wrap the other side")
        )
        self._form.addRow("Wraps", self.wraps)
        self.ease = LengthField("Ease", self._set_ease, least=-200)
        self.ease.set_unit(unit)
        self.ease.setToolTip(
            "How much longer the second side is on purpose; less than nothing where the first is."
        )
        self._form.addRow("Ease", self.ease)
        self.eased = LengthsField("Eased between", unit, self._take_eased)
        self.eased.setPlaceholderText("all along")
        self.eased.setToolTip(plain_tip(f"{self._eased_words()} Empty for all along."))
        self.eased.refused.connect(document.refused)
        self._form.addRow("Eased between", self.eased)
        self.rows = LengthsField("Topstitched at", unit, self._take_rows)
        self.rows.setPlaceholderText("none")
        self.rows.setToolTip(plain_tip(f"{told_rows(unit)} Empty for none."))
        self.rows.refused.connect(document.refused)
        self._form.addRow("Topstitched at", self.rows)
        self._class = faint()
        self._form.addRow(self._class)
        walk = QPushButton("Walk this seam")
        walk.clicked.connect(self.walk_asked)
        column.addWidget(walk)
        part = QPushButton("Take the join apart")
        part.clicked.connect(self.take_apart)
        column.addWidget(part)
        self.refresh()

    def refresh(self) -> None:
        """Show the join as it is now."""
        join = self._join()
        if join is None:
            return
        kind = CONSTRUCTIONS[join.construction]
        self.sewn.setCurrentIndex(self.sewn.findData(join.construction))
        self.wraps.setCurrentIndex(self.wraps.findData(join.wraps))
        self._form.setRowVisible(self.wraps, kind.chooses_wrap)
        if not self.ease.hasFocus():
            self.ease.show_mm(join.ease)
        self._form.setRowVisible(self.eased, join.ease != 0.0)
        self.eased.show_lengths(join.eased or ())
        self.rows.show_lengths(self._rows(join))
        decimals = numbers.DECIMALS[self._unit]
        widths = [
            numbers.length(width, self._unit, decimals)
            for _, width in asked_sides(join, self._document.design.standard_allowance)
        ]
        classes = [f"ISO 4916 {kind.iso_4916}" if kind.iso_4916 else ""]
        classes.append(f"ASTM D6193 {kind.astm_d6193}" if kind.astm_d6193 else "")
        self._class.setText(
            f"Allowance{'s' if len(widths) > 1 else ''} {' and '.join(widths)}. "
            f"{', '.join(filter(None, classes))}"
        )

    def take_apart(self) -> None:
        """Join the edges no longer."""
        design = self._document.history.design
        kept = tuple(join for join in design.joins if join.name != self._name)
        self._document.change(f"Take apart: {self._name}", replace(design, joins=kept))

    def _join(self) -> Join | None:
        return next((j for j in self._document.design.joins if j.name == self._name), None)

    def _rows(self, join: Join) -> tuple[float, ...]:
        on_a, on_b = sides_rows(join, self._document.design.standard_allowance)
        return (*on_a, *on_b)

    def _take_eased(self, places: tuple[float, ...]) -> None:
        if not places:
            self._set("eased", None, "Ease all along")
        elif len(places) == 2 and places[0] < places[1]:
            self._set("eased", places, "Ease between")
        else:
            raise BadInput(self._eased_words())

    def _take_rows(self, rows: tuple[float, ...]) -> None:
        join = self._join()
        once = tuple(dict.fromkeys(rows))
        if join is not None and once != self._rows(join):
            self._set("rows", once, "Topstitch")

    def _eased_words(self) -> str:
        return told_stretch(self._unit, "the beginning of the first side")

    def _set_ease(self, mm: float | None) -> None:
        if mm is not None:
            self._set("ease", mm, "Set the ease")

    def _set(self, field: str, value: Any, label: str) -> None:
        design = self._document.history.design
        joins = []
        for join in design.joins:
            if join.name == self._name and getattr(join, field) != value:
                join = replace(join, **{field: value})
                if field == "construction":
                    join = replace(join, rows=None)
            joins.append(join)
        if tuple(joins) != design.joins:
            self._document.change(f"{label}: {self._name}", replace(design, joins=tuple(joins)))
        self.refresh()
