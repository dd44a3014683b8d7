"""What a maker does with files: new, open, save, and taking up what a crash left behind."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QFileDialog, QWidget

from studio import numbers
from studio.demo import demo_design
from studio.design import ImportedBlock
from studio.design.plain import plain_design
from studio.errors import YokewrightError
from studio.numbers import LengthUnit
from studio.window import dialogs, recent
from studio.window.body_dialog import BodyDialog, unit_of_bodies
from studio.window.document import Document
from studio.window.drawn_block import read_design, what_was_done
from studio.window.on_disk import written_after
from studio.window.recovery import LeftBehind, Recovery, ago
from studio.window.save_path import FILTER, ask_save_path
from studio.window.widgets import end_typing

ASIDE_AFTER_MS = 2500
"""Unsaved work is put aside this long after the first change that is not, so that a maker who never
rests for so long is not left without.
"""


class FileActs(QObject):
    """`over` is the widget that questions are asked over: first of all about unsaved work.

    `replaced` tells that another design is shown, `warned` carries what is no reason to stop.
    """

    replaced = Signal()
    warned = Signal(str)

    def __init__(self, document: Document, recovery: Recovery, over: QWidget) -> None:
        super().__init__(over)
        self._document = document
        self._over = over
        self.recovery = recovery
        self.unit: LengthUnit = "mm"
        self._aside = QTimer(self, singleShot=True, interval=ASIDE_AFTER_MS)
        self._aside.timeout.connect(self.put_aside)
        document.settled.connect(self._put_aside_soon)

    def new_design(self) -> None:
        """Start from a body."""
        if not self.may_leave():
            return
        dialog = BodyDialog(self._over, unit_of_bodies(self.unit))
        while dialog.exec():
            try:
                self._document.replace(plain_design(dialog.body()), None, saved=False)
            except YokewrightError as problem:
                told = numbers.retold(problem.sentence, dialog.unit)
                dialogs.tell(self._over, "No block can be drawn from these measures.", told)
                continue
            self._after_replacing()
            return

    def begin(self, way: str) -> None:
        """Begin in one of the ways of the start form."""
        ways = {"body": self.new_design, "drawing": self.open_drawing, "open": self.open_dialog}
        ways[way]()

    def open_file(self, path: Path) -> bool:
        """Open a project after the question about unsaved work; False when that was not done."""
        if not self.may_leave():
            return False
        try:
            self._document.open(path)
        except YokewrightError as problem:
            told = numbers.retold(problem.sentence, self.unit)
            dialogs.tell(self._over, "This file could not be opened.", told)
            return False
        self._after_replacing()
        recent.remember(path)
        return True

    def open_dialog(self) -> None:
        """Choose a file and open it."""
        start = str(self._document.path.parent) if self._document.path else ""
        name, _ = QFileDialog.getOpenFileName(self._over, "Open", start, FILTER)
        if name:
            self.open_file(Path(name))

    def open_drawing(self) -> None:
        """Choose a drawing, DXF or SVG, and make a block of its closed outlines."""
        kinds = "Drawings (*.dxf *.svg)"
        name, _ = QFileDialog.getOpenFileName(self._over, "Drawing of a block", "", kinds)
        if name and self.may_leave():
            self.take_drawing(Path(name))

    def take_drawing(self, path: Path, unit: str | None = None) -> bool:
        """Make a block of a drawing; asks for its unit when it has none. False when refused."""
        design = read_design(self._over, path, unit)
        if design is None:
            return False
        try:
            self._document.replace(design, None, saved=False)
        except YokewrightError as problem:
            told = numbers.retold(problem.sentence, self.unit)
            dialogs.tell(self._over, "No block could be made of this drawing.", told)
            return False
        self._after_replacing()
        done = what_was_done(design.block) if isinstance(design.block, ImportedBlock) else ""
        if done:
            dialogs.tell(self._over, "Not all of the drawing was taken as it is.", done)
        return True

    def open_demo(self) -> None:
        """Show the demonstration."""
        if self.may_leave():
            self._document.replace(demo_design(), None)
            self._after_replacing()

    def save(self) -> bool:
        """Save to the design's file, asking for one when there is none."""
        end_typing()
        if self._document.path is None:
            return self.save_as()
        return self._save_to(self._document.path)

    def save_as(self) -> bool:
        """Save to a file of the maker's choice."""
        end_typing()
        path = ask_save_path(self._over, self._document)
        return path is not None and self._save_to(path)

    def may_leave(self) -> bool:
        """Ask about unsaved work; True when it is saved or given up."""
        end_typing()
        if not self._document.history.is_dirty:
            return True
        answer = dialogs.ask_unsaved(self._over, self._document.title)
        if answer is dialogs.Answer.SAVE:
            return self.save()
        return answer is dialogs.Answer.DISCARD

    def _put_aside_soon(self) -> None:
        if not self._aside.isActive():
            self._aside.start()

    def put_aside(self) -> bool:
        """Keep unsaved work where a crash cannot take it; False when it cannot be kept there."""
        if not self._document.history.is_dirty:
            self.recovery.drop()
            return True
        try:
            self.recovery.keep(self._document.history.design, str(self._document.path or ""))
        except (YokewrightError, OSError) as problem:
            self.warned.emit(f"Unsaved work cannot be kept aside: {problem}")
            return False
        return True

    def offer_recovery(self) -> None:
        """Offer what an earlier window left behind when it was killed."""
        for kept in self.recovery.left_behind():
            name = Path(kept.original).name if kept.original else kept.design.name
            answer = dialogs.ask_recover(self._over, name, ago(kept.saved_at))
            if answer is None:
                continue
            if answer:
                if not self.may_leave():
                    return
                self._take_up(kept)
                return
            kept.aside.unlink(missing_ok=True)

    def end(self) -> None:
        """The window closes, and what is unsaved was given up: nothing more is put aside."""
        self._aside.stop()
        self.recovery.drop()

    def _take_up(self, kept: LeftBehind) -> None:
        """Show what was left behind; its file goes once the work is kept by this window."""
        original = Path(kept.original) if kept.original else None
        try:
            self._document.replace(kept.design, original, saved=False)
        except YokewrightError as problem:
            dialogs.tell(
                self._over, "This work could not be taken up.", f"{problem}\n\n{kept.aside}"
            )
            return
        if original is not None and written_after(original, kept.saved_at):
            self._document.trust_no_file()
        self._after_replacing()
        if self.put_aside():
            kept.aside.unlink(missing_ok=True)

    def _after_replacing(self) -> None:
        self.recovery.drop()
        self.replaced.emit()

    def _save_to(self, path: Path) -> bool:
        if self._document.is_changed_on_disk(path) and not dialogs.ask_write_over_others(
            self._over, path.name
        ):
            return False
        try:
            self._document.save(path)
        except YokewrightError as problem:
            dialogs.tell(self._over, "This file could not be saved.", problem.sentence)
            return False
        self.recovery.drop()
        recent.remember(path)
        return True
