"""A bar on a terminal for long work; silent when the output is not a terminal."""

from __future__ import annotations

from types import TracebackType
from typing import TextIO

_WIDTH = 32


class Progress:
    """Counts up to `total` on one line of `stream`, as a context."""

    def __init__(self, total: int, stream: TextIO) -> None:
        self._total = total
        self._done = 0
        self._stream = stream
        self._shown = stream.isatty()

    def __enter__(self) -> Progress:
        self._draw()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.clear()

    def step(self) -> None:
        """One more done."""
        self._done += 1
        self._draw()

    def clear(self) -> None:
        """Take the bar away, so that other lines can be printed."""
        if self._shown:
            self._stream.write("\r\x1b[K")
            self._stream.flush()

    def _draw(self) -> None:
        if self._shown:
            filled = _WIDTH * self._done // self._total
            bar = "#" * filled + "." * (_WIDTH - filled)
            self._stream.write(f"\r[{bar}] {self._done} of {self._total}")
            self._stream.flush()
