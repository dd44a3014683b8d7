"""To which side a dart is pressed: the work sheet says it, and the cut line is folded by it."""

from __future__ import annotations

from typing import Literal, TypeAlias

from studio.block.panel import Dart
from studio.curves import Outline

Leg: TypeAlias = Literal["first", "last"]

PRESSED = "Press upright darts, as at the waist, towards the middle, level ones downwards."
"""Common practice, no source."""


def pressed_toward(dart: Dart, outline: Outline) -> Leg:
    """The leg towards which a dart is pressed, on a piece that is drawn with its grain up.

    A dart whose mouth runs more across than up and down stands upright: it goes to the side on
    which the rise lies, or away from that of the side seam; where a piece has neither, towards its
    last leg, which is nearer to the rise in a block as it is drafted. A level one goes down. A
    pleat goes to the side its maker chose.
    """
    across = dart.last - dart.first
    if abs(across.x) < abs(across.y):
        return "first" if across.y > 0.0 else "last"
    to_middle = _to_middle(dart, outline)
    if dart.pleat is not None and dart.pleat.towards == "side":
        to_middle = -to_middle or -across.x
    return "first" if across.x * to_middle < 0.0 else "last"


def _to_middle(dart: Dart, outline: Outline) -> float:
    """On which side of a dart the middle lies: right of it when positive, 0 when not known."""
    mouth = dart.first.toward(dart.last, 0.5).x
    for wanted, sign in (("rise", 1.0), ("side", -1.0)):
        for edge in outline:
            if edge.name.rpartition(".")[2] == wanted:
                box = edge.chain.box
                return sign * ((box.left + box.right) / 2.0 - mouth)
    return 0.0
