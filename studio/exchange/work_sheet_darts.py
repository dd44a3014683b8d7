"""The darts and pleats of a piece as a step of the work sheet."""

from __future__ import annotations

from collections.abc import Iterator

from studio.alter.kind import Say
from studio.block.panel import Dart, Pleat
from studio.cut.piece import Piece
from studio.exchange.along import Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.marks import dart_lines
from studio.exchange.work_sheet_figures import drawn_shut
from studio.exchange.work_sheet_words import capital, in_all
from studio.sew import SewnPiece, darts_name
from studio.sew.edge_words import edge_of_piece, edge_words
from studio.sew.pressing import PRESSED


def darts_stage(sewn: SewnPiece, say: Say) -> Stage:
    """Every dart of a piece, as it is pinned and sewn, and every pleat, as it is folded."""
    piece = sewn.piece
    ordered = sorted(piece.darts, key=lambda dart: dart.name)
    darts = [dart for dart in ordered if dart.pleat is None]
    sentences: list[str] = []
    if darts:
        said = [
            f"{_wide(dart, piece, say)}, "
            f"{say(dart.point.distance_to(dart.first.toward(dart.last, 0.5)))} long"
            for dart in darts
        ]
        sentences += [
            f"Sew {'; '.join(said)}.",
            "Fold each right sides together, its two notches on each other, and sew from the edge "
            f"to the drilled point, running out to nothing; {in_all(piece.quantity)}.",
            PRESSED,
        ]
    for dart in ordered:
        if dart.pleat is not None:
            sentences += _pleat_words(dart, dart.pleat, piece, say)
    lines = drawn_shut(piece)
    lines += [Stroked(line, "cut") for line in dart_lines(piece.darts)]
    name = darts_name(piece.name)
    if not darts:
        name = name.replace("darts", "pleats", 1)
    elif len(darts) < len(ordered):
        name = name.replace("darts", "darts and pleats", 1)
    return Stage(capital(name), tuple(sentences), figure(lines, (), (), piece.outline.box))


def _wide(dart: Dart, piece: Piece, say: Say) -> str:
    at = edge_words(dart.edge, piece.panel)
    if at == dart.edge:
        at = f"the {edge_of_piece(dart.edge)}"
    return f"{dart.name}, {say(dart.intake)} wide at {at}"


def _pleat_words(dart: Dart, pleat: Pleat, piece: Piece, say: Say) -> Iterator[str]:
    """A pleat is folded as a dart is, and opens below; how it is pressed is common practice."""
    inside, outside = ("rise", "side") if pleat.towards == "rise" else ("side", "rise")
    yield (
        f"Fold {_wide(dart, piece, say)}, as a pleat: right sides together, its two notches on "
        f"each other; {in_all(piece.quantity)}."
    )
    if pleat.down > 0.0:
        yield (
            f"Sew it {say(pleat.down)} down from the edge, to the drilled places, and secure "
            "both ends."
        )
    yield (
        f"Turn what is folded inside towards the {inside}, so that outside its edge lies towards "
        f"the {outside}; baste it flat across the edge, and press."
    )
