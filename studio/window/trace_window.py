"""A panel traced over its photograph, drawn on ruled paper, or the flaws of a roll marked."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from msgspec.structs import replace
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QMessageBox,
    QPushButton,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)
from shapely import Polygon

from studio import numbers
from studio.canvas.plain_tip import plain_tip
from studio.canvas.theme import Theme
from studio.canvas.trace_hand import Stage, TraceHand, TraceState
from studio.canvas.trace_view import TraceView
from studio.canvas.type_size import size_with_letters
from studio.cloth.tracing import panel_of, tracing_of
from studio.design.cloth import Roll, SalvagedPanel, Stock, Trace
from studio.errors import BadInput
from studio.numbers import LengthUnit
from studio.window import dialogs
from studio.window.buttons import one_of_several
from studio.window.draw_form import DrawForm
from studio.window.plain_label import PlainLabel
from studio.window.scale_form import ScaleForm
from studio.window.trace_foot import TraceFoot
from studio.window.traced_photograph import Marks, TracedPhotograph
from studio.window.widgets import in_words, redo_keys, wrapped

PICTURES = "Pictures (*.jpg *.jpeg *.png *.bmp *.webp *.tif *.tiff *.gif)"


class TraceWindow(QDialog):
    """Shows one stock; `result_stock` is what became of it once the window is accepted.

    `home` is the folder from which photographs are named.
    """

    def __init__(
        self,
        stock: Stock,
        home: Path | None,
        unit: LengthUnit,
        theme: Theme,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.stock = stock
        self.result_stock: Stock | None = None
        self._home, self._unit, self._theme = home, unit, theme
        self._old = stock.trace if isinstance(stock, SalvagedPanel) else None
        self.photograph = TracedPhotograph(home)
        pixels = () if self._old is None else self._old.pixels
        self.hand = TraceHand(TraceState(pixels, tracing_of(stock)), self.refresh, self.tell)
        self.view = TraceView(self.hand, theme)
        self.foot = TraceFoot(self.hand, unit)
        self.scale = ScaleForm(unit)
        self.drawing = DrawForm(self.hand, unit, roll=isinstance(stock, Roll))
        self.setWindowTitle(f"{stock.name}: its outline, flaws and grain")
        self._lay_out()
        self._connect()
        self._begin()
        self._opened = self._settings()

    def sizeHint(self) -> QSize:
        """Room for the picture."""
        return QSize(1240, 820)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours; a picture that is shown keeps the ground it was given."""
        self._theme = self.view.theme = theme
        self.view.viewport().update()

    def take_photograph(self, path: Path) -> bool:
        """Show a photograph; False, and the reason told, when it cannot be."""
        try:
            image = self.photograph.take(path)
        except BadInput as problem:
            self.tell(problem.sentence)
            return False
        self.view.show_photograph(image)
        self._file.setText(path.name)
        self._file.setToolTip(plain_tip(str(path)))
        down = self._old.face_down if self._old is not None and self._old.pixels else None
        self.drawing.ask_side(down)
        self._show_stages()
        return True

    def to_scale(self) -> None:
        """Look at the photograph as it was taken, to set its marks."""
        if self.photograph.path is not None:
            self._go("scale")

    def straighten(self) -> bool:
        """Take the perspective out and go on to draw; False, and the reason told, if it cannot."""
        try:
            self._straighten(self.scale.places(self.hand.state.marks))
        except BadInput as problem:
            self.tell(problem.message)
            return False
        self._go("draw")
        if not self.hand.tracing.outline:
            self.hand.take("outline")
        return True

    def accept(self) -> None:
        """Take what is drawn, or tell what is missing."""
        try:
            self.result_stock = self.made()
        except BadInput as problem:
            self.tell(problem.message)
            return
        super().accept()

    def reject(self) -> None:
        """Ask before work is given up."""
        is_changed = self.hand.can_undo or self._settings() != self._opened
        if not is_changed or self._gives_up():
            super().reject()

    def done(self, result: int) -> None:
        """Let the pictures go: they are large."""
        super().done(result)
        self.photograph.let_go()
        self.view.show_photograph(None)
        self.view.show_cloth(None)

    def made(self) -> Stock:
        """The stock as it is drawn now.

        Raises:
            BadInput: what is missing, in a sentence.
        """
        if isinstance(self.stock, Roll):
            if self.hand.tracing.line:
                raise BadInput("The line is not finished: press Enter, or Escape.")
            return replace(self.stock, flaws=self.hand.tracing.flaws)
        trace = self._old
        if self.photograph.path is not None:
            trace = self._trace()
        stock = self.stock
        return panel_of(self.hand.tracing, stock.name, stock.cloth, trace, stock.note)

    def _trace(self) -> Trace:
        """How the photograph was brought to scale, and which side it shows. What was changed and
        not used would be lost in silence, and the panel be of another size than the maker thinks.
        """
        if self.photograph.seen is None:
            raise BadInput("Bring the photograph to scale first.")
        if not self._is_straight():
            raise BadInput(
                "Marks or measures have changed since the picture was straightened: straighten it "
                "with them, or set them back."
            )
        if self.drawing.face_down is None:
            raise BadInput("Say which side of the cloth the photograph shows.")
        return self.photograph.trace(self.drawing.face_down)

    def _is_straight(self) -> bool:
        """Whether the picture was straightened with what is set now."""
        try:
            return self.photograph.is_straight_by(self.scale.places(self.hand.state.marks))
        except BadInput:
            return False

    def _settings(self) -> object:
        """What is chosen beside the picture, of which undo knows nothing."""
        return self.photograph.path, self.scale.chosen, self.drawing.face_down

    def tell(self, sentence: str) -> None:
        """Say why something is not done."""
        self.foot.tell(sentence)

    def refresh(self) -> None:
        """Show the state of the hand."""
        if self._pages.currentIndex() != (0 if self.hand.stage == "scale" else 1):
            self._show_stages()
        if self.hand.stage == "scale":
            self.scale.show_marks(self.hand.state.marks)
        self.drawing.refresh()
        self.foot.refresh()
        self._size.setText(self._measures())
        self.view.viewport().update()

    def _begin(self) -> None:
        """With the photograph it was traced over, if that is found."""
        if self._old is None or not self.take_photograph(
            self.photograph.found(self._old.photograph)
        ):
            lost = self.foot.told
            self._go("draw")
            if not self.hand.tracing.outline:
                self.hand.take("outline")
            elif isinstance(self.stock, Roll) and not self.stock.flaws:
                self.hand.take("hole")
            if lost:
                self.tell(f"Its photograph is not shown: {lost}")
            return
        self.scale.take_marks(self._old.marks)
        if not self._old.pixels:
            self._go("scale")
            return
        try:
            self._straighten((self._old.pixels, self._old.marks))
        except BadInput as problem:
            self._go("scale")
            self.tell(problem.message)
            return
        self._go("draw")

    def _straighten(self, marks: Marks) -> None:
        self.view.show_cloth(self.photograph.straighten(marks, self._theme.ground, self.hand.carry))

    def _go(self, stage: Stage) -> None:
        self.hand.wanted = self.scale.wanted
        self.hand.set_stage(stage)
        self._show_stages()

    def _show_stages(self) -> None:
        has_picture = self.photograph.path is not None
        scaling = self.hand.stage == "scale"
        self._pages.setCurrentIndex(0 if scaling else 1)
        self._stages.setVisible(has_picture)
        for button, on in zip(self._stage_buttons, (scaling, not scaling), strict=True):
            button.setChecked(on)
        self.view.shown_stage()
        self.view.setFocus()

    def _method_asked(self) -> None:
        self.hand.wanted = self.scale.wanted
        if len(self.hand.state.marks) > self.hand.wanted:
            self.hand.set_marks(self.hand.state.marks[: self.hand.wanted])
        self.refresh()

    def _measures(self) -> str:
        outline = self.hand.tracing.outline
        if len(outline) < 3:
            return ""
        area = Polygon(outline)
        left, bottom, right, top = area.bounds
        decimals = numbers.ROUGH[self._unit]
        across = numbers.bare(right - left, self._unit, decimals)
        up = numbers.length(top - bottom, self._unit, decimals)
        squares = numbers.area(area.area, numbers.squares(self._unit), 0)
        return f"{across} \N{MULTIPLICATION SIGN} {up}, {squares}"

    def _find_photograph(self) -> None:
        start = str(self._home or Path.cwd())
        name, _ = QFileDialog.getOpenFileName(self, "Photograph of the cloth", start, PICTURES)
        if name:
            self.take_other_photograph(Path(name))

    def take_other_photograph(self, path: Path) -> bool:
        """Work over another photograph: the one that was lost, with its marks, or a new one, whose
        marks are to be set. What is drawn stays as it is. False when it cannot be shown.
        """
        if not self.take_photograph(path):
            return False
        old = self._old
        if old is not None and (not old.pixels or Path(old.photograph).name != path.name):
            old = None
        self.photograph.unscaled()
        self.hand.set_marks(() if old is None else old.pixels)
        self._go("scale")
        if old is not None:
            self.scale.take_marks(old.marks)
            self.straighten()
        return True

    def _gives_up(self) -> bool:
        drawn = self.hand.can_undo
        return not dialogs.ask(
            self,
            f"What was {'drawn' if drawn else 'chosen'} here is not taken yet.",
            f"What is not taken of {self.stock.name} is lost.",
            "Go on drawing" if drawn else "Go on",
            ("Leave it", QMessageBox.ButtonRole.DestructiveRole),
        )

    def _lay_out(self) -> None:
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        side = QWidget()
        size_with_letters(side, minimumWidth=300, maximumWidth=300)
        column = QVBoxLayout(side)
        column.setContentsMargins(16, 14, 16, 14)
        column.setSpacing(10)
        title = wrapped(self.stock.name)
        title.setProperty("role", "title")
        column.addWidget(title)
        column.addWidget(self._picture_row())
        self._pages = QStackedWidget()
        for page in (self.scale, self.drawing):
            scroll = QScrollArea()
            scroll.setWidgetResizable(True)
            scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
            scroll.setWidget(page)
            self._pages.addWidget(scroll)
        column.addWidget(self._pages, 1)
        column.addLayout(self._ends())
        whole.addWidget(side)
        right = QVBoxLayout()
        right.setSpacing(0)
        right.addWidget(self.view, 1)
        right.addWidget(self.foot)
        whole.addLayout(right, 1)

    def _picture_row(self) -> QWidget:
        self._stages = QWidget()
        column = QVBoxLayout(self._stages)
        column.setContentsMargins(0, 0, 0, 0)
        line = QHBoxLayout()
        self._file = PlainLabel()
        self._file.setProperty("role", "faint")
        line.addWidget(self._file, 1)
        column.addLayout(line)
        switch = QHBoxLayout()
        switch.setSpacing(4)
        self._stage_buttons = []
        for words, act in (("1  To scale", self.to_scale), ("2  Draw", self.straighten)):
            button = one_of_several(words, partial(self._switched, act))
            switch.addWidget(button, 1)
            self._stage_buttons.append(button)
        switch.addStretch(1)
        column.addLayout(switch)
        return self._stages

    def _switched(self, act: Callable[[], object]) -> None:
        act()
        self._show_stages()

    def _ends(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(6)
        self._size = QLabel()
        self._size.setProperty("role", "faint")
        column.addWidget(self._size)
        if not isinstance(self.stock, Roll):
            find = QPushButton("Photograph…")
            find.setAutoDefault(False)
            find.clicked.connect(self._find_photograph)
            column.addWidget(find)
        # In the order that the desktop's own dialogs have.
        ends = QDialogButtonBox()
        take = ends.addButton("Take it", QDialogButtonBox.ButtonRole.AcceptRole)
        leave = ends.addButton(QDialogButtonBox.StandardButton.Cancel)
        in_words(ends)
        take.setProperty("role", "primary")
        for button, act in ((leave, self.reject), (take, self.accept)):
            button.setAutoDefault(False)
            button.clicked.connect(act)
        column.addWidget(ends)
        return column

    def _connect(self) -> None:
        for keys, act in (
            (QKeySequence(QKeySequence.StandardKey.Undo), self.hand.undo),
            *((keys, self.hand.redo) for keys in redo_keys()),
        ):
            QShortcut(keys, self, act)
        self.scale.asked.connect(self._method_asked)
        self.scale.done.connect(self.straighten)
        self.drawing.sided.connect(self.refresh)
        self.view.pointed.connect(self.foot.show_place)
