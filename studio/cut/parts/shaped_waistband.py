"""A waistband cut from the pattern itself: it has the wearer's shape, its darts closed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import ClassVar

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.cut.parts.band_facing import TURN_OF_CLOTH, band_with, faces, with_band_facing
from studio.cut.parts.below_band import BandLine, below_band, with_run_through
from studio.cut.parts.part import Number, OtherCloth, Part, panel_called, refuse_taken, with_added
from studio.cut.parts.top_edges import in_own_leg, refuse_sewn, top_edges
from studio.cut.piece import Piece
from studio.design.design import Design
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.pieces import BandEnd, Bound, PanelPiece
from studio.design.plain import side
from studio.errors import GeometryRefused


class ShapedWaistband(Part, frozen=True, kw_only=True):
    """As wide as `width` all along, on front and back, its darts closed. With an `overlap` it opens
    at the centre front and is closed by a button; without, side and crotch seam run through it. It
    is faced with a second layer from the cloth `facing`, `turn` mm narrower; "" for none.
    """

    title: ClassVar[str] = "Shaped waistband"
    words: ClassVar[str] = (
        "Cut off the top of front and back, its darts closed; what is left of them below is taken "
        "off at the side. Pockets and a fly that begin at the waist are drawn first: they then "
        "begin below the band. Its facing is the same once more, mirrored: sewn to it along the "
        "top and turned, its lower edge laid over the seam."
    )
    numbers: ClassVar[tuple[Number, ...]] = (
        Number("width", "Width"),
        Number("overlap", "Overlap"),
        Number("button", "Button, across"),
        Number("turn", "Facing, narrower by"),
    )
    cloths: ClassVar[tuple[OtherCloth, ...]] = (OtherCloth("facing", "Faced with", "no facing"),)
    on_panel: ClassVar[bool] = False

    name: str = "band"
    width: float = 45.0
    overlap: float = 45.0
    button: float = 17.0
    facing: str = "main"
    turn: float = TURN_OF_CLOTH

    def added(
        self, design: Design, panels: Mapping[str, Panel], pieces: Mapping[str, Piece]
    ) -> Design:
        """A band piece of each panel, joined plainly below, and its facing; with an overlap those
        of the other leg are pieces of their own, and the band is sewn together before it is set on.
        """
        bands = (*self._names, *map(_under, self._names))
        refuse_taken(design, self.name, *bands, *map(faces, bands))
        self._refuse_sizes()
        refuse_sewn(design)
        chains = {
            "back": top_edges(design, panel_called(panels, "back"), pieces, begins="rise"),
            "front": top_edges(design, panel_called(panels, "front"), pieces, begins="side"),
        }
        waists = {one.edge: one for one in design.finishes}
        finished = {panel: waists[chain[0]] for panel, chain in chains.items()}
        lines = tuple(
            BandLine(
                name,
                panels[panel],
                self.width,
                self._seam(panel),
            )
            for name, panel in zip(self._names, chains, strict=True)
        )
        made = design
        for line in lines:
            made = below_band(made, line, pieces)
        below = {
            panel: tuple(replace(ref, edge=f"{self.name}-{panel}") for ref in chain)
            for panel, chain in chains.items()
        }
        if self.overlap > 0.0:
            return self._faced(self._opened(made, below, finished))
        joins = tuple(
            Join(self._seam(panel), side((band, band)), JoinSide(below[panel]))
            for panel, band in zip(below, self._names, strict=True)
        )
        made = replace(made, joins=(*made.joins, *joins))
        return self._faced(self._closed(with_run_through(made, lines, pieces), below, finished))

    def _faced(self, design: Design) -> Design:
        """The design with the band's second layer, when it is asked for."""
        band = band_with(design, self._names[1])
        assert band is not None
        return with_band_facing(design, band, self.facing, self.turn) if self.facing else design

    def _closed(
        self,
        design: Design,
        below: Mapping[str, tuple[EdgeRef, ...]],
        finished: Mapping[str, Finish],
    ) -> Design:
        """A band through which side and crotch seam run; above a fly, its front edges are free."""
        free = {
            panel: [(band, f"{panel}.waist")]
            for panel, band in zip(below, self._names, strict=True)
        }
        front = (f"{self.name}-front", "front.rise")
        if all(EdgeRef(*front) not in join.refs for join in design.joins):
            free["front"].append(front)
        made = with_added(design, pieces=tuple(self._piece(panel) for panel in below))
        return _with_finishes(made, free, finished)

    def _opened(
        self,
        design: Design,
        below: Mapping[str, tuple[EdgeRef, ...]],
        finished: Mapping[str, Finish],
    ) -> Design:
        """A band that is closed by a button, every free edge of it finished as the waist was."""
        back, front = self._names
        back_under, front_under = map(_under, self._names)
        chain = (*below["back"], *below["front"])
        sewn = (
            ("side", (front, "front.side"), (back, "back.side")),
            ("side, other leg", (back_under, "back.side"), (front_under, "front.side")),
            ("centre back", (back, "back.rise"), (back_under, "back.rise")),
        )
        together = tuple(Join(f"{self.name} {name}", side(a), side(b)) for name, a, b in sewn)
        set_on = (
            Join(f"{self.name} seam", JoinSide(chain), side((back, back), (front, front))),
            Join(
                f"{self.name} seam, other leg",
                JoinSide(chain[::-1], mirrored=True),
                side((front_under, front), (back_under, back)),
            ),
        )
        ends = BandEnd(self.overlap, self.button)
        made = with_added(
            design,
            pieces=(
                replace(self._piece("back"), cut="single"),
                replace(self._piece("front"), cut="single", ends=ends),
                replace(self._piece("back"), name=back_under, cut="single", over=True),
                replace(self._piece("front"), name=front_under, cut="single", over=True, ends=ends),
            ),
        )
        # Counter-clockwise along the whole band: round the end under, along the top, down the end
        # on top.
        end_under = [(front_under, f"{front_under}.{e}") for e in ("overlap", "end", "top")]
        front_free = [*end_under, (front_under, "front.waist")]
        back_free = [(back_under, "back.waist"), (back, "back.waist")]
        end_free = [(front, "front.waist"), (front, "front.rise")]
        made = replace(made, joins=(*made.joins, *together, *set_on))
        made = in_own_leg(made, (set_on[0].name, set_on[1].name))
        return _with_finishes(made, {"back": back_free, "front": front_free + end_free}, finished)

    @property
    def _names(self) -> tuple[str, str]:
        return f"{self.name}-back", f"{self.name}-front"

    def _seam(self, panel: str) -> str:
        """The join by which the band is sewn on there."""
        return f"{self.name} seam" if self.overlap > 0.0 else f"{self.name}-{panel} seam"

    def _refuse_sizes(self) -> None:
        if self.width < 1.0 or min(self.overlap, self.button, self.turn) < 0.0:
            raise GeometryRefused(
                "A band needs a width; overlap, button and what its facing is narrower by cannot "
                "be less than nothing.",
                where=self.name,
            )

    def _piece(self, panel: str) -> PanelPiece:
        name = f"{self.name}-{panel}"
        bounds = (Bound(name, "right"),)
        return PanelPiece(name, panel, bounds, close_darts=True, cloth=self.cloth)


def _with_finishes(
    design: Design,
    free: Mapping[str, Iterable[tuple[str, str]]],
    finished: Mapping[str, Finish],
) -> Design:
    """The design in which free edges of a band (piece, edge), told by panel, are finished as the
    waist of that panel was.
    """
    return with_added(
        design,
        finishes=tuple(
            replace(finished[panel], edge=EdgeRef(piece, edge))
            for panel, edges in free.items()
            for piece, edge in edges
        ),
    )


def _under(name: str) -> str:
    """The other leg's piece of a band that opens: the one with the button."""
    return f"{name}-under"
