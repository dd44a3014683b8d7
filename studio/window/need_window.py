"""How much cloth is needed: so much of a roll by its width; or whether an old pair would do."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.canvas.type_size import grown
from studio.cloth.need import (
    USUAL_WIDTHS,
    Enough,
    Need,
    old_pair_enough,
    roll_needs,
    searched_for,
)
from studio.cloth.old_pair import OldSize
from studio.design.block import DraftedBlock
from studio.numbers import LengthUnit
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.latest import Latest
from studio.window.widgets import emptied, faint, wrapped

ROLL_SECONDS, PAIR_SECONDS = 3.0, 5.0
"""So long is searched for each width, and for an old pair."""

_LARGER = 1.1
"""An old pair is first asked for a tenth larger than the wearer, in whole sizes."""

_WHOLE_MM: dict[LengthUnit, float] = {"mm": 10.0, "cm": 10.0, "inch": 25.4}
"""What sizes of old garments are told to, mm."""


class NeedWindow(QDialog):
    """Estimates for one cloth at a time, worked out beside the window."""

    def __init__(self, document: Document, unit: LengthUnit, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle("How much cloth")
        self._document = document
        self._unit: LengthUnit = unit
        self._rolls, self._pair = Latest(self), Latest(self)
        self._rolls.answered.connect(self._show_needs)
        self._pair.answered.connect(self._show_enough)
        self._pair.refused.connect(self._show_refused)
        self.needs: tuple[Need, ...] = ()
        self._widths: list[float] = []
        self._own: float | None = None
        body = document.design.body
        whole = _WHOLE_MM[numbers.decimal(unit)]
        self._waist = round(body.waist_girth * _LARGER / whole) * whole if body is not None else 0.0
        self._leg = body.inside_leg or 0.0 if body is not None else 0.0
        self._lay_out()
        document.settled.connect(self.refresh)
        self.refresh()

    def sizeHint(self) -> QSize:
        """Room for both answers."""
        return QSize(grown(520), grown(560))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Wrapped words have no least height of their own, and would press the rows together."""
        super().resizeEvent(event)
        self.setMinimumHeight(self.heightForWidth(self.width()))

    @property
    def answer(self) -> str:
        """What is said of the old pair."""
        return self._enough.text()

    def refresh(self) -> None:
        """Work the lengths out for the design as it is now."""
        design = self._document.history.design
        names = list(dict.fromkeys(sewn.piece.cloth for sewn in self._document.pattern.pieces))
        chosen = self.cloth.currentText()
        self.cloth.blockSignals(True)
        self.cloth.clear()
        self.cloth.addItems(names)
        if chosen in names:
            self.cloth.setCurrentText(chosen)
        self.cloth.blockSignals(False)
        self._enough.setText("")
        self._ask_old.setEnabled(design.body is not None)
        self._ask_rolls()

    def ask_old_pair(self) -> None:
        """Ask whether an old pair of that size would have been enough."""
        pattern = self._document.pattern
        design = pattern.design
        if design.body is None:
            return
        fit = design.block.fit if isinstance(design.block, DraftedBlock) else None
        self._enough.setText("Looking…")
        self._pair.ask(
            partial(
                old_pair_enough,
                pattern.pieces,
                design.cloths,
                design.cutting,
                self.cloth.currentText(),
                OldSize(self._waist, self._leg),
                design.body,
                fit=fit,
                gap=design.lay.gap,
                seconds=PAIR_SECONDS,
            )
        )

    def _ask_rolls(self) -> None:
        """One width after the other, so that each is shown as soon as it is known."""
        own = (self._own,) if self._own else ()
        self._widths = [*own, *USUAL_WIDTHS]
        self.needs = ()
        self._show_needs(())

    def _show_needs(self, needs: object) -> None:
        assert isinstance(needs, tuple)
        self.needs = (*self.needs, *needs)
        emptied(self._grid)
        for column, words in enumerate(("Width", "Length", "Of it cut")):
            self._grid.addWidget(_head(words), 0, column)
        for row, need in enumerate(self.needs, start=1):
            self._add_row(row, need)
        for row, width in enumerate(self._widths, start=len(self.needs) + 1):
            wide = numbers.length(width, self._unit, self._decimals)
            self._grid.addWidget(_head(wide), row, 0)
            self._grid.addWidget(_head("looking…"), row, 1)
        self._grid.setColumnStretch(3, 1)
        if self._widths:
            self._ask_next(self._widths.pop(0))

    def _ask_next(self, width: float) -> None:
        pattern = self._document.pattern
        design = pattern.design
        self._rolls.ask(
            partial(
                roll_needs,
                pattern.pieces,
                design.cloths,
                design.cutting,
                self.cloth.currentText(),
                (width,),
                gap=design.lay.gap,
                length_of=searched_for(ROLL_SECONDS),
            )
        )

    def _add_row(self, row: int, need: Need) -> None:
        wide = QLabel(numbers.length(need.width, self._unit, self._decimals))
        if need.length is None:
            cells = [wide, QLabel("too narrow for a piece"), QLabel("")]
        else:
            long = QLabel(numbers.length(need.length, self._unit, self._decimals))
            cells = [wide, long, QLabel(numbers.percent(need.used))]
        for column, cell in enumerate(cells):
            cell.setToolTip(plain_tip(numbers.retold(need.sentence, self._unit)))
            self._grid.addWidget(cell, row, column)

    @property
    def _decimals(self) -> int:
        return numbers.ROUGH[self._unit]

    def _show_enough(self, enough: object) -> None:
        assert isinstance(enough, Enough)
        self._enough.setText(numbers.retold(enough.sentence, self._unit))

    def _show_refused(self, sentence: str) -> None:
        self._enough.setText(numbers.retold(sentence, self._unit))

    def _take_own(self, mm: float | None) -> None:
        self._own = mm if mm else None
        self._ask_rolls()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 18, 24, 18)
        column.setSpacing(10)
        form = QFormLayout()
        form.setVerticalSpacing(6)
        self.cloth = ChoiceBox()
        self.cloth.currentTextChanged.connect(lambda _: self._ask_rolls())
        form.addRow("Pieces cut from", self.cloth)
        own = LengthField("Own width", self._take_own, may_be_empty=True)
        own.setSpecialValueText("none")
        own.set_unit(self._unit)
        own.show_mm(None)
        form.addRow("A width of your own", own)
        column.addLayout(form)
        title = QLabel("From the roll")
        title.setProperty("role", "title")
        column.addWidget(title)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(28)
        column.addLayout(self._grid)
        column.addSpacing(8)
        old = QLabel("From an old pair")
        old.setProperty("role", "title")
        column.addWidget(old)
        column.addLayout(self._old_form())
        self._enough = wrapped()
        self._enough.setAlignment(Qt.AlignmentFlag.AlignTop)
        column.addWidget(self._enough, 1)
        column.addWidget(
            faint(
                "Estimates by a short search. Buy a little more: cloth shrinks, is cut off "
                "crooked, and has flaws that nobody tells of."
            )
        )

    def _old_form(self) -> QVBoxLayout:
        form = QFormLayout()
        form.setVerticalSpacing(6)
        for label, name in (("Waist", "_waist"), ("Inside leg", "_leg")):

            def change(mm: float | None, name: str = name) -> None:
                setattr(self, name, mm or 0.0)

            field = LengthField(label, change, least=100.0)
            field.set_unit(self._unit)
            field.show_mm(getattr(self, name))
            form.addRow(label, field)
        row = QHBoxLayout()
        self._ask_old = QPushButton("Would it have been enough?")
        self._ask_old.clicked.connect(self.ask_old_pair)
        row.addWidget(self._ask_old)
        row.addStretch(1)
        both = QVBoxLayout()
        both.addLayout(form)
        both.addLayout(row)
        return both


def _head(words: str) -> QLabel:
    label = QLabel(words)
    label.setProperty("role", "faint")
    return label
