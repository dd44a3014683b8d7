"""The work sheet: what to cut, in which order to sew and why, what meets what, how much thread."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from studio import numbers
from studio.alter.kind import Say
from studio.check import all_in_unit
from studio.cut.copies import drawn_legs
from studio.design.joins import Finish
from studio.design.pieces import WaistbandPiece
from studio.exchange.along import Sheet, Stage
from studio.exchange.marks import cut_words
from studio.exchange.work_sheet_bands import band_closed, buttons, folded_bands
from studio.exchange.work_sheet_darts import darts_stage
from studio.exchange.work_sheet_figures import START
from studio.exchange.work_sheet_finish import finish_stage
from studio.exchange.work_sheet_fly import flies
from studio.exchange.work_sheet_loops import loop_ends, loops_before, placed_loops
from studio.exchange.work_sheet_needs import binding_words, ready, words
from studio.exchange.work_sheet_rivets import rivets_stages
from studio.exchange.work_sheet_rows import rows_stages
from studio.exchange.work_sheet_seams import on_leg, seam_stage
from studio.exchange.work_sheet_waist import (
    facings_to_cut,
    fastening,
    goes_round,
    waist_words,
)
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.sew import SewnPiece, darts_name, rows_name, through_name
from studio.sew.edge_words import finish_words
from studio.sew.order import reasons_for
from studio.sew.short import short_in
from studio.sew.thread import thread_rows

_CAUTION = (
    "Needles, shears and hot irons injure. Take metal parts out of old garments before sewing over "
    "them. These are not protective clothes: nothing here certifies them for work near machines, "
    "flames, saws or traffic."
)
_FIGURES = (
    "In the figures pieces lie dashed, without allowances; black is what is sewn in that step, "
    "short strokes across it are its notches, and blue is what is laid on or caught. "
    f"{START} is where a seam is measured from. What some words mean stands at the end."
)

_DARTED = (
    "Darts are gaps in them once they are sewn. Along a seam across them they lie shut, and the "
    "piece is parted below their points, as it does not lie flat there any more."
)


def work_sheet_of(pattern: Pattern, unit: LengthUnit = "mm") -> Sheet:
    """A pattern as a work sheet, lengths in `unit`: cutting list, sewing steps, thread."""
    say = partial(numbers.length, unit=unit, decimals=numbers.DECIMALS[unit])
    pieces = pattern.pieces_by_name()
    design = pattern.design
    closed = tuple(fastening(design, pieces))
    stages = [_cutting(pattern, pieces, say, unit), ready(pattern, pieces, say, closed)]
    stages += [*_steps(pattern, pieces, say), *loop_ends(pattern, pieces, say)]
    stages += [*buttons(design, pieces, say), *rivets_stages(design, pieces)]
    stages += [_thread(pattern, pieces, unit), words(design)]
    open_ones = [one for one in pattern.findings if not one.accepted]
    grave = [finding.message for finding in all_in_unit(open_ones, design, unit)]
    before = ["Sew a toile first, a trial garment in cheap cloth. " + _CAUTION, _FIGURES]
    if any(sewn.piece.darts for sewn in pattern.pieces):
        before.append(_DARTED)
    if grave:
        before.append("The ledger is not clean: " + " ".join(grave))
    called = {one.step: finish_words(one) for one in design.finishes}
    before += [
        f"Not sewn as wished: {called.get(one.first, one.first)} comes before "
        f"{called.get(one.then, one.then)}. {one.why}"
        for one in pattern.order.against
    ]
    return Sheet(f"{design.name}: work sheet", tuple(before), tuple(stages))


def _cutting(
    pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say, unit: LengthUnit
) -> Stage:
    sentences = []
    known = {cloth.name: cloth for cloth in pattern.design.cloths}
    for name in dict.fromkeys(sewn.piece.cloth for sewn in pattern.pieces):
        cut = [sewn for sewn in pattern.pieces if sewn.piece.cloth == name]
        listed = "; ".join(f"{sewn.piece.name}, {cut_words(sewn.piece)}" for sewn in cut)
        mm2 = sum(sewn.piece.outline.area_mm2 * sewn.piece.quantity for sewn in cut)
        area = numbers.area(mm2, numbers.squares(unit), 0)
        cloth = known.get(name)
        note = cloth.note if cloth is not None and cloth.note != name else ""
        what = f"{name} ({note})" if note else name
        sentences.append(
            f"From {what}: {listed}. Sewing lines of all copies together enclose {area}."
        )
    sentences += binding_words(pattern, pieces, say)
    sentences += facings_to_cut(pattern.design, pieces, say)
    sentences += [
        f"{sewn.piece.name}, {said}: the cloth is short there. Cut that copy to the inner line, "
        "and mark its sewing line on the cloth."
        for sewn in pattern.pieces
        for said in short_in(sewn, unit)
    ]
    sentences.append(
        "Mark notches, drill places and grain before the pattern is lifted. Left and right pieces "
        "are mirror images: turn the pattern over, or cut from folded cloth."
    )
    return Stage("Cut", tuple(sentences))


def _steps(pattern: Pattern, pieces: Mapping[str, SewnPiece], say: Say) -> Iterator[Stage]:
    """Every step of the order, each with what is done just before and after it."""
    design = pattern.design
    joins = pattern.measured_by_name()
    finishes = {finish.step: finish for finish in design.finishes}
    darted = {darts_name(name): sewn for name, sewn in pieces.items() if sewn.piece.darts}
    rows = {step(piece): piece for piece in pieces for step in (rows_name, through_name)}
    of_flies = flies(pattern, pieces)
    legs = drawn_legs(pattern.panels)
    bands = folded_bands(design)
    told: set[str] = set()
    looped: set[str] = set()
    loops = placed_loops(pattern)
    steps = pattern.order.steps
    for at, name in enumerate(steps):
        why = [one.why for one in reasons_for(pattern.order, name)]
        if name in rows:
            yield from rows_stages(rows[name], name, pattern, pieces, say)
        elif name in darted:
            yield darts_stage(darted[name], say)
        elif name in joins:
            join = joins[name]
            fly = next((one for one in of_flies if one.opening.shielded == join.join), None)
            yield from loops_before(join.join, pattern, pieces, looped, say)
            if fly is not None:
                yield fly.zip_stage(say)
            done = set(steps[:at])
            stage = seam_stage(join, design, pieces, of_flies, why, done, loops.get(name), say)
            yield on_leg(stage, join, pieces, legs)
            if fly is not None:
                yield fly.last_stage(say)
        elif name in finishes and finishes[name].edge.piece in bands:
            yield from _band(finishes[name].edge.piece, pattern, pieces, told, say)
        elif name in finishes:
            together = _in_one_round(name, pattern, finishes)
            if together[-1] == finishes[name]:
                more = tuple(waist_words(together, design, pieces))
                done = set(steps[:at])
                standard = design.standard_allowance
                yield finish_stage(together, pieces, standard, more, why, done, say)


def _in_one_round(name: str, pattern: Pattern, finishes: Mapping[str, Finish]) -> list[Finish]:
    """The edges that are finished in one round with that of a step, such as the hems of a leg's
    front and back, or all of the waist, in the order of sewing: those that seams link to it, one
    by one.
    """
    finish = finishes[name]
    if not goes_round(finish):
        return [finish]
    seams = {join.name for join in pattern.design.joins}
    waits: dict[str, set[str]] = {}
    for one in pattern.order.reasons:
        if one.first in seams:
            waits.setdefault(one.then, set()).add(one.first)
    found = {name}
    linked = set(waits.get(name, ()))
    alike = [
        step
        for step in pattern.order.steps
        if step in finishes and goes_round(finishes[step]) and _is_alike(finishes[step], finish)
    ]
    while more := [step for step in alike if step not in found and linked & waits.get(step, set())]:
        found.update(more)
        linked.update(*(waits[step] for step in more))
    return [finishes[step] for step in pattern.order.steps if step in found]


def _is_alike(one: Finish, two: Finish) -> bool:
    return (one.how, one.allowance, one.rows, one.turn_up) == (
        two.how,
        two.allowance,
        two.rows,
        two.turn_up,
    )


def _band(
    name: str, pattern: Pattern, pieces: Mapping[str, SewnPiece], told: set[str], say: Say
) -> Iterator[Stage]:
    """A folded band, closed once for all its free edges."""
    key = f"{name}, closed"
    recipe = next(one for one in pattern.design.pieces if one.name == name)
    if key in told or not isinstance(recipe, WaistbandPiece) or name not in pieces:
        return
    told.add(key)
    sewn = pieces[name]
    yield from band_closed(recipe, sewn.piece, sewn.allowances[0], say)


def _thread(pattern: Pattern, pieces: Mapping[str, SewnPiece], unit: LengthUnit) -> Stage:
    """Thread by what it sews, each rounded up by a tenth at most, so that what is told adds up to
    what is told in all.
    """
    rows = thread_rows(pattern.measured, pieces, _in_ditch(pattern))
    sentences = [
        f"{row.what}: {numbers.long_length(row.seam, unit)} of seam, stitch {row.stitch} of ISO "
        f"4915, {numbers.long_length(row.thread, unit, up=True)} of thread."
        for row in rows
    ]
    total = sum(numbers.rounded_up(row.thread, unit) for row in rows)
    sentences.append(
        f"In all about {numbers.long_length(total, unit, 0, up=True)}, needle and under thread "
        "together, with 15 per cent for waste. Binding, neatened edges, loops, zip and buttonhole "
        "take more."
    )
    return Stage("Thread", tuple(sentences))


def _in_ditch(pattern: Pattern) -> float:
    """Rows that close folded bands: as long as the seams by which these are sewn on, mm."""
    bands = folded_bands(pattern.design)
    return sum(
        max(join.a.length, join.b.length) for join in pattern.measured if join.pieces & bands
    )
