"""The one Qt application that fonts and painting need, with a screen or without."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QPaintDevice, QPainter
from PySide6.QtWidgets import QApplication

from studio.errors import YokewrightError

_DISPLAYS = ("DISPLAY", "WAYLAND_DISPLAY")


def ensure_gui() -> QApplication:
    """The application there is, or a new one; offscreen on Linux when there is no display.

    It is one that could show a window as well, since a process can have only one and the window
    may be opened later.

    Raises:
        YokewrightError: the process already runs an application that can not paint text.
    """
    known = QCoreApplication.instance()
    if known is None:
        if sys.platform.startswith("linux") and not any(map(os.environ.get, _DISPLAYS)):
            os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        known = QApplication(sys.argv[:1])
    if not isinstance(known, QApplication):
        raise YokewrightError("Paper and pictures can not be painted in this process.")
    return known


@contextmanager
def painting(device: QPaintDevice) -> Iterator[QPainter]:
    """A painter that has let go of its device whatever happens: Qt crashes when it has not.

    Raises:
        YokewrightError: the device can not be painted on.
    """
    painter = QPainter()
    if not painter.begin(device):
        raise YokewrightError("Qt can not paint on this paper or picture.")
    try:
        yield painter
    finally:
        painter.end()
