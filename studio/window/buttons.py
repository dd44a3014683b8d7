"""The buttons of panes and forms: with words, small with a sign, or opening a menu."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QMenu, QToolButton

from studio.canvas.plain_tip import plain_tip


def with_words(words: str, does: Callable[[], object]) -> QToolButton:
    """A button as wide as its words."""
    button = _made(words, "switch")
    button.clicked.connect(lambda _on=False: does())
    return button


def with_sign(
    sign: str, does: Callable[[], object], *, tip: str = "", called: str = ""
) -> QToolButton:
    """A small button with a sign; `tip` tells what it does, and so does `called` to who cannot see
    beside what it stands, where that is more.
    """
    button = _made(sign, "small")
    button.setToolTip(plain_tip(tip))
    button.setAccessibleName(called or tip)
    button.clicked.connect(lambda _on=False: does())
    return button


def with_menu(words: str, menu: QMenu | None = None) -> tuple[QToolButton, QMenu]:
    """A button that opens a menu as soon as it is pressed, and the menu: one that belongs to
    another, or one of its own, to be filled.
    """
    button = _made(words, "switch")
    button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
    opened = QMenu(button) if menu is None else menu
    button.setMenu(opened)
    return button, opened


def one_of_several(words: str, does: Callable[[], object]) -> QToolButton:
    """A button that stays down while what it stands for is chosen."""
    button = with_words(words, does)
    button.setCheckable(True)
    return button


def _made(words: str, role: str) -> QToolButton:
    button = QToolButton()
    button.setText(words)
    button.setProperty("role", role)
    return button
