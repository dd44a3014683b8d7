"""Light or dark, and how large letters are: as the maker chose, or as the desktop has it, also when
the desktop is given another look while the window is open.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, runtime_checkable

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog

from studio.canvas.let_go import LetGo
from studio.canvas.pan_zoom import PanZoomView
from studio.canvas.sheet_item import forget_letters
from studio.canvas.theme import DARK, LIGHT, Theme
from studio.canvas.type_size import letters, size_all_again
from studio.window import recent

if TYPE_CHECKING:
    from studio.window.main_window import MainWindow

TOLD_BY = frozenset({QEvent.Type.ApplicationFontChange, QEvent.Type.ThemeChange})
"""The events by which a window hears that the desktop looks another way; that it has become dark
is told by a signal.
"""


@runtime_checkable
class Themed(Protocol):
    """A window that paints something in colours of its own."""

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""


class Look(QObject):
    """How one window looks, with all that stands beside it. `chosen` is True for dark, False for
    light, None for as the desktop has it.
    """

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self.chosen: bool | None = None
        self._desktop = desktop_theme()
        self._letters = letters()
        self._soon = QTimer(self, singleShot=True, interval=0)
        self._soon.timeout.connect(self._take)
        self._let_go = LetGo(self)
        app = QGuiApplication.instance()
        assert isinstance(app, QGuiApplication)
        app.styleHints().colorSchemeChanged.connect(self.ask)
        app.primaryScreenChanged.connect(self.ask)
        for screen in app.screens():
            screen.logicalDotsPerInchChanged.connect(self.ask)

    @property
    def theme(self) -> Theme:
        """What was chosen, or what the desktop has."""
        return self._desktop if self.chosen is None else DARK if self.chosen else LIGHT

    def choose(self, dark: bool | None) -> None:
        """Look so, also the next time the program is started."""
        recent.keep_dark(dark)
        self.take_up(dark)

    def take_up(self, dark: bool | None) -> None:
        """Look as was chosen before."""
        self.chosen = dark
        self._window.set_theme(self.theme)

    def ask(self, *_told: object) -> None:
        """Look at the desktop in a moment: what it says comes in several events. They are only a
        reason to look; where nothing differs nothing is done, so that none leads to another.
        """
        self._soon.start()

    def _take(self) -> None:
        self._let_go.then(self._take_now)

    def _take_now(self) -> None:
        """What the desktop has now."""
        desktop, is_lettered = desktop_theme(), letters()
        if is_lettered != self._letters:
            self._letters, self._desktop = is_lettered, desktop
            self._take_letters()
        elif desktop is not self._desktop:
            self._desktop = desktop
            if self.chosen is None:
                self._window.set_theme(desktop)

    def _take_letters(self) -> None:
        forget_letters()
        size_all_again()
        self._window.set_theme(self.theme)
        self._window.ledger.take_letters()
        # Layouts reckon anew at the next turn of the event loop.
        QTimer.singleShot(0, self, self._give_room)

    def _give_room(self) -> None:
        self._let_go.then(self._give_room_now)

    def _give_room_now(self) -> None:
        """Names on the sheet need other gaps between pieces; show all of what is on sheet and table
        again, and all of a dialog.
        """
        self._window.lay_out_anew()
        for view in self._views():
            view.keep_all_shown(anew=True)
        for dialog in self._window.findChildren(QDialog):
            if dialog.isVisible():
                whole = dialog.sizeHint().boundedTo(dialog.screen().availableSize())
                dialog.resize(dialog.size().expandedTo(whole))

    @property
    def is_held(self) -> bool:
        """True while a hand drags in a view of the window, or of one beside it."""
        return any(view.is_held for view in self._views())

    def _views(self) -> list[PanZoomView]:
        return self._window.findChildren(PanZoomView)


def desktop_theme() -> Theme:
    """Light or dark, as the desktop is; light where it does not say."""
    scheme = QGuiApplication.styleHints().colorScheme()
    return DARK if scheme == Qt.ColorScheme.Dark else LIGHT
