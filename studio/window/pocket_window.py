"""Pockets put to the test: each drawn with its mouth, the hand, and the things it must take."""

from __future__ import annotations

from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.length_field import LengthField
from studio.canvas.paths import path_of
from studio.canvas.plain_tip import plain_tip
from studio.canvas.type_size import grown, size_with_letters
from studio.check import Pocket, use_of
from studio.check.pockets import BAG_DEPTH, HAND_ROOM, MOUTH_LEAST
from studio.design.carried import THINGS, Carried
from studio.exchange.paint.pens import take_pen
from studio.numbers import LengthUnit
from studio.window.buttons import with_sign
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.plain_label import PlainLabel
from studio.window.style import theme_of
from studio.window.widgets import faint, show_in, wrapped

_OWN = "own size"
_LEAST_WIDE = 420
"""Pixels for a picture and the words beside it, where letters are of the usual size."""
_KINDS = {"hand": "hand pocket", "patch": "patch pocket", "loop": "loop"}


class PocketWindow(QDialog):
    """A card a pocket; at the foot a thing is chosen and given to one of them."""

    def __init__(self, document: Document, unit: LengthUnit, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Pockets")
        self._document = document
        self._unit: LengthUnit = unit
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 12)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        size_with_letters(self, minimumWidth=_LEAST_WIDE)
        column.addWidget(self._scroll, 1)
        column.addLayout(self._giving())
        document.shown.connect(self.refresh)
        self.refresh()

    def sizeHint(self) -> QSize:
        """Room for three pockets."""
        return QSize(grown(560), grown(680))

    def refresh(self) -> None:
        """Show the pockets as they are now."""
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(16, 12, 16, 12)
        column.setSpacing(14)
        pockets = self._document.pattern.pockets
        for pocket in pockets:
            column.addWidget(self._card(pocket))
        if not pockets:
            column.addWidget(faint("There are no pockets yet: Draft, Add a part puts them on."))
        column.addStretch(1)
        show_in(self._scroll, holder)
        chosen = self._pocket.currentText()
        self._pocket.clear()
        self._pocket.addItems([pocket.name for pocket in pockets])
        self._pocket.setCurrentText(chosen)
        for widget in (self._pocket, self._thing, *self._fields, self._test):
            widget.setEnabled(bool(pockets))

    def give(self) -> None:
        """Let the chosen pocket take the chosen thing."""
        name = self._pocket.currentText()
        if not name:
            return
        long, wide, thick = self._sizes
        thing = self._thing.currentText()
        carried = Carried(name, "thing" if thing == _OWN else thing, long, wide, thick)
        design = self._document.history.design
        changed = replace(design, carried=(*design.carried, carried))
        self._document.change(f"{carried.thing} for {name}", changed)

    def take_out(self, carried: Carried) -> None:
        """Let a pocket take a thing no longer."""
        design = self._document.history.design
        kept = tuple(one for one in design.carried if one != carried)
        self._document.change(
            f"No {carried.thing} for {carried.pocket}", replace(design, carried=kept)
        )

    def words_of(self, pocket: Pocket) -> list[str]:
        """What is told of a pocket, sentence by sentence."""
        said = []
        mouth, depth = self._length(pocket.mouth), self._length(pocket.depth)
        if pocket.kind == "loop":
            said.append(f"Hangs {mouth} down.")
        elif pocket.kind == "hand":
            said.append(f"Mouth {mouth}, bag {depth} deep below it.")
        else:
            said.append(f"Mouth {mouth}, {depth} deep.")
        if pocket.kind == "hand":
            body = self._document.design.body
            girth = None if body is None else body.hand_girth
            least = MOUTH_LEAST if girth is None else girth / 2.0 + HAND_ROOM
            passes = pocket.mouth >= least - 0.05
            said.append(
                f"{'✓' if passes else '▲'} A hand {'passes' if passes else 'does not pass'}: "
                f"it needs {self._length(least)}{'' if girth else ' (hand girth not taken)'}."
            )
            deep = pocket.depth >= BAG_DEPTH - 0.05
            said.append(
                f"{'✓' if deep else '▲'} The bag is {'deep enough' if deep else 'shallow'}."
            )
        return said

    def _card(self, pocket: Pocket) -> QWidget:
        card = QWidget()
        row = QHBoxLayout(card)
        row.setContentsMargins(0, 0, 0, 0)
        uses = [
            use_of(pocket, one)
            for one in self._document.design.carried
            if one.pocket == pocket.name
        ]
        row.addWidget(_Picture(pocket, [use.carried for use in uses]))
        column = QVBoxLayout()
        head = PlainLabel(f"{pocket.name}   ·   {_KINDS[pocket.kind]}")
        head.setProperty("role", "head")
        column.addWidget(head)
        for sentence in self.words_of(pocket):
            column.addWidget(wrapped(sentence))
        for use in uses:
            good = use.passes and use.lies
            told = (
                "goes in" if good else "does not pass" if not use.passes else "does not lie in it"
            )
            line = QHBoxLayout()
            line.addWidget(wrapped(f"{'✓' if good else '▲'} {use.carried.thing}: {told}"), 1)
            out, called = (
                partial(self.take_out, use.carried),
                f"No {use.carried.thing} for {pocket.name}",
            )
            line.addWidget(with_sign("✕", out, tip="Take it out again", called=called))
            column.addLayout(line)
        column.addStretch(1)
        row.addLayout(column, 1)
        return card

    def _giving(self) -> QFormLayout:
        form = QFormLayout()
        form.setContentsMargins(16, 0, 16, 0)
        form.setVerticalSpacing(5)
        self._pocket = ChoiceBox()
        self._pocket.setAccessibleName("Pocket")
        form.addRow("Shall", self._pocket)
        self._thing = ChoiceBox()
        self._thing.setAccessibleName("Thing")
        self._thing.addItems([*THINGS, _OWN])
        self._thing.currentTextChanged.connect(self._choose)
        form.addRow("take a", self._thing)
        self._sizes = list(THINGS["phone"])
        self._fields: list[LengthField] = []
        line = QHBoxLayout()
        line.setSpacing(6)
        for at, label in enumerate(("Long", "Wide", "Thick")):
            if at:
                line.addWidget(QLabel("\N{MULTIPLICATION SIGN}"))
            field = LengthField(label, partial(self._set_size, at), least=1.0)
            field.set_unit(self._unit)
            field.show_mm(self._sizes[at])
            field.setToolTip(plain_tip(f"How {label.lower()} it is"))
            line.addWidget(field, 1)
            self._fields.append(field)
        form.addRow("of", line)
        self._test = QPushButton("Put it to the test")
        self._test.clicked.connect(self.give)
        form.addRow(self._test)
        return form

    def _choose(self, thing: str) -> None:
        if thing in THINGS:
            self._sizes = list(THINGS[thing])
            for field, mm in zip(self._fields, self._sizes, strict=True):
                field.show_mm(mm)

    def _set_size(self, at: int, mm: float | None) -> None:
        if mm is not None:
            self._sizes[at] = mm
            self._thing.setCurrentText(_OWN)

    def _length(self, mm: float) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit])


class _Picture(QWidget):
    """The bag, its mouth's lower end or open top, and the things as flat boxes side by side."""

    def __init__(self, pocket: Pocket, things: list[Carried]) -> None:
        super().__init__()
        self._pocket = pocket
        self._things = things
        self.setFixedSize(170, 190)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """To one scale: the bag at the left, the things in outline over its middle."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        shape, theme = self._pocket.shape, theme_of(self)
        if shape is None:
            painter.setPen(QPen(QColor(theme.work), 3.0))
            painter.drawArc(QRectF(50.0, 30.0, 70.0, 120.0), 180 * 16, 180 * 16)
            painter.end()
            return
        box = shape.box
        scale = min(158.0 / box.width, 178.0 / box.height)
        painter.translate(6.0, 6.0)
        painter.scale(scale, scale)
        painter.translate(-box.left, box.top)
        take_pen(painter, theme.ink, 1.4)
        painter.setBrush(QColor(theme.grid_strong))
        painter.drawPath(path_of((edge.chain for edge in shape), closed=True))
        top = box.top if self._pocket.below is None else self._pocket.below
        take_pen(painter, theme.work, 1.2, Qt.PenStyle.DashLine)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if self._pocket.top is None:
            painter.drawLine(QPointF(box.left, -top), QPointF(box.right, -top))
        else:
            painter.drawPath(path_of([self._pocket.top]))
        tint = QColor(theme.work)
        tint.setAlphaF(0.2)
        painter.setBrush(tint)
        middle = (box.left + box.right) / 2.0
        for one in self._things:
            foot = box.bottom + 12.0
            upright = one.long <= top - foot or one.wide > top - foot
            wide, high = (one.wide, one.long) if upright else (one.long, one.wide)
            painter.drawRect(QRectF(middle - wide / 2.0, -(foot + high), wide, high))
        painter.end()
