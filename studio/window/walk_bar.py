"""The bar under the sheet while a seam is walked: slider, play, what is met, a notch on both."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSlider, QVBoxLayout, QWidget

from studio import numbers
from studio.canvas.scene import Sheet
from studio.exchange.walk_words import met_words, walk_words
from studio.numbers import LengthUnit
from studio.sew.walk import Walk
from studio.window.document import Document

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
        self._told = QLabel()
        column.addWidget(self._told)
        self._found = QLabel()
        self._found.setProperty("role", "faint")
        self._found.setWordWrap(True)
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
        self.walk, self._name = None, ""
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
        """Add a notch on both sides where the walk stands."""
        if self.walk is None:
            return
        along = round(self._passed(), 1)
        design = self._document.history.design
        joins = tuple(
            replace(join, notches=(*join.notches, along)) if join.name == self._name else join
            for join in design.joins
        )
        length = numbers.length(along, self._unit, numbers.DECIMALS[self._unit])
        self._document.change(f"Notch {self._name} at {length}", replace(design, joins=joins))

    def showEvent(self, event: QShowEvent) -> None:
        """Arrow keys move the walk at once."""
        super().showEvent(event)
        self.slider.setFocus()

    def _take_walk(self) -> bool:
        pattern = self._document.pattern
        pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
        for join in pattern.measured:
            if join.join.name == self._name and join.a.length > 1.0 and join.b.length > 1.0:
                self.walk = Walk(join, pieces)
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
        self._found.setText(" ".join(walk_words(self.walk, self._unit, brief=True)[1:]))

    def _length(self, mm: float, *, signed: bool = False) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit], signed=signed)
