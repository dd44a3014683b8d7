"""What is drawn and written on every piece, whatever the file: slits, dart legs, the label."""

from __future__ import annotations

from studio.block.panel import Dart
from studio.curves import Chain, Point
from studio.cut.piece import Piece
from studio.sew.sewn import Notch, SewnPiece

SLIT_APART = 3.0
"""Between the two slits of a double notch, mm (common practice)."""


def slits(notch: Notch) -> tuple[tuple[Point, Point], ...]:
    """The cuts of a notch, each from the cut line to its tip; a double one straddles its place.

    The slits of a double notch start on the tangent at its place: off a cut line of radius r by
    1.1/r mm.
    """
    if notch.kind == "single" or notch.mouth == notch.tip:
        return ((notch.mouth, notch.tip),)
    aside = (notch.mouth - notch.tip).unit().left() * (SLIT_APART / 2.0)
    return (
        (notch.mouth + aside, notch.tip + aside),
        (notch.mouth + -aside, notch.tip + -aside),
    )


def dart_legs(dart: Dart) -> Chain:
    """Both legs of a dart, from its first end by its point to its last."""
    return Chain.straight(dart.first, dart.point, dart.last)


def cut_words(piece: Piece) -> str:
    """How many are cut: "cut 1", "cut 2 mirrored" (one left, one right), "cut 4 mirrored"."""
    return f"cut {piece.quantity}{' mirrored' if piece.cut == 'pair' else ''}"


def label_lines(sewn: SewnPiece) -> tuple[str, ...]:
    """The label: name first, then how it is cut, from which cloth, and what is included."""
    piece = sewn.piece
    lines = [piece.name, cut_words(piece), f"cloth: {piece.cloth}"]
    if any(width > 0.0 for width in sewn.allowances):
        lines.append("allowances included")
    return tuple(lines)
