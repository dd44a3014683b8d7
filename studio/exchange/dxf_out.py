"""Pieces as a DXF file laid out by ASTM D6673-10: one BLOCK a piece, information by layer number.

The file is of release 2000, the oldest that states its unit ($INSUNITS), with the plain POLYLINE,
LINE, POINT and TEXT entities of release 12 that every reader knows; no splines. A flattened curve
keeps within 0.005 mm of the true one, nearer where a printed digit would change. No piece is ever
drawn in half, so layer 6 (mirror line) stays empty; a fold to be pressed is an internal line.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from pathlib import Path

from ezdxf import units
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new, read
from ezdxf.layouts.blocklayout import BlockLayout
from ezdxf.layouts.layout import Modelspace
from ezdxf.lldxf.const import DXFError

from studio.curves import Chain, Point, Vector, turn_between
from studio.design.file import write_whole
from studio.errors import BadInput, YokewrightError
from studio.exchange.arrange import arranged, cut_box, extent
from studio.exchange.chords import chord_error
from studio.exchange.label_place import place_beside, place_on
from studio.exchange.marks import LINE_ACCURACY, cut_words, dart_lines, lines_on, slits
from studio.exchange.plain_text import ascii_text, block_names
from studio.sew.cut_line import cut_outline_points
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
    "80": "T notches",
    "81": "castle notches",
    "82": "check notches",
    "83": "U notches",
}
"""Layers written and what stands on each (ASTM D6673-10)."""

SHAPES = {"T": "80", "castle": "81", "check": "82", "U": "83"}
"""Layers of notches that are not slits (ASTM D6673-10)."""

TURN_FROM = 1.0
"""A bend of at least this many degrees is a turn point, a lesser one a curve point."""

TEXT_HEIGHT = 8.0

_WIDE = 1.0
"""Room for a letter and what follows it, as a share of its height: what reads a drawing chooses the
letters, and few are wider (from memory).
"""

_LEADING = 1.5
"""From one line of text to the next, as a share of the height of its letters."""

_GAP = 40.0

_LEAST = 0.25
"""The smallest name, as a share of the height of words: 2 mm."""

_BESIDE = 8.0
"""Between a piece and the record written below it there is so much room for its name, mm."""

_ROW = 3000.0
_VERSION = "R2000"
_MILLIMETRES_MEASURE = 1


def write_dxf(pieces: Sequence[SewnPiece], path: Path | str, *, style: str) -> None:
    """Write the pieces, in mm and at true size, under the name of their style.

    A left and a right piece are drawn once, with the words CUT 2 MIRRORED. All text is 7-bit
    ASCII. The file is read again and audited before it takes the place of an older one.

    Raises:
        BadInput: there are no pieces, or the file cannot be written.
        YokewrightError: what was made does not pass the audit; nothing is written.
    """
    target = Path(path)
    if not pieces:
        raise BadInput("There are no pieces to write.", path=str(target))
    drawing = _drawing(pieces, style)
    write_audited(drawing, target)


def new_drawing(layers: Iterable[str] = LAYERS) -> Drawing:
    """An empty drawing in mm with its layers."""
    drawing = new(_VERSION, units=units.MM)
    drawing.header["$MEASUREMENT"] = _MILLIMETRES_MEASURE
    for layer in layers:
        drawing.layers.add(layer)
    return drawing


def write_audited(drawing: Drawing, target: Path) -> None:
    """Write a drawing whole, after it was read again and audited.

    Raises:
        BadInput: the file cannot be written.
        YokewrightError: it does not pass the audit; nothing is written.
    """
    text = io.StringIO()
    drawing.write(text)
    _audit(text.getvalue(), target)
    write_whole(target, text.getvalue().encode("ascii"))


def _drawing(pieces: Sequence[SewnPiece], style: str) -> Drawing:
    drawing = new_drawing()
    names = block_names(sewn.piece.name for sewn in pieces)
    width = max(_ROW, *(cut_box(sewn).width for sewn in pieces))
    laid = arranged(pieces, width, _GAP)
    sheet = drawing.modelspace()
    for name, one in zip(names, laid, strict=True):
        block = drawing.blocks.new(name)
        draw_piece(block, one.sewn)
        sheet.add_blockref(name, (one.move.dx, one.move.dy), {"layer": BOUNDARY})
    _write_style(sheet, style, extent(laid).top + _GAP)
    return drawing


def _write_style(sheet: Modelspace, style: str, top: float) -> None:
    """Words of the standard's style record, from memory."""
    for row, text in enumerate((f"STYLE NAME: {style}", "UNITS: METRIC")):
        write_text(sheet, BOUNDARY, text, Point(0.0, top - row * 1.5 * TEXT_HEIGHT))


def draw_piece(block: BlockLayout, sewn: SewnPiece) -> None:
    """Everything of a piece in a block of its own, in the piece's coordinates."""
    piece = sewn.piece
    cut = [edge.chain for edge in sewn.cut_line]
    sewing = [edge.chain for edge in piece.outline]
    for layer, chains in ((BOUNDARY, cut), (SEWING, sewing)):
        error = chord_error(chains, closed=True)
        _draw_closed(block, layer, chains, error)
        _mark_vertices(block, chains, error)
    for notch in sewn.notches:
        for mouth, tip in slits(notch):
            layer = SHAPES.get(notch.shape, NOTCHES)
            block.add_line(_pair(mouth), _pair(tip), {"layer": layer})
    low, high = sewn.grain
    block.add_line(_pair(low), _pair(high), {"layer": GRAIN})
    drawn = (
        *(mark.chain for mark in piece.marks),
        *dart_lines(piece.darts),
        *sewn.rows,
        *sewn.second,
        *sewn.folds,
    )
    for chain in drawn:
        points = chain.polyline(chord_error((chain,), closed=False))
        block.add_polyline2d(points, dxfattribs={"layer": INTERNAL})
    for drill in sewn.drills:
        block.add_point(_pair(drill), {"layer": DRILLS})
    _write_piece_texts(block, sewn)


def _write_piece_texts(block: BlockLayout, sewn: SewnPiece) -> None:
    """The piece's record on layer 1 (words of the standard from memory), its label on layer 15."""
    piece, box = sewn.piece, sewn.piece.outline.box
    record = (
        f"PIECE NAME: {piece.name}",
        *((f"SIZE: {sewn.made_for}",) if sewn.made_for else ()),
        f"QUANTITY: {piece.quantity}",
        f"MATERIAL: {piece.cloth}",
    )
    room = box.width + _GAP / 2.0
    height = min(TEXT_HEIGHT / 2.0, *(room / (len(text) * _WIDE) for text in record))
    for row, text in enumerate(record):
        place = Point(box.left, cut_box(sewn).bottom - (row + 2) * 1.2 * TEXT_HEIGHT / 2.0)
        write_text(block, BOUNDARY, text, place, height)
    _write_label(block, sewn)


def _write_label(block: BlockLayout, sewn: SewnPiece) -> None:
    """The label where it crosses no line, smaller or turned when it must be; beside a piece that
    has no room for it, with a leader.
    """
    piece = sewn.piece
    whose = (sewn.made_for,) if sewn.made_for else ()
    label = (piece.name, cut_words(piece).upper(), piece.cloth, *whose)
    room = piece.outline.polyline(LINE_ACCURACY)
    lines = lines_on(sewn)
    found = place_on(label, TEXT_HEIGHT, sewn.label_at, room, lines, _size_of, _LEAST)
    if found is None:
        outer = cut_outline_points(sewn.cut_line, LINE_ACCURACY)
        found = place_beside(piece.name, TEXT_HEIGHT, sewn.label_at, outer, _BESIDE, _size_of)
    if found.leader is not None:
        start, end = map(_pair, found.leader)
        block.add_line(start, end, {"layer": ANNOTATION})
    across = Vector.at_angle(found.turned)
    width, height = _size_of(found.lines, found.size)
    first = found.middle + across * (-width / 2.0) + across.left() * (height / 2.0 - found.size)
    for row, text in enumerate(found.lines):
        place = first + across.left() * (-row * _LEADING * found.size)
        write_text(block, ANNOTATION, text, place, found.size, found.turned)


def _size_of(lines: tuple[str, ...], size: float) -> tuple[float, float]:
    """Width and height of lines of text whose letters are `size` mm high."""
    longest = max(len(line) for line in lines)
    return longest * _WIDE * size, (1.0 + _LEADING * (len(lines) - 1)) * size


def write_text(
    space: BlockLayout | Modelspace,
    layer: str,
    text: str,
    place: Point,
    height: float = TEXT_HEIGHT,
    turned: float = 0.0,
) -> None:
    """A line of 7-bit text from a place, `height` mm high, turned by degrees."""
    entity = space.add_text(
        ascii_text(text), height=height, rotation=turned, dxfattribs={"layer": layer}
    )
    entity.set_placement(_pair(place), align=TextEntityAlignment.LEFT)


def _draw_closed(block: BlockLayout, layer: str, chains: Sequence[Chain], error: float) -> None:
    points: list[tuple[float, float]] = []
    for chain in chains:
        points.extend(chain.polyline(error)[:-1])
    block.add_polyline2d(points, close=True, dxfattribs={"layer": layer})


def _mark_vertices(block: BlockLayout, chains: Sequence[Chain], error: float) -> None:
    """Every vertex of a closed line once more as a turn point or a curve point."""
    corners, others = _sorted_vertices(chains, error)
    for layer, points in ((TURN_POINTS, corners), (CURVE_POINTS, others)):
        for point in points:
            block.add_point(point, {"layer": layer})


def _sorted_vertices(
    chains: Sequence[Chain], error: float
) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    cubics = [cubic for chain in chains for cubic in chain.cubics]
    corners: list[tuple[float, float]] = []
    others: list[tuple[float, float]] = []
    for before, cubic in zip((cubics[-1], *cubics[:-1]), cubics, strict=True):
        first, *inner = cubic.polyline(error)[:-1]
        bend = abs(turn_between(before.tangent(1.0), cubic.tangent(0.0)))
        (corners if bend >= TURN_FROM else others).append(first)
        others.extend(inner)
    return corners, others


def _pair(point: Point) -> tuple[float, float]:
    return (point.x, point.y)


def _audit(text: str, target: Path) -> None:
    try:
        faults: Iterable[str] = [fault.message for fault in read(io.StringIO(text)).audit().errors]
    except DXFError as problem:
        faults = [str(problem)]
    told = "; ".join(faults)
    if told:
        raise YokewrightError(
            f"The drawing did not pass its audit and was not written: {told}.", path=str(target)
        )
