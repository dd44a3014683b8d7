"""What the maker has picked. Never part of the design."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

from studio.cut.edit import Grip

Picked: TypeAlias = Literal["nothing", "line", "piece", "join", "edge", "step", "cloth", "stock"]


class Selection(msgspec.Struct, frozen=True):
    """A kind of thing and its name (a step's is its place in the recipe); for a line also the grip
    in hand.
    """

    kind: Picked = "nothing"
    name: str = ""
    grip: Grip | None = None


NOTHING = Selection()
