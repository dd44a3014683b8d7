"""Beside the laying table: the verdict, what each cloth gives, what does not lie, cautions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

import msgspec
from PySide6.QtCore import QCoreApplication, QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from studio.canvas.plain_tip import plain_tip
from studio.canvas.theme import Theme
from studio.canvas.type_size import size_with_letters
from studio.exchange.lay_plan import CAUTIONS
from studio.window.plain_label import PlainLabel, on_button
from studio.window.widgets import emptied, faint, wrapped

_LEAST = 240
"""Pixels that the column has at the least, whatever it tells."""


class StockRow(msgspec.Struct, frozen=True):
    """A cloth as it is listed: its name, what it is, how much of it lies under pieces."""

    name: str
    words: str
    used: float


class Offer(msgspec.Struct, frozen=True):
    """Something that can be done with one click, what it does, and words to stand above it."""

    label: str
    does: Callable[[], object]
    tip: str = ""
    words: str = ""


class MissingRow(msgspec.Struct, frozen=True):
    """A piece that is wanting: its name, sentences on why and by how much, what can be done."""

    name: str
    sentences: tuple[str, ...]
    offers: tuple[Offer, ...] = ()
    key: tuple[str, int] | None = None

    @property
    def looks(self) -> tuple[object, ...]:
        """What of it is seen."""
        return self.name, self.sentences, tuple((one.label, one.words) for one in self.offers)


class LayPane(QWidget):
    """The right column. `stock_asked` and `piece_asked` tell what was clicked."""

    stock_asked = Signal(str)
    piece_asked = Signal(object)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._listed: tuple[object, ...] = ()
        self._rows: tuple[MissingRow, ...] = ()
        self._bars: list[_Bar] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.verdict = wrapped()
        self.verdict.setProperty("role", "title")
        self.verdict.setContentsMargins(16, 14, 14, 6)
        # A long name in it must not make the column wider.
        policy = self.verdict.sizePolicy()
        policy.setHorizontalPolicy(QSizePolicy.Policy.Ignored)
        self.verdict.setSizePolicy(policy)
        size_with_letters(self, minimumWidth=_LEAST)
        column.addWidget(self.verdict)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._holder = QWidget()
        lists = QVBoxLayout(self._holder)
        lists.setContentsMargins(16, 4, 14, 14)
        lists.setSpacing(6)
        self._missing_head = _head("What is wanting")
        lists.addWidget(self._missing_head)
        self._missing = QVBoxLayout()
        self._missing.setSpacing(8)
        lists.addLayout(self._missing)
        self._stock_head = _head("Cloths")
        lists.addWidget(self._stock_head)
        self._stocks = QVBoxLayout()
        self._stocks.setSpacing(2)
        lists.addLayout(self._stocks)
        lists.addWidget(_head("Before you cut"))
        for sentence in CAUTIONS:
            lists.addWidget(faint(sentence))
        lists.addStretch(1)
        self._scroll.setWidget(self._holder)
        column.addWidget(self._scroll, 1)

    def sizeHint(self) -> QSize:
        """Room for a sentence of some words."""
        return QSize(340, 600)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self._theme = theme
        for bar in self._bars:
            bar.theme = theme
            bar.update()

    def show_verdict(self, words: str, *, good: bool) -> None:
        """What came of it, in a sentence; its sign tells good from bad without colour."""
        sign = "\N{CHECK MARK}" if good else "\N{BLACK UP-POINTING TRIANGLE}"
        self.verdict.setText(f"{sign}  {words}")
        self._laid_out()

    def show_lists(self, stocks: Sequence[StockRow], missing: Sequence[MissingRow]) -> None:
        """The cloths, and the pieces that are wanting; cards that look as before stay, and do what
        is offered now.
        """
        self._rows = tuple(missing)
        listed = (tuple(stocks), tuple(row.looks for row in missing))
        if listed == self._listed:
            return
        self._listed = listed
        emptied(self._stocks)
        emptied(self._missing)
        self._bars = []
        self._missing_head.setVisible(bool(missing))
        for at, row in enumerate(missing):
            _added(self._card(at, row), self._missing)
        self._stock_head.setVisible(bool(stocks))
        for stock in stocks:
            _added(self._stock(stock), self._stocks)
        self._laid_out()

    def _laid_out(self) -> None:
        """Give all of it its room now: else it would be painted once in the room of what was there
        before, squeezed.
        """
        column = self.layout()
        if column is not None:
            column.activate()
        for one in (self._holder, self._scroll):
            QCoreApplication.sendEvent(one, QEvent(QEvent.Type.LayoutRequest))

    def _ask_piece(self, at: int) -> None:
        self.piece_asked.emit(self._rows[at].key)

    def _take(self, at: int, number: int) -> None:
        self._rows[at].offers[number].does()

    def _card(self, at: int, row: MissingRow) -> QWidget:
        card = QFrame()
        card.setProperty("role", "card")
        column = QVBoxLayout(card)
        column.setContentsMargins(10, 7, 10, 9)
        column.setSpacing(4)
        name = _Clicked(row.name, partial(self._ask_piece, at))
        head = PlainLabel(row.name)
        head.setStyleSheet("font-weight: bold")
        name.column.addWidget(head)
        column.addWidget(name)
        for sentence in row.sentences:
            column.addWidget(wrapped(sentence))
        for number, offer in enumerate(row.offers):
            if offer.words:
                column.addWidget(wrapped(offer.words))
            button = QPushButton(on_button(offer.label))
            button.setProperty("role", "offer")
            button.setToolTip(plain_tip(f"{offer.label}. {offer.tip}"))
            # A long name of a cloth must not make the card wider than its column.
            button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            button.clicked.connect(lambda _on=False, it=number: self._take(at, it))
            column.addWidget(button)
        return card

    def _stock(self, row: StockRow) -> QWidget:
        holder = _Clicked(row.name, lambda: self.stock_asked.emit(row.name))
        column = holder.column
        column.setContentsMargins(0, 4, 0, 4)
        column.setSpacing(3)
        line = QHBoxLayout()
        name = PlainLabel(row.name)
        name.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        line.addWidget(name, 1)
        words = PlainLabel(row.words)
        words.setProperty("role", "faint")
        line.addWidget(words)
        column.addLayout(line)
        bar = _Bar(self._theme, row.used)
        self._bars.append(bar)
        column.addWidget(bar)
        return holder


class _Clicked(QWidget):
    """A row that does something when it is clicked, or entered by key."""

    def __init__(self, words: str, does: Callable[[], object]) -> None:
        super().__init__()
        self._does = does
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(words)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(0, 0, 0, 0)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Do it."""
        event.accept()
        self._does()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A ring about the row that has the focus, as about a button."""
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(self.palette().highlight().color(), 2.0))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.0, 1.0, -1.0, -1.0), 4.0, 4.0)
            painter.end()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """The ring is drawn."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """The ring goes."""
        super().focusOutEvent(event)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter and space do it too."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self._does()
        else:
            super().keyPressEvent(event)


class _Bar(QWidget):
    """How much of a cloth is used, as a thin bar."""

    def __init__(self, theme: Theme, share: float) -> None:
        super().__init__()
        self.theme = theme
        self._share = min(1.0, max(0.0, share))
        self.setFixedHeight(5)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """The used part filled."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        whole = QRectF(self.rect())
        painter.setBrush(QColor(self.theme.border))
        painter.drawRoundedRect(whole, 2.5, 2.5)
        if self._share > 0.0:
            painter.setBrush(QColor(self.theme.seam))
            whole.setWidth(max(5.0, whole.width() * self._share))
            painter.drawRoundedRect(whole, 2.5, 2.5)
        painter.end()


def _added(made: QWidget, column: QVBoxLayout) -> None:
    """Shown at once: a layout gives no room to what is shown later."""
    column.addWidget(made)
    made.show()


def _head(words: str) -> QLabel:
    label = QLabel(words)
    label.setProperty("role", "head")
    label.setContentsMargins(0, 8, 0, 0)
    label.setIndent(0)
    return label
