"""The open design: its history, its pattern, what is picked, and the edit under way."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from msgspec.structs import replace
from PySide6.QtCore import QObject, QTimer, Signal

from studio.canvas.selection import NOTHING, Selection
from studio.design import Design
from studio.design.file import load, save
from studio.errors import YokewrightError
from studio.exchange.stash_file import at_home
from studio.pattern import Pattern, evaluate
from studio.window.history import History
from studio.window.on_disk import seen

_RESTS_AFTER_MS = 150
"""A hand that has not moved for so long rests."""

_KEPT = 16
"""Patterns of the last steps that are kept: undone and done again, they are there at once."""

_BESIDES_LINES = tuple(part for part in Design.__struct_fields__ if part != "lines")


class Document(QObject):
    """What a window shows. `shown` tells of every new pattern, previews included; `settled` of
    every step, undo and save; `picked` of the selection; `told` carries a hint, `refused` why not,
    each a sentence with what it brings (`errors.Told`).
    """

    shown = Signal()
    settled = Signal()
    picked = Signal()
    told = Signal(object)
    refused = Signal(object)

    def __init__(self, design: Design, path: Path | None = None) -> None:
        super().__init__()
        self._kept: dict[int, Pattern] = {}
        self.pattern: Pattern = self._whole_of(design)
        self.history = History(design)
        self.path = path
        self._seen = seen(path)
        self.selection: Selection = NOTHING
        self.only_lines_moved = False
        """While `shown` tells of a draft in which nothing has changed but where lines run."""
        self._resting = QTimer(self)
        self._resting.setSingleShot(True)
        self._resting.setInterval(_RESTS_AFTER_MS)
        self._resting.timeout.connect(self._finish)

    @property
    def design(self) -> Design:
        """The design as shown, a preview included."""
        return self.pattern.design

    def whole(self) -> Pattern:
        """The pattern of what is shown with nothing put off: what is written to a file."""
        if self.pattern.draft:
            self.pattern = self._whole_of(self.pattern.design)
        return self.pattern

    @property
    def is_untouched(self) -> bool:
        """True for a design that came with the program and has had nothing done to it."""
        return self.path is None and not self.history.is_dirty

    def _whole_of(self, design: Design) -> Pattern:
        """The whole pattern of a design; the very same again for one that was shown lately."""
        pattern = self._kept.pop(id(design), None)
        if pattern is None or pattern.design is not design:
            pattern = evaluate(design)
        self._kept[id(design)] = pattern
        while len(self._kept) > _KEPT:
            del self._kept[next(iter(self._kept))]
        return pattern

    @property
    def title(self) -> str:
        """What the window is called after."""
        return self.path.name if self.path is not None else self.design.name

    def open(self, path: Path) -> None:
        """Open a project file.

        Raises:
            YokewrightError: it cannot be used; the open design stays as it was.
        """
        # Before it is read: what is written to it meanwhile is asked about when it is saved.
        found = seen(path)
        self.replace(load(path), path, found=found)

    def replace(
        self, design: Design, path: Path | None, *, saved: bool = True, found: bytes | None = None
    ) -> None:
        """Show another design with a history of its own; `found` is what its file held when it was
        read, where that is not to be looked up.

        Raises:
            YokewrightError: no pattern can be made of it; the open design stays as it was.
        """
        pattern = self._whole_of(design)
        self.pattern, self.path = pattern, path
        self._seen = seen(path) if found is None else found
        self.history = History(design)
        if not saved:
            self.history.mark_unsaved()
        self.selection = NOTHING
        self.picked.emit()
        self.shown.emit()
        self.settled.emit()

    @property
    def home(self) -> Path | None:
        """The folder of the project, from which photographs are named; None before it is saved."""
        return None if self.path is None else self.path.parent

    def is_changed_on_disk(self, path: Path) -> bool:
        """True when somebody else has written the design's own file since it was read or saved."""
        return path == self.path and seen(path) not in (b"", self._seen)

    def trust_no_file(self) -> None:
        """What the design's file holds is later work than the design shown."""
        self._seen = b""

    def save(self, path: Path) -> None:
        """Write the project file; raises BadInput and keeps the old file when it cannot.

        In another folder, photographs are named from there, in every step of the history.
        """
        home = self.home

        def named_from_there(design: Design) -> Design:
            stash = at_home(design.stash, home, path.parent)
            return design if stash == design.stash else replace(design, stash=stash)

        design = named_from_there(self.history.design)
        note = save(design, path)
        renamed = design is not self.history.design
        self.history.rewrite(named_from_there)
        if renamed:
            self._show()
        self.path, self._seen = path, seen(path)
        self.history.mark_saved()
        self.settled.emit()
        if note:
            self.told.emit(note)

    def select(self, selection: Selection) -> None:
        """Pick something."""
        if selection != self.selection:
            self.history.end_merging()
            self.selection = selection
            self.picked.emit()

    def begin(self) -> Design:
        """Start an edit."""
        return self.history.design

    def preview(self, design: Design) -> None:
        """Show a design without taking a step, as a draft that is finished when the hand rests;
        one that gives no pattern is not shown.
        """
        before = self.pattern.design
        if design is before:
            return
        try:
            self.pattern = evaluate(design, self.pattern)
        except YokewrightError as problem:
            self.refused.emit(problem.sentence)
            return
        if self.pattern.draft:
            self._resting.start()
        self.only_lines_moved = self.pattern.draft and _only_lines_moved(design, before)
        self.shown.emit()
        self.only_lines_moved = False

    def _finish(self) -> None:
        """Show what a draft put off."""
        if self.pattern.draft:
            self.whole()
            self.shown.emit()

    def commit(self, label: str, merge: str = "") -> None:
        """What is shown becomes one step, unless it changes nothing."""
        self._finish()
        self._take_step(label, merge)
        self.settled.emit()

    def rollback(self) -> None:
        """What was there before the edit is there again."""
        if self.pattern.design is not self.history.design:
            self._show()

    def change(self, label: str, design: Design, merge: str = "") -> bool:
        """One whole step, unless no pattern can be made of it; then it is told and refused."""
        try:
            pattern = self._whole_of(design)
        except YokewrightError as problem:
            self.refused.emit(problem.sentence)
            self.shown.emit()
            return False
        self.pattern = pattern
        self._take_step(label, merge)
        self.shown.emit()
        self.settled.emit()
        return True

    def edit(self, label: str, made: Callable[[Design], Design]) -> bool:
        """One whole step by an edit of the design as it stands; one that is refused is told."""
        try:
            design = made(self.history.design)
        except YokewrightError as problem:
            self.refused.emit(problem.sentence)
            return False
        return self.change(label, design)

    def _take_step(self, label: str, merge: str) -> None:
        self.history.commit(label, self.pattern.design, merge)
        self._drop_lost_selection()

    def undo(self) -> None:
        """Go back a step."""
        if self.history.undo():
            self._show()
            self.settled.emit()

    def redo(self) -> None:
        """Go forward a step."""
        if self.history.redo():
            self._show()
            self.settled.emit()

    def _show(self) -> None:
        self.pattern = self._whole_of(self.history.design)
        self._drop_lost_selection()
        self.shown.emit()

    def _drop_lost_selection(self) -> None:
        known = {
            "line": {line.name for line in self.pattern.lines},
            "piece": {sewn.piece.name for sewn in self.pattern.pieces},
            "join": {join.name for join in self.design.joins},
            "cloth": {cloth.name for cloth in self.design.cloths},
            "stock": {stock.name for stock in self.design.stash},
        }
        if self.selection.kind == "step":
            known["step"] = {str(at) for at in range(len(self.design.alterations))}
        names = known.get(self.selection.kind)
        if names is not None and self.selection.name not in names:
            self.select(NOTHING)


def _only_lines_moved(design: Design, before: Design) -> bool:
    """True when both have the same in all but the course of their lines."""
    return len(design.lines) == len(before.lines) and all(
        getattr(design, part) is getattr(before, part) for part in _BESIDES_LINES
    )
