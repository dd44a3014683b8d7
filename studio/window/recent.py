"""What the program remembers from one start to the next: files, and where the window was."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, QSettings

_MOST = 8
_KEY = "recent"
_GEOMETRY = "window"


def files() -> list[Path]:
    """Those that are still there."""
    value: Any = QSettings().value(_KEY, [])
    names = [value] if isinstance(value, str) else list(value or [])
    # Path.exists raises on what may not be looked at, as on a disk of another maker.
    return [Path(name) for name in names if os.path.exists(name)]


def window_geometry() -> QByteArray:
    """Where the window was last; empty when it has not been shown yet."""
    value: Any = QSettings().value(_GEOMETRY, QByteArray())
    return value if isinstance(value, QByteArray) else QByteArray()


def keep_window_geometry(geometry: QByteArray) -> None:
    """Keep where the window is."""
    QSettings().setValue(_GEOMETRY, geometry)


def remember(path: Path) -> None:
    """Put a file first."""
    known = [str(path.resolve()), *(str(other) for other in files())]
    QSettings().setValue(_KEY, list(dict.fromkeys(known))[:_MOST])
