"""Starting the program with a window, and pictures of the window for the docs."""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

from PySide6.QtCore import (
    QCoreApplication,
    QEventLoop,
    QMessageLogContext,
    QSize,
    Qt,
    QtMsgType,
    qInstallMessageHandler,
)
from PySide6.QtWidgets import QApplication

from studio.canvas.selection import NOTHING, Selection
from studio.canvas.theme import DARK, LIGHT
from studio.demo import demo_design
from studio.design import Design
from studio.design.file import load
from studio.exchange.paint.offscreen import ensure_gui
from studio.window.latest import leave
from studio.window.main_window import MainWindow
from studio.window.recovery import Recovery
from studio.window.road_pane import ALTERATIONS
from studio.window.sweeping import Sweeper

_NAME = "Yokewright"


def screen_is_there() -> bool:
    """True when a window can be shown: not forced offscreen, and a display on Linux."""
    if os.environ.get("QT_QPA_PLATFORM", "") in ("offscreen", "minimal"):
        return False
    if sys.platform.startswith("linux"):
        return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
    return True


def application() -> QApplication:
    """The one application, made when there is none; offscreen when there is no display."""
    known = ensure_gui()
    # One made for paper only has no name yet.
    if known.applicationDisplayName() != _NAME:
        QCoreApplication.setOrganizationName("yokewright")
        QCoreApplication.setApplicationName("yokewright")
        known.setApplicationDisplayName(_NAME)
        known.setStyle("Fusion")
        if known.platformName() == "offscreen":
            qInstallMessageHandler(_without_size_hints)
    return known


def _without_size_hints(_kind: QtMsgType, _where: QMessageLogContext, words: str) -> None:
    """Qt's words on the error output, less its regret that a window nobody sees has no frame."""
    if "propagateSizeHints" not in words:
        print(words, file=sys.stderr)


def run(path: Path | None, design: Design | None) -> int:
    """Show a window with a file, a design, or the demonstration; returns the exit code.

    Raises:
        BadInput: the file cannot be used.
    """
    shown = load(path) if path is not None else design or demo_design()
    app = application()
    window = MainWindow(shown, path)
    window.take_its_place()
    window.show()
    Sweeper(app)
    window.files.offer_recovery()
    return leave(int(app.exec()))


def picture_of_window(
    design: Design,
    target: Path,
    *,
    size: tuple[int, int] = (1600, 1000),
    dark: bool = False,
    selection: Selection = NOTHING,
    close: bool = False,
) -> None:
    """Save a picture of the real window showing a design, without a screen if need be; `close`
    brings what is picked into view instead of all.

    Raises:
        OSError: the picture cannot be written.
    """
    application()
    window = MainWindow(design, None, recovery=Recovery(target.parent, token="0-picture"))
    if design != demo_design():
        window.document.history.mark_unsaved()  # Only the demonstration comes with the program.
    window.set_theme(DARK if dark else LIGHT)
    window.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    window.resize(QSize(*size))
    window.show()
    window.document.select(selection)
    if selection.kind == "step":
        window.road.open_stage(ALTERATIONS)
    _settle()
    if close:
        window.fit_picked()
    else:
        window.view.fit()
    _settle()
    if not window.grab().save(str(target)):
        raise OSError(f"{target} cannot be written.")
    window.close_quietly()


def _settle() -> None:
    """Let the window lay itself out."""
    end = time.monotonic() + 0.08
    while time.monotonic() < end:
        QCoreApplication.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 20)
