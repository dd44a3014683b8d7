"""Two runs of edges chosen to be sewn together."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QWidget,
)

from studio import numbers
from studio.canvas.plain_tip import plain_tip
from studio.canvas.type_size import grown, size_with_letters
from studio.design.joins import EdgeRef, Join, JoinSide
from studio.errors import GeometryRefused
from studio.numbers import LengthUnit
from studio.sew import SewnPiece, measured
from studio.sew.constructions import CONSTRUCTIONS
from studio.window.choice_box import ChoiceBox
from studio.window.one_line import one_line
from studio.window.widgets import column_of, faint, form_in, ok_and_cancel, open_large

_REF = Qt.ItemDataRole.UserRole
"""Where an item keeps the names of its piece and edge."""

_NOT_SEWN = ("fold", "button")
"""How marks begin, after the name of their piece, along which nothing is ever sewn."""


class _Edges(QListWidget):
    """As high as it would be where the screen has the room, and scrolled where it has not."""

    def sizeHint(self) -> QSize:
        """Room for a dozen edges."""
        return QSize(grown(460), grown(260))


class JoinDialog(QDialog):
    """Edges of each side are sewn in the order in which they were ticked."""

    def __init__(
        self,
        pieces: Sequence[SewnPiece],
        joins: Sequence[Join],
        parent: QWidget | None,
        unit: LengthUnit = "mm",
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle("Join edges")
        self._taken = {join.name for join in joins}
        self._joined = {(ref.piece, ref.edge): join.name for join in joins for ref in join.refs}
        self._pieces = {sewn.piece.name: sewn.piece for sewn in pieces}
        self._unit = unit
        column = column_of(
            self,
            "Tick the edges of each side in the order they are sewn, both from the same end of the "
            "seam. More than one edge makes a chain.",
        )
        grid = QGridLayout()
        grid.addWidget(QLabel("First side"), 0, 0)
        grid.addWidget(QLabel("Second side"), 0, 1)
        self.sides = [self._list("First side"), self._list("Second side")]
        self._orders: list[list[EdgeRef]] = [[], []]
        for at, box in enumerate(self.sides):
            box.itemChanged.connect(lambda item, at=at: self._ticked(at, item))
            grid.addWidget(box, 1, at)
        column.addLayout(grid)
        self.other_leg = QCheckBox("The second side is the other leg's, or turned over")
        column.addWidget(self.other_leg)
        self.sewn = ChoiceBox()
        self.sewn.setAccessibleName("How it is sewn")
        for word, kind in CONSTRUCTIONS.items():
            self.sewn.addItem(kind.title, word)
        self.called = QLineEdit()
        self.called.setAccessibleName("Name of the seam")
        self.called.setPlaceholderText("such as side seam")
        form = form_in(column)
        form.addRow("Name", self.called)
        form.addRow("Sewn", self.sewn)
        self.told = faint("")
        column.addWidget(self.told)
        self._buttons = ok_and_cancel(self, "Join them")
        column.addWidget(self._buttons)
        self.called.textChanged.connect(self._judge)
        self.other_leg.toggled.connect(self._judge)
        self._judge()
        open_large(self)

    def join(self) -> Join:
        """What was chosen."""
        a, b = (tuple(order) for order in self._orders)
        return Join(
            one_line(self.called.text()),
            JoinSide(a),
            JoinSide(b, mirrored=self.other_leg.isChecked()),
            construction=self.sewn.currentData(),
        )

    def tick(self, side: int, ref: EdgeRef) -> None:
        """Tick an edge of a side."""
        for row in range(self.sides[side].count()):
            item = self.sides[side].item(row)
            if item.data(_REF) == (ref.piece, ref.edge):
                item.setCheckState(Qt.CheckState.Checked)

    def _list(self, title: str) -> QListWidget:
        box = _Edges()
        box.setAccessibleName(title)
        box.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        size_with_letters(box, minimumWidth=380, minimumHeight=120)
        box.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for piece in self._pieces.values():
            lengths: dict[str, float] = {}
            for edge in (*piece.outline, *piece.marks):
                lengths.setdefault(edge.name, edge.chain.length)
            for name, length in lengths.items():
                if not name.startswith(tuple(f"{piece.name}.{part}" for part in _NOT_SEWN)):
                    box.addItem(self._item(piece.name, name, length))
        return box

    def _item(self, piece: str, edge: str, length: float) -> QListWidgetItem:
        """An edge with its length, and the seam it is in already."""
        seam = self._joined.get((piece, edge))
        said = [f"{piece}: {edge}", self._say(length), *([f"in {seam}"] if seam else [])]
        item = QListWidgetItem("   \N{MIDDLE DOT}   ".join(said))
        item.setToolTip(plain_tip(item.text()))
        item.setData(_REF, (piece, edge))
        item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsUserCheckable)
        item.setCheckState(Qt.CheckState.Unchecked)
        return item

    def _ticked(self, side: int, item: QListWidgetItem) -> None:
        order, ref = self._orders[side], EdgeRef(*item.data(_REF))
        if item.checkState() == Qt.CheckState.Checked and ref not in order:
            order.append(ref)
        elif item.checkState() == Qt.CheckState.Unchecked and ref in order:
            order.remove(ref)
        self._judge()

    def _judge(self) -> None:
        lacking = self._lacking()
        self._buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(not lacking)
        self.told.setText(" ".join(filter(None, (self._lengths(), lacking))))

    def _lacking(self) -> str:
        """What is still to be said; "" when a join can be made."""
        if not all(self._orders):
            return "Tick at least one edge of each side."
        name = one_line(self.called.text())
        if not name:
            return "Give the seam a name."
        return f"Another seam is called {name}." if name in self._taken else ""

    def _lengths(self) -> str:
        """How long both sides are, as the ledger will have it."""
        if not all(self._orders):
            return ""
        try:
            made = measured(self.join(), self._pieces)
        except GeometryRefused as problem:
            return problem.message
        a, b = made.a.length, made.b.length
        return (
            f"First side {self._say(a)}, second side {self._say(b)}: "
            f"{self._say(b - a, signed=True)}."
        )

    def _say(self, mm: float, *, signed: bool = False) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit], signed=signed)
