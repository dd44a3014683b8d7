"""Designs to start from: a plain pair from a body, or the panels of a drawing as they are."""

from __future__ import annotations

from msgspec.structs import replace

from studio.design.block import ImportedBlock
from studio.design.body import Body, Fit
from studio.design.cloth import Cloth
from studio.design.design import Design
from studio.design.fitted import with_fit
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.pieces import PanelPiece

HEM_DEPTH = 40.0
"""A plain turned hem for trousers, mm (practice)."""

MAIN_CLOTH = Cloth("main", "#6f86a6", "the outer cloth")


def plain_design(body: Body, fit: Fit | None = None) -> Design:
    """A plain pair: front and back leg with their darts, joined at side and inseam."""
    plain = sewn_plainly(Design(name=body.name or "Plain trousers", body=body))
    return with_fit(plain, fit or Fit())


def sewn_plainly(design: Design) -> Design:
    """A design whose panels are front and back, each one piece, with the seams and finishes of a
    plain pair.
    """
    return replace(
        design,
        pieces=(PanelPiece("front", "front"), PanelPiece("back", "back")),
        joins=(
            join("side seam", (("front", "front.side"),), (("back", "back.side"),)),
            join("inseam", (("front", "front.inseam"),), (("back", "back.inseam"),)),
            Join(
                "crotch seam",
                side(("front", "front.rise"), ("back", "back.rise")),
                side(("front", "front.rise"), ("back", "back.rise"), mirrored=True),
            ),
        ),
        finishes=tuple(
            finish
            for name in ("front", "back")
            for finish in (
                Finish(EdgeRef(name, f"{name}.hem"), "hem", HEM_DEPTH),
                Finish(EdgeRef(name, f"{name}.waist"), "faced"),
            )
        ),
        cloths=(MAIN_CLOTH,),
    )


def design_of_drawing(imported: ImportedBlock, name: str) -> Design:
    """A design that has each drawn panel as a piece; joins are the maker's to name."""
    return Design(
        name=name,
        block=imported,
        pieces=tuple(PanelPiece(panel.name, panel.name) for panel in imported.panels),
        cloths=(MAIN_CLOTH,),
    )


def side(*edges: tuple[str, str], mirrored: bool = False) -> JoinSide:
    """A side of a join from (piece, edge) pairs."""
    return JoinSide(tuple(EdgeRef(piece, edge) for piece, edge in edges), mirrored)


def join(name: str, a: tuple[tuple[str, str], ...], b: tuple[tuple[str, str], ...]) -> Join:
    """A plain join from two runs of (piece, edge) pairs."""
    return Join(name, side(*a), side(*b))
