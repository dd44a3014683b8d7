"""The button that takes a line or a piece away, and tells what went with it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtWidgets import QPushButton

from studio.canvas.selection import NOTHING
from studio.cut.taken_away import gone_between
from studio.design import Design
from studio.errors import YokewrightError
from studio.window.document import Document


def take_away(document: Document, name: str, without: Callable[[Design, str], Design]) -> bool:
    """Take it away as one step of the history; False, and the reason told, when that cannot be."""
    before = document.history.design
    try:
        after = without(before, name)
    except YokewrightError as problem:
        document.refused.emit(problem.sentence)
        return False
    if not document.change(f"Take away {name}", after):
        return False
    document.select(NOTHING)
    others = [one for one in gone_between(before, after) if one != name]
    if others:
        document.told.emit(f"With {name} went {', '.join(others)}. Undo brings all back.")
    return True


def take_away_button(
    document: Document, name: str, words: str, without: Callable[[Design, str], Design]
) -> QPushButton:
    """The button at the foot of a form."""
    button = QPushButton(words)
    button.clicked.connect(partial(take_away, document, name, without))
    return button
