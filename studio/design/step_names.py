"""Steps of the order of sewing that are called after a piece: its darts, rows asked for on it."""

from __future__ import annotations

from collections.abc import Callable

_DARTS, _ROWS, _THROUGH = "darts of ", "rows on ", "rows through "


def darts_name(piece: str) -> str:
    """What the step that sews a piece's darts is called."""
    return _DARTS + piece


def rows_name(piece: str) -> str:
    """What the step is called that stitches the rows asked for on a piece, through it alone."""
    return _ROWS + piece


def through_name(piece: str) -> str:
    """What the step is called that stitches rows through a piece and what it is laid on."""
    return _THROUGH + piece


def steps_of_piece(piece: str) -> tuple[str, ...]:
    """All steps that may be called after a piece."""
    return darts_name(piece), rows_name(piece), through_name(piece)


def renamed_step(step: str, name: Callable[[str], str]) -> str:
    """A step that is called after a piece, by what `name` calls that piece; another as it is."""
    for head in (_DARTS, _ROWS, _THROUGH):
        if step.startswith(head):
            return head + name(step.removeprefix(head))
    return step
