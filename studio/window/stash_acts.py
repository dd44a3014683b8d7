"""What a maker does with the stash: new cloth and stock, from drawings, photographs and files."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Literal

from msgspec.structs import replace
from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from studio.canvas.selection import Selection
from studio.check import sentence_in_unit
from studio.cloth import stash_edit as edit
from studio.cloth.tracing import blank
from studio.design import Design
from studio.design.cloth import Cloth, Roll, Stock
from studio.errors import BadInput, YokewrightError
from studio.exchange.stash_file import (
    SUFFIX,
    Stash,
    at_home,
    beside,
    clashes,
    given,
    load_stash,
    save_stash,
    stash_of,
    taken,
)
from studio.numbers import LengthUnit
from studio.window import dialogs
from studio.window.document import Document
from studio.window.stock_dialog import StockDialog
from studio.window.style import theme_of
from studio.window.trace_window import PICTURES, TraceWindow
from studio.window.widgets import open_large

COLOURS = ("#5e7f6b", "#a36a4f", "#8a7aa6", "#b59a4a", "#5b8fa3", "#9b5d73")
"""New cloths are shown in these by turns: telling them apart is all they are for."""

_FILTER = f"Stash files (*{SUFFIX})"


class StashActs:
    """Each is one step of the history; `over` is the widget that questions are asked over."""

    def __init__(self, document: Document, over: QWidget) -> None:
        self._document = document
        self._over = over
        self.unit: LengthUnit = "mm"

    @property
    def home(self) -> Path | None:
        """The folder that photographs are named from: that of the project, once it has one."""
        return self._document.home

    @property
    def _start(self) -> Path:
        """Where files are looked for first."""
        return self.home or Path.cwd()

    def new_cloth(self) -> None:
        """A cloth more, to be named and described."""
        design = self._document.history.design
        names = [cloth.name for cloth in design.cloths]
        name = edit.free_name("new cloth", names)
        colour = COLOURS[len(names) % len(COLOURS)]
        self.take(f"Add {name}", edit.with_cloth(design, Cloth(name, colour)), "cloth", name)

    def new_roll(self) -> None:
        """A roll from its width and length."""
        self._ask("roll")

    def new_panel(self) -> None:
        """A rectangle from its width and length."""
        self._ask("panel")

    def panel_from_drawing(self) -> None:
        """Choose a DXF or SVG file and take its outline."""
        name, _ = QFileDialog.getOpenFileName(
            self._over, "Drawing of a panel", str(self._start), "Drawings (*.dxf *.svg)"
        )
        if name:
            self.take_drawing(Path(name))

    def take_drawing(self, path: Path, unit: str | None = None) -> bool:
        """Take a panel's outline from a drawing; asks for the unit when it has none."""
        from studio.exchange.panel_in import read_panel  # Slow to load.

        design = self._document.history.design
        name = edit.free_name(path.stem, (stock.name for stock in design.stash))
        try:
            drawn = read_panel(path, name, self._cloth(), unit)
            changed = edit.with_stock(design, drawn.panel)
        except YokewrightError as problem:
            bare = problem.where in ("unit", "$INSUNITS") and not unit
            asked = dialogs.ask_unit(self._over) if bare else None
            if asked is not None:
                return self.take_drawing(path, asked)
            dialogs.tell(
                self._over, "No panel could be made of this drawing.", self._said(problem.sentence)
            )
            return False
        self.take(f"Add {name}", changed, "stock", name)
        if drawn.left_out:
            told = "\n".join(drawn.left_out)
            dialogs.tell(self._over, "Some of the drawing was left out.", self._said(told))
        return True

    def panel_from_photograph(self) -> None:
        """Choose a photograph and trace a panel over it."""
        name, _ = QFileDialog.getOpenFileName(
            self._over, "Photograph of the cloth", str(self._start), PICTURES
        )
        if name:
            self.trace_over(Path(name))

    def panel_drawn(self) -> None:
        """Draw a panel on ruled paper."""
        self._trace(blank(self._free("panel"), self._cloth()))

    def trace_over(self, photograph: Path) -> None:
        """Trace a new panel over a photograph."""
        name = self._free(photograph.stem)
        self._trace(blank(name, self._cloth(), beside(photograph, self.home)))

    def trace(self, name: str) -> None:
        """Open a panel or a roll again, over its photograph if it has one."""
        self._trace(edit.stock_of(self._document.history.design, name))

    def tracing(self, stock: Stock) -> TraceWindow:
        """The window in which a stock is traced."""
        window = TraceWindow(stock, self.home, self.unit, theme_of(self._over), self._over)
        open_large(window)
        return window

    def take_traced(self, window: TraceWindow) -> None:
        """Take what was traced into the stash, as a new panel or as the one it was."""
        stock = window.result_stock
        if stock is None:
            return
        design = self._document.history.design
        known = any(one.name == stock.name for one in design.stash)
        label = f"{'Trace' if known else 'Add'} {stock.name}"
        try:
            change = edit.changed_stock if known else edit.with_stock
            self.take(label, change(design, stock), "stock", stock.name)
        except BadInput as problem:
            dialogs.tell(self._over, "The panel could not be taken.", self._said(problem.sentence))

    def stash_in(self) -> None:
        """Choose a stash file and take what is in it."""
        name, _ = QFileDialog.getOpenFileName(self._over, "Stash", str(self._start), _FILTER)
        if name:
            self.take_stash(Path(name))

    def take_stash(self, path: Path) -> bool:
        """Take all of a stash file; asks what to do with names that clash. False if refused."""
        design = self._document.history.design
        try:
            stash = load_stash(path)
            stash = replace(stash, stock=at_home(stash.stock, path.parent, self.home))
            names = clashes(design, stash)
            if names and not self._renames(names, "this project"):
                return False
            changed = taken(design, stash, "rename")
        except YokewrightError as problem:
            dialogs.tell(self._over, "This stash could not be taken.", self._said(problem.sentence))
            return False
        self._document.change(f"Take from {path.name}", changed)
        return True

    def stash_out(self) -> None:
        """Choose a stash file and add cloths and stock to it; a new one is begun."""
        # The question about writing over a file would mislead: what is in it stays.
        name, _ = QFileDialog.getSaveFileName(
            self._over,
            "Add to a stash",
            str(self._start / f"shelf{SUFFIX}"),
            _FILTER,
            options=QFileDialog.Option.DontConfirmOverwrite,
        )
        if name:
            path = Path(name)
            named = path if path.suffix == SUFFIX else path.with_name(path.name + SUFFIX)
            self.give_stash(named)

    def give_stash(self, path: Path) -> bool:
        """Add all cloths and stock to a stash file; False if refused."""
        design = self._document.history.design
        own = replace(design, stash=at_home(design.stash, self.home, path.parent))
        try:
            known = load_stash(path) if path.exists() else Stash()
            names = clashes(Design(name="", cloths=known.cloths, stash=known.stock), stash_of(own))
            if names and not self._renames(names, path.name):
                return False
            save_stash(given(own, known, "rename"), path)
        except YokewrightError as problem:
            dialogs.tell(
                self._over, "The stash could not be written.", self._said(problem.sentence)
            )
            return False
        self._document.told.emit(f"The stash is written to {path.name}.")
        return True

    def remove(self, kind: Literal["cloth", "stock"], name: str) -> None:
        """Take a cloth or stock out of the stash; one in use is kept, and the reason told."""
        without = edit.without_cloth if kind == "cloth" else edit.without_stock
        self._document.edit(f"Take away {name}", partial(without, name=name))

    def take(self, label: str, design: Design, kind: Literal["cloth", "stock"], name: str) -> None:
        """Change the design and pick what is new in it."""
        if self._document.change(label, design):
            self._document.select(Selection(kind, name))

    def _trace(self, stock: Stock) -> None:
        window = self.tracing(stock)
        if window.exec():
            self.take_traced(window)
        window.deleteLater()

    def _ask(self, kind: Literal["roll", "panel"]) -> None:
        design = self._document.history.design
        cloths = [cloth.name for cloth in design.cloths]
        dialog = StockDialog(kind, self._free(kind), cloths, self._cloth(), self.unit, self._over)
        while dialog.exec():
            try:
                changed = edit.with_stock(design, self._asked(dialog))
            except BadInput as problem:
                dialogs.tell(
                    self._over, f"There can be no such {kind}.", self._said(problem.sentence)
                )
                continue
            self.take(f"Add {dialog.name}", changed, "stock", dialog.name)
            return

    def _asked(self, dialog: StockDialog) -> Stock:
        if dialog.kind == "roll":
            return Roll(dialog.name, dialog.cloth, dialog.width_mm, dialog.length_mm)
        return edit.rectangle(dialog.name, dialog.cloth, dialog.width_mm, dialog.length_mm)

    def _cloth(self) -> str:
        """The picked cloth, or that of the picked stock, or the first; one is made if need be."""
        design, picked = self._document.history.design, self._document.selection
        if picked.kind == "cloth":
            return picked.name
        if picked.kind == "stock":
            return edit.stock_of(design, picked.name).cloth
        if not design.cloths:
            self.new_cloth()
            design = self._document.history.design
        return design.cloths[0].name

    def _said(self, sentence: str) -> str:
        """A sentence with its lengths in the unit chosen."""
        return sentence_in_unit(sentence, self._document.design, self.unit)

    def _free(self, wanted: str) -> str:
        return edit.free_name(wanted, (one.name for one in self._document.history.design.stash))

    def _renames(self, names: tuple[str, ...], where: str) -> bool:
        """Ask whether what clashes is taken under new names."""
        return dialogs.ask(
            self._over,
            f"In {where} these names mean something else: {', '.join(names)}.",
            "Nothing that is there is changed either way.",
            "Take them under new names",
            ("Take nothing", QMessageBox.ButtonRole.RejectRole),
        )
