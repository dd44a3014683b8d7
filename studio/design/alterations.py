"""Flat-pattern work asked for, step by step; how each is done lives in `studio.alter`.

Every step names its panel, and may bear a name of the maker's own. Lengths are mm. A step that is
not `active` is kept but not done.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from studio.curves.point import Vector
from studio.design.kept import Kept
from studio.design.lines import Node, OnEdge

WaistEnd: TypeAlias = Literal["side", "rise"]


class _Step(Kept, frozen=True, kw_only=True, tag_field="kind"):
    """What every step has."""

    active: bool = True
    name: str = ""


class LowerWaist(_Step, frozen=True, tag="lower-waist"):
    """Move a panel's waist down the grain, by amounts at its rise end and its side end."""

    panel: str
    at_rise: float
    at_side: float


class SwingRise(_Step, frozen=True, tag="swing-rise"):
    """Move the top of a panel's rise in towards the side by `amount`.

    The new rise runs straight to the hip line and smooth into what is below. With
    `releases_darts` the panel's waist darts are given up: the swing takes out their width.
    """

    panel: str
    amount: float
    releases_darts: bool = False


class Hinge(_Step, frozen=True, tag="hinge"):
    """Turn the part of a panel above a line about `pivot`, so that `opening`, the other end of
    the line, opens by `amount` (negative: closes).
    """

    panel: str
    pivot: OnEdge
    opening: OnEdge
    amount: float


class CloseDart(_Step, frozen=True, tag="close-dart"):
    """Turn a dart shut: its width opens on another edge, at `into`, and stays there as fullness."""

    panel: str
    dart: str
    into: OnEdge


class MoveDart(_Step, frozen=True, tag="move-dart"):
    """Turn `share` (0 to 1) of a dart shut, so that a dart opens at another place."""

    panel: str
    dart: str
    to: OnEdge
    share: float = 1.0


class SplitDart(_Step, frozen=True, tag="split-dart"):
    """Make two darts of one, with their middles `apart` along the edge; the first one met
    counter-clockwise takes `share` (0 to 1) of the intake.
    """

    panel: str
    dart: str
    apart: float
    share: float = 0.5


class OpenDart(_Step, frozen=True, tag="open-dart"):
    """Cut a panel from `at` to `across` and open it: the gap is a dart called `dart`, `intake` wide
    at its edge and `length` long. The part above turns about `across`; with `both`, it moves up as
    it is, and a dart takes the gap in at either end.
    """

    panel: str
    dart: str
    at: OnEdge
    across: OnEdge
    intake: float
    length: float
    both: bool = False


class ShortenDart(_Step, frozen=True, tag="shorten-dart"):
    """Bring a dart's point nearer to its edge by `amount` (negative: further in)."""

    panel: str
    dart: str
    amount: float


class FoldPleat(_Step, frozen=True, tag="fold-pleat"):
    """Fold a dart as a pleat instead of sewing it: at its edge it takes in its whole width, below
    it opens. What is inside is pressed `towards` rise or side, and it is sewn `down` mm from the
    edge.
    """

    panel: str
    dart: str
    towards: WaistEnd = "rise"
    down: float = 0.0


class TakeOffDart(_Step, frozen=True, tag="take-off-dart"):
    """Take `amount` of a dart's intake off the end of the waist at side or rise instead; left out,
    the whole intake. The edge there runs back to where it was at the level line `level`.
    """

    panel: str
    dart: str
    at: WaistEnd
    amount: float | None = None
    level: str = "hip"


class TakeIn(_Step, frozen=True, tag="take-in"):
    """Move an edge inward by `amount` (negative: let it out).

    `at` is the level line where the whole amount is taken, from which it tapers to nothing at
    `upper` and `lower`; an end of the edge that lies on `at` needs only the other of the two. Where
    the end is the fork, at the crotch line, `upper` is where the rise runs back to.
    """

    panel: str
    edge: str
    amount: float
    at: str
    upper: str = ""
    lower: str = ""


class MoveSeam(_Step, frozen=True, tag="move-seam"):
    """Move an edge inwards by `amount` across the grain as it is (negative: outwards): the seam
    lies elsewhere on the wearer once the edge it is sewn to is moved out by as much.
    """

    panel: str
    edge: str
    amount: float


class Lengthen(_Step, frozen=True, tag="lengthen"):
    """Lengthen a panel by `amount` at a level line, or `above` mm above it; negative shortens."""

    panel: str
    level: str
    amount: float
    above: float = 0.0


class Spread(_Step, frozen=True, tag="spread"):
    """Cut along a straight line and open it by an amount at each end: alike is parallel, nothing
    at one end is hinged.
    """

    panel: str
    start: OnEdge
    end: OnEdge
    at_start: float
    at_end: float


class Reshape(_Step, frozen=True, tag="reshape"):
    """Redraw an edge by hand between its two ends, its darts closed.

    Nodes and handles are kept in the frame of the chord, as those of a style line are.
    """

    panel: str
    edge: str
    nodes: tuple[Node, ...] = ()
    start_handle: Vector | None = None
    end_handle: Vector | None = None


class FairEdge(_Step, frozen=True, tag="fair-edge"):
    """Redraw an edge smooth, its darts closed, straying no more than `within` from what it was."""

    panel: str
    edge: str
    within: float = 2.0


class Straighten(_Step, frozen=True, tag="straighten"):
    """Redraw an edge straight, from end to end or between the level lines `upper` and `lower`."""

    panel: str
    edge: str
    upper: str = ""
    lower: str = ""


class MirrorEdge(_Step, frozen=True, tag="mirror-edge"):
    """Give `onto` the shape of `edge`, mirrored in the crease line, from the level line `upper`
    down to the hem.
    """

    panel: str
    edge: str
    onto: str
    upper: str = "knee"


class TrueSeam(_Step, frozen=True, tag="true-seam"):
    """Make an edge that ends at the waist as long as `other`, an edge of any panel as it is after
    the steps before, and `ease` longer.
    """

    panel: str
    edge: str
    other: str
    ease: float = 0.0


class AddLevel(_Step, frozen=True, tag="add-level"):
    """Add a level line `up` mm above another (negative: below)."""

    panel: str
    level: str
    of: str
    up: float


Alteration: TypeAlias = (
    LowerWaist
    | SwingRise
    | Hinge
    | CloseDart
    | MoveDart
    | SplitDart
    | OpenDart
    | ShortenDart
    | FoldPleat
    | TakeOffDart
    | TakeIn
    | MoveSeam
    | Lengthen
    | Spread
    | Reshape
    | FairEdge
    | Straighten
    | MirrorEdge
    | TrueSeam
    | AddLevel
)
