"""Lists of pieces on paper: every entry as high as its words need, shared out on pages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import msgspec
from PySide6.QtCore import QPointF
from PySide6.QtGui import QPainter

from studio.exchange.paint.writing import LEADING, Align, width_of, wrapped, write

TEXT = 3.4
"""Letters of an entry, mm."""

_SMALL, _INDENT = 2.6, 4.0
_LINE, _UNDER_NAME = 3.5, 5.5
"""From line to line of what is told below a name, and what the name and the gap take, mm."""

_ROW, _NUMBER, _NAME, _BETWEEN = 5.0, 6.0, 9.0, 6.0
"""Of an entry in columns: its height on one line, where its number ends and its name begins, and
the gap before what is told beside that, mm."""

_NAME_SHARE = 0.42
"""A name takes at most this share of the width before it goes on in the next line."""


class Line(msgspec.Struct, frozen=True):
    """Words of an entry: their baseline in mm right of and below that of its first line."""

    right: float
    below: float
    text: str
    size: float
    bold: bool = False
    align: Align = "left"


class Entry(msgspec.Struct, frozen=True):
    """An entry as it is set, its height in mm down to the next one."""

    lines: tuple[Line, ...]
    height: float


def entry_below(number: int, name: str, told: str, width: float) -> Entry:
    """Number and name in bold, below them in small letters what is told, within `width` mm."""
    before = f"{number}  "
    start = width_of(before, TEXT, bold=True)
    names = wrapped(name, TEXT, width - start, bold=True)
    lines = [Line(0.0, 0.0, before + names[0], TEXT, bold=True)]
    step = TEXT * LEADING
    lines += [Line(start, step * k, one, TEXT, bold=True) for k, one in enumerate(names) if k]
    under = step * (len(names) - 1)
    below = wrapped(told, _SMALL, width - _INDENT)
    lines += [Line(_INDENT, under + _LINE * k, one, _SMALL) for k, one in enumerate(below, 1)]
    return Entry(tuple(lines), under + _UNDER_NAME + _LINE * len(below))


def entries_beside(rows: Sequence[tuple[str, str]], width: float) -> list[Entry]:
    """Entries in columns within `width` mm: number, name, and beside it what is told. Names are
    given as much as the widest needs, up to a share; what is longer goes on in the next line.
    """
    widest = max((width_of(name, TEXT) for name, _ in rows), default=0.0)
    column = min(widest + 0.1, _NAME_SHARE * (width - _NAME))
    at = _NAME + column + _BETWEEN
    step = TEXT * LEADING
    found = []
    for number, (name, told) in enumerate(rows, start=1):
        lines = [Line(_NUMBER, 0.0, str(number), TEXT, bold=True, align="right")]
        names, beside = wrapped(name, TEXT, column), wrapped(told, TEXT, width - at)
        lines += [Line(_NAME, step * k, one, TEXT) for k, one in enumerate(names)]
        lines += [Line(at, step * k, one, TEXT) for k, one in enumerate(beside)]
        more = max(len(names), len(beside)) - 1
        found.append(Entry(tuple(lines), _ROW + step * more))
    return found


def write_entries(painter: QPainter, place: QPointF, entries: Iterable[Entry]) -> float:
    """Entries one under the other from the baseline of the first; gives the y (mm) at which the
    next would begin.
    """
    y = place.y()
    for entry in entries:
        for one in entry.lines:
            at = QPointF(place.x() + one.right, y + one.below)
            write(painter, at, one.text, one.size, bold=one.bold, align=one.align)
        y += entry.height
    return y


def shared_out(
    count: int, height_of: Callable[[int, bool], float], first: float, later: float
) -> list[range]:
    """Which entries each page lists: `height_of` gives the height of one by its index and whether
    it stands on the first page, `first` and `later` the room on that and on others, mm. The first
    page may have no room for any; every other has one at least.
    """
    found: list[range] = []
    start, used = 0, 0.0
    for index in range(count):
        high = height_of(index, not found)
        room = later if found else first
        if used + high > room and (index > start or not found):
            found.append(range(start, index))
            start, used = index, 0.0
            high = height_of(index, False)
        used += high
    return [*found, range(start, count)]
