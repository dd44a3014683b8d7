"""Unsaved work kept aside, so that a crash or a kill loses at most a few seconds. No Qt."""

from __future__ import annotations

import os
import time
from pathlib import Path

import msgspec
import platformdirs

from studio import numbers
from studio.design import Design
from studio.design.file import decoded, encoded, write_whole
from studio.errors import YokewrightError

_CLOCK_SLACK = 60.0
"""Seconds by which a clock that was set may put the start of a process after what it wrote."""


class LeftBehind(msgspec.Struct, frozen=True):
    """A design left behind by a window that did not end well; `original` is the file it came from
    or empty, `saved_at` seconds since 1970.
    """

    design: Design
    original: str
    saved_at: float
    aside: Path


class _Aside(msgspec.Struct, frozen=True):
    original: str
    saved_at: float
    project: str


class Recovery:
    """One window's file aside, named by its process and number."""

    def __init__(self, folder: Path | None = None, token: str | None = None) -> None:
        self.folder = folder or Path(platformdirs.user_state_dir("yokewright")) / "unsaved"
        self._file = self.folder / f"{token or f'{os.getpid()}-{time.time_ns()}'}.aside"

    def keep(self, design: Design, original: str) -> None:
        """Put the design aside.

        Raises:
            BadInput: the folder cannot be written to.
        """
        aside = _Aside(_tellable(original), time.time(), encoded(design).decode())
        self.folder.mkdir(parents=True, exist_ok=True)
        write_whole(self._file, msgspec.json.encode(aside))

    def drop(self) -> None:
        """The work is saved or given up: forget what was put aside."""
        self._file.unlink(missing_ok=True)

    def left_behind(self) -> list[LeftBehind]:
        """Designs put aside by windows whose process is gone, newest first; a file that cannot
        be read stays where it is.
        """
        found = []
        for path in sorted(self.folder.glob("*.aside")):
            if path == self._file or _is_running(path):
                continue
            try:
                aside = msgspec.json.decode(path.read_bytes(), type=_Aside)
                design = decoded(aside.project.encode(), str(path))
            except (msgspec.DecodeError, YokewrightError, OSError):
                continue
            found.append(LeftBehind(design, aside.original, aside.saved_at, path))
        return sorted(found, key=lambda kept: kept.saved_at, reverse=True)


def _tellable(name: str) -> str:
    """A file's name, empty where it is no text: some disks have such, and JSON takes text only."""
    try:
        name.encode()
    except UnicodeEncodeError:
        return ""
    return name


def _is_running(path: Path) -> bool:
    """True when the process that named the file still runs, and not another that was given its
    number since, as after the machine was started anew.
    """
    number, _, named_ns = path.stem.partition("-")
    if not number.isdigit() or int(number) == 0:
        return False
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return False
    except OSError:
        pass
    began = _began(int(number))
    return began is None or not named_ns.isdigit() or began <= int(named_ns) / 1e9 + _CLOCK_SLACK


def _began(process: int) -> float | None:
    """When a process began, in seconds since 1970, within a second or two; None where the system
    does not say (proc(5): field 22 of stat, in clock ticks since the start of the machine).
    """
    try:
        fields = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
        up = float(Path("/proc/uptime").read_text().split()[0])
        return time.time() - up + int(fields[19]) / os.sysconf("SC_CLK_TCK")
    except (OSError, ValueError, IndexError):
        return None


def ago(seconds: float) -> str:
    """How long ago it was, in words, that so many seconds had passed since 1970."""
    minutes = max(0.0, time.time() - seconds) / 60.0
    if minutes < 2.0:
        return "a moment ago"
    if minutes < 120.0:
        return f"{numbers.plain(minutes)} minutes ago"
    return f"{numbers.plain(minutes / 60.0)} hours ago"
