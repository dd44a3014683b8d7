"""The bar under the sheet while a seam is walked: slider, play, what is met, a notch on both."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSlider, QVBoxLayout, QWidget

from studio import numbers, sew
from studio.canvas.scene import Sheet
from studio.exchange.walk_words import met_words, walk_words
from studio.numbers import LengthUnit
from studio.sew import MeasuredJoin
from studio.sew.walk import Walk
from studio.window.document import Document
from studio.window.plain_label import PlainLabel
from studio.window.widgets import faint

_TICKS = 4000
FRAME_MS = 16
_PLAYED_MS = 7000
_NEAR_MM = 6.0
"""A notch is told when the walk is this near it."""


class WalkBar(QWidget):
    """Hidden until a seam is walked; `ended` when the maker is done."""

    ended = Signal()

    def __init__(self, document: Document, sheet: Sheet) -> None:
        super().__init__()
        self._document = document
        self._sheet = sheet
        self._name = ""
        self._unit: LengthUnit = "mm"
        self.walk: Walk | None = None
        self._join: MeasuredJoin | None = None
        self._timer = QTimer(self, interval=FRAME_MS)
        self._timer.timeout.connect(self._play_on)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 8, 14, 8)
        column.setSpacing(4)
        row = QHBoxLayout()
        row.setSpacing(8)
        self._play = QPushButton("Play")
        self._play.clicked.connect(self.toggle_play)
        row.addWidget(self._play)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setRange(0, _TICKS)
        # A key, or a click beside the handle, goes on by a fortieth of the seam.
        self.slider.setPageStep(_TICKS // 40)
        self.slider.setAccessibleName("How far the seam is walked")
        self.slider.valueChanged.connect(self._moved)
        row.addWidget(self.slider, 1)
        self._notch = QPushButton("Notch both here")
        self._notch.clicked.connect(self.notch_here)
        row.addWidget(self._notch)
        done = QPushButton("Done")
        done.clicked.connect(self.end)
        row.addWidget(done)
        column.addLayout(row)
        self._told = PlainLabel()
        column.addWidget(self._told)
        self._found = faint()
        column.addWidget(self._found)
        QShortcut(QKeySequence(Qt.Key.Key_Escape), self, self.end)
        self.setVisible(False)
        document.shown.connect(self._refresh)

    def set_unit(self, unit: LengthUnit) -> None:
        """Tell lengths in another unit."""
        self._unit = unit
        self._tell()

    def begin(self, name: str) -> bool:
        """Walk a join from its start; False when it cannot be walked."""
        self._name = name
        if not self._take_walk():
            self._name = ""
            return False
        self.setVisible(True)
        self.slider.setValue(0)
        self._moved(0)
        return True

    def end(self) -> None:
        """Put the sheet back as it was."""
        if self.walk is None:
            return
        self._timer.stop()
        self.walk, self._join, self._name = None, None, ""
        self._sheet.show_walk(None, {})
        self.setVisible(False)
        self.ended.emit()

    def toggle_play(self) -> None:
        """Roll on, from the start again after the end; or stop."""
        if self._timer.isActive():
            self._timer.stop()
        else:
            if self.slider.value() >= _TICKS:
                self.slider.setValue(0)
            self._timer.start()
        self._play.setText("Stop" if self._timer.isActive() else "Play")

    def notch_here(self) -> None:
        """Add a notch on both sides where the walk stands, or take away the one the maker set
        there; told where none can be cut.
        """
        if self.walk is None or self._join is None:
            return
        along = round(self._passed(), 1)
        own = self._own_here()
        if own is None and not sew.is_clear_of_ends(self._join, along):
            clear = self._length(sew.CLEAR_OF_ENDS)
            self._document.refused.emit(
                f"No notch is cut within {clear} of the end of a seam: the seam that crosses "
                "there would take it."
            )
            return
        design = self._document.history.design
        notches = self._join.join.notches
        kept = tuple(one for one in notches if one != own) if own is not None else (*notches, along)
        joins = tuple(
            replace(join, notches=kept) if join.name == self._name else join
            for join in design.joins
        )
        label = f"Notch {self._name} at" if own is None else f"No notch on {self._name} at"
        self._document.change(f"{label} {self._length(along)}", replace(design, joins=joins))

    def _own_here(self) -> float | None:
        """The notch the maker set where the walk stands."""
        return None if self._join is None else sew.own_notch_near(self._join, self._passed())

    def showEvent(self, event: QShowEvent) -> None:
        """Arrow keys move the walk at once."""
        super().showEvent(event)
        self.slider.setFocus()

    def _take_walk(self) -> bool:
        pattern = self._document.pattern
        pieces = pattern.pieces_by_name()
        for join in pattern.measured:
            if join.join.name == self._name and join.a.length > 1.0 and join.b.length > 1.0:
                self.walk, self._join = Walk(join, pieces), join
                self._sheet.show_walk(self.walk, pieces)
                return True
        return False

    def _refresh(self) -> None:
        """The design changed while a seam is walked."""
        if self.walk is None:
            return
        if self._take_walk():
            self._moved(self.slider.value())
        else:
            self.end()

    def _play_on(self) -> None:
        value = self.slider.value() + round(_TICKS * FRAME_MS / _PLAYED_MS)
        self.slider.setValue(min(_TICKS, value))
        if value >= _TICKS:
            self.toggle_play()

    def _passed(self) -> float:
        assert self.walk is not None
        return self.walk.length_a * self.slider.value() / _TICKS

    def _moved(self, _value: int) -> None:
        if self.walk is None:
            return
        self._sheet.show_step_of_walk(self.walk.at(self._passed()))
        self._tell()

    def _tell(self) -> None:
        if self.walk is None:
            return
        step = self.walk.at(self._passed())
        said = [
            f"{self._length(step.along_a)} of {self._length(self.walk.length_a)}",
            f"second side {self._length(step.difference, signed=True)}",
        ]
        said += [
            f"notch: {met_words(met, self._unit)}"
            for met in self.walk.met
            if abs(met.along_a - step.along_a) <= _NEAR_MM
        ]
        self._told.setText("   ·   ".join(said))
        own = self._own_here() is not None
        self._notch.setText("Take this notch away" if own else "Notch both here")
        self._found.setText(" ".join(walk_words(self.walk, self._unit, brief=True)[1:]))

    def _length(self, mm: float, *, signed: bool = False) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit], signed=signed)
