"""What must lie ready beside the cut pieces: binding, zip, button, interfacing; and words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from studio.alter.kind import Say
from studio.check.pulled_on import waist_casings
from studio.cut.facing import facings
from studio.cut.parts.fly import BELOW_ZIP
from studio.cut.piece import Mark
from studio.design.design import Design
from studio.design.pieces import FacingPiece, WaistbandPiece
from studio.exchange.along import Stage
from studio.exchange.work_sheet_rivets import rivets_ready
from studio.pattern import Pattern
from studio.sew import SewnPiece
from studio.sew.allowance import finish_allowance
from studio.sew.fly import openings
from studio.sew.sewn import MeasuredJoin
from studio.sew.thread import times_sewn

BINDING_WIDE = 30.0
"""A bias strip for a double-fold binding of about 8 mm, mm (common practice, no source)."""

LEAST_ZIP = 20.0
"""No zip is set in that is shorter, mm: there would be no room beside its slider (common practice,
no source)."""

ELASTIC_SHARE = 0.9
"""Of the waist girth, how long the elastic in a casing is (common practice, no source)."""

ELASTIC_LAPS = 20.0
"""What the ends of an elastic lap, mm (common practice, no source)."""

CASING_TAKES = 15.0
"""Room for the band and what is turned in, of a casing's allowance, mm (practice)."""

_OVER = 0.1
"""So much more, for joins and ends (common practice, no source)."""

_WORDS = (
    "Right side: the face of the cloth that shows when the pair is worn; right sides together "
    "means face to face.",
    "Notch: the mark at an edge that meets its like; drilled place: a mark inside a piece.",
    "Baste: hold with long stitches that are taken out again. Topstitch: stitch from the right "
    "side, to be seen. In the ditch: in the groove of a seam sewn before.",
    "Neaten: overlock, zigzag or bind a raw edge. Bias: at 45 degrees to the warp, "
    "where cloth gives.",
)
STANDING = (
    "Lengths are those of your pattern. Stitch types are those of ISO 4915; how much thread they "
    "take is from thread makers' handbooks. All else that is told here, widths, pressing, the "
    "order of sewing, and how zip, waistband, loops and rows are made, is common practice, no "
    "source."
)
"""The standing of what the sheet tells."""

_BAND_WORDS = "Facing: the inner layer of an edge, turned to the inside."


def bound_length(pattern: Pattern, pieces: Mapping[str, SewnPiece]) -> float:
    """Length of all seams and edges that are bound, in the whole pair, mm."""
    seams = sum(_bound_join(join) * times_sewn(join, pieces) for join in pattern.measured)
    edges = sum(
        edge.length * pieces[one.edge.piece].piece.quantity
        for one in pattern.design.finishes
        if one.how == "bound" and one.edge.piece in pieces
        for edge in pieces[one.edge.piece].piece.outline
        if edge.name == one.edge.edge
    )
    return seams + edges


def _bound_join(join: MeasuredJoin) -> float:
    if join.join.construction == "bound":
        return max(join.a.length, join.b.length)
    return join.a.length if join.join.construction == "bound-over" else 0.0


def binding_to_cut(length: float) -> float:
    """How much binding to cut for so much bound, mm: a tenth more, up to the next 10 mm."""
    return math.ceil(length * (1.0 + _OVER) / 10.0) * 10.0


def binding_words(pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say) -> Iterator[str]:
    """The strip for bound seams and edges, as the cutting list has it; nothing where none is."""
    length = bound_length(pattern, pieces)
    if length:
        yield (
            f"Binding, from thin firm cloth: bias strips {say(BINDING_WIDE)} wide, joined to "
            f"{say(binding_to_cut(length))} in all. Of these {say(length)} are sewn; the rest is "
            "for joins and ends. It is not on the pattern sheets."
        )


def zip_long(join: MeasuredJoin) -> float:
    """How long the zip of a fly may be at most, mm; 0 where it has no room for one."""
    length = join.a.length - BELOW_ZIP
    return length if length >= LEAST_ZIP else 0.0


def _zip_words(join: MeasuredJoin, say: Say) -> str:
    long = zip_long(join)
    if long:
        return f"A zip for {join.join.name}, {say(long)} long."
    return (
        f"No zip for {join.join.name}: {say(join.a.length)} long, it is too short for a zip. Let "
        "its line end further down."
    )


def ready(
    pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say, closed: tuple[str, ...] = ()
) -> Stage:
    """What is needed beside the cloth, `closed` what it is closed with above a zip, and what is
    stiffened.
    """
    design = pattern.design
    measured = pattern.measured_by_name()
    sentences = [
        _zip_words(measured[fly.faced.name], say)
        for fly in openings(design.joins)
        if fly.faced.name in measured
    ]
    sentences += [
        f"A button for {name}; its buttonhole is {say(mark.chain.length)} long."
        for name, mark in buttonholes(pieces)
    ]
    sentences += closed
    sentences += _elastic_words(design, say)
    sentences += rivets_ready(design, pieces)
    stiffened = list(dict.fromkeys(_stiffened(design, pieces)))
    if stiffened:
        sentences.append(
            f"Interfacing, where it is usual: {', '.join(stiffened)}, cut to the sewing line and "
            "put on the wrong side before anything is sewn."
        )
    sentences.append("A needle to suit the cloth, and thread: how much stands at the end.")
    return Stage("Have ready", tuple(sentences))


def _elastic_words(design: Design, say: Say) -> Iterator[str]:
    """What is drawn into a casing at the waist: one length all round."""
    casings = waist_casings(design.finishes)
    if not casings:
        return
    wide = min(finish_allowance(one, design.standard_allowance) for one in casings) - CASING_TAKES
    words = "A cord, or elastic"
    if wide > 0.0:
        words = f"A cord, or elastic {say(wide)} wide or less"
    if design.body is None:
        yield f"{words}, for the casing at the waist."
        return
    long = design.body.waist_girth * ELASTIC_SHARE
    yield (
        f"{words}, for the casing at the waist: cut elastic {say(long)} long, nine tenths of the "
        f"waist, and {say(ELASTIC_LAPS)} to lap its ends. Try it round the body first: elastics "
        "differ."
    )


def buttonholes(pieces: Mapping[str, SewnPiece]) -> Iterator[tuple[str, Mark]]:
    """Every buttonhole that is marked, with the name of its piece."""
    for name, one in pieces.items():
        for mark in one.piece.marks:
            if mark.name.endswith(".buttonhole"):
                yield name, mark


def _stiffened(design: Design, pieces: Mapping[str, SewnPiece]) -> Iterator[str]:
    """Bands, or the outer layer of such as are faced, and facings of flies."""
    outer = set(facings(design.pieces).values())
    for one in design.pieces:
        if one.name in pieces and (isinstance(one, WaistbandPiece) or one.name in outer):
            yield one.name
    yield from (fly.facing for fly in openings(design.joins))


def words(design: Design) -> Stage:
    """What the words of the sheet mean."""
    faced = any(isinstance(one, FacingPiece) for one in design.pieces)
    said = [*_WORDS]
    faced = faced or any(one.how == "faced" for one in design.finishes)
    if faced or any(openings(design.joins)):
        said.append(_BAND_WORDS)
    return Stage("Words", (*said, STANDING))
