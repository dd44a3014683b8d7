"""What a draft-along sheet is made of."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from studio.curves import Box, Chain, Point

Stroke: TypeAlias = Literal["before", "drawn", "cut", "dashed"]
"""As it was before the stage; as the stage leaves it; a line to cut along; only marked."""


class Stroked(msgspec.Struct, frozen=True):
    """A line of a figure, mm, y up."""

    chain: Chain
    stroke: Stroke


class Figure(msgspec.Struct, frozen=True):
    """A small drawing: its lines, its lettered points, and the part of the plane it shows (mm)."""

    lines: tuple[Stroked, ...]
    points: tuple[tuple[str, Point], ...]
    view: Box


class Stage(msgspec.Struct, frozen=True):
    """One numbered step of the sheet: what it is called, what to do sentence by sentence, and how
    it looks when done. A `large` figure has half a page.
    """

    title: str
    sentences: tuple[str, ...]
    figure: Figure | None = None
    large: bool = False


class Sheet(msgspec.Struct, frozen=True):
    """A whole draft-along sheet: what to read before, then the stages in order."""

    title: str
    before: tuple[str, ...]
    stages: tuple[Stage, ...]
