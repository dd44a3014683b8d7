"""The recipe in the road: every step in one line, switched, picked, moved, taken away, added."""

from __future__ import annotations

from functools import partial

from msgspec.structs import replace
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QMenu,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from studio import numbers
from studio.alter import KINDS, kind_of
from studio.alter.toile import step_called
from studio.canvas.plain_tip import plain_tip
from studio.canvas.selection import Selection
from studio.design.alterations import Alteration
from studio.design.recipe import step_added, step_changed, step_moved, step_removed
from studio.errors import GeometryRefused
from studio.numbers import LengthUnit
from studio.window.buttons import with_menu, with_sign
from studio.window.document import Document
from studio.window.entry_button import EntryButton
from studio.window.menu_letters import with_letters
from studio.window.widgets import emptied, faint


class StepsPane(QWidget):
    """Made anew whenever the recipe changes its length or order."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self._unit: LengthUnit = "mm"
        self._rows: list[tuple[QCheckBox, QPushButton]] = []
        self._of_picked: list[QToolButton] = []
        self._shape: tuple[object, ...] | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(8, 2, 8, 10)
        self._column.setSpacing(2)
        self.refresh()

    def set_unit(self, unit: LengthUnit) -> None:
        """Write lengths in another unit."""
        self._unit = unit
        self.refresh()

    def refresh(self) -> None:
        """Show the recipe as it stands."""
        steps = self._document.design.alterations
        shape = tuple((type(step), step.panel) for step in steps)
        if shape != self._shape:
            self._shape = shape
            self._build(len(steps))
        picked = self._document.selection
        made = self._document.pattern.steps
        for at, ((check, button), step) in enumerate(zip(self._rows, steps, strict=True)):
            check.blockSignals(True)
            check.setChecked(step.active)
            check.blockSignals(False)
            failed = at < len(made) and made[at].after is None
            called = step_called(step, self._document.design.toile, self._say)
            words = called or f"{kind_of(step).title}, {step.panel}"
            button.setText(f"{at + 1}  {'⚠ ' if failed else ''}{words}")
            button.setToolTip(plain_tip(self._sentence(step)))
            button.setChecked((picked.kind, picked.name) == ("step", str(at)))
        for act in self._of_picked:
            act.setEnabled(self._picked() is not None)

    def _build(self, count: int) -> None:
        emptied(self._column)
        self._rows = []
        for at in range(count):
            self._column.addWidget(self._row(at))
        if not count:
            self._column.addWidget(faint("None: the panels are the block's own."))
        self._column.addWidget(self._buttons())

    def _row(self, at: int) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(2)
        check = QCheckBox()
        check.setAccessibleName(f"Step {at + 1} is done")
        check.setToolTip("Do this step")
        check.toggled.connect(lambda on, at=at: self._switch(at, on))
        button = EntryButton()
        button.clicked.connect(lambda _on, at=at: self._pick(at))
        line.addWidget(check)
        line.addWidget(button, 1)
        self._rows.append((check, button))
        return row

    def _buttons(self) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 6, 0, 0)
        line.setSpacing(3)
        adding, menu = with_menu("Add a step")
        menu.aboutToShow.connect(partial(self._fill, menu))
        line.addWidget(adding)
        line.addStretch(1)
        self._of_picked = []
        for text, told, act in (
            ("↑", "Do the picked step earlier", partial(self._move, -1)),
            ("↓", "Do the picked step later", partial(self._move, 1)),
            ("✕", "Take the picked step away", self._remove),
        ):
            button = with_sign(text, act, tip=told)
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            self._of_picked.append(button)
            line.addWidget(button)
        return row

    def _fill(self, menu: QMenu) -> None:
        """One submenu a panel, with the kinds that find something to work on there."""
        menu.clear()
        panels = self._document.pattern.panels
        names = with_letters([panel.name.capitalize() for panel in panels])
        # A kind has its letter whether others are offered beside it or not.
        titles = with_letters([kind.title for kind in KINDS.values()])
        for panel, name in zip(panels, names, strict=True):
            part = menu.addMenu(name)
            for kind, title in zip(KINDS.values(), titles, strict=True):
                try:
                    step = kind.fresh(panel)
                except GeometryRefused:
                    continue
                part.addAction(title, partial(self._add, step))

    def _add(self, step: Alteration) -> None:
        """After the picked step, or as the last."""
        design = self._document.history.design
        picked = self._picked()
        at = len(design.alterations) if picked is None else picked + 1
        label = f"{kind_of(step).title}, {step.panel}"
        if self._document.change(label, step_added(design, step, at)):
            self._pick(at)

    def _picked(self) -> int | None:
        selection = self._document.selection
        if selection.kind != "step":
            return None
        at = int(selection.name)
        return at if at < len(self._document.design.alterations) else None

    def _pick(self, at: int) -> None:
        self._document.select(Selection("step", str(at)))
        self.refresh()

    def _switch(self, at: int, active: bool) -> None:
        design = self._document.history.design
        step: Alteration = replace(design.alterations[at], active=active)
        label = f"{'Do' if active else 'Leave out'} step {at + 1}"
        self._document.change(label, step_changed(design, at, step))

    def _move(self, by: int) -> None:
        at = self._picked()
        if at is None:
            return
        design = self._document.history.design
        to = min(len(design.alterations) - 1, max(0, at + by))
        if to != at and self._document.change(f"Move step {at + 1}", step_moved(design, at, by)):
            self._pick(to)

    def _remove(self) -> None:
        at = self._picked()
        if at is None:
            return
        design = self._document.history.design
        title = kind_of(design.alterations[at]).title
        if self._document.change(f"Take away: {title}", step_removed(design, at)):
            self._document.select(Selection())
            self.refresh()

    def _sentence(self, step: Alteration) -> str:
        return str(kind_of(step).sentence(step, self._say))

    def _say(self, mm: float) -> str:
        return numbers.length(mm, self._unit, numbers.DECIMALS[self._unit])
