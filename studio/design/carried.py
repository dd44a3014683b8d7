"""What a pocket is made for."""

from __future__ import annotations

from studio.design.kept import Kept


class Carried(Kept, frozen=True):
    """A thing that a pocket or a loop must take: a box `long` by `wide` by `thick` mm. `pocket` is
    the name of a mouth line, of a patch pocket or of a loop.
    """

    pocket: str
    thing: str
    long: float
    wide: float
    thick: float


THINGS: dict[str, tuple[float, float, float]] = {
    "phone": (160.0, 78.0, 9.0),
    "folding rule": (240.0, 35.0, 15.0),
    "notebook": (148.0, 105.0, 12.0),
    "pencil": (175.0, 8.0, 8.0),
    "hammer": (110.0, 30.0, 30.0),
}
"""Usual sizes, mm (practice); of a hammer its head, which a loop must let through."""
