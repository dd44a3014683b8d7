"""Which copy of a piece is which: of a pair one is drawn, the other its mirror image."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal, TypeAlias

from studio.block.panel import Panel
from studio.cut.piece import Piece

Leg: TypeAlias = Literal["left", "right", ""]

_OTHER: dict[Leg, Leg] = {"left": "right", "right": "left", "": ""}


def drawn_legs(panels: Iterable[Panel]) -> dict[str, Leg]:
    """For each panel the wearer's leg it is drawn as, its right side up: seen from the front, a
    front with its rise to the left of its side seam is the left leg; seen from behind, so is a
    back with its rise to the right. "" where rise or side seam is not known.
    """
    return {panel.name: _drawn_leg(panel) for panel in panels}


def copy_words(piece: Piece, copy: int, legs: Mapping[str, Leg]) -> str:
    """Which copy that is: "left", "right", "2 of 5", or "" for the only one. Even copies of a pair
    are as drawn, odd ones mirrored.
    """
    if piece.cut == "pair":
        drawn = legs.get(piece.panel, "")
        leg = drawn if copy % 2 == 0 else _OTHER[drawn]
        words = leg or ("as drawn" if copy % 2 == 0 else "mirrored")
        return words if piece.count == 1 else f"{words} {copy // 2 + 1} of {piece.count}"
    return "" if piece.count == 1 else f"{copy + 1} of {piece.count}"


def copy_name(piece: Piece, copy: int, legs: Mapping[str, Leg]) -> str:
    """The piece with the words for its copy: "back-leg, left"."""
    words = copy_words(piece, copy, legs)
    return f"{piece.name}, {words}" if words else piece.name


def _drawn_leg(panel: Panel) -> Leg:
    rise, side = f"{panel.name}.rise", f"{panel.name}.side"
    if panel.name not in ("front", "back"):
        return ""
    if not (panel.outline.has(rise) and panel.outline.has(side)):
        return ""
    middles = [panel.outline.edge(name).chain.box.centre.x for name in (rise, side)]
    is_left = (middles[0] < middles[1]) == (panel.name == "front")
    return "left" if is_left else "right"
