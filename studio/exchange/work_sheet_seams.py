"""A seam as a step of the work sheet."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set

from msgspec.structs import replace

from studio.alter.kind import Say
from studio.curves import Chain
from studio.cut.facing import facings
from studio.design.design import Design
from studio.design.joins import Join
from studio.design.pieces import StripPiece
from studio.exchange.adding_up import EACH_ROUNDED, adds_up
from studio.exchange.along import Figure, Stage
from studio.exchange.work_sheet_caught import caught_words
from studio.exchange.work_sheet_figures import (
    START,
    centre_figure,
    notches_met,
    other_leg,
    seam_figure,
    shut_by,
)
from studio.exchange.work_sheet_fly import Fly
from studio.exchange.work_sheet_how import how_words, is_covered, is_faced_by
from studio.exchange.work_sheet_loop_figures import hung, tube_figure
from studio.exchange.work_sheet_loops import is_tube
from studio.exchange.work_sheet_words import capital, side_words
from studio.sew import SewnPiece
from studio.sew.allowance import asked_sides, sides_rows
from studio.sew.constructions import CONSTRUCTIONS
from studio.sew.edge_words import edge_of_piece
from studio.sew.legs import is_centre
from studio.sew.loop_places import Placed
from studio.sew.sewn import MeasuredJoin
from studio.sew.thread import times_sewn
from studio.sew.walk import Walk


def seam_stage(
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    flies: Sequence[Fly],
    why: Sequence[str],
    done: Set[str],
    placed: Placed | None,
    say: Say,
) -> Stage:
    """A join, sentence by sentence, with its figure; `done` are the steps before it, `placed` the
    loops spread round the waist of which it sews a part.
    """
    asked, standard = join.join, design.standard_allowance
    kind = CONSTRUCTIONS[asked.construction]
    walk = Walk(join, pieces)
    fly = next((one for one in flies if one.opening.shielded == asked), None)
    said = how_words(asked, design, pieces, done)
    if fly is not None:
        said = fly.shield_words(say)
    sentences = [f"Sew {_what(asked, design)}: {kind.title.lower()}, {_each(join, pieces)}."]
    sentences.append(_length_words(join, standard, say))
    sentences += _trimmed(join, design, pieces, say)
    if said:
        sentences.append(said)
    if kind.chooses_wrap:
        sentences.append(_wrap_words(asked))
    rows = [row for side in sides_rows(asked, standard) for row in side]
    if rows:
        sentences.append(_stitched(rows, say))
    places = [say(along) for along in notches_met(walk)]
    if places and not is_tube(asked):
        meet = "meet stitching or drilled places beneath," if walk.lays_on else "meet"
        sentences.append(f"Notches {meet} at {', '.join(places)} from {START}.")
    if is_covered(asked, design):
        sentences.append("Sew it to the outer layer only and keep the facing clear.")
    caught = list(caught_words(join, design, pieces, placed, say))
    if caught:
        sentences.append(f"Catch in it: {'; '.join(caught)}.")
    sentences += [f"Why now: {capital(reason)}" for reason in [*dict.fromkeys(why)][:3]]
    shut = shut_by(done, pieces)
    drawing = _drawing(walk, join, design, pieces, shut) if fly is None else fly.shield_figure()
    return Stage(capital(asked.name), tuple(sentences), drawing)


def on_leg(
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
    as_drawn = legs.get(pieces[piece].piece.panel, "")
    if not as_drawn:
        return stage
    leg = as_drawn if not mirrored else {"left": "right", "right": "left"}[as_drawn]
    first, *rest = stage.sentences
    said = f"It belongs to the {leg} leg, as worn."
    return replace(stage, sentences=(first, said, *rest))


def _length_words(join: MeasuredJoin, standard: float, say: Say) -> str:
    asked = join.join
    a, b = say(join.a.length), say(join.b.length)
    lengths = a if a == b else f"{a} on {b}"
    # What is eased is what is there, not what was meant: both lengths stand beside it.
    fitted = asked.ease
    if fitted and abs(join.difference - fitted) <= asked.allowed:
        fitted = join.difference
    is_there = fitted == join.difference
    by_itself = EACH_ROUNDED if is_there and not adds_up(a, b, say(fitted)) else ""
    eased = f", {say(fitted)} eased in{by_itself}" if fitted > 0.0 else ""
    if fitted < 0.0:
        eased = f", the second side {say(-fitted)} shorter{by_itself}: stretch it to fit"
    widths = [say(width) if width > 0.0 else "none" for _, width in asked_sides(asked, standard)]
    allowances = f"Allowance{'s' if len(widths) > 1 else ''} {' and '.join(widths)}"
    return f"The seam is {lengths} long{eased}. {allowances}."


def _trimmed(
    join: MeasuredJoin, design: Design, pieces: Mapping[str, SewnPiece], say: Say
) -> Iterable[str]:
    """Where a piece is cut wider than a seam asks, because of another seam along that edge."""
    if is_centre(join.join):
        return
    told = set()
    for side, width in asked_sides(join.join, design.standard_allowance):
        for ref in side.edges:
            sewn = pieces[ref.piece]
            cut = {
                edge.name: wide
                for edge, wide in zip(sewn.piece.outline, sewn.allowances, strict=True)
            }.get(ref.edge, width)
            if cut > width + 0.5 and (ref.piece, ref.edge) not in told:
                told.add((ref.piece, ref.edge))
                edge = edge_of_piece(ref.edge)
                yield (
                    f"{capital(ref.piece)} is cut {say(cut)} wide along the {edge}, for "
                    f"another seam: trim it to {say(width)} here, where it was not done yet."
                )


def _wrap_words(join: Join) -> str:
    if is_centre(join):
        return "The double allowance wraps the single one: cut one leg double, the other single."
    wraps = side_words(join.a if join.wraps == "a" else join.b)
    return f"The double allowance, of {wraps}, wraps the single one."


def _what(join: Join, design: Design) -> str:
    """What a join sews to what: both sides, or pieces and the facings that have their edges."""
    faced = facings(design.pieces)
    one, two = side_words(join.a), side_words(join.b)
    several = len({ref.piece for ref in join.a.edges}) > 1
    if is_faced_by(join.b, join.a, faced):
        return f"{one}{', each' if several else ''} to its facing"
    if is_faced_by(join.a, join.b, faced):
        return f"the facing{'s' if several else ''} of {two} to {'them' if several else 'it'}"
    how = ""
    if is_centre(join):
        how = ", left to right"
    elif join.b.mirrored and not join.a.mirrored:
        how = ", turned over"
    return f"{one} to {two}{how}"


def _stitched(rows: Sequence[float], say: Say) -> str:
    """Rows beside a seam; one on the seam itself is sunk into it."""
    apart = [say(row) for row in rows if row]
    said = [f"Topstitch at {', '.join(apart)} from the seam."] if apart else []
    if len(apart) < len(rows):
        said.append("Stitch in the ditch of the seam.")
    return " ".join(said)


def _drawing(
    walk: Walk,
    join: MeasuredJoin,
    design: Design,
    pieces: Mapping[str, SewnPiece],
    shut: Set[str],
) -> Figure:
    asked = join.join
    strips = {one.name: one for one in design.pieces if isinstance(one, StripPiece)}
    if is_centre(asked):
        return centre_figure(join, pieces, shut)
    if is_tube(asked) and asked.refs[0].piece in strips:
        return tube_figure(strips[asked.refs[0].piece])
    faced = facings(design.pieces)
    on_itself = is_faced_by(asked.a, asked.b, faced) or is_faced_by(asked.b, asked.a, faced)
    also: list[tuple[str, Chain]] = hung(walk, design.finishes, strips)
    made = seam_figure(walk, pieces, alone=on_itself, also=also, shut=shut)
    return other_leg(made) if asked.a.mirrored else made


def _each(join: MeasuredJoin, pieces: Mapping[str, SewnPiece]) -> str:
    return "once a leg" if times_sewn(join, pieces) == 2 else "once"
