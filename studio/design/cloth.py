"""The stash: cloths, what of them lies there, what each piece may be cut from, and the lay."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

import msgspec

from studio.design.kept import Kept

Place: TypeAlias = tuple[float, float]
"""x and y in mm, in the coordinates of the stock it lies on."""

FlawKind: TypeAlias = Literal["hole", "stain", "worn", "seam"]

Shrinkage: TypeAlias = Annotated[float, msgspec.Meta(ge=0.0, le=30.0)]
"""In per cent."""


class Cloth(Kept, frozen=True):
    """A cloth by name, with the colour it is shown in (#rrggbb).

    `stretch` is how far it stretches round the body, in per cent; the shrinkages are what the
    first wash takes off its length and width, in per cent, 0 when it was washed. On a cloth of
    `one_way` all pieces point up. `sides` says whether its back may be worn outside as well.
    """

    name: str
    colour: str
    note: str = ""
    stretch: float = 0.0
    fibre: str = ""
    warp_shrinkage: Shrinkage = 0.0
    weft_shrinkage: Shrinkage = 0.0
    one_way: bool = False
    sides: Literal["one", "both"] = "one"


class Flaw(Kept, frozen=True):
    """A place that no piece may cover: a closed area, or a band `wide` mm across along a line of
    points (an old seam) when `wide` is not 0. One that is not `avoided` is only drawn.
    """

    kind: FlawKind
    points: tuple[Place, ...]
    wide: float = 0.0
    avoided: bool = True
    note: str = ""


class Trace(Kept, frozen=True):
    """The photograph a panel was traced over, by its file beside the project, and the marks that
    brought it to scale: places in the picture in pixels from its upper left corner, and where
    they lie on the cloth in mm (two marks, or the four corners of a sheet). A photograph of a panel
    lying `face_down` shows the mirror image of the panel.
    """

    photograph: str
    pixels: tuple[Place, ...]
    marks: tuple[Place, ...]
    face_down: bool = False


class Roll(Kept, frozen=True, tag="roll", tag_field="as"):
    """Cloth from the roll: x across its `width`, y along its `length` and the warp, in mm; nothing
    is cut within `selvedge` mm of its long sides.
    """

    name: str
    cloth: str
    width: float
    length: float
    selvedge: float = 10.0
    flaws: tuple[Flaw, ...] = ()
    note: str = ""


class SalvagedPanel(Kept, frozen=True, tag="panel", tag_field="as"):
    """Cloth opened up from an old garment, right side up: its closed outline, and two places on
    one thread of the warp, from lower to upper.
    """

    name: str
    cloth: str
    outline: tuple[Place, ...]
    grain: tuple[Place, Place]
    flaws: tuple[Flaw, ...] = ()
    note: str = ""
    trace: Trace | None = None


Stock: TypeAlias = Roll | SalvagedPanel
"""One thing that lies there to be cut from."""


class CuttingRule(Kept, frozen=True):
    """How a piece may lie: on which stock (empty: any of its cloth), from which `cloths` besides
    its own, how far it may be turned off the grain, in degrees, whether it may lie across the
    grain or at any angle, whether it must point up, and whether it may be joined of two scraps.
    """

    piece: str
    stock: tuple[str, ...] = ()
    cloths: tuple[str, ...] = ()
    lies: Literal["along", "across", "free"] = "along"
    tolerance: float = 0.0
    one_way: bool = False
    may_join: bool = True


class Placement(Kept, frozen=True):
    """A piece of cloth laid on stock. Of a pair, even copies are as drawn and odd ones mirrored,
    seen on the right side. `at` is where the middle of its cut line lies on the stock; `turn`, in
    degrees counter-clockwise, is how far its grainline is off the stock's warp; `flipped` lays it
    face down. The search leaves a `locked` one where it is.
    """

    piece: str
    copy: int
    stock: str
    at: Place
    turn: float = 0.0
    flipped: bool = False
    locked: bool = False


class Lay(Kept, frozen=True):
    """Pieces laid on the stash, with at least `gap` mm of cloth between two cuts."""

    placements: tuple[Placement, ...] = ()
    gap: float = 2.0


class Shortage(Kept, frozen=True):
    """Allowance the maker does without on one copy of a piece: along `edge` from `start` to `end`
    mm, counter-clockwise, up to `missing` mm are not there.
    """

    piece: str
    copy: int
    edge: str
    start: float
    end: float
    missing: float
