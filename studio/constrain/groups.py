"""The table of equation groups: which one writes which sort of row."""

from __future__ import annotations

from collections.abc import Callable

from studio.constrain.curve_groups import Angles, OnCubic
from studio.constrain.group import Group
from studio.constrain.length_group import Lengths
from studio.constrain.place_groups import Apart, FromLine, Linear, Mirrored
from studio.constrain.rows import Rows

GROUPS: tuple[tuple[str, Callable[[Rows], Group]], ...] = (
    ("linear", Linear),
    ("line", FromLine),
    ("distance", Apart),
    ("mirror", Mirrored),
    ("on_run", OnCubic),
    ("length", Lengths),
    ("angle", Angles),
)
"""Every group, by the name `Rows` keeps its owners under."""
