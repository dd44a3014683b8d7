"""Which pockets a design has: what opens into what."""

from __future__ import annotations

from collections.abc import Callable

import msgspec
from msgspec.structs import replace

from studio.block.panel import Panel
from studio.check.pockets import Pocket
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Piece
from studio.cut.whole import strip_lengths, whole_of
from studio.design.design import Design
from studio.design.joins import Join
from studio.design.pieces import PanelPiece, PieceRecipe, ShapePiece, StripPiece
from studio.memo import remembered


def pockets_in(
    design: Design,
    panels: tuple[Panel, ...],
    lines: tuple[DrawnLine, ...],
    pieces: dict[str, Piece],
    face: Callable[..., Piece],
    pocket: Callable[[DrawnLine, str, Piece], Pocket | None],
    loop: Callable[[str, float], Pocket],
) -> tuple[Pocket, ...]:
    """The pockets: a mouth with the piece it bounds that a marked line bounds as well, a patch with
    its piece, a strap folded in two; each before it was joined of scraps.

    `face` cuts a piece from a panel, `pocket` and `loop` measure: `cut_from_panel`, `pocket_of`, or
    versions of them that remember.
    """
    kinds: dict[str, str] = {line.name: line.kind for line in design.lines}
    asked = _asked(design.pieces, design.joins, tuple(kinds.items()))
    pieces = pieces | _wholes(asked.divided, panels, lines, pieces, face)
    bags = dict(asked.patches)
    for name, mouths in asked.bags:
        if name in pieces:
            _take_bag(name, mouths, pieces, bags)
    found = [
        pocket(line, kinds.get(line.name, ""), pieces[bags[line.name]])
        for line in lines
        if bags.get(line.name) in pieces
    ]
    found += [loop(name, hang) for name, hang in asked.loops]
    return tuple(one for one in found if one is not None)


class _Asked(msgspec.Struct, frozen=True):
    """What recipes say of pockets: the piece of every patch's line, pieces that may be the bag of
    one of some mouths, bags joined of scraps as they were before, and straps folded in two with how
    far down they hang, mm.
    """

    patches: tuple[tuple[str, str], ...]
    bags: tuple[tuple[str, tuple[str, ...]], ...]
    divided: tuple[PanelPiece, ...]
    loops: tuple[tuple[str, float], ...]


def _asked_of(
    recipes: tuple[PieceRecipe, ...], joins: tuple[Join, ...], lines: tuple[tuple[str, str], ...]
) -> _Asked:
    kinds = dict(lines)
    seams = {name for name, kind in lines if kind == "seam"}
    lengths = strip_lengths(recipes, joins)
    bags, divided = [], []
    for recipe in recipes:
        if isinstance(recipe, PanelPiece):
            bounds = [bound.line for bound in recipe.bounds]
            mouths = tuple([line for line in bounds if kinds.get(line) == "mouth"])
            if mouths and any(kinds.get(line) == "mark" for line in bounds):
                bags.append((recipe.name, mouths))
            whole = whole_of(recipe, recipes, seams) if mouths else recipe
            if whole is not recipe:
                divided.append(replace(whole, marks=()))
    return _Asked(
        tuple([(one.line, one.name) for one in recipes if isinstance(one, ShapePiece)]),
        tuple(bags),
        tuple(divided),
        tuple(
            [
                (one.name, lengths[one.name] / 2.0)
                for one in recipes
                if isinstance(one, StripPiece) and one.folded == 2 and one.name in lengths
            ]
        ),
    )


def _wholes(
    divided: tuple[PanelPiece, ...],
    panels: tuple[Panel, ...],
    lines: tuple[DrawnLine, ...],
    pieces: dict[str, Piece],
    face: Callable[..., Piece],
) -> dict[str, Piece]:
    """Bags that were joined of scraps as they are when sewn, under the name of each part."""
    by_panel = {panel.name: panel for panel in panels}
    by_line = {line.name: line for line in lines} if divided else {}
    return {
        whole.name: face(
            whole,
            by_panel[whole.panel],
            tuple([by_line[bound.line] for bound in whole.bounds]),
            (),
        )
        for whole in divided
        if whole.name in pieces
    }


def _take_bag(
    name: str, mouths: tuple[str, ...], pieces: dict[str, Piece], bags: dict[str, str]
) -> None:
    """Enter a piece as the bag of the mouths that bound it; a facing lies there too, but a bag is
    larger.
    """
    area = pieces[name].outline.area_mm2
    for line in mouths:
        known = bags.get(line)
        if known is None or area > pieces[known].outline.area_mm2:
            bags[line] = name


_asked = remembered(_asked_of, 8)
"""A dragged line leaves the kinds of all lines as they were."""
