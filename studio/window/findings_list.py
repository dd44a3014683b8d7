"""What the rules found, each with its sentence whole; picked, it is gone to or let stand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec.structs import replace
from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QSize,
    Qt,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QInputDialog,
    QListView,
    QMenu,
    QPushButton,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from studio.canvas.selection import Picked, Selection
from studio.canvas.theme import Theme
from studio.canvas.type_size import size_with_letters
from studio.check import Finding, acceptance, all_in_unit, is_accepted
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.window.document import Document
from studio.window.short_label import ShortLabel

STANDS = "✓ stands"
"""A finding the maker has accepted."""

GRAVITIES = {"grave": "■ grave", "warning": "◆ warning", "note": "○ note"}
"""A sign and a word for each gravity: colour is never the only sign."""

NOTHING_FOUND = (
    "Nothing to mend. What would go wrong in cutting or sewing is told here, with what to do."
)

_LET_STAND, _LOOK_AGAIN = "Let it stand…", "Look at it again"
_SIDE, _ABOVE, _HEAD_HIGH = 9, 6, 27
_WRAPPED = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)

_Index = QModelIndex | QPersistentModelIndex


class FindingsModel(QAbstractListModel):
    """The findings of the pattern shown, worded in the unit chosen."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: Sequence[Finding] = ()

    def show(self, rows: Sequence[Finding]) -> bool:
        """Show findings; False when they are those shown already."""
        if len(rows) != len(self.rows):
            self.beginResetModel()
            self.rows = rows
            self.endResetModel()
            return True
        pairs = enumerate(zip(self.rows, rows, strict=True))
        changed = [at for at, (old, new) in pairs if old != new]
        self.rows = rows
        for at in changed:
            self.dataChanged.emit(self.index(at), self.index(at))
        return bool(changed)

    def rowCount(self, parent: _Index = QModelIndex()) -> int:  # noqa: B008
        """How many findings."""
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The finding in words, as it is read aloud."""
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        finding = self.rows[index.row()]
        return f"{heading(finding)}. {sentence(finding)}"


def heading(finding: Finding) -> str:
    """How grave it is, and where."""
    sign = STANDS if finding.accepted else GRAVITIES[finding.gravity]
    return f"{sign}   ·   {finding.where}"


def sentence(finding: Finding) -> str:
    """What is wrong and what to do, and why it may stand."""
    told = f" Let stand: {finding.accepted.rstrip('.')}." if finding.accepted else ""
    return f"{finding.message}{told}"


class _Delegate(QStyledItemDelegate):
    """A heading with the sentence under it, as high as it needs."""

    def __init__(self, view: QListView) -> None:
        super().__init__(view)
        self._view = view
        self.theme: Theme | None = None

    def sizeHint(self, _option: QStyleOptionViewItem, index: _Index) -> QSize:
        """As wide as the list, as high as the sentence."""
        wide = self._view.viewport().width()
        finding = self._findings()[index.row()]
        metrics = QFontMetrics(self._view.font())
        room = QRect(0, 0, max(60, wide - 2 * _SIDE), 10_000)
        high = metrics.boundingRect(room, _WRAPPED, sentence(finding)).height()
        return QSize(wide, high + metrics.height() + 2 * _ABOVE + 2)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        """The heading in the colour of its gravity, the sentence in ink."""
        theme = self.theme
        assert theme is not None
        finding = self._findings()[index.row()]
        rect: QRect = option.rect
        picked = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        if picked:
            painter.fillRect(rect, QColor(theme.seam))
        inside = rect.adjusted(_SIDE, _ABOVE, -_SIDE, -_ABOVE)
        bold = QFont(self._view.font())
        bold.setWeight(QFont.Weight.DemiBold)
        metrics = QFontMetrics(bold)
        painter.setFont(bold)
        painter.setPen(QColor(theme.chrome if picked else _accent(finding, theme)))
        words = metrics.elidedText(heading(finding), Qt.TextElideMode.ElideRight, inside.width())
        painter.drawText(inside, int(Qt.AlignmentFlag.AlignLeft), words)
        painter.setFont(self._view.font())
        painter.setPen(QColor(theme.chrome if picked else theme.ink))
        painter.drawText(
            inside.adjusted(0, metrics.height() + 2, 0, 0), _WRAPPED, sentence(finding)
        )
        painter.restore()

    def _findings(self) -> Sequence[Finding]:
        model = self._view.model()
        assert isinstance(model, FindingsModel)
        return model.rows


class _Findings(QListView):
    """Where there is nothing it says so, and what would stand here."""

    ink = ""

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the rows out anew where the width changes: Qt does so for the height alone."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.scheduleDelayedItemsLayout()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The findings, or a sentence in the fainter ink."""
        super().paintEvent(event)
        model = self.model()
        if model is None or model.rowCount():
            return
        painter = QPainter(self.viewport())
        painter.setPen(QColor(self.ink))
        room = self.viewport().rect().adjusted(_SIDE, _ABOVE, -_SIDE, -_ABOVE)
        painter.drawText(room, _WRAPPED, NOTHING_FOUND)
        painter.end()


class FindingsList(QWidget):
    """A title with what can be done about the finding picked, over the list."""

    def __init__(self, document: Document, theme: Theme) -> None:
        super().__init__()
        self._document = document
        self._unit: LengthUnit = "mm"
        self.model = FindingsModel()
        self.title = ShortLabel()
        self.title.setProperty("role", "title")
        self.stand = QPushButton(_LET_STAND)
        self.stand.setProperty("role", "offer")
        self.stand.setToolTip("A finding that is meant stays told, and is counted no longer.")
        self.stand.clicked.connect(self._stand_or_not)
        head = QHBoxLayout()
        head.setContentsMargins(11, 0, 10, 0)
        head.addWidget(self.title, 1)
        head.addWidget(self.stand)
        # The list does not go up and down as the button comes and goes.
        size_with_letters(self.title, minimumHeight=_HEAD_HIGH)
        self.view = _Findings()
        self.view.setModel(self.model)
        self.view.setProperty("role", "findings")
        self.view.setAccessibleName("Findings")
        self.view.setResizeMode(QListView.ResizeMode.Adjust)
        self.view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.view.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.view.customContextMenuRequested.connect(self._offer)
        self._delegate = _Delegate(self.view)
        self.view.setItemDelegate(self._delegate)
        self.view.clicked.connect(lambda index: self.go_to(index.row()))
        self.view.activated.connect(lambda index: self.go_to(index.row()))
        self.view.selectionModel().currentChanged.connect(lambda *_: self._show_button())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 0)
        column.setSpacing(1)
        column.addLayout(head)
        column.addWidget(self.view, 1)
        self.set_theme(theme)
        self.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._delegate.theme = theme
        self.view.ink = theme.faint
        self.view.viewport().update()

    def set_unit(self, unit: LengthUnit) -> None:
        """Tell lengths in another unit."""
        self._unit = unit
        self.refresh()

    def refresh(self) -> None:
        """Show the findings of the pattern as it is now."""
        pattern = self._document.pattern
        told = all_in_unit(pattern.findings, pattern.design, self._unit)
        if self.model.show(told):
            self.view.scheduleDelayedItemsLayout()
        self.title.setText(_title(pattern))
        self._show_button()

    def let_stand(self, row: int, reason: str) -> None:
        """Accept a finding for a reason, until its number changes."""
        finding = self._document.pattern.findings[row]
        design = self._document.history.design
        changed = replace(design, accepted=(*design.accepted, acceptance(finding, reason)))
        self._document.change(f"Let stand: {finding.where}", changed)

    def take_back(self, row: int) -> None:
        """Accept a finding no longer."""
        finding = self._document.pattern.findings[row]
        design = self._document.history.design
        kept = tuple(one for one in design.accepted if not is_accepted(finding, one))
        changed = replace(design, accepted=kept)
        self._document.change(f"Look at again: {finding.where}", changed)

    def go_to(self, row: int) -> None:
        """Pick what a finding is about."""
        pattern = self._document.pattern
        where = pattern.findings[row].where
        known: tuple[tuple[Picked, list[str]], ...] = (
            ("join", [join.name for join in pattern.design.joins]),
            ("piece", [sewn.piece.name for sewn in pattern.pieces]),
            ("line", [line.name for line in pattern.lines]),
            ("edge", [edge.name for panel in pattern.panels for edge in panel.outline]),
        )
        for kind, names in known:
            if where in names:
                self._document.select(Selection(kind, where))
                return
        # A finding on one copy of a piece begins with its name: "back-leg, right: ...".
        piece = where.partition(":")[0].partition(",")[0]
        if any(sewn.piece.name == piece for sewn in pattern.pieces):
            self._document.select(Selection("piece", piece))

    def _picked(self) -> int | None:
        row = self.view.currentIndex().row()
        return row if 0 <= row < len(self._document.pattern.findings) else None

    def _show_button(self) -> None:
        row = self._picked()
        self.stand.setVisible(bool(self._document.pattern.findings))
        self.stand.setEnabled(row is not None)
        accepted = row is not None and bool(self._document.pattern.findings[row].accepted)
        self.stand.setText(_LOOK_AGAIN if accepted else _LET_STAND)

    def _stand_or_not(self) -> None:
        row = self._picked()
        if row is None:
            return
        if self._document.pattern.findings[row].accepted:
            self.take_back(row)
            return
        words = "Why may it stand? The reason is kept until the number changes."
        reason, taken = QInputDialog.getText(self, "Let it stand", words)
        if taken and reason.strip():
            self.let_stand(row, reason.strip())

    def _offer(self, place: QPoint) -> None:
        """What can be done about the finding under the pointer."""
        index = self.view.indexAt(place)
        if index.isValid():
            self.view.setCurrentIndex(index)
            self.menu_of(index.row()).exec(self.view.viewport().mapToGlobal(place))

    def menu_of(self, row: int) -> QMenu:
        """What can be done about the finding of a row, which is the picked one."""
        menu = QMenu(self.view)
        menu.addAction("&Go there", lambda: self.go_to(row))
        menu.addAction(f"&{self.stand.text()}", self._stand_or_not)
        return menu


def _accent(finding: Finding, theme: Theme) -> str:
    if finding.accepted or finding.gravity == "note":
        return theme.faint
    return theme.grave if finding.gravity == "grave" else theme.warning


def _title(pattern: Pattern) -> str:
    count = sum(not finding.accepted for finding in pattern.findings)
    stand = len(pattern.findings) - count
    told = f"   ·   {stand} let stand" if stand else ""
    return f"Findings   {count or '✓ none'}{told}"
