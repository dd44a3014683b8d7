"""How the laying table follows a design that is being changed: soon, but not for every move."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import QObject, QTimer, Signal

from studio.canvas.lay_scene import Key
from studio.cloth.items import Item
from studio.cloth.table import Table
from studio.design.cloth import Lay
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.window.latest import Latest
from studio.window.lay_summary import Followed, followed

FOLLOW_MS = 60
"""The table follows a design that is being changed this long after the last change it has shown."""


class LayFollowing(QObject):
    """`due` tells that a change is to be shown; `judged` carries what becomes of the lay, worked
    out beside the window. `offered` is the lay of changed pieces that the maker may take.
    """

    due = Signal()
    judged = Signal(object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.offered: Followed | None = None
        self._stood: tuple[Item, ...] = ()
        self._stood_lay: Lay | None = None
        self._judge = Latest(self)
        self._judge.answered.connect(self.judged)
        self._soon = QTimer(self, singleShot=True, interval=FOLLOW_MS)
        self._soon.timeout.connect(self.due)

    def changed(self) -> None:
        """The design is another one."""
        if not self._soon.isActive():
            self._soon.start()

    def is_over(self) -> None:
        """The design is about to be shown as it is now."""
        self._soon.stop()
        self.forget()
        self.offered = None

    def stands(self, table: Table) -> None:
        """What a lay was made for is kept: pieces that change later are held against it."""
        if table.lay is not self._stood_lay:
            self._stood_lay, self._stood = table.lay, tuple(table.items.values())

    def ask(
        self, pattern: Pattern, table: Table, names: Mapping[Key, str], unit: LengthUnit
    ) -> None:
        """Ask what becomes of the lay."""
        self._judge.ask(partial(followed, pattern, table, names, unit, self._stood))

    def forget(self) -> None:
        """What was asked is not to be told any more."""
        self._judge.forget()
