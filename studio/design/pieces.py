"""The pieces to cut, each by what bounds it."""

from __future__ import annotations

from typing import Literal, TypeAlias

from studio.design.kept import Kept

Cut: TypeAlias = Literal["pair", "single"]
RestAt: TypeAlias = Literal["side", "rise", "none"]


class Bound(Kept, frozen=True):
    """A line that bounds a piece, and which side of it, walked from its start, is kept."""

    line: str
    keep: Literal["left", "right"]


class BandEnd(Kept, frozen=True):
    """How a band that is cut off a panel ends at the centre front, when it is closed by a button.

    The end on top has a buttonhole. The one under it, on the piece that is turned `over`, goes on
    beyond the centre front for `overlap` mm, and has the button, `button` mm across; 0 for none.
    """

    overlap: float
    button: float = 17.0


class PanelPiece(Kept, frozen=True, tag="panel", tag_field="from"):
    """What is left of a panel inside its bounds, in order.

    `close_darts` turns the darts shut and fairs the long edges (a yoke). `rest_at` says where
    the dart width left below such a cut is taken out, and `rest_level` down to which level line
    that tapers. `marks` are lines drawn on the piece. `below` is the bound along which a band was
    cut off the top: the rest is taken out there before the other bounds cut, and lines that end on
    the waist divide the edge below it where they cross. `ends` is for such a band itself. A
    piece turned `over` is drawn as the other leg has it, mirrored; joins speak of it as of any
    piece that is cut once.
    """

    name: str
    panel: str
    bounds: tuple[Bound, ...] = ()
    close_darts: bool = False
    rest_at: RestAt = "none"
    rest_level: str = "hip"
    marks: tuple[str, ...] = ()
    cut: Cut = "pair"
    count: int = 1
    cloth: str = "main"
    below: str = ""
    ends: BandEnd | None = None
    over: bool = False


class ShapePiece(Kept, frozen=True, tag="shape", tag_field="from"):
    """A piece with the shape of a closed line: a patch pocket. `marks` are lines drawn on it, such
    as where a smaller pocket is laid on.
    """

    name: str
    line: str
    cut: Cut = "single"
    count: int = 1
    cloth: str = "main"
    marks: tuple[str, ...] = ()


class WaistbandPiece(Kept, frozen=True, tag="waistband", tag_field="from"):
    """A straight band, folded along its length: as long as the waist that join `fits` gives it
    for one half, twice, and `overlap`; `width` is the finished width. Button and buttonhole are
    marked for a button `button` mm across; 0 for none. A part of a band that is joined of scraps
    holds only what lies beyond `after` and up to `before`, mm from the centre back towards the
    overlap (negative: towards the buttonhole).
    """

    name: str
    fits: str
    width: float
    overlap: float
    cloth: str = "main"
    button: float = 17.0
    after: float | None = None
    before: float | None = None


class StripPiece(Kept, frozen=True, tag="strip", tag_field="from"):
    """A straight strip, `length` by `width` mm, folded along its length into `folded` parts. One
    that `fits` a join is as long as the first side of that, and `length` longer.
    """

    name: str
    length: float
    width: float
    folded: int = 1
    count: int = 1
    cloth: str = "main"
    fits: str = ""


class FacingPiece(Kept, frozen=True, tag="facing", tag_field="from"):
    """The inner layer of another piece: of its outline and grain, mirrored, as two pieces laid
    wrong side to wrong side are, and cut as often. Its edges bear the names of those they lie on;
    what is marked on the outer piece is not marked on it again. `less` mm are taken off along the
    edges `along`, so that the seam by which it is turned rolls inwards.
    """

    name: str
    of: str
    cloth: str = "main"
    less: float = 0.0
    along: tuple[str, ...] = ()


PieceRecipe: TypeAlias = PanelPiece | ShapePiece | WaistbandPiece | StripPiece | FacingPiece
