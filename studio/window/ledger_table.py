"""A table of the ledger: rows of words and lengths, of which only changed ones are painted anew."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QColor, QFont, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QHeaderView,
    QTableView,
)

from studio import numbers
from studio.canvas.plain_tip import plain_tip
from studio.canvas.sheet_item import lettering
from studio.canvas.type_size import grown
from studio.numbers import LengthUnit

_NAME, _VERDICT, _SIGN = 96, 100, 80
"""Pixels: least for a name of a seam or girth; for a verdict in words; for one cut short."""

_NAME_FULL = 168
"""Pixels that most names of seams take, which come before the words of a verdict."""

_POINTS, _LONG = 10.0, ("1234.5", "+123.4")
_LONG_FRACTION = ("\N{ALMOST EQUAL TO}44 13/16", "\N{ALMOST EQUAL TO}+4 13/16")
_BESIDE_HEAD, _BESIDE_DIGITS = 22, 19
"""Pixels that the style keeps free beside a head and beside the digits of a cell."""

_Index = QModelIndex | QPersistentModelIndex


class RowsModel(QAbstractTableModel):
    """A table of words made from rows; cells are compared so that only changed ones repaint."""

    def __init__(self, headers: Sequence[str]) -> None:
        super().__init__()
        self.headers = tuple(headers)
        self._cells: Sequence[tuple[str, ...]] = ()
        self._accents: list[str] = []
        self.colours: dict[str, str] = {}
        self.tips: list[str] = []
        """What the pointer over a row tells; a cell as it is where there is none."""

    def show(self, cells: Sequence[tuple[str, ...]], accents: list[str]) -> None:
        """Show rows; `accents` names for each row how its last column stands out, or nothing."""
        if len(cells) != len(self._cells):
            self.beginResetModel()
            self._cells, self._accents = cells, accents
            self.endResetModel()
            return
        changed = [
            number
            for number, (old, new) in enumerate(zip(self._cells, cells, strict=True))
            if old != new
        ]
        self._cells, self._accents = cells, accents
        for row in changed:
            self.dataChanged.emit(self.index(row, 0), self.index(row, len(self.headers) - 1))

    def rowCount(self, parent: _Index = QModelIndex()) -> int:  # noqa: B008
        """How many rows."""
        return 0 if parent.isValid() else len(self._cells)

    def columnCount(self, parent: _Index = QModelIndex()) -> int:  # noqa: B008
        """How many columns."""
        return 0 if parent.isValid() else len(self.headers)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Column names."""
        if orientation == Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return self.headers[section]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _alignment(section, self.headers[section])
        return None

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Words, alignment, and how a row stands out."""
        cell = self._cells[index.row()][index.column()]
        if role == Qt.ItemDataRole.ToolTipRole and index.row() < len(self.tips):
            return plain_tip(self.tips[index.row()])
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(cell)
        if role == Qt.ItemDataRole.DisplayRole:
            return cell
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _alignment(index.column(), self.headers[index.column()])
        accent = self._accents[index.row()]
        if accent and role == Qt.ItemDataRole.ForegroundRole and accent in self.colours:
            return QColor(self.colours[accent])
        # Bold digits would be wider than their column.
        words = self.headers[index.column()] in ("", self.headers[0])
        if accent == "grave" and words and role == Qt.ItemDataRole.FontRole:
            font = QFont()
            font.setBold(True)
            return font
        return None


class LedgerTable(QTableView):
    """In a narrow window the words of a verdict give way to the name of the seam: its sign and
    colour still tell it.
    """

    verdict_at: int | None = None
    chosen = Signal(int)
    """The row that a key has gone to, or that Enter or the space bar was pressed on. A row that is
    current because the table was reached by Tab is not chosen.
    """

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrow keys choose as a click does."""
        before = self.currentIndex().row()
        super().keyPressEvent(event)
        row = self.currentIndex().row()
        taken = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
        if row >= 0 and (taken or row != before):
            self.chosen.emit(row)

    def make_room(self, headers: Sequence[str], unit: LengthUnit) -> None:
        """Room in each column for its numbers; a fraction is longer than a decimal."""
        self.verticalHeader().setDefaultSectionSize(grown(24))
        header = self.horizontalHeader()
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        least = grown(_NAME)
        for number, words in enumerate(headers[1:], start=1):
            width = _room_of(words, unit) if words else grown(_SIGN)
            header.setSectionResizeMode(number, QHeaderView.ResizeMode.Interactive)
            header.resizeSection(number, width)
            least += width
        self.setMinimumWidth(least)
        self._share_out(self.viewport().width())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share out what there is."""
        self._share_out(event.size().width())
        super().resizeEvent(event)

    def _share_out(self, wide: int) -> None:
        if self.verdict_at is not None:
            spare = max(0, wide - self.minimumWidth())
            width = min(grown(_VERDICT), grown(_SIGN) + max(0, spare - grown(_NAME_FULL - _NAME)))
            self.horizontalHeader().resizeSection(self.verdict_at, width)


def _room_of(header: str, unit: LengthUnit) -> int:
    """Pixels for a column of lengths: for its head, and for as many digits as a leg is long."""
    head = lettering(_POINTS, bold=True)[1].horizontalAdvance(header)
    longest = _LONG_FRACTION if unit in numbers.PARTS else _LONG
    _, metrics = lettering(_POINTS, bold=False)
    digits = max(metrics.horizontalAdvance(one) for one in longest)
    return round(max(head + _BESIDE_HEAD, digits + _BESIDE_DIGITS))


def _alignment(column: int, header: str = "") -> int:
    words = column == 0 or not header
    side = Qt.AlignmentFlag.AlignLeft if words else Qt.AlignmentFlag.AlignRight
    return int(side | Qt.AlignmentFlag.AlignVCenter)
