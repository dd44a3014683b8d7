"""What the program remembers from one start to the next: files, the window, its unit and look."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, QSettings

from studio.numbers import MILLIMETRES, LengthUnit

_MOST = 8
_KEY = "recent"
_GEOMETRY = "window"
_UNIT = "unit"
_DARK = "dark"


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


def unit() -> LengthUnit:
    """What lengths were last shown in; mm before any was chosen."""
    value: Any = QSettings().value(_UNIT, "mm")
    return value if value in MILLIMETRES else "mm"


def keep_unit(chosen: LengthUnit) -> None:
    """Keep what lengths are shown in."""
    QSettings().setValue(_UNIT, chosen)


def dark() -> bool | None:
    """Whether the maker chose the dark look, or the light one; None before either was chosen."""
    return {"yes": True, "no": False}.get(str(QSettings().value(_DARK, "")))


def keep_dark(chosen: bool | None) -> None:
    """Keep which look was chosen; None forgets it, and the program looks as the desktop does."""
    if chosen is None:
        QSettings().remove(_DARK)
    else:
        QSettings().setValue(_DARK, "yes" if chosen else "no")


def remember(path: Path) -> None:
    """Put a file first."""
    known = [str(path.resolve()), *(str(other) for other in files())]
    QSettings().setValue(_KEY, list(dict.fromkeys(known))[:_MOST])
