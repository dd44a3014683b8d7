"""Under which name a design is saved: asked of the maker, never over a file that was not meant."""

from __future__ import annotations

import os
import re
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from studio.design.file import SUFFIX
from studio.window import dialogs
from studio.window.document import Document
from studio.window.one_line import one_line

_MOST_BYTES = 180
"""Of the 255 that most disks take (POSIX, NAME_MAX), less what is added to names of files."""

FILTER = f"Yokewright projects (*{SUFFIX})"


def stem_of(document: Document) -> str:
    """What files of a design are called: as its project is, else by its name, full stops kept."""
    if document.path is not None:
        return document.path.name.removesuffix(SUFFIX)
    name = re.sub(r'[\\/:*?"<>|]+', "-", one_line(document.design.name))
    return _short(name).strip(" .") or "pattern"


def _short(name: str) -> str:
    """As much of a name as a file may have, with what is added to it."""
    return name.encode("utf-8", "ignore")[:_MOST_BYTES].decode("utf-8", "ignore")


def ask_save_path(over: QWidget, document: Document) -> Path | None:
    """The project file of the maker's choice; None when the maker gives up."""
    start = str(document.path or f"{stem_of(document)}{SUFFIX}")
    name, _ = QFileDialog.getSaveFileName(over, "Save as", start, FILTER)
    if not name:
        return None
    path = Path(name)
    if path.suffix == SUFFIX:
        return path
    # The question about writing over a file was asked of the name as it was typed.
    path = path.with_name(path.name + SUFFIX)
    # Path.exists raises on what may not be looked at.
    if os.path.exists(path) and not dialogs.ask_write_over(over, path.name):
        return None
    return path
