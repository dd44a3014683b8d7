"""The work sheet: what to cut, in which order to sew and why, what meets what, how much thread."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from studio import numbers
from studio.alter.kind import Say
from studio.curves import Affine
from studio.cut.copies import drawn_legs
from studio.cut.facing import facings
from studio.design.design import Design
from studio.design.joins import Finish, Join, JoinSide
from studio.exchange.along import Figure, Sheet, Stage, Stroked
from studio.exchange.along.figures import figure
from studio.exchange.along.words import edge_words
from studio.exchange.marks import cut_words, dart_legs
from studio.exchange.work_sheet_needs import binding_words, buttonholes, ready, shields, words
from studio.exchange.work_sheet_parts import (
    band_closed,
    folded_bands,
    how_words,
    loop_ends,
    loops_before,
    rows_before,
    zips_before,
)
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.sew import SewnPiece, darts_name, finish_name
from studio.sew.allowance import asked_sides, finish_allowance, finish_rows, sides_rows
from studio.sew.constructions import CONSTRUCTIONS, FINISHES
from studio.sew.order import is_centre
from studio.sew.pressing import PRESSED
from studio.sew.sewn import MeasuredJoin
from studio.sew.thread import thread_rows, times_sewn
from studio.sew.walk import Walk

_CAUTION = (
    "Needles, shears and hot irons injure. Take metal parts out of old garments before sewing over "
    "them. These are not protective clothes: nothing here certifies them for work near machines, "
    "flames, saws or traffic."
)


def work_sheet_of(pattern: Pattern, unit: LengthUnit = "mm") -> Sheet:
    """A pattern as a work sheet, lengths in `unit`: cutting list, sewing steps, thread."""
    say = partial(numbers.length, unit=unit, decimals=numbers.DECIMALS[unit])
    pieces = {sewn.piece.name: sewn for sewn in pattern.pieces}
    stages = [_cutting(pattern, pieces, say), ready(pattern, pieces, say)]
    stages += [*_steps(pattern, pieces, say), *loop_ends(pattern.design), *_buttons(pieces, say)]
    stages += [_thread(pattern, pieces), words(pattern.design)]
    grave = [finding.message for finding in pattern.findings if not finding.accepted]
    before = ["Sew a trial garment first. " + _CAUTION]
    if grave:
        before.append("The ledger is not clean: " + " ".join(grave))
    if pattern.order.against:
        before += [
            f"Not sewn as wished: {one.first} comes before {one.then}. {one.why}"
            for one in pattern.order.against
        ]
    return Sheet(f"{pattern.design.name}: work sheet", tuple(before), tuple(stages))


def _cutting(pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say) -> Stage:
    sentences = []
    known = {cloth.name: cloth for cloth in pattern.design.cloths}
    for name in dict.fromkeys(sewn.piece.cloth for sewn in pattern.pieces):
        cut = [sewn for sewn in pattern.pieces if sewn.piece.cloth == name]
        listed = "; ".join(f"{sewn.piece.name}, {cut_words(sewn.piece)}" for sewn in cut)
        area = sum(sewn.piece.outline.area_mm2 * sewn.piece.quantity for sewn in cut)
        cloth = known.get(name)
        what = f"{name} ({cloth.note})" if cloth is not None and cloth.note else name
        sentences.append(
            f"From {what}: {listed}. Sewing lines enclose {numbers.area(area)} in all."
        )
    sentences += binding_words(pattern, pieces, say)
    sentences += [
        f"{sewn.piece.name}, {said}: the cloth is short there. Cut that copy to the inner line, "
        "and mark its sewing line on the cloth."
        for sewn in pattern.pieces
        for said in sewn.short
    ]
    sentences.append(
        "Mark notches, drill places and grain before the pattern is lifted. Left and right pieces "
        "are mirror images: turn the pattern over, or cut from folded cloth."
    )
    return Stage("Cut", tuple(sentences))


def _steps(pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say) -> Iterator[Stage]:
    joins = {join.join.name: join for join in pattern.measured}
    finishes = {finish_name(finish): finish for finish in pattern.design.finishes}
    darted = {darts_name(name): sewn for name, sewn in pieces.items() if sewn.piece.darts}
    legs = drawn_legs(pattern.panels)
    bands = folded_bands(pattern.design)
    stitched: set[str] = set()
    zipped: set[str] = set()
    closed: set[str] = set()
    for name in pattern.order.steps:
        why = [one.why for one in pattern.order.reasons if one.then == name]
        if name in darted:
            yield _darts(darted[name], say)
        elif name in joins:
            asked = joins[name].join
            yield from rows_before(asked, pattern.design, pieces, stitched, say)
            yield from loops_before(asked, pattern.design, say)
            yield from zips_before(asked, pattern, zipped, say)
            stage = _join(joins[name], pattern.design, pieces, why, say)
            yield _on_leg(stage, joins[name], pieces, legs)
        elif name in finishes and finishes[name].how not in ("caught", "raw"):
            piece = finishes[name].edge.piece
            if piece in bands - closed:
                closed.add(piece)
                yield band_closed(piece)
            elif piece not in bands:
                yield _finish(finishes[name], pieces, pattern.design.standard_allowance, why, say)


def _join(
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    why: list[str],
    say: Say,
) -> Stage:
    asked, standard = join.join, design.standard_allowance
    kind = CONSTRUCTIONS[asked.construction]
    sentences = [f"Sew {_what(asked, design)}: {kind.title.lower()}, {_each(join, pieces)}."]
    lengths = say(join.a.length)
    if say(join.b.length) != lengths:
        lengths = f"{lengths} on {say(join.b.length)}"
    eased = f", {say(asked.ease)} eased in" if asked.ease else ""
    widths = [say(width) for _, width in asked_sides(asked, standard)]
    allowances = f"Allowance{'s' if len(widths) > 1 else ''} {' and '.join(widths)}"
    sentences.append(f"The seam is {lengths} long{eased}. {allowances}.")
    said = how_words(asked, design)
    if said:
        sentences.append(said)
    if kind.chooses_wrap:
        wraps = _said(asked.a if asked.wraps == "a" else asked.b)
        sentences.append(
            "The double allowance wraps the single one: cut one leg double, the other single."
            if is_centre(asked)
            else f"The double allowance, of {wraps}, wraps the single one."
        )
    on_a, on_b = sides_rows(asked, standard)
    rows = (*on_a, *on_b)
    if rows:
        sentences.append(_stitched(rows, say))
    walk = Walk(join, pieces)
    if walk.met:
        places = ", ".join(say(met.along_a) for met in walk.met)
        meet = "meet stitching or drilled places beneath," if walk.lays_on else "meet"
        sentences.append(f"Notches {meet} at {places} from the start of the first side.")
    if _is_covered(asked, design):
        sentences.append("Sew it to the outer layer only and keep the facing clear.")
    apart = shields(design)
    caught = [one for one in design.finishes if one.into == asked.name and one not in apart]
    if caught:
        sentences.append(f"Catch in it: {', '.join(_caught(one, say) for one in caught)}.")
    sentences += [f"Why now: {reason}" for reason in why[:3]]
    faced = facings(design.pieces)
    on_itself = _faces(asked.a, asked.b, faced) or _faces(asked.b, asked.a, faced)
    drawing = _seam(walk, pieces, alone=on_itself)
    return Stage(asked.name[:1].upper() + asked.name[1:], tuple(sentences), drawing)


def _on_leg(
    stage: Stage, join: MeasuredJoin, pieces: Mapping[str, SewnPiece], legs: Mapping[str, str]
) -> Stage:
    """The step with the leg it is sewn on, where that is one of two: as drawn, or the other."""
    paired = [
        (ref.piece, side.mirrored)
        for side in (join.join.a, join.join.b)
        for ref in side.edges
        if pieces[ref.piece].piece.cut == "pair"
    ]
    if is_centre(join.join) or times_sewn(join, pieces) == 2 or not paired:
        return stage
    piece, mirrored = paired[0]
    drawn = legs.get(pieces[piece].piece.panel, "")
    if not drawn:
        return stage
    leg = drawn if not mirrored else {"left": "right", "right": "left"}[drawn]
    first, *rest = stage.sentences
    said = f"It belongs to the {leg} leg, as worn."
    return Stage(stage.title, (first, said, *rest), stage.figure, stage.large)


def _what(join: Join, design: Design) -> str:
    """What a join sews to what: both sides, or pieces and the facings that have their edges."""
    faced = facings(design.pieces)
    one, two = _said(join.a), _said(join.b)
    several = len({ref.piece for ref in join.a.edges}) > 1
    if _faces(join.b, join.a, faced):
        return f"{one}{', each' if several else ''} to its facing"
    if _faces(join.a, join.b, faced):
        return f"the facing{'s' if several else ''} of {two} to {'them' if several else 'it'}"
    how = ""
    if is_centre(join):
        how = ", left to right"
    elif join.a.mirrored != join.b.mirrored:
        how = ", turned over"
    return f"{one} to {two}{how}"


def _faces(inner: JoinSide, outer: JoinSide, faced: Mapping[str, str]) -> bool:
    """True when a side is the facings' of another, edge by edge."""
    lies_on = [(faced.get(ref.piece), ref.edge) for ref in inner.edges]
    return lies_on == [(ref.piece, ref.edge) for ref in outer.edges]


def _is_covered(seam: Join, design: Design) -> bool:
    """True for a seam over which a facing is laid later."""
    return any(
        CONSTRUCTIONS[join.construction].lies_over and not set(join.b.edges).isdisjoint(seam.refs)
        for join in design.joins
        if join is not seam
    )


def _stitched(rows: Sequence[float], say: Say) -> str:
    """Rows beside a seam; one on the seam itself is sunk into it."""
    apart = [say(row) for row in rows if row]
    said = [f"Topstitch at {', '.join(apart)} from the seam."] if apart else []
    if len(apart) < len(rows):
        said.append("Stitch in the ditch of the seam.")
    return " ".join(said)


def _darts(sewn: SewnPiece, say: Say) -> Stage:
    """Every dart of a piece, as it is pinned and sewn."""
    piece = sewn.piece
    said = [
        f"{dart.name}, {say(dart.intake)} wide at {edge_words(dart.edge, piece.panel)}, "
        f"{say(dart.point.distance_to(dart.first.toward(dart.last, 0.5)))} long"
        for dart in sorted(piece.darts, key=lambda dart: dart.name)
    ]
    sentences = (
        f"Sew {'; '.join(said)}.",
        f"Fold each right sides together, its two notches on each other, and sew from the edge to "
        f"the drilled point, running out to nothing; {_in_all(piece.quantity)}.",
        PRESSED,
    )
    lines = [Stroked(edge.chain, "before") for edge in piece.outline]
    lines += [Stroked(dart_legs(dart), "cut") for dart in piece.darts]
    drawing = figure(lines, (), (), piece.outline.box)
    return Stage(darts_name(piece.name).capitalize(), sentences, drawing)


def _in_all(quantity: int) -> str:
    return {1: "in the one piece", 2: "in both pieces"}.get(quantity, f"in all {quantity} pieces")


def _caught(finish: Finish, say: Say) -> str:
    """What is caught, and where: "twine-loop (end) at 150.0 mm"."""
    where = "" if finish.at is None else f" at {say(finish.at)} from the start of the first side"
    return f"{_said(JoinSide((finish.edge,)))}{where}"


def _each(join: MeasuredJoin, pieces: Mapping[str, SewnPiece]) -> str:
    return "once a leg" if times_sewn(join, pieces) == 2 else "once"


def _said(side: JoinSide) -> str:
    """Pieces of a side with their edges: "front-leg (side seam) and bearer (side seam)"."""
    said: list[tuple[str, list[str]]] = []
    for ref in side.edges:
        of, _, plain = ref.edge.partition(".")
        words = edge_words(ref.edge, of).removeprefix("the ") if plain else ref.edge
        words = plain if words == ref.edge and plain else words
        if said and said[-1][0] == ref.piece:
            said[-1][1].append(words)
        else:
            said.append((ref.piece, [words]))
    return " and ".join(f"{piece} ({', '.join(edges)})" for piece, edges in said)


def _seam(walk: Walk, pieces: Mapping[str, SewnPiece], *, alone: bool) -> Figure:
    """Both sides laid together along the seam at its middle; only the first, `alone`, where the
    second lies on it edge on edge.
    """
    step = walk.at(walk.length_a / 2.0)
    lines: list[Stroked] = []
    sides = ((walk.still, Affine()), (walk.rolling, step.move))
    for side, last in sides[:1] if alone else sides:
        for laid in side:
            move = laid.move.then(last)
            outline = pieces[laid.piece].piece.outline
            lines += [Stroked(edge.chain.transformed(move), "before") for edge in outline]
    lines += [Stroked(chain, "cut") for chain in walk.line]
    box = lines[0].chain.box
    for line in lines[1:]:
        box = box.with_(line.chain.box)
    return figure(lines, (), (), box)


def _finish(
    finish: Finish,
    pieces: Mapping[str, SewnPiece],
    standard: float,
    why: list[str],
    say: Say,
) -> Stage:
    kind = FINISHES[finish.how]
    allowance = finish_allowance(finish, standard)
    sentences = [f"{kind.title}, {say(allowance)} in all."]
    if kind.words:
        sentences.append(kind.words)
    rows = finish_rows(finish, standard)
    if rows:
        sentences.append(f"Stitch at {', '.join(map(say, rows))} from the edge.")
    sentences += [f"Why now: {reason}" for reason in why[:2]]
    sewn = pieces.get(finish.edge.piece)
    drawing = None
    if sewn is not None:
        lines = [
            Stroked(edge.chain, "cut" if edge.name == finish.edge.edge else "before")
            for edge in sewn.piece.outline
        ]
        drawing = figure(lines, (), (), sewn.piece.outline.box)
    return Stage(f"Finish {_said(JoinSide((finish.edge,)))}", tuple(sentences), drawing)


def _buttons(pieces: Mapping[str, SewnPiece], say: Say) -> Iterator[Stage]:
    """Of every buttonhole; its button sits on the same band, or on the piece that lies under."""
    crosses = [
        name
        for name, sewn in pieces.items()
        if any(mark.name.endswith(".button") for mark in sewn.piece.marks)
    ]
    for name, mark in buttonholes(pieces):
        where = "at the other end" if name in crosses else f"of {', '.join(crosses)}"
        yield Stage(
            f"Button of {name}",
            (
                f"Work the buttonhole through both layers where it is marked, "
                f"{say(mark.chain.length)} long, and sew the button on the cross {where}.",
            ),
        )


def _thread(pattern: Pattern, pieces: Mapping[str, SewnPiece]) -> Stage:
    rows = thread_rows(pattern.measured, pieces)
    sentences = [
        f"{row.what}: {row.seam / 1000.0:.1f} m of seam, stitch {row.stitch} of ISO 4915, "
        f"{math.ceil(row.thread / 1000.0)} m of thread."
        for row in rows
    ]
    total = sum(row.thread for row in rows)
    sentences.append(
        f"In all about {math.ceil(total / 1000.0)} m, needle and under thread together, with 15 "
        "per cent for waste. Binding, neatened edges, loops, zip and buttonhole take more."
    )
    return Stage("Thread", tuple(sentences))
