"""Which pockets a design has: what opens into what."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from studio.block.panel import Panel
from studio.check.pockets import Pocket
from studio.cut.drawn import DrawnLine
from studio.cut.piece import Piece
from studio.cut.whole import strip_lengths, whole_of
from studio.design.design import Design
from studio.design.pieces import PanelPiece, ShapePiece, StripPiece
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
    bags: dict[str, str] = {}
    loops: dict[str, float] = {}
    lengths = _lengths(design.pieces, design.joins)
    pieces = pieces | _wholes(design, panels, lines, pieces, face)
    for recipe in design.pieces:
        if isinstance(recipe, ShapePiece):
            bags[recipe.line] = recipe.name
        elif isinstance(recipe, StripPiece) and recipe.folded == 2 and recipe.name in lengths:
            loops[recipe.name] = lengths[recipe.name] / 2.0
        elif isinstance(recipe, PanelPiece):
            _take_bag(recipe, kinds, pieces, bags)
    found = [
        pocket(line, kinds.get(line.name, ""), pieces[bags[line.name]])
        for line in lines
        if bags.get(line.name) in pieces
    ]
    found += [loop(name, hang) for name, hang in loops.items()]
    return tuple(one for one in found if one is not None)


def _wholes(
    design: Design,
    panels: tuple[Panel, ...],
    lines: tuple[DrawnLine, ...],
    pieces: dict[str, Piece],
    face: Callable[..., Piece],
) -> dict[str, Piece]:
    """Bags that were joined of scraps as they are when sewn, under the name of each part."""
    seams = {line.name for line in design.lines if line.kind == "seam"}
    mouths = {line.name for line in design.lines if line.kind == "mouth"}
    by_panel = {panel.name: panel for panel in panels}
    by_line = {line.name: line for line in lines}
    found = {}
    for recipe in design.pieces:
        if not isinstance(recipe, PanelPiece) or recipe.name not in pieces:
            continue
        if any(bound.line in mouths for bound in recipe.bounds):
            whole = whole_of(recipe, design.pieces, seams)
            if whole is not recipe:
                bounds = tuple(by_line[bound.line] for bound in whole.bounds)
                found[recipe.name] = face(
                    replace(whole, marks=()), by_panel[recipe.panel], bounds, ()
                )
    return found


def _take_bag(
    recipe: PanelPiece, kinds: dict[str, str], pieces: dict[str, Piece], bags: dict[str, str]
) -> None:
    """Enter a piece as the bag of a mouth that bounds it; a facing lies there too, but a bag is
    larger.
    """
    bounds = [bound.line for bound in recipe.bounds]
    if recipe.name not in pieces or not any(kinds.get(line) == "mark" for line in bounds):
        return
    area = pieces[recipe.name].outline.area_mm2
    for line in bounds:
        known = bags.get(line)
        if kinds.get(line) == "mouth" and (known is None or area > pieces[known].outline.area_mm2):
            bags[line] = recipe.name


_lengths = remembered(strip_lengths, 4)
