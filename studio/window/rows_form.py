"""The rows of topstitching asked for on a piece: typed, typed otherwise, and taken away."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from msgspec.structs import replace
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.plain_tip import plain_tip
from studio.canvas.told_beside import tell_beside
from studio.design.topstitch import Topstitch
from studio.errors import BadInput
from studio.numbers import LengthUnit
from studio.typed_length import read_lengths
from studio.window.buttons import with_sign
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.lengths_field import LengthsField
from studio.window.rows_words import USUAL_ROWS, told_rows
from studio.window.widgets import chain_tabs, emptied, faint

_THROUGH = "through what lies beneath"
_THROUGH_TIP = "Stitched when the piece is laid on another, through both layers"


class RowsForm(QWidget):
    """A field for the distances of the rows along each edge or mark, and one for more of them.
    `edges` are those of the piece and its marks, by name.
    """

    def __init__(
        self, document: Document, piece: str, unit: LengthUnit, edges: Sequence[str]
    ) -> None:
        super().__init__()
        self._document = document
        self._piece = piece
        self._unit = unit
        self._shape: object = None
        self._problem = ""
        self.fields: list[LengthsField] = []
        self.throughs: dict[int, QCheckBox] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        self._known = _grid(column)
        line = _grid(column)
        self.along = ChoiceBox()
        self.along.setAccessibleName("Stitch along")
        self.along.addItems(list(edges))
        self.along.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.more = QLineEdit()
        self.more.setPlaceholderText(numbers.listed(USUAL_ROWS[numbers.decimal(unit)], unit))
        self.more.setAccessibleName(f"Rows, {numbers.decimal(unit)}")
        self.more.setToolTip(plain_tip(f"{told_rows(unit)} Enter adds them."))
        self.more.returnPressed.connect(self._add)
        self.more.textEdited.connect(self._forget_problem)
        line.addWidget(self.along, 0, 0)
        line.addWidget(self.more, 0, 1)
        self.through = QCheckBox(_THROUGH)
        self.through.setToolTip(plain_tip(_THROUGH_TIP))
        column.addWidget(self.through)
        self.refresh()

    def refresh(self) -> None:
        """Show the rows as they are now."""
        rows, is_laid_on = self._rows(), self._is_laid_on()
        self.through.setVisible(is_laid_on)
        shape = [(self._told(one), is_laid_on or one.through) for one in rows]
        if shape != self._shape:
            self._shape = shape
            self._build(shape)
        for at, one in enumerate(rows):
            self.fields[at].show_lengths(one.rows)
            if at in self.throughs:
                self.throughs[at].setChecked(one.through)

    def stitch(self, along: str, text: str, *, through: bool = False) -> bool:
        """Add rows along an edge or a mark, at distances with commas; `through` what the piece is
        laid on as well. False, and the reason told, when that cannot be.
        """
        design = self._document.history.design
        try:
            rows = self._whole(read_lengths(text, self._unit))
            one = Topstitch(self._piece, along, rows, through=through)
            self._refuse_twice(one)
        except BadInput as problem:
            self._problem = f"Rows: {problem.message}"
            tell_beside(self.more, lambda: self._problem)
            self._document.refused.emit(problem.message)
            return False
        asked = (*design.topstitching, one)
        return self._document.change(f"Topstitch {along}", replace(design, topstitching=asked))

    def unstitch(self, one: Topstitch) -> None:
        """Take rows away again."""
        design = self._document.history.design
        kept = tuple(other for other in design.topstitching if other != one)
        self._document.change(f"No rows along {one.along}", replace(design, topstitching=kept))

    def restitch(self, one: Topstitch, other: Topstitch) -> None:
        """Make rows that are there others, in their place.

        Raises:
            BadInput: the piece has these already.
        """
        if other == one:
            return
        self._refuse_twice(other)
        design = self._document.history.design
        changed = tuple(other if known == one else known for known in design.topstitching)
        self._document.change(f"Rows along {one.along}", replace(design, topstitching=changed))

    def _rows(self) -> list[Topstitch]:
        known = self._document.design.topstitching
        return [one for one in known if one.piece == self._piece]

    def _told(self, one: Topstitch) -> str:
        """Along what they run, and between which places where not all along."""
        if not one.start and one.end is None:
            return one.along
        say = partial(numbers.length, unit=self._unit, decimals=numbers.DECIMALS[self._unit])
        end = "its end" if one.end is None else say(one.end)
        return f"{one.along}, {say(one.start)} to {end}"

    def _is_laid_on(self) -> bool:
        """True for a piece that is laid on another, as a patch is."""
        return any(
            join.construction == "lapped" and any(ref.piece == self._piece for ref in join.a.edges)
            for join in self._document.design.joins
        )

    def _whole(self, rows: tuple[float, ...]) -> tuple[float, ...]:
        """Distances that were typed, each once: none is stitched a second time over itself.

        Raises:
            BadInput: there is none.
        """
        if not rows:
            raise BadInput(told_rows(self._unit))
        return tuple(dict.fromkeys(rows))

    def _refuse_twice(self, one: Topstitch) -> None:
        if one in self._document.history.design.topstitching:
            raise BadInput(f"{one.along} has these rows already.")

    def _build(self, shape: Sequence[tuple[str, bool]]) -> None:
        emptied(self._known)
        self.fields, self.throughs = [], {}
        for at, (along, may_go_through) in enumerate(shape):
            self._known.addWidget(faint(along), 2 * at, 0)
            field = LengthsField(f"Rows along {along}", self._unit, partial(self._typed, at))
            field.setToolTip(plain_tip(told_rows(self._unit)))
            field.refused.connect(self._document.refused)
            self._known.addWidget(field, 2 * at, 1)
            self.fields.append(field)
            unstitch = partial(self._unstitched, at)
            gone = with_sign("✕", unstitch, called=f"No rows along {along}")
            self._known.addWidget(gone, 2 * at, 2)
            if may_go_through:
                box = QCheckBox(_THROUGH)
                box.setToolTip(plain_tip(_THROUGH_TIP))
                box.setAccessibleName(f"Rows along {along} {_THROUGH}")
                box.clicked.connect(partial(self._through_ticked, at))
                self._known.addWidget(box, 2 * at + 1, 0, 1, 3)
                self.throughs[at] = box
        chain_tabs(self)

    def _add(self) -> None:
        """Text that is refused stays, to be mended."""
        along, text = self.along.currentText(), self.more.text()
        if self.stitch(along, text, through=self.through.isChecked()):
            self.more.clear()

    def _typed(self, at: int, rows: tuple[float, ...]) -> None:
        one = self._rows()[at]
        self.restitch(one, replace(one, rows=self._whole(rows)))

    def _through_ticked(self, at: int, _on: bool = False) -> None:
        one = self._rows()[at]
        try:
            self.restitch(one, replace(one, through=self.throughs[at].isChecked()))
        except BadInput as problem:
            self._document.refused.emit(problem.message)
            self.refresh()

    def _unstitched(self, at: int) -> None:
        self.unstitch(self._rows()[at])

    def _forget_problem(self, _text: str) -> None:
        self._problem = ""


def _grid(column: QVBoxLayout) -> QGridLayout:
    grid = QGridLayout()
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setVerticalSpacing(3)
    grid.setColumnStretch(0, 2)
    grid.setColumnStretch(1, 1)
    column.addLayout(grid)
    return grid
