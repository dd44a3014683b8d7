"""The main window: menus, panes, and what happens when files are opened, saved and closed."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace
from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import (
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
)
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QMenu,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.canvas.dimensions import Dimension
from studio.canvas.draw_tool import DrawTool
from studio.canvas.scene import Sheet, Shown
from studio.canvas.select_tool import SelectTool
from studio.canvas.still_tool import StillTool
from studio.canvas.theme import LIGHT, Theme
from studio.canvas.view import DraftView
from studio.check import sentence_in_unit
from studio.design import Design
from studio.design.file import SUFFIX
from studio.errors import Told, exact_of
from studio.exchange.along import Sheet as ReadSheet
from studio.exchange.along import sheet_of
from studio.exchange.work_sheet import work_sheet_of
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.window import export_dialog, recent
from studio.window.add_acts import AddActs
from studio.window.buttons import one_of_several
from studio.window.canvas_context import DocumentContext
from studio.window.details_pane import DetailsPane
from studio.window.document import Document
from studio.window.file_acts import FileActs
from studio.window.ledger_pane import LedgerPane
from studio.window.look import TOLD_BY, Look, Themed
from studio.window.menus import Menus
from studio.window.name_dialog import NameDialog
from studio.window.one_line import one_line
from studio.window.panes import Panes
from studio.window.pocket_window import PocketWindow
from studio.window.recovery import Recovery
from studio.window.road_pane import RoadPane
from studio.window.sheet_window import SheetWindow
from studio.window.short_label import ShortLabel
from studio.window.stash_acts import StashActs
from studio.window.style import palette_of, style_sheet_of
from studio.window.walk_bar import WalkBar
from studio.window.wearer_pane import WearerPane
from studio.window.widgets import Titled, end_typing, open_beside, open_large

if TYPE_CHECKING:
    from studio.window.lay_window import LayWindow
    from studio.window.need_window import NeedWindow


_NOT_DONE = "Not done:"


class MainWindow(QMainWindow):
    """A window on one design."""

    def __init__(
        self, design: Design, path: Path | None, *, recovery: Recovery | None = None
    ) -> None:
        super().__init__()
        self.document = Document(design, path)
        self.unit: LengthUnit = "mm"
        self.theme = LIGHT
        self.look = Look(self)
        self.sheet = Sheet(LIGHT)
        context = DocumentContext(self.document, self.sheet)
        self.tool = SelectTool(context)
        self.view = DraftView(self.sheet, self.tool)
        self.pencil = DrawTool(context, lambda: self.view.take(self.tool))
        self.road = RoadPane(self.document, QMenu(self), QMenu("Add a &part", self))
        self.wearer = WearerPane(self.document, LIGHT)
        self.details = DetailsPane(self.document)
        self.ledger = LedgerPane(self.document, LIGHT)
        self.walking = WalkBar(self.document, self.sheet)
        self.stash = StashActs(self.document, self)
        self.adding = AddActs(self.document, self)
        self.files = FileActs(self.document, recovery or Recovery(), self)
        self._laying: LayWindow | None = None
        self._lay_out()
        self._menus = Menus(self)
        self._connect()
        self.setAcceptDrops(True)
        self.set_theme(self.look.theme)
        self._show_pattern()
        self._show_state()

    def event(self, event: QEvent) -> bool:
        """The desktop may look another way now."""
        if event.type() in TOLD_BY:
            self.look.ask()
        return super().event(event)

    def sizeHint(self) -> QSize:
        """Room for everything."""
        return QSize(1440, 900)

    def take_its_place(self) -> None:
        """Size, place, unit and look as they were left; or as large as the screen has room for, in
        mm, light or dark as the desktop is.
        """
        self.set_unit(recent.unit())
        self.look.take_up(recent.dark())
        self.view.setFocus()
        if self.restoreGeometry(recent.window_geometry()):
            return
        screen = self.screen().availableGeometry()
        self.resize(self.sizeHint().boundedTo(screen.size() * 0.94))
        frame = self.frameGeometry()
        frame.moveCenter(screen.center())
        self.move(frame.topLeft())

    def set_theme(self, theme: Theme) -> None:
        """Light or dark, everywhere."""
        self.theme = theme
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.setPalette(palette_of(theme))
        self.setStyleSheet(style_sheet_of(theme))
        self.sheet.set_theme(theme)
        self.view.resetCachedContent()
        self.view.viewport().update()
        self.wearer.set_theme(theme)
        self.ledger.set_theme(theme)
        for beside in self.findChildren(QWidget):
            if beside.isWindow() and isinstance(beside, Themed):
                beside.set_theme(theme)
        self._menus.show_look(self.look.chosen)

    def set_unit(self, unit: LengthUnit) -> None:
        """Show lengths in another unit; files stay in mm."""
        self.unit = self.stash.unit = self.adding.unit = self.files.unit = unit
        for pane in (self.road, self.details, self.ledger, self.sheet, self.walking):
            pane.set_unit(unit)
        if self._laying is not None:
            self._laying.set_unit(unit)
        self._menus.show_unit(unit)

    def export(self) -> None:
        """Write the pieces to files of the maker's choice; sheets have decimals."""
        export_dialog.export(self, self.document, numbers.decimal(self.unit))

    def show_along(self) -> SheetWindow:
        """The draft-along sheet, in a window that stays open beside this one."""
        words = "Each step with its measures, to be drawn by hand. It follows the design."
        return self._show_sheet(sheet_of, "Draft-along sheet", words)

    def show_work(self) -> SheetWindow:
        """The work sheet, in a window that stays open beside this one."""
        words = "What to cut, how to sew it, in which order and why. It follows the design."
        return self._show_sheet(work_sheet_of, "Work sheet", words)

    def _show_sheet(
        self, make: Callable[[Pattern, LengthUnit], ReadSheet], title: str, words: str
    ) -> SheetWindow:
        unit = numbers.decimal(self.unit)
        return open_beside(SheetWindow(self.document, unit, make, title, words, self))

    def name_design(self) -> None:
        """Ask for the design's name and notes."""
        design = self.document.history.design
        dialog = NameDialog(design.name, design.notes, self)
        if dialog.exec():
            name, notes = one_line(dialog.name.text()), dialog.notes.toPlainText()
            self.document.change(f"Name {name}", replace(design, name=name, notes=notes))

    def draw_line(self) -> None:
        """Take the pencil up, or put it down."""
        self.view.take(self.tool if self.view.tool is self.pencil else self.pencil)
        self.view.setFocus()

    def walk(self) -> None:
        """Walk the picked seam, or end the walk."""
        if self.walking.walk is not None:
            self.walking.end()
            return
        picked = self.document.selection
        if picked.kind != "join":
            self._hint.setText("Pick a seam in the ledger to walk it.")
        elif self.walking.begin(picked.name):
            self.view.take(StillTool())
            self.view.fit()
        else:
            self._hint.setText(f"{picked.name} cannot be walked: a side of it is missing.")

    def check_pockets(self) -> PocketWindow:
        """What each pocket takes, in a window that stays open beside this one."""
        return open_beside(PocketWindow(self.document, self.unit, self))

    def lay_on_cloth(self) -> LayWindow:
        """The laying table, in a window that stays open beside this one; there is one at a time."""
        # What lays pieces takes its time to load, and not every sitting comes to it.
        from studio.window.lay_window import LayWindow

        if self._laying is None:
            self._laying = LayWindow(self.document, self.unit, self.theme, self)
            open_large(self._laying)
        self._laying.show()
        self._laying.raise_()
        self._laying.activateWindow()
        return self._laying

    def ask_how_much(self) -> NeedWindow:
        """How much cloth the pieces take, in a window that stays open beside this one."""
        from studio.window.need_window import NeedWindow

        return open_beside(NeedWindow(self.document, self.unit, self))

    def fit_picked(self) -> None:
        """Bring what is picked into view."""
        self.view.fit(self.sheet.box_of(self.document.selection))

    def close_quietly(self) -> None:
        """Close without a question, for pictures."""
        end_typing()
        self.document.history.mark_saved()
        self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask first; nothing unsaved is lost by a slip."""
        if self._laying is not None:
            self._laying.stop_and_keep()
        if not self.files.may_leave():
            event.ignore()
            return
        self.files.end()
        if self._laying is not None:
            self._laying.close()
        if not self.testAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen):
            recent.keep_window_geometry(self.saveGeometry())
        event.accept()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Project files may be dropped."""
        urls = event.mimeData().urls()
        if len(urls) == 1 and urls[0].toLocalFile().endswith(SUFFIX):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open what was dropped."""
        self.files.open_file(Path(event.mimeData().urls()[0].toLocalFile()))

    def _lay_out(self) -> None:
        legs = Titled("On the wearer", self.wearer)
        self.setCentralWidget(Panes(self.road, self._canvas(), legs, self.details, self.ledger))
        self._place = QLabel()
        self._zoom = QLabel()
        self._zoom.setContentsMargins(16, 0, 8, 0)
        self._hint = ShortLabel()
        self.statusBar().addWidget(self._hint, 1)
        self.statusBar().addPermanentWidget(self._place)
        self.statusBar().addPermanentWidget(self._zoom)
        self.statusBar().setSizeGripEnabled(False)
        self.statusBar().setContentsMargins(8, 0, 12, 0)

    def _canvas(self) -> QWidget:
        """The sheet with the switch above it."""
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        bar = QHBoxLayout()
        bar.setContentsMargins(12, 6, 12, 6)
        bar.setSpacing(6)
        self._title = ShortLabel()
        self._title.setProperty("role", "title")
        self._title.setMinimumWidth(80)  # The caption of the window has it too.
        bar.addWidget(self._title, 1)
        choices: tuple[tuple[str, Shown], ...] = (
            ("Panels", "panels"),
            ("Panels and pieces", "both"),
            ("Pieces", "pieces"),
        )
        for label, shown in choices:
            button = one_of_several(label, partial(self._show, shown))
            button.setAutoExclusive(True)
            button.setChecked(shown == "both")
            bar.addWidget(button)
        column.addLayout(bar)
        column.addWidget(self.view, 1)
        column.addWidget(self.walking)
        return holder

    def _connect(self) -> None:
        document = self.document
        document.shown.connect(self._show_pattern)
        document.picked.connect(self._show_pattern)
        document.settled.connect(self._show_state)
        document.settled.connect(self._give_room)
        # Before what is told of a step, which would else be wiped away with the last refusal.
        document.settled.connect(self._hint.clear)
        document.told.connect(self._tell)
        document.refused.connect(self._refused)
        document.picked.connect(self._forget_refusal)
        self.view.pointed.connect(self._show_place)
        self.view.scaled.connect(self._show_scale)
        self.view.numbered.connect(self._take_number)
        self.details.walk_asked.connect(self.walk)
        self.details.begin_asked.connect(self.files.begin)
        self.walking.ended.connect(self._end_walk)
        self.adding.added.connect(self._show_anew)
        self.files.replaced.connect(self._show_anew)
        self.files.warned.connect(self.statusBar().showMessage)

    def _show_pattern(self) -> None:
        self.sheet.show_pattern(self.document.pattern, self.document.selection)

    def _give_room(self) -> None:
        self.view.when_let_go(self._give_room_now)

    def _give_room_now(self) -> None:
        """Pieces that a step let grow into one another are laid out afresh; not in a drag, where
        all would jump under the hand.
        """
        if self.sheet.is_crowded(self.document.pattern):
            self.lay_out_anew()
        self.view.keep_all_shown()

    def _show_state(self) -> None:
        history = self.document.history
        self._menus.show_history(history)
        self._title.setText(self.document.design.name)
        self.setWindowTitle(f"{self.document.title}[*] \u2014 Yokewright")
        self.setWindowModified(history.is_dirty)

    def _show_place(self, x: float, y: float) -> None:
        across, up = (numbers.length(mm, self.unit, numbers.ROUGH[self.unit]) for mm in (x, y))
        self._place.setText(f"{across} across, {up} up")

    def _show_scale(self, scale: float) -> None:
        life_size = self.logicalDpiX() / 25.4
        self._zoom.setText(f"{numbers.percent(scale / life_size)} of life size")

    def _show(self, shown: Shown) -> None:
        self.sheet.set_shown(shown)
        self.view.fit()

    def _take_number(self, dimension: Dimension, value: float) -> None:
        changed = dimension.change(self.document.history.design, value)
        self.document.change(dimension.title, changed)

    def _end_walk(self) -> None:
        self.view.take(self.tool)
        self.view.fit()

    def _refused(self, sentence: str) -> None:
        self._tell(Told(f"{_NOT_DONE} {sentence}", exact_of(sentence)))

    def _forget_refusal(self) -> None:
        """Why something was not done is of no use beside the next thing that is picked."""
        if self._hint.text().startswith(_NOT_DONE):
            self._hint.clear()

    def _tell(self, sentence: str) -> None:
        self._hint.setText(self._in_unit(sentence))

    def _in_unit(self, sentence: str) -> str:
        """A sentence with its lengths in the unit chosen."""
        return sentence_in_unit(sentence, self.document.design, self.unit)

    def lay_out_anew(self) -> None:
        """Everything on the sheet laid out afresh."""
        self.sheet.replace_places()
        self._show_pattern()

    def _show_anew(self) -> None:
        """Also brought into view: what is new would lie outside it."""
        self.lay_out_anew()
        self.view.fit()
