"""The photograph under a tracing: its file, its picture, and how it was brought to scale."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias

from PySide6.QtGui import QImage

from studio.canvas.photograph import Straightened, read_photograph, straightened
from studio.cloth.perspective import Perspective, perspective_of
from studio.design.cloth import Place, Trace
from studio.errors import BadInput
from studio.exchange.stash_file import beside

Marks: TypeAlias = tuple[tuple[Place, ...], tuple[Place, ...]]
"""Marks in the picture (pixels), and where they lie on the cloth (mm)."""

_SAME = 1e-6
"""Marks (pixels) and places on the cloth (mm) nearer than this are the same; the sides of a sheet
come back from a file with the rounding of a square root.
"""


class TracedPhotograph:
    """None is taken at first: `path` is then None, and so is `seen` until it is straightened.

    `home` is the folder from which photographs are named.
    """

    def __init__(self, home: Path | None) -> None:
        self._home = home
        self._image: QImage | None = None
        self._marks: Marks = ((), ())
        self.path: Path | None = None
        self.seen: Perspective | None = None

    def found(self, named: str) -> Path:
        """Where a photograph lies that is named in a project."""
        return Path(named) if self._home is None else self._home / named

    def take(self, path: Path) -> QImage:
        """Take a photograph; raises BadInput when it cannot be read, and the old one stays."""
        self._image = read_photograph(path)
        self.path = path
        return self._image

    def straighten(
        self, marks: Marks, ground: str, carry: Callable[[Callable[[Place], Place]], None]
    ) -> Straightened:
        """The picture without its perspective; `carry` is called with how what is drawn moves when
        the scale was another before.

        Raises:
            BadInput: the marks give no scale, or something drawn cannot be carried over.
        """
        assert self._image is not None
        seen, before = perspective_of(*marks), self.seen
        cloth = straightened(self._image, seen, ground)
        if before is not None and before != seen:
            carry(lambda place: seen.on_cloth(before.in_picture(place)))
        self.seen, self._marks = seen, marks
        return cloth

    def unscaled(self) -> None:
        """Its scale is to be set anew."""
        self.seen = None

    def is_straight_by(self, now: Marks) -> bool:
        """Whether it was straightened with these marks."""
        used = self._marks
        pairs = zip((*now[0], *now[1]), (*used[0], *used[1]), strict=False)
        same = all(math.dist(one, two) < _SAME for one, two in pairs)
        return same and len(now[0]) == len(used[0])

    def trace(self, face_down: bool) -> Trace:
        """What is kept of it with the panel that is traced."""
        if self.path is None or self.seen is None:
            raise BadInput("Bring the photograph to scale first.")
        return Trace(beside(self.path, self._home), *self._marks, face_down)

    def let_go(self) -> None:
        """Drop the picture: it is large."""
        self._image = None
