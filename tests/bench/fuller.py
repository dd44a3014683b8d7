"""A fuller pair than the demonstration: as many pieces and joins as trousers with a pocket for
everything may come to.
"""

from __future__ import annotations

from functools import cache

from studio.cut.parts import Part, PatchPocket, ToolLoop
from studio.demo import demo_design
from studio.design import Design
from studio.pattern import with_parts

LEAST_PIECES, LEAST_JOINS = 20, 60


def _parts() -> list[Part]:
    patches = [
        PatchPocket(
            name=f"{panel}-patch-{row}-{column}",
            panel=panel,
            from_side=True,
            width=34.0,
            height=46.0,
            point=0.0 if column % 2 else 8.0,
            down=300.0 + 62.0 * row,
            inward=14.0 + 46.0 * column,
            lean=0.0,
            pair=1,
        )
        for panel in ("front", "back")
        for row in range(8)
        for column in range(2)
    ]
    loops = [
        ToolLoop(name=f"loop-{k}", strap=20.0, drop=60.0, up=90.0 + 46.0 * k) for k in range(15)
    ]
    return [*patches, *loops]


@cache
def fuller_pair() -> Design:
    """The demonstration with 32 small patches and 15 loops more."""
    return with_parts(demo_design(), *_parts())
