"""Picked stock: a roll by its numbers, a panel by what was traced."""

from __future__ import annotations

from functools import partial

from msgspec.structs import replace
from PySide6.QtWidgets import (
    QFormLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from studio import numbers
from studio.canvas.length_field import LengthField
from studio.canvas.selection import Selection
from studio.cloth import stash_edit as edit
from studio.cloth.bed import bed_of
from studio.design import Design
from studio.design.cloth import Roll, Stock
from studio.numbers import LengthUnit
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.one_line import one_line
from studio.window.stash_acts import StashActs
from studio.window.stash_pane import size_of
from studio.window.stock_dialog import MOST_MM
from studio.window.widgets import faint, wrapped

_LENGTHS = (("width", "Width"), ("length", "Length"), ("selvedge", "Selvedge"))


class StockForm(QWidget):
    """The fields follow the design; each change is one step."""

    def __init__(self, document: Document, name: str, unit: LengthUnit) -> None:
        super().__init__()
        self._document = document
        self._name = name
        self._unit: LengthUnit = unit
        self.acts = StashActs(document, self)
        self.acts.unit = unit
        self.lengths: dict[str, LengthField] = {}
        self._told: dict[str, QLabel] = {}
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(4)
        self.called = QLineEdit()
        self.called.setAccessibleName("Name")
        self.called.editingFinished.connect(lambda: self.rename(one_line(self.called.text())))
        form.addRow("Name", self.called)
        self.cloth = ChoiceBox()
        self.cloth.setAccessibleName("Cloth")
        self.cloth.activated.connect(lambda _at: self.set("cloth", self.cloth.currentText()))
        form.addRow("Cloth", self.cloth)
        is_roll = isinstance(self._stock(), Roll)
        for field, label in _LENGTHS if is_roll else ():
            most = MOST_MM if field == "length" else 5000.0
            self.lengths[field] = LengthField(label, partial(self.set, field), most=most)
            self.lengths[field].set_unit(unit)
            form.addRow(label, self.lengths[field])
        for label in ("Area", "Flaws") if is_roll else ("Size", "Area", "Flaws", "Photograph"):
            self._told[label] = wrapped()
            form.addRow(faint(label), self._told[label])
        self.note = QLineEdit()
        self.note.setAccessibleName("Note")
        self.note.editingFinished.connect(lambda: self.set("note", one_line(self.note.text())))
        form.addRow("Note", self.note)
        self.trace = QPushButton("Mark flaws…" if is_roll else "Trace…")
        self.trace.clicked.connect(lambda: self.acts.trace(self._name))
        form.addRow(self.trace)
        self.refresh()

    def refresh(self) -> None:
        """Show the stock as it is now."""
        stock = self._stock()
        if stock is None:
            return
        for line, text in ((self.called, stock.name), (self.note, stock.note)):
            if not line.hasFocus():
                line.setText(text)
        self.cloth.clear()
        self.cloth.addItems([cloth.name for cloth in self._document.design.cloths])
        self.cloth.setCurrentText(stock.cloth)
        for field, length in self.lengths.items():
            length.show_mm(getattr(stock, field))
        said = self._said(stock)
        for label, told in self._told.items():
            told.setText(said[label])

    def set(self, field: str, value: object) -> None:
        """Change one thing about the stock."""
        stock = self._stock()
        if stock is None or value is None or getattr(stock, field) == value:
            return

        def made(design: Design) -> Design:
            return edit.changed_stock(design, replace(stock, **{field: value}))

        if not self._document.edit(f"{field.capitalize()} of {self._name}", made):
            self.refresh()

    def rename(self, name: str) -> None:
        """Call it otherwise, wherever it is spoken of."""
        if name == self._name or self._stock() is None:
            return
        made = partial(edit.renamed_stock, old=self._name, new=name)
        if self._document.edit(f"Name {name}", made):
            self._document.select(Selection("stock", name))
        else:
            self.called.setText(self._name)

    def _said(self, stock: Stock) -> dict[str, str]:
        bed = bed_of(stock)
        whole, usable = (
            numbers.area(part.area, numbers.squares(self._unit), 0)
            for part in (bed.outline, bed.usable)
        )
        traced = "" if isinstance(stock, Roll) or stock.trace is None else stock.trace.photograph
        return {
            "Size": size_of(stock, self._unit),
            "Area": whole if usable == whole else f"{whole}, of it {usable} to cut from",
            "Flaws": str(len(stock.flaws)) if stock.flaws else "none",
            "Photograph": traced or "none",
        }

    def _stock(self) -> Stock | None:
        stash = self._document.history.design.stash
        return next((stock for stock in stash if stock.name == self._name), None)
