"""Rivets at the open corners of pockets: how many must lie ready, and where they are set."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from studio.design.design import Design
from studio.design.pieces import ShapePiece
from studio.exchange.along import Stage
from studio.sew import SewnPiece

CORNERS = 2
"""A pocket opens between two corners."""

_CAUTION = (
    "Rivets are set last: no needle may meet one, it breaks and flies. Pierce a hole no wider than "
    "the shank through all layers, do not cut one; work on a hard base, and mind fingers and eyes."
)
"""Common practice, no source."""


def riveted(design: Design, pieces: Mapping[str, SewnPiece]) -> Iterator[tuple[str, int, bool]]:
    """Every pocket with rivets: its line, how many rivets it takes in the whole pair, and whether
    it is a patch.
    """
    shapes = {one.line: one.name for one in design.pieces if isinstance(one, ShapePiece)}
    for line in design.lines:
        if not line.riveted:
            continue
        is_patch = line.name in shapes
        counts = [
            sewn.piece.quantity
            for name, sewn in pieces.items()
            if (is_patch and name == shapes[line.name])
            or (line.kind == "mouth" and sewn.piece.outline.has(line.name))
        ]
        if counts:
            yield line.name, CORNERS * max(counts), is_patch


def rivets_ready(design: Design, pieces: Mapping[str, SewnPiece]) -> Iterator[str]:
    """The sentence on what must lie ready; nothing where there are no rivets."""
    count = sum(number for _, number, _ in riveted(design, pieces))
    if count:
        yield f"{count} rivets, long enough for all layers of cloth at the corner, and a setter."


def rivets_stages(design: Design, pieces: Mapping[str, SewnPiece]) -> Iterator[Stage]:
    """The step in which they are set; nothing where there are no rivets."""
    found = list(riveted(design, pieces))
    if not found:
        return
    sentences = [
        f"{name}: one rivet in each upper corner of the pocket, beside where the cloth beneath it "
        f"is drilled; {count} in all."
        if is_patch
        else f"{name}: one rivet at each end of the mouth, in the leg, close to the seam that ends "
        f"it; {count} in all."
        for name, count, is_patch in found
    ]
    yield Stage("Rivets", (*sentences, _CAUTION))
