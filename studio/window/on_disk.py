"""What a project file held when this window last read or wrote it. No Qt."""

from __future__ import annotations

import hashlib
from pathlib import Path


def seen(path: Path | None) -> bytes:
    """A fingerprint of what a file holds now; empty without a file, or when it cannot be read."""
    if path is None:
        return b""
    try:
        return hashlib.blake2b(path.read_bytes()).digest()
    except OSError:
        return b""


def written_after(path: Path, seconds: float) -> bool:
    """Whether a file was written later than so many seconds after 1970."""
    try:
        return path.stat().st_mtime > seconds
    except OSError:
        return False
