"""Two runs of edges chosen to be sewn together."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from studio.design.joins import EdgeRef, Join, JoinSide
from studio.sew import SewnPiece
from studio.sew.constructions import CONSTRUCTIONS
from studio.window.widgets import ok_and_cancel


class JoinDialog(QDialog):
    """Edges of each side are sewn in the order in which they were ticked."""

    def __init__(
        self, pieces: Sequence[SewnPiece], taken: Sequence[str], parent: QWidget | None
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Join edges")
        self._taken = set(taken)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 18, 24, 16)
        words = QLabel(
            "Tick the edges of each side in the order they are sewn, both from the same end of the "
            "seam. More than one edge makes a chain."
        )
        words.setWordWrap(True)
        column.addWidget(words)
        grid = QGridLayout()
        grid.addWidget(QLabel("First side"), 0, 0)
        grid.addWidget(QLabel("Second side"), 0, 1)
        self.sides = [self._list(pieces), self._list(pieces)]
        self._orders: list[list[str]] = [[], []]
        for at, box in enumerate(self.sides):
            box.itemChanged.connect(lambda item, at=at: self._ticked(at, item))
            grid.addWidget(box, 1, at)
        column.addLayout(grid)
        self.other_leg = QCheckBox("The second side is the other leg's, or turned over")
        column.addWidget(self.other_leg)
        self.sewn = QComboBox()
        self.sewn.setAccessibleName("How it is sewn")
        for word, kind in CONSTRUCTIONS.items():
            self.sewn.addItem(kind.title, word)
        column.addWidget(self.sewn)
        self.called = QLineEdit()
        self.called.setAccessibleName("Name of the seam")
        self.called.setPlaceholderText("its name, such as side seam")
        column.addWidget(self.called)
        self._buttons = ok_and_cancel(self)
        column.addWidget(self._buttons)
        self.called.textChanged.connect(self._judge)
        self._judge()

    def join(self) -> Join:
        """What was chosen."""
        a, b = (JoinSide(self._refs(at)) for at in (0, 1))
        return Join(
            self.called.text().strip(),
            a,
            JoinSide(b.edges, mirrored=self.other_leg.isChecked()),
            construction=self.sewn.currentData(),
        )

    def tick(self, side: int, text: str) -> None:
        """Tick an edge of a side, written piece:edge."""
        for row in range(self.sides[side].count()):
            item = self.sides[side].item(row)
            if item.text() == text:
                item.setCheckState(Qt.CheckState.Checked)

    def _list(self, pieces: Sequence[SewnPiece]) -> QListWidget:
        box = QListWidget()
        box.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        box.setMinimumSize(250, 260)
        for sewn in pieces:
            names = dict.fromkeys(e.name for e in (*sewn.piece.outline, *sewn.piece.marks))
            for name in names:
                item = QListWidgetItem(f"{sewn.piece.name}:{name}")
                item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsUserCheckable)
                item.setCheckState(Qt.CheckState.Unchecked)
                box.addItem(item)
        return box

    def _ticked(self, side: int, item: QListWidgetItem) -> None:
        order = self._orders[side]
        if item.checkState() == Qt.CheckState.Checked and item.text() not in order:
            order.append(item.text())
        elif item.checkState() == Qt.CheckState.Unchecked and item.text() in order:
            order.remove(item.text())
        self._judge()

    def _refs(self, side: int) -> tuple[EdgeRef, ...]:
        return tuple(EdgeRef(*text.split(":", 1)) for text in self._orders[side])

    def _judge(self) -> None:
        name = self.called.text().strip()
        good = bool(name and name not in self._taken and all(self._orders))
        self._buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(good)
