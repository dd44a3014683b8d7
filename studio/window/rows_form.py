"""The rows of topstitching asked for on a piece: typed, typed otherwise, and taken away."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import Qt
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
from studio.window.rows_words import USUAL_ROWS, told_rows, told_stretch
from studio.window.widgets import chain_tabs, emptied, faint

_THROUGH = "through what lies beneath"
_ONE_PLACE = "Rows from one place alone run on to the other end; empty for all along."
_THROUGH_TIP = "Stitched when the piece is laid on another, through both layers"


class RowsForm(QWidget):
    """Fields for the distances of the rows along each edge or mark, and for the stretch of it along
    which they run, and one for more of them. `edges` are those of the piece and its marks, by name,
    with where each begins.
    """

    def __init__(
        self, document: Document, piece: str, unit: LengthUnit, edges: Mapping[str, str]
    ) -> None:
        super().__init__()
        self._document = document
        self._piece = piece
        self._unit = unit
        self._begins = edges
        self._shape: object = None
        self._problem = ""
        self.fields: list[LengthsField] = []
        self.stretches: list[LengthsField] = []
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
        shape = [(one.along, is_laid_on or one.through) for one in rows]
        if shape != self._shape:
            self._shape = shape
            self._build(shape)
        for at, one in enumerate(rows):
            self.fields[at].show_lengths(one.rows)
            self.stretches[at].show_lengths(_stretch(one))
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
        self.fields, self.stretches, self.throughs = [], [], {}
        for at, (along, may_go_through) in enumerate(shape):
            row = 3 * at
            called = f"Rows along {along}"
            self._known.addWidget(faint(along), row, 0)
            self.fields.append(self._field(called, told_rows(self._unit), partial(self._typed, at)))
            self._known.addWidget(self.fields[-1], row, 1)
            unstitch = partial(self._unstitched, at)
            gone = with_sign("✕", unstitch, called=f"No rows along {along}")
            self._known.addWidget(gone, row, 2)
            between = partial(self._take_stretch, at)
            self._known.addWidget(faint("between"), row + 1, 0, Qt.AlignmentFlag.AlignRight)
            self.stretches.append(self._field(f"{called} between", self._words(along), between))
            self.stretches[-1].setPlaceholderText("all along")
            self._known.addWidget(self.stretches[-1], row + 1, 1)
            if may_go_through:
                box = QCheckBox(_THROUGH)
                box.setToolTip(plain_tip(_THROUGH_TIP))
                box.setAccessibleName(f"{called} {_THROUGH}")
                box.clicked.connect(partial(self._through_ticked, at))
                self._known.addWidget(box, row + 2, 0, 1, 3)
                self.throughs[at] = box
        chain_tabs(self)

    def _field(
        self, called: str, tip: str, take: Callable[[tuple[float, ...]], None]
    ) -> LengthsField:
        field = LengthsField(called, self._unit, take)
        field.setToolTip(plain_tip(tip))
        field.refused.connect(self._document.refused)
        return field

    def _words(self, along: str) -> str:
        stretch = told_stretch(self._unit, self._begins.get(along, "its beginning"))
        return f"{stretch} {_ONE_PLACE}"

    def _take_stretch(self, at: int, places: tuple[float, ...]) -> None:
        one = self._rows()[at]
        ends = places or (0.0,)
        if len(ends) > 2 or ends[0] < 0.0 or (len(ends) == 2 and ends[1] <= ends[0]):
            raise BadInput(self._words(one.along))
        end = ends[1] if len(ends) == 2 else None
        self.restitch(one, replace(one, start=ends[0], end=end))

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


def _stretch(one: Topstitch) -> tuple[float, ...]:
    """From where to where rows run, mm along; empty for all along, one place for on to the end."""
    if one.end is not None:
        return (one.start, one.end)
    return (one.start,) if one.start else ()


def _grid(column: QVBoxLayout) -> QGridLayout:
    grid = QGridLayout()
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setVerticalSpacing(3)
    grid.setColumnStretch(0, 2)
    grid.setColumnStretch(1, 1)
    column.addLayout(grid)
    return grid
