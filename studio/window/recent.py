"""Files opened or saved lately, newest first."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import QSettings

_MOST = 8
_KEY = "recent"


def files() -> list[Path]:
    """Those that are still there."""
    value: Any = QSettings().value(_KEY, [])
    names = [value] if isinstance(value, str) else list(value or [])
    return [Path(name) for name in names if Path(name).exists()]


def remember(path: Path) -> None:
    """Put a file first."""
    known = [str(path.resolve()), *(str(other) for other in files())]
    QSettings().setValue(_KEY, list(dict.fromkeys(known))[:_MOST])
