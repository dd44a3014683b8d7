"""The stash in the road: every cloth with what lies there of it, and the ways to add to it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.plain_tip import plain_tip
from studio.canvas.selection import Selection
from studio.cloth.bed import bed_of
from studio.design.cloth import Roll, Stock
from studio.errors import BadInput
from studio.numbers import LengthUnit
from studio.window.buttons import with_menu, with_sign
from studio.window.document import Document
from studio.window.entry_button import EntryButton
from studio.window.stash_acts import StashActs
from studio.window.widgets import emptied, faint


class StashPane(QWidget):
    """Made anew whenever cloths or stock change."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._shape: object = None
        self.acts = StashActs(document, self)
        self.rows: dict[tuple[str, str], QPushButton] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(10, 2, 8, 10)
        self._column.setSpacing(1)
        self.refresh()

    def set_unit(self, unit: LengthUnit) -> None:
        """Write lengths in another unit."""
        self.acts.unit = unit
        self._shape = None
        self.refresh()

    def refresh(self) -> None:
        """Show the stash as it is, and what of it is picked."""
        design = self._document.design
        shape = (design.cloths, design.stash)
        if shape != self._shape:
            self._shape = shape
            self._build()
        picked = self._document.selection
        for (kind, name), button in self.rows.items():
            button.setChecked((kind, name) == (picked.kind, picked.name))
        self._gone.setEnabled((picked.kind, picked.name) in self.rows)

    def _build(self) -> None:
        emptied(self._column)
        self.rows = {}
        design = self._document.design
        for cloth in design.cloths:
            self._add(Selection("cloth", cloth.name), icon=swatch(cloth.colour))
            for stock in design.stash:
                if stock.cloth == cloth.name:
                    self._add(Selection("stock", stock.name), stock=stock)
        if not design.stash:
            note = faint(
                "Nothing lies there yet: add rolls, and panels opened up from old garments."
            )
            note.setContentsMargins(4, 4, 4, 4)
            self._column.addWidget(note)
        self._column.addWidget(self._buttons())

    def _add(
        self, selection: Selection, *, icon: QIcon | None = None, stock: Stock | None = None
    ) -> None:
        """A row: cloth with its colour, or set in under it stock with its size, which is told
        shorter than in full so that names have room.
        """
        button = EntryButton(selection.name)
        button.setToolTip(plain_tip(selection.name))
        button.clicked.connect(lambda _on, it=selection: self._pick(it))
        line = QHBoxLayout()
        line.setContentsMargins(0 if stock is None else 14, 0, 0, 0)
        line.setSpacing(6)
        line.addWidget(button, 1)
        if icon is not None:
            button.setIcon(icon)
        if stock is not None:
            button.cut_at = Qt.TextElideMode.ElideMiddle
            unit = self.acts.unit
            button.setToolTip(plain_tip(f"{selection.name}, {size_of(stock, unit)}"))
            label = QLabel(size_of(stock, unit, max(0, numbers.ROUGH[unit] - 1)).rpartition(" ")[0])
            label.setProperty("role", "faint")
            line.addWidget(label)
        self._column.addLayout(line)
        self.rows[selection.kind, selection.name] = button

    def _pick(self, selection: Selection) -> None:
        self._document.select(selection)
        self.refresh()

    def _buttons(self) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 6, 0, 0)
        line.setSpacing(3)
        adding, menu = with_menu("Add to the stash")
        fill_menu(menu, self.acts)
        line.addWidget(adding)
        line.addStretch(1)
        gone = with_sign("✕", self._remove, tip="Take away what is picked")
        gone.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        line.addWidget(gone)
        self._gone = gone
        return row

    def _remove(self) -> None:
        picked = self._document.selection
        if picked.kind == "cloth" or picked.kind == "stock":
            self.acts.remove(picked.kind, picked.name)


def fill_menu(menu: QMenu, acts: StashActs) -> None:
    """The ways to add to the stash."""
    menu.addAction("&Cloth", acts.new_cloth)
    menu.addSeparator()
    menu.addAction("&Roll…", acts.new_roll)
    menu.addAction("Panel over a &photograph…", acts.panel_from_photograph)
    menu.addAction("Panel from a &drawing…", acts.panel_from_drawing)
    menu.addAction("Panel drawn &here…", acts.panel_drawn)
    menu.addAction("Rec&tangle of cloth…", acts.new_panel)
    menu.addSeparator()
    menu.addAction("&From a stash file…", acts.stash_in)


def size_of(stock: Stock, unit: LengthUnit, decimals: int | None = None) -> str:
    """Width by height of what lies there: 400 by 600 mm; to a millimetre unless told otherwise."""
    if isinstance(stock, Roll):
        wide, high = stock.width, stock.length
    else:
        try:
            left, bottom, right, top = bed_of(stock).outline.bounds
        except BadInput as problem:
            return problem.message
        wide, high = right - left, top - bottom
    decimals = numbers.ROUGH[unit] if decimals is None else decimals
    across, up = numbers.bare(wide, unit, decimals), numbers.length(high, unit, decimals)
    return f"{across} \N{MULTIPLICATION SIGN} {up}"


def swatch(colour: str, side: int = 14) -> QIcon:
    """A square of a cloth's colour."""
    pixmap = QPixmap(side, side)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(QColor(colour))
    painter.setPen(QPen(QColor(colour).darker(140), 1.0))
    painter.drawRoundedRect(1, 1, side - 2, side - 2, 3.0, 3.0)
    painter.end()
    return QIcon(pixmap)
