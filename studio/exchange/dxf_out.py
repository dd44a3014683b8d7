"""Pieces as a DXF file for plotters and cutters, sorted by layers as in ASTM D6673-10.

AutoCAD 2000 form with old-style POLYLINEs: every reader knows them, and unlike the older R12 form
it can say that its unit is the millimetre. Notches are short lines on their layer, so that a pen
plotter draws what a cutter cuts.
"""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Sequence
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing
from ezdxf.layouts import BlockLayout

from studio.curves import Chain
from studio.design.file import write_whole
from studio.errors import BadInput
from studio.exchange.arrange import arranged
from studio.sew.sewn import SewnPiece

BOUNDARY, TURN_POINTS, CURVE_POINTS, NOTCHES = "1", "2", "3", "4"
GRAIN, INTERNAL, DRILLS, SEWING, ANNOTATION = "7", "8", "13", "14", "15"

LAYERS = {
    BOUNDARY: "piece boundary",
    TURN_POINTS: "turn points",
    CURVE_POINTS: "curve points",
    NOTCHES: "notches",
    GRAIN: "grain line",
    INTERNAL: "internal lines",
    DRILLS: "drill holes",
    SEWING: "sew lines",
    ANNOTATION: "annotation text",
}
"""Layers written and what stands on each (ASTM D6673-10)."""

CHORD_ERROR = 0.005
"""Polylines keep this near the curve, mm: lengths then agree far within 0.05."""

_MILLIMETRES = 4
_SHEET_WIDTH = 3000.0
_GAP = 40.0
_TEXT_HEIGHT = 8.0


def write_dxf(pieces: Sequence[SewnPiece], path: Path | str, *, style: str) -> None:
    """Write one block a piece, drawn once, and lay them side by side; read back and audited.

    Curves keep within 0.005 mm of the model. Text is 7-bit ASCII; other letters lose their marks
    or become a question mark.

    Raises:
        BadInput: there are no pieces, or the file cannot be written.
    """
    if not pieces:
        raise BadInput("There are no pieces to write.", path=str(path))
    drawing = ezdxf.new("R2000", units=_MILLIMETRES)
    drawing.header["$MEASUREMENT"] = 1
    for name in LAYERS:
        drawing.layers.add(name)
    names = _block_names(pieces)
    for sewn, name in zip(pieces, names, strict=True):
        _write_piece(drawing.blocks.new(name), sewn)
    space = drawing.modelspace()
    by_piece = {id(sewn): name for sewn, name in zip(pieces, names, strict=True)}
    for laid in arranged(pieces, _SHEET_WIDTH, _GAP):
        space.add_blockref(
            by_piece[id(laid.sewn)], (laid.move.dx, laid.move.dy), dxfattribs={"layer": BOUNDARY}
        )
    for line, text in enumerate((f"STYLE NAME: {style}", "UNITS: METRIC", "1 UNIT = 1 MM")):
        space.add_text(
            ascii_text(text),
            height=_TEXT_HEIGHT,
            dxfattribs={"layer": BOUNDARY, "insert": (0.0, 30.0 + 12.0 * line)},
        )
    stream = io.StringIO()
    drawing.write(stream)
    content = stream.getvalue()
    _audit(content, str(path))
    write_whole(Path(path), content.encode("ascii", "replace"))


def ascii_text(text: str) -> str:
    """Text in 7-bit ASCII: marks are dropped from letters, the rest becomes a question mark."""
    spread = unicodedata.normalize("NFKD", text.replace("ß", "ss").replace("×", "x"))
    bare = "".join(letter for letter in spread if not unicodedata.combining(letter))
    return bare.encode("ascii", "replace").decode("ascii")


def _block_names(pieces: Sequence[SewnPiece]) -> list[str]:
    """A valid name of its own for each piece."""
    names: list[str] = []
    for sewn in pieces:
        bare = ascii_text(sewn.piece.name).upper()
        wanted = "".join(c if c.isalnum() or c in "-_" else "_" for c in bare) or "PIECE"
        name, number = wanted, 2
        while name in names:
            name, number = f"{wanted}_{number}", number + 1
        names.append(name)
    return names


def _write_piece(block: BlockLayout, sewn: SewnPiece) -> None:
    piece = sewn.piece
    _write_boundary(block, [edge.chain for edge in sewn.cut_line])
    sewing = [edge.chain for edge in piece.outline]
    block.add_polyline2d(_ring(sewing), close=True, dxfattribs={"layer": SEWING})
    for notch in sewn.notches:
        sides = [0.0, 3.0] if notch.kind == "double" else [0.0]
        along = (notch.mouth - notch.tip).unit().left()
        for side in sides:
            mouth, tip = notch.mouth + along * side, notch.tip + along * side
            block.add_line((mouth.x, mouth.y), (tip.x, tip.y), dxfattribs={"layer": NOTCHES})
    low, high = sewn.grain
    block.add_line((low.x, low.y), (high.x, high.y), dxfattribs={"layer": GRAIN})
    for mark in piece.marks:
        points = mark.chain.polyline(CHORD_ERROR)
        block.add_polyline2d(points, dxfattribs={"layer": INTERNAL})
    for dart in piece.darts:
        legs = [(p.x, p.y) for p in (dart.first, dart.point, dart.last)]
        block.add_polyline2d(legs, dxfattribs={"layer": INTERNAL})
    for place in sewn.drills:
        block.add_point((place.x, place.y), dxfattribs={"layer": DRILLS})
    _write_words(block, sewn)


def _write_boundary(block: BlockLayout, chains: list[Chain]) -> None:
    """The cut line, with a point at each vertex: turn points at corners, curve points between."""
    block.add_polyline2d(_ring(chains), close=True, dxfattribs={"layer": BOUNDARY})
    for before, chain in zip((chains[-1], *chains[:-1]), chains, strict=True):
        turns = abs(before.end_tangent.cross(chain.start_tangent)) > 1e-3
        layer = TURN_POINTS if turns else CURVE_POINTS
        block.add_point((chain.start.x, chain.start.y), dxfattribs={"layer": layer})
        for x, y in chain.polyline(CHORD_ERROR)[1:-1]:
            block.add_point((x, y), dxfattribs={"layer": CURVE_POINTS})


def _write_words(block: BlockLayout, sewn: SewnPiece) -> None:
    piece = sewn.piece
    quantity = f"{piece.quantity}, MIRRORED" if piece.cut == "pair" else f"{piece.quantity}"
    place = sewn.label_at
    words = (
        (BOUNDARY, f"PIECE NAME: {piece.name}"),
        (BOUNDARY, f"QUANTITY: {quantity}"),
        (BOUNDARY, f"MATERIAL: {piece.cloth}"),
        (ANNOTATION, f"{piece.name.upper()} - CUT {quantity}"),
    )
    for line, (layer, text) in enumerate(words):
        block.add_text(
            ascii_text(text),
            height=_TEXT_HEIGHT,
            dxfattribs={"layer": layer, "insert": (place.x, place.y - 12.0 * line)},
        )


def _ring(chains: Sequence[Chain]) -> list[tuple[float, float]]:
    points: list[tuple[float, float]] = []
    for chain in chains:
        points.extend(chain.polyline(CHORD_ERROR)[:-1])
    return points


def _audit(content: str, path: str) -> None:
    """Read the file back before it is called done."""
    try:
        again: Drawing = ezdxf.read(io.StringIO(content))
        errors = again.audit().errors
    except (ezdxf.DXFError, OSError) as problem:
        raise BadInput(f"could not be read back: {problem}.", path=path) from problem
    if errors:
        raise BadInput(f"is not sound: {errors[0].message}", path=path)
